//! Rules 1 to 13, each broken in several ways.

use super::{breaks, keeps};
use crate::support::night::{ana, ben, cara, room_stop, stop, tasks};
use crate::support::two_floors::{
    ANA, BASE, BEN, CARA, CLOSET_1, CLOSET_G, DOOR, R101, R102, R103, SOUTH, W1, W2, hours, task,
};
use evenrun::plan::{Plan, Reason, Rule, Run, Undone, UndoneWork, What, check};
use evenrun::site::{Door, Moves, WorkerId};
use evenrun::units::{Litres, Metres, Seconds, SquareMetres};

#[test]
fn rule_1_work_that_is_missing() {
    breaks(Rule::Work, |c| c.plan.undone.clear());
    breaks(Rule::Work, |c| {
        let left = tasks(&c.site, R101, &["bins"]);
        c.stops(ANA)[ana::CLEAN_101] = room_stop(What::Clean(R101, left), "18:31:35", "18:32:35");
    });
    breaks(Rule::Work, |c| drop(c.stops(CARA).remove(cara::LOCK_UP)));
    breaks(Rule::Work, |c| {
        c.stops(ANA)[ana::CLEAN_101] = room_stop(What::Clean(R101, vec![]), "18:31:35", "18:31:35");
        for name in ["bins", "vacuum"] {
            let what = UndoneWork::Task(task(&c.site, R101, name));
            c.plan.undone.push(Undone {
                what,
                reason: Reason::NoWindow(String::new()),
            });
        }
    });
}

#[test]
fn rule_1_work_too_many() {
    breaks(Rule::Work, |c| {
        let what = UndoneWork::Task(task(&c.site, R102, "dust"));
        c.plan.undone.push(Undone {
            what,
            reason: Reason::NoTime,
        });
    });
    breaks(Rule::Work, |c| c.plan.undone.push(c.plan.undone[0].clone()));
    breaks(Rule::Work, |c| {
        let extra = What::Clean(R103, tasks(&c.site, R103, &["plants"]));
        c.stops(CARA)
            .insert(cara::LOCK_UP, room_stop(extra, "19:00:00", "19:03:00"));
    });
    breaks(Rule::Work, |c| {
        let again = stop(What::Duty(0), DOOR, "20:41:05", "20:47:05");
        c.stops(CARA).insert(cara::TEAR_DOWN, again);
        c.retime(CARA, cara::TEAR_DOWN + 1, "20:47:40", "20:52:40");
    });
    breaks(Rule::Work, |c| {
        let twice = tasks(&c.site, R102, &["dust", "desks", "plants", "plants"]);
        c.stops(CARA)[cara::CLEAN_102] =
            room_stop(What::Clean(R102, twice), "18:07:00", "18:26:00");
        c.retime(CARA, cara::TEA, "18:27:52", "18:42:52");
    });
}

#[test]
fn rule_1_work_in_the_wrong_time_or_place() {
    breaks(Rule::Work, |c| {
        c.retime(ANA, ana::CLEAN_101, "18:31:35", "18:42:36");
    });
    breaks(Rule::Work, |c| {
        c.retime(ANA, ana::CLEAN_101, "18:31:35", "18:42:34");
    });
    // Mopping more than one bucket without the trip for a second.
    breaks(Rule::Work, |c| {
        c.retime(BEN, ben::NORTH, "18:39:45", "18:46:00");
    });
    breaks(Rule::Work, |c| {
        c.retime(CARA, cara::LOCK_UP, "20:35:05", "20:41:04");
    });
    breaks(Rule::Work, |c| {
        c.stops(CARA)[cara::LOCK_UP].place = BASE;
    });
    breaks(Rule::Work, |c| {
        let foreign = tasks(&c.site, R101, &["bins", "vacuum"]);
        c.stops(ANA)[ana::CLEAN_101].what = What::Clean(R103, foreign);
        c.stops(ANA)[ana::CLEAN_101].place = c.site.place_of_room(R101);
    });
}

#[test]
fn rule_1_one_room_is_one_workers() {
    breaks(Rule::Work, |c| {
        let first = What::Clean(R101, tasks(&c.site, R101, &["bins"]));
        let second = What::Clean(R101, tasks(&c.site, R101, &["vacuum"]));
        let halves = [
            room_stop(first, "18:31:35", "18:32:35"),
            room_stop(second, "18:32:35", "18:42:35"),
        ];
        c.stops(ANA).splice(ana::CLEAN_101..=ana::CLEAN_101, halves);
    });
    keeps(two_in_102);
}

