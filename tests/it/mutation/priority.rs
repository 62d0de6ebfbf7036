//! Rule 14: what matters less is done while something that matters more, and would fit in its place, waits.

use super::{Case, breaks, keeps};
use crate::support::night::{cara, room_stop, tasks};
use crate::support::two_floors::{CARA, EVERYONE, R101, R102, R103, hours, span, task};
use evenrun::plan::{Reason, Rule, Undone, UndoneWork, What, check};
use evenrun::site::{Method, Priority, RoomId};
use evenrun::units::Seconds;

fn leave(case: &mut Case, room: RoomId, name: &str) {
    let what = UndoneWork::Task(task(&case.site, room, name));
    case.plan.undone.push(Undone {
        what,
        reason: Reason::NoTime,
    });
}

/// Cara waters plants while the desks wait: three minutes each.
fn plants_before_desks(case: &mut Case) {
    leave(case, R102, "desks");
    let rest = tasks(&case.site, R102, &["dust", "plants"]);
    case.stops(CARA)[cara::CLEAN_102] = room_stop(What::Clean(R102, rest), "18:07:00", "18:20:00");
    case.retime(CARA, cara::TEA, "18:21:52", "18:36:52");
}

#[test]
fn in_the_same_stop() {
    breaks(Rule::Priority, plants_before_desks);
    let mut case = Case::sound();
    plants_before_desks(&mut case);
    let found = check(&case.site, &case.plan, &EVERYONE);
    let better = found[0]
        .exchange
        .as_ref()
        .expect("rule 14 says what is better");
    assert_eq!(better.drops, [task(&case.site, R102, "plants")]);
    assert_eq!(better.add, task(&case.site, R102, "desks"));
}

/// Desks of twelve minutes: neither the ten of dusting nor the three of the plants are enough.
#[test]
fn in_place_of_several_together() {
    let mut case = Case::sound();
    let [desks, dust, plants] =
        ["desks", "dust", "plants"].map(|name| task(&case.site, R102, name));
    case.site.kinds[2].tasks[desks.index].minutes = 12.0;
    case.site.kinds[2].tasks[dust.index].priority = Priority::Appearance;
    plants_before_desks(&mut case);
    let found = check(&case.site, &case.plan, &EVERYONE);
    let messages: Vec<&str> = found.iter().map(|v| v.message.as_str()).collect();
    assert_eq!(found.len(), 1, "{messages:?}");
    let better = found[0]
        .exchange
        .as_ref()
        .expect("rule 14 says what is better");
    assert_eq!(better.drops, [dust, plants]);
    assert_eq!(better.stops[cara::CLEAN_102].span, span("18:07", "18:19"));
}

/// Nothing has to give way for the desks if there is time for them anyhow.
#[test]
fn nor_if_it_fits_besides() {
    let mut case = Case::sound();
    case.site.kinds[2].tasks[1].minutes = 1.0;
    plants_before_desks(&mut case);
    case.retime(CARA, cara::TEA, "18:21:52", "18:36:52");
    let found = check(&case.site, &case.plan, &EVERYONE);
    assert_eq!(found.len(), 1);
}

#[test]
fn not_if_it_takes_longer_than_there_is() {
    keeps(|c| {
        c.site.kinds[2].tasks[1].minutes = 3.1;
        plants_before_desks(c);
    });
    // Six seconds of slack are what 0.1 minutes need.
    breaks(Rule::Priority, |c| {
        c.site.kinds[2].tasks[1].minutes = 3.1;
        plants_before_desks(c);
        c.retime(CARA, cara::TEA, "18:21:58", "18:36:58");
    });
}

#[test]
fn not_if_it_matters_no_more() {
    keeps(|c| {
        c.site.kinds[2].tasks[1].priority = Priority::Appearance;
        plants_before_desks(c);
    });
}

