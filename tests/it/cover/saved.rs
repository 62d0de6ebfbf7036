//! The smallest thing that would have saved what waits is told truly: with it the work is done, with less it is not.

use crate::support::coverer::{broken, covered};
use crate::support::planner::planned;
use crate::support::sketch::{Sketch, room, task, worker};
use evenrun::cover::{Changes, Saver};
use evenrun::site::{Method, Priority, Site, WorkerId};
use evenrun::units::Seconds;

/// Three rooms of fifty minutes each, two people with two hours each: with one away one room has to wait.
fn three_rooms() -> Site {
    let mut sketch = Sketch::of_storeys(1, 30.0);
    let mut clean = task("clean", Method::Dry, 5.0);
    clean.priority = Priority::Expected;
    let kind = sketch.kind("office", vec![clean]);
    for (index, along) in [10.0, 12.0, 14.0].into_iter().enumerate() {
        sketch.room(0, along, room(&format!("R{index}"), kind, 10.0));
    }
    let mut site = sketch.built();
    site.crew = ["Ana", "Ben"]
        .map(|name| worker(&site, name, 18 * 60, 20 * 60))
        .to_vec();
    site
}

#[test]
fn so_many_more_minutes_would_do_and_fewer_would_not() {
    let site = three_rooms();
    let plan = planned(&site, 20, 1).plan;
    assert!(plan.undone.is_empty());
    let away = |overtime: Option<Seconds>| Changes {
        absent: vec![WorkerId(1)],
        overtime,
        ..Changes::default()
    };
    let short = covered(&site, &plan, &away(None), 20);
    assert_eq!(broken(&short), Vec::<String>::new());
    assert_eq!(short.made.plan.undone.len(), 1);
    let Some(Saver::Minutes { more, nearest, .. }) = &short.savers[0] else {
        panic!("{:?}", short.savers);
    };
    assert_eq!(*nearest, WorkerId(0));
    let with = covered(&site, &plan, &away(Some(*more)), 20);
    assert_eq!(with.made.plan.undone.len(), 0, "{more:?} more are enough");
    let less = covered(&site, &plan, &away(Some(*more - Seconds(1))), 20);
    assert_eq!(less.made.plan.undone.len(), 1, "a second less is not");
}