/// Nobody may do all of 102, so two people come: Cara, who holds the alarm, and hours later Ben.
fn two_in_102(c: &mut super::Case) {
    c.site.kinds[2].tasks[0].skills = c.site.crew[CARA.index()].skills.clone();
    c.site.kinds[2].tasks[2].skills = c.site.crew[BEN.index()].skills.clone();
    c.site.rooms[R102.index()].needs.clear();
    let cara = What::Clean(R102, tasks(&c.site, R102, &["dust", "desks"]));
    let ben = What::Clean(R102, tasks(&c.site, R102, &["plants"]));
    c.stops(CARA)[cara::CLEAN_102] = room_stop(cara, "18:07:00", "18:20:00");
    drop(c.stops(BEN).pop());
    c.stops(BEN).extend([
        // 40 + 90; 180 / 0.8
        room_stop(ben, "20:13:45", "20:17:30"),
        // 90 + 40 + 5
        stop(What::TearDown, BASE, "20:19:45", "20:24:45"),
    ]);
}

#[test]
fn rule_2_shift() {
    breaks(Rule::Shift, |c| {
        c.retime(ANA, ana::SET_UP, "17:59:59", "18:04:59");
    });
    breaks(Rule::Shift, |c| {
        c.retime(ANA, ana::SET_UP, "18:00:00", "18:04:59");
    });
    breaks(Rule::Shift, |c| {
        c.retime(CARA, cara::TEAR_DOWN, "23:55:01", "24:00:01");
    });
    keeps(|c| c.retime(CARA, cara::TEAR_DOWN, "23:55:00", "24:00:00"));
    keeps(|c| {
        c.site.policy.overtime = Seconds(1);
        c.retime(CARA, cara::TEAR_DOWN, "23:55:01", "24:00:01");
    });
    breaks(Rule::Shift, |c| drop(c.stops(CARA).pop()));
    breaks(Rule::Shift, |c| drop(c.stops(ANA).remove(ana::SET_UP)));
    breaks(Rule::Shift, |c| c.stops(ANA)[ana::SET_UP].place = CLOSET_G);
    breaks(Rule::Shift, |c| {
        let again = stop(What::SetUp, BASE, "21:00:00", "21:05:00");
        c.stops(CARA).insert(cara::TEAR_DOWN, again);
        c.retime(CARA, cara::TEAR_DOWN + 1, "21:05:00", "21:10:00");
    });
}

#[test]
fn rule_2_a_run_for_each_of_those_on_duty() {
    let rules = |plan: &Plan, present: &[WorkerId]| -> Vec<Rule> {
        let site = super::Case::sound().site;
        check(&site, plan, present)
            .into_iter()
            .map(|v| v.rule)
            .collect()
    };
    let case = super::Case::sound();
    assert_eq!(rules(&case.plan, &[ANA, BEN]), [Rule::Shift]);
    let mut twice = case.plan.clone();
    twice.runs.push(Run {
        worker: ANA,
        stops: vec![],
    });
    assert_eq!(rules(&twice, &[ANA, BEN, CARA]), [Rule::Shift]);
    let mut site = case.site;
    site.crew.push(site.crew[0].clone());
    let found = check(&site, &case.plan, &[ANA, BEN, CARA, WorkerId(3)]);
    assert_eq!(
        found.iter().map(|v| v.rule).collect::<Vec<_>>(),
        [Rule::Shift]
    );
}

#[test]
fn rule_3_walking() {
    breaks(Rule::Walking, |c| {
        c.retime(ANA, ana::FILL, "18:05:04", "18:08:04");
    });
    // Down the stairs takes 12 s, and one second less is not enough.
    breaks(Rule::Walking, |c| {
        c.retime(CARA, cara::TEA, "18:24:51", "18:39:51");
    });
    // The tea first, as written, but at its old time.
    breaks(Rule::Walking, |c| {
        c.stops(CARA).swap(cara::CLEAN_102, cara::TEA);
    });
    // A cart that cannot pass the lift's door.
    breaks(Rule::Walking, |c| {
        c.site.ways[0].door = Some(Door {
            width: Some(Metres(0.69)),
            ..Door::default()
        });
    });
    // Someone who may not use stairs has to take the lift: 135 instead of 120.
    breaks(Rule::Walking, |c| c.site.crew[CARA.index()].stairs = false);
}

