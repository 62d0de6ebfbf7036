//! What the random sites ask for, counted: a rule that hardly any of them exercises would not be shown by them to hold.

use super::plans;
use evenrun::plan::{Made, Reason, RunMeasures, Undone, UndoneWork, What};
use evenrun::site::{Hours, Moves, Priority, RoomId, Site, Worker};
use evenrun::work::{DueTask, due_on};
use std::collections::BTreeSet;

/// In at least so many of the sites, with their plans, something is so.
fn assert_in(least: usize, what: &str, is_so: impl Fn(&Site, &Made) -> bool) {
    let count = plans().filter(|(_, site, made)| is_so(site, made)).count();
    assert!(count >= least, "{what}: in {count} instead of {least}");
}

fn any_due(site: &Site, made: &Made, wanted: impl Fn(&DueTask) -> bool) -> bool {
    due_on(site, made.plan.date).iter().any(wanted)
}

fn stops(made: &Made) -> impl Iterator<Item = &What> {
    let stops = made.plan.runs.iter().flat_map(|r| &r.stops);
    stops.map(|s| &s.what)
}

fn rooms_done(made: &Made) -> BTreeSet<RoomId> {
    stops(made).filter_map(What::room).collect()
}

fn tasks_undone(made: &Made) -> impl Iterator<Item = DueTask> {
    let task = |u: &Undone| match u.what {
        UndoneWork::Task(task) => Some(task),
        UndoneWork::Duty(_) => None,
    };
    made.plan.undone.iter().filter_map(task)
}

fn pushes_a_cart(worker: &Worker) -> bool {
    matches!(worker.moves, Moves::Cart(_))
}

fn has_every_skill(worker: &Worker, task: DueTask, site: &Site) -> bool {
    let needed = &task.task(site).skills;
    needed.iter().all(|s| worker.skills.contains(s))
}

#[test]
fn breaks_and_windows() {
    assert_in(25, "a break is taken", |_, made| {
        stops(made).any(|w| matches!(w, What::Break(_)))
    });
    assert_in(20, "somebody has two breaks", |site, _| {
        site.crew.iter().any(|w| w.breaks.len() == 2)
    });
    assert_in(20, "a room is done that has many windows", |site, made| {
        let many = |h: &Option<Hours>| h.as_ref().is_some_and(|h| h.weekly.len() > 1);
        let has_many = |r: &RoomId| {
            let room = &site.rooms[r.index()];
            many(&room.open) || many(&room.closure)
        };
        rooms_done(made).iter().any(has_many)
    });
}

#[test]
fn machines() {
    let fetches = |made: &Made| {
        let fetches =
            |r: &&evenrun::plan::Run| r.stops.iter().any(|s| matches!(s.what, What::Fetch(_)));
        made.plan.runs.iter().filter(fetches).count()
    };
    assert_in(
        12,
        "more could use a machine than there are units",
        |site, made| {
            any_due(site, made, |due| {
                let able = |w: &&Worker| pushes_a_cart(w) && has_every_skill(w, *due, site);
                let machine = due.task(site).machine;
                machine.is_some_and(|m| {
                    site.crew.iter().filter(able).count() > site.machines[m.index()].units as usize
                })
            })
        },
    );
    assert_in(12, "every unit is in use", |site, made| {
        fetches(made) > 0 && fetches(made) == site.machines[0].units as usize
    });
}

#[test]
fn skills_clearance_and_who_may() {
    assert_in(12, "somebody lacks a skill that is needed", |site, made| {
        any_due(site, made, |due| {
            let has = site.crew.iter().filter(|w| has_every_skill(w, *due, site));
            (1..site.crew.len()).contains(&has.count())
        })
    });
    assert_in(
        10,
        "a room is done that not everybody may enter",
        |site, made| {
            let needs = |r: &RoomId| {
                let door = site.places[r.index()].door.as_ref();
                !site.rooms[r.index()].needs.is_empty() || door.is_some_and(|d| !d.needs.is_empty())
            };
            let lacks = site.crew.iter().any(|w| w.access.is_empty());
            lacks && rooms_done(made).iter().any(needs)
        },
    );
    assert_in(8, "somebody may not lift what is heavy", |site, made| {
        let heavy = any_due(site, made, |due| due.task(site).heavy);
        heavy && site.crew.iter().any(|w| !w.heavy)
    });
    assert_in(12, "a room is for some only", |site, _| {
        site.rooms.iter().any(|r| !r.only.is_empty())
    });
    assert_in(12, "a room is not for some", |site, _| {
        site.rooms.iter().any(|r| !r.never.is_empty())
    });
}

#[test]
fn ways_of_moving() {
    let on_foot = |r: &RunMeasures| !r.with_cart && r.span.is_some();
    assert_in(15, "one run is on foot and one with a cart", |_, made| {
        let runs = &made.measures.runs;
        runs.iter().any(on_foot) && runs.iter().any(|r| r.with_cart)
    });
    assert_in(6, "somebody leaves the cart behind", |site, made| {
        let has_cart = |r: &RunMeasures| pushes_a_cart(&site.crew[r.worker.index()]);
        let mut runs = made.measures.runs.iter();
        runs.any(|r| on_foot(r) && has_cart(r))
    });
    assert_in(6, "somebody may not use the stairs", |site, _| {
        site.floors.len() > 1 && site.crew.iter().any(|w| !w.stairs)
    });
}

#[test]
fn overtime_and_what_is_left() {
    assert_in(5, "somebody works overtime", |_, made| {
        made.measures.runs.iter().any(|r| r.overtime.0 > 0)
    });
    assert_in(10, "time is short", |_, made| {
        made.plan.undone.iter().any(|u| u.reason == Reason::NoTime)
    });
    assert_in(15, "work of several priorities is left", |site, made| {
        let left: BTreeSet<Priority> = tasks_undone(made).map(|t| t.priority(site)).collect();
        left.len() > 1
    });
    assert_in(15, "a room is done in part", |_, made| {
        let done = rooms_done(made);
        tasks_undone(made).any(|t| done.contains(&t.room))
    });
}

#[test]
fn what_all_runs_keep_together() {
    assert_in(25, "a closure group", |site, _| {
        !site.policy.groups.is_empty()
    });
    assert_in(20, "an exit pair", |site, _| {
        !site.policy.exit_pairs.is_empty()
    });
    assert_in(12, "somebody locks up", |site, _| {
        site.duties.iter().any(|d| d.last)
    });
}