#[test]
fn not_if_it_may_not_be_done() {
    keeps(|c| {
        c.site.kinds[2].tasks[1].heavy = true;
        plants_before_desks(c);
    });
    keeps(|c| {
        c.site.kinds[2].tasks[1].method = Method::Mop {
            drying: Seconds(60),
        };
        plants_before_desks(c);
    });
}

/// The desks of 103, five metres before 102 and Cara's too, wait while she waters the plants of 102. Later there would be time for them, but
/// not on this evening.
fn desks_next_door(case: &mut Case) {
    case.site.rooms[R103.index()].open = Some(hours("16:00", "18:27"));
    case.site.rooms[R103.index()].only.push(CARA);
    case.site.rooms[R103.index()]
        .skip
        .retain(|name| name != "desks");
    leave(case, R103, "desks");
}

#[test]
fn in_a_stop_of_its_own() {
    // 5 to the room, 180 there, then 15 + 12 + 90 to the tea: 302, but between the stops there are only 292.
    keeps(desks_next_door);
    breaks(Rule::Priority, |c| {
        desks_next_door(c);
        c.retime(CARA, cara::TEA, "18:25:02", "18:40:02");
    });
    keeps(|c| {
        desks_next_door(c);
        c.retime(CARA, cara::TEA, "18:25:01", "18:40:01");
    });
    // On the way there: 95 + 15 + 15, 180, 5 to the room, of 120 + 180.
    breaks(Rule::Priority, |c| {
        desks_next_door(c);
        c.retime(CARA, cara::CLEAN_102, "18:07:10", "18:23:10");
        c.retime(CARA, cara::TEA, "18:25:02", "18:40:02");
    });
}

#[test]
fn not_outside_the_rooms_windows() {
    let slack = |c: &mut Case| {
        desks_next_door(c);
        c.retime(CARA, cara::TEA, "18:25:02", "18:40:02");
    };
    keeps(|c| {
        slack(c);
        c.site.rooms[R103.index()].open = Some(hours("18:21", "18:27"));
    });
    breaks(Rule::Priority, |c| {
        slack(c);
        c.site.rooms[R103.index()].open = Some(hours("18:20:05", "18:23:05"));
    });
}

#[test]
fn in_place_of_a_whole_stop() {
    let only_plants = |c: &mut Case| {
        desks_next_door(c);
        c.site.rooms[R102.index()].skip = vec!["dust".to_string(), "desks".to_string()];
        let plants = tasks(&c.site, R102, &["plants"]);
        c.stops(CARA)[cara::CLEAN_102] =
            room_stop(What::Clean(R102, plants), "18:07:00", "18:10:00");
        c.retime(CARA, cara::TEA, "18:12:00", "18:27:00");
    };
    // 125 there, 180, 117 back: from 18:05:00 to 18:12:02.
    keeps(only_plants);
    breaks(Rule::Priority, |c| {
        only_plants(c);
        c.retime(CARA, cara::TEA, "18:12:02", "18:27:02");
    });
}

#[test]
fn not_on_foot_what_needs_a_cart() {
    keeps(|c| {
        // Waste of health priority in a room that nobody visits, while Cara has an hour to spare.
        c.site.kinds[2].tasks[1].waste_litres = 1.0;
        c.site.rooms[R102.index()].skip.push("desks".to_string());
        let rest = tasks(&c.site, R102, &["dust", "plants"]);
        c.stops(CARA)[cara::CLEAN_102] = room_stop(What::Clean(R102, rest), "18:07:00", "18:20:00");
        desks_next_door(c);
        c.retime(CARA, cara::TEA, "19:00:00", "19:15:00");
    });
}

#[test]
fn whatever_the_reason_given() {
    breaks(Rule::Priority, |c| {
        plants_before_desks(c);
        let last = c.plan.undone.len() - 1;
        c.plan.undone[last].reason = Reason::Nobody("nobody likes desks".to_string());
    });
    // The polish of 101 is of the lowest priority: nothing can be dropped for it.
    keeps(|c| c.plan.undone[0].what = UndoneWork::Task(task(&c.site, R101, "polish")));
}