#[test]
fn rule_4_access() {
    breaks(Rule::Access, |c| {
        c.site.rooms[R101.index()].open = Some(hours("18:31:36", "22:00"));
    });
    breaks(Rule::Access, |c| {
        c.site.rooms[R101.index()].open = Some(hours("18:00", "18:42:34"));
    });
    keeps(|c| c.site.rooms[R101.index()].open = Some(hours("18:31:35", "18:42:35")));
    // Two windows, neither of which holds all of the stop.
    breaks(Rule::Access, |c| {
        let mut windows = hours("18:00", "18:35");
        windows.weekly.extend(hours("18:36", "22:00").weekly);
        c.site.rooms[R101.index()].open = Some(windows);
    });
    breaks(Rule::Access, |c| {
        c.site.duties[0].window = Some(hours("20:35:06", "23:00"));
    });
    // Lock up while Ana is on her way.
    breaks(Rule::Access, |c| {
        c.retime(CARA, cara::LOCK_UP, "20:35:04", "20:41:04");
    });
}

#[test]
fn rule_5_closure() {
    breaks(Rule::Closure, |c| {
        c.site.rooms[W1.index()].closure = Some(hours("18:00", "18:46:24"));
    });
    breaks(Rule::Closure, |c| {
        c.site.rooms[W1.index()].closure = Some(hours("18:08:26", "19:00"));
    });
    keeps(|c| c.site.rooms[W1.index()].closure = Some(hours("18:08:25", "18:46:25")));
    breaks(Rule::Closure, |c| {
        c.site.rooms[W2.index()].closure = None;
        drop(c.stops(BEN).remove(ben::REOPEN_W2));
    });
    breaks(Rule::Closure, |c| {
        c.retime(ANA, ana::REOPEN_W1, "18:45:25", "18:46:24");
    });
    breaks(Rule::Closure, |c| {
        c.stops(ANA).insert(
            ana::REOPEN_W1,
            room_stop(What::Reopen(R101), "18:42:35", "18:42:35"),
        );
    });
}

#[test]
fn rule_6_groups() {
    breaks(Rule::Groups, |c| c.site.policy.groups[0].keep_open = 2);
    // Ana reopens late, when Ben has closed the other room for one second.
    let late = |c: &mut super::Case, from: &str, to: &str| {
        c.site.rooms[W1.index()].closure = None;
        c.retime(ANA, ana::REOPEN_W1, from, to);
        c.retime(ANA, ana::DUMP, "19:20:00", "19:22:00");
    };
    breaks(Rule::Groups, |c| late(c, "19:11:06", "19:12:06"));
    keeps(|c| late(c, "19:11:05", "19:12:05"));
}

#[test]
fn rule_7_dwell_and_drying() {
    breaks(Rule::Order, |c| {
        c.retime(ANA, ana::MOP_W1, "18:21:24", "18:30:24");
    });
    breaks(Rule::Order, |c| {
        c.retime(ANA, ana::REOPEN_W1, "18:45:24", "18:46:24");
    });
}

#[test]
fn rule_7_parts_of_a_visit() {
    // All in one go, without leaving it wet: 60 + 120 + 240 + 180 + 120 + 300.
    breaks(Rule::Order, |c| {
        let all = tasks(
            &c.site,
            W1,
            &["flush", "disinfect", "restock", "bins", "mop"],
        );
        let once = room_stop(What::Clean(W1, all), "18:08:25", "18:25:25");
        c.stops(ANA).splice(ana::WET_W1..=ana::MOP_W1, [once]);
    });
    // Restocking moved after the mopping.
    breaks(Rule::Order, |c| {
        let wet = tasks(&c.site, W2, &["flush", "disinfect", "bins"]);
        let mop = tasks(&c.site, W2, &["disinfect", "mop", "restock"]);
        c.stops(BEN)[ben::WET_W2] = room_stop(What::OpenAndWet(W2, wet), "19:12:05", "19:18:20");
        c.stops(BEN)[ben::WET_W2 + 1] =
            room_stop(What::WipeAndMop(W2, mop), "19:25:50", "19:40:50");
        c.retime(BEN, ben::MEAL, "19:41:10", "20:11:10");
        c.retime(BEN, ben::REOPEN_W2, "20:11:30", "20:12:45");
        c.retime(BEN, ben::REOPEN_W2 + 1, "20:13:15", "20:15:15");
        c.retime(BEN, ben::TEAR_DOWN, "20:15:20", "20:20:20");
    });
    // Sprayed, never wiped: listed at the first part only.
    breaks(Rule::Order, |c| {
        let mop = tasks(&c.site, W1, &["mop"]);
        c.stops(ANA)[ana::MOP_W1] = room_stop(What::WipeAndMop(W1, mop), "18:25:25", "18:30:25");
    });
}

