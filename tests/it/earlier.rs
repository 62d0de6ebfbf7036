//! A plan from an earlier one on, which somebody may have changed by hand.

use crate::common::read_file;
use crate::support::planner::{assert_all_done, planned, planned_from};
use evenrun::plan::check;
use evenrun::site::Site;

fn two_floors() -> Site {
    read_file("fixtures/two_floors/site.yaml")
}

#[test]
fn a_room_that_two_people_have_in_an_earlier_plan_is_done_once() {
    let site = two_floors();
    let mut earlier = planned(&site, 50, 1).plan;
    for worker in 0..earlier.runs.len() {
        let also: Vec<_> = earlier.runs[worker]
            .stops
            .iter()
            .filter(|stop| !stop.what.tasks().is_empty())
            .cloned()
            .collect();
        assert!(!also.is_empty(), "everybody has work in a room");
        let mut twice = earlier.clone();
        let other = (worker + 1) % twice.runs.len();
        twice.runs[other].stops.extend(also);
        twice.runs[other].stops.sort_by_key(|stop| stop.span.from);
        let present: Vec<_> = twice.runs.iter().map(|run| run.worker).collect();
        assert!(!check(&site, &twice, &present).is_empty());
        assert_all_done(
            &planned_from(&site, &twice, 0),
            "from a plan with rooms done twice",
        );
    }
    earlier.runs.clear();
    assert_all_done(&planned_from(&site, &earlier, 50), "from an empty plan");
}
