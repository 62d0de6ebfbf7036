//! The sound plan as it is: no rule broken, and measures that a pencil gives.

use super::{Case, keeps};
use evenrun::plan::{Parts, measure};
use evenrun::site::FloorId;
use evenrun::units::Seconds;

#[test]
fn nothing_is_wrong_with_a_sound_plan() {
    keeps(|_| {});
}

#[test]
fn the_load_of_each_run_is_what_a_pencil_gives() {
    let case = Case::sound();
    let measures = measure(&case.site, &case.plan);
    let [ana, ben, cara] = &measures.runs[..] else {
        panic!("three runs")
    };

    let expected = Parts {
        work: Seconds(480 + 540 + 660 + 60),
        walk: Seconds(5 + 20 + 70 + 70 + 20 + 10 + 5),
        fill: Seconds(180),
        dump: Seconds(120),
        machine: Seconds(0),
        set_up: Seconds(600),
        // Until what was sprayed may be wiped, and until the floor is dry.
        wait: Seconds(300 + 100),
        // From 18:48:55 to 20:00.
        idle: Seconds(4265),
        rest: Seconds(1800),
    };
    assert_eq!(ana.parts, expected);
    assert_eq!(ana.load, Seconds(3240));
    // Six hours less half an hour of break and ten minutes of reserve.
    assert_eq!(ana.available, Seconds(21_600 - 1800 - 600));
    assert!((ana.share - 3240.0 / 19_200.0).abs() < 1e-12);

    let expected = Parts {
        work: Seconds(1500 + 375 + 375 + 600 + 675 + 75),
        // The last is the trip for a second bucket.
        walk: Seconds(5 + 50 + 50 + 60 + 20 + 80 + 30 + 20 + 20 + 30 + 5 + 120),
        fill: Seconds(180 * 3),
        dump: Seconds(120),
        machine: Seconds(240),
        set_up: Seconds(600),
        wait: Seconds(225),
        // Until the other way out is dry.
        idle: Seconds(580),
        rest: Seconds(1800),
    };
    assert_eq!(ben.parts, expected);
    assert_eq!(ben.load, Seconds(5815));

    assert_eq!(cara.load, Seconds(600 + 960 + 360 + 120 + 112 + 30 + 35));
    assert_eq!(cara.available, Seconds(21_600 - 900 - 600));
    assert_eq!(cara.parts.idle, Seconds(6883));
    assert_eq!(cara.walks, [0, 120, 112, 30, 35].map(Seconds));
    assert_eq!(cara.floors, [FloorId(0), FloorId(1)]);
    assert!(!cara.with_cart && ana.with_cart);
}

#[test]
fn every_second_of_a_run_is_accounted_for() {
    let case = Case::sound();
    let measures = measure(&case.site, &case.plan);
    for run in &measures.runs {
        let all = run.load + run.parts.idle + run.parts.rest;
        assert_eq!(Some(all), run.span.map(evenrun::units::Span::length));
    }
    let loads: Seconds = measures.runs.iter().map(|run| run.load).sum();
    assert_eq!(measures.total.load(), loads);
    assert!((measures.evenness.highest - 5815.0 / 19_200.0).abs() < 1e-12);
    assert!((measures.evenness.lowest - 2217.0 / 20_100.0).abs() < 1e-12);
}

#[test]
fn someone_with_nothing_to_do_has_an_empty_run() {
    let mut case = Case::sound();
    let mut idle = case.site.crew[0].clone();
    idle.name = "Dan".to_string();
    case.site.crew.push(idle);
    let dan = evenrun::site::WorkerId(3);
    case.plan.runs.push(evenrun::plan::Run {
        worker: dan,
        stops: vec![],
    });
    let present: Vec<_> = case.site.present(case.plan.date, &[]);
    assert_eq!(
        evenrun::plan::check(&case.site, &case.plan, &present),
        vec![]
    );
    let measures = measure(&case.site, &case.plan);
    assert_eq!(
        (measures.runs[3].load, measures.evenness.lowest),
        (Seconds::ZERO, 0.0)
    );
}