#[test]
fn rule_7_between_two_people() {
    // Ben's plants, wiped, come after Cara's dusting: he may not start before she is done.
    let late = |c: &mut super::Case, from: &str, to: &str| {
        two_in_102(c);
        c.stops(CARA).swap(cara::CLEAN_102, cara::TEA);
        c.retime(CARA, cara::CLEAN_102, "18:10:00", "18:25:00");
        c.retime(CARA, cara::TEA, from, to);
    };
    keeps(|c| late(c, "20:00:45", "20:13:45"));
    breaks(Rule::Order, |c| late(c, "20:00:46", "20:13:46"));
}

#[test]
fn rule_8_water() {
    breaks(Rule::Water, |c| drop(c.stops(ANA).remove(ana::FILL)));
    // From the ways out into the restroom with the same water.
    breaks(Rule::Water, |c| drop(c.stops(BEN).remove(ben::SECOND_FILL)));
    breaks(Rule::Water, |c| cart(c, BEN).bucket_rooms = 1);
    // 80 m² leave 20 of two buckets: enough for 20, not for a hair more.
    keeps(|c| c.site.rooms[SOUTH.index()].area = SquareMetres(20.0));
    breaks(Rule::Water, |c| {
        c.site.rooms[SOUTH.index()].area = SquareMetres(20.01);
    });
    // The large room second: its first bucket is not fresh.
    breaks(Rule::Water, |c| {
        let (large, small) = (
            c.stops(BEN)[ben::NORTH].clone(),
            c.stops(BEN)[ben::SOUTH].clone(),
        );
        c.site.policy.exit_pairs.clear();
        c.stops(BEN)[ben::NORTH] = evenrun::plan::PlannedStop {
            span: crate::support::two_floors::span("18:40:05", "18:46:20"),
            ..small
        };
        c.stops(BEN)[ben::SOUTH] = evenrun::plan::PlannedStop {
            span: crate::support::two_floors::span("18:50:00", "19:01:15"),
            ..large
        };
    });
    breaks(Rule::Water, |c| {
        c.retime(ANA, ana::FILL, "18:05:05", "18:08:04");
    });
    breaks(Rule::Water, |c| c.stops(ANA)[ana::FILL].place = BASE);
    // Nothing to fill on foot.
    breaks(Rule::Water, |c| {
        c.stops(CARA).insert(
            cara::LOCK_UP,
            stop(What::Fill, CLOSET_G, "19:00:00", "19:03:00"),
        );
    });
}

#[test]
fn rule_9_waste() {
    breaks(Rule::Waste, |c| drop(c.stops(ANA).remove(ana::DUMP)));
    // 30 l from the restroom and 20 l from the office.
    keeps(|c| cart(c, ANA).waste = Litres(50.0));
    breaks(Rule::Waste, |c| cart(c, ANA).waste = Litres(49.9));
    breaks(Rule::Waste, |c| {
        c.site.closets[0].waste_point = false;
        c.site.closets[1].waste_point = true;
        c.stops(BEN)[ben::TEAR_DOWN - 1].place = CLOSET_1;
        c.retime(BEN, ben::TEAR_DOWN - 1, "20:11:00", "20:13:00");
        c.retime(BEN, ben::TEAR_DOWN, "20:20:00", "20:25:00");
    });
    breaks(Rule::Waste, |c| {
        c.retime(ANA, ana::DUMP, "18:46:45", "18:48:46");
    });
}

#[test]
fn rule_9_waste_of_more_than_a_cart() {
    // 150 l into a cart of 60: two trips of 2 × 50 + 120, begun with an empty cart.
    let full = |c: &mut super::Case| {
        c.site.kinds[1].tasks[0].waste_litres = 150.0;
        c.site.kinds[0].tasks[3].waste_litres = 0.0;
        c.retime(ANA, ana::CLEAN_101, "18:31:35", "18:49:55");
        c.retime(ANA, ana::REOPEN_W1, "18:51:05", "18:52:05");
        c.retime(ANA, ana::DUMP, "18:52:25", "18:54:25");
        drop(c.stops(BEN).remove(ben::TEAR_DOWN - 1));
    };
    keeps(full);
    breaks(Rule::Waste, |c| {
        full(c);
        c.site.kinds[0].tasks[3].waste_litres = 1.0;
        let dump = stop(What::Dump, CLOSET_G, "20:09:30", "20:11:30");
        c.stops(BEN).insert(ben::TEAR_DOWN - 1, dump);
    });
}

#[test]
fn rule_10_skills_and_clearance() {
    breaks(Rule::Skills, |c| c.site.crew[BEN.index()].skills.clear());
    breaks(Rule::Skills, |c| c.site.crew[CARA.index()].access.clear());
    breaks(Rule::Skills, |c| c.site.crew[CARA.index()].skills.clear());
    breaks(Rule::Skills, |c| c.site.rooms[R101.index()].never.push(ANA));
    breaks(Rule::Skills, |c| c.site.rooms[R101.index()].only.push(BEN));
    keeps(|c| c.site.rooms[R101.index()].only.push(ANA));
    breaks(Rule::Skills, |c| c.site.kinds[2].tasks[0].heavy = true);
    breaks(Rule::Skills, |c| c.site.kinds[2].tasks[0].cart = true);
    // With neither cart nor bucket there is more than one thing wrong, and all of it is said.
    let mut case = super::Case::sound();
    case.site.crew[ANA.index()].moves = Moves::Foot;
    let broken: Vec<Rule> = case.broken().into_iter().collect();
    assert_eq!(broken, [Rule::Water, Rule::Waste, Rule::Skills]);
}

#[test]
fn rule_11_machines() {
    breaks(Rule::Machines, |c| c.site.machines[0].units = 0);
    breaks(Rule::Machines, |c| drop(c.stops(BEN).remove(ben::RETURN)));
    breaks(Rule::Machines, |c| drop(c.stops(BEN).remove(ben::FETCH)));
    breaks(Rule::Machines, |c| {
        c.retime(BEN, ben::FETCH, "18:05:05", "18:07:04");
    });
    breaks(Rule::Machines, |c| {
        c.stops(BEN)[ben::RETURN].place = BASE;
        c.retime(BEN, ben::RETURN, "18:33:40", "18:35:40");
    });
    // Fetched and brought back before it is used.
    breaks(Rule::Machines, |c| {
        let back = c.stops(BEN).remove(ben::RETURN);
        c.stops(BEN).insert(ben::SCRUB, back);
        c.retime(BEN, ben::SCRUB, "18:07:05", "18:09:05");
        c.retime(BEN, ben::RETURN, "18:09:55", "18:34:55");
        c.retime(BEN, ben::FILL, "18:35:45", "18:38:45");
    });
    // A second unit in Ana's hands.
    breaks(Rule::Machines, |c| {
        let machine = evenrun::site::MachineId(0);
        c.stops(ANA).insert(
            ana::MEAL,
            stop(What::Fetch(machine), CLOSET_G, "19:00:00", "19:02:00"),
        );
        c.stops(ANA).insert(
            ana::MEAL + 1,
            stop(What::Return(machine), CLOSET_G, "19:02:00", "19:04:00"),
        );
    });
}

#[test]
fn rule_12_breaks() {
    breaks(Rule::Breaks, |c| drop(c.stops(ANA).remove(ana::MEAL)));
    breaks(Rule::Breaks, |c| {
        c.retime(ANA, ana::MEAL, "20:00:00", "20:29:59");
    });
    breaks(Rule::Breaks, |c| {
        c.retime(ANA, ana::MEAL, "19:59:59", "20:29:59");
    });
    breaks(Rule::Breaks, |c| c.stops(ANA)[ana::MEAL].place = BASE);
    breaks(Rule::Breaks, |c| {
        let again = stop(
            What::Break(0),
            crate::support::two_floors::BREAK_ROOM,
            "19:00:00",
            "19:15:00",
        );
        c.stops(CARA).insert(cara::LOCK_UP, again);
    });
    // Where the site has no break place, it is the start place.
    keeps(|c| {
        c.site.places.iter_mut().for_each(|p| p.break_place = false);
        c.stops(ANA)[ana::MEAL].place = BASE;
        c.stops(CARA)[cara::TEA].place = BASE;
        c.retime(CARA, cara::TEA, "18:24:57", "18:39:57");
    });
}

#[test]
fn rule_13_way_out() {
    breaks(Rule::WayOut, |c| {
        c.retime(BEN, ben::SOUTH, "19:00:59", "19:07:14");
    });
    breaks(Rule::WayOut, |c| {
        c.retime(BEN, ben::SOUTH, "18:51:20", "18:57:35");
    });
    keeps(|c| {
        c.site.policy.exit_pairs.clear();
        c.retime(BEN, ben::SOUTH, "18:51:20", "18:57:35");
    });
}

fn cart(case: &mut super::Case, worker: WorkerId) -> &mut evenrun::site::Cart {
    match &mut case.site.crew[worker.index()].moves {
        Moves::Cart(cart) => cart,
        Moves::Foot => panic!("on foot"),
    }
}
