//! Plans that nobody would write: the checker reports, and never stumbles.

use super::Case;
use crate::support::two_floors::EVERYONE;
use evenrun::plan::{Rule, What, check, measure};
use evenrun::site::{PlaceId, RoomId, WorkerId};
use evenrun::units::{Clock, Span};
use proptest::prelude::{Strategy, any, prop, proptest};

/// Something done to a plan by somebody who does not care.
#[derive(Clone, Debug)]
enum Edit {
    Swap(usize, usize),
    Remove(usize),
    Repeat(usize),
    Retime(usize, i64, i64),
    Move(usize, u32),
    Retask(usize, usize),
    Give(usize),
}

fn edits() -> impl Strategy<Value = Vec<(usize, Edit)>> {
    let edit = (
        any::<u8>(),
        any::<usize>(),
        any::<usize>(),
        0..100_000_i64,
        -4000..4000_i64,
    );
    let edit = edit.prop_map(|(kind, a, b, from, length)| match kind % 7 {
        0 => Edit::Swap(a, b),
        1 => Edit::Remove(a),
        2 => Edit::Repeat(a),
        3 => Edit::Retime(a, from, length),
        4 => Edit::Move(a, (b % 13) as u32),
        5 => Edit::Retask(a, b),
        _ => Edit::Give(b),
    });
    prop::collection::vec((0..3_usize, edit), 1..12)
}

fn apply(case: &mut Case, run: usize, edit: &Edit) {
    let stops = &mut case.plan.runs[run].stops;
    let count = stops.len();
    if count == 0 {
        return;
    }
    match *edit {
        Edit::Swap(a, b) => stops.swap(a % count, b % count),
        Edit::Remove(a) => drop(stops.remove(a % count)),
        Edit::Repeat(a) => stops.push(stops[a % count].clone()),
        Edit::Retime(a, from, length) => {
            stops[a % count].span = Span::new(Clock(from), Clock(from + length));
        }
        Edit::Move(a, place) => stops[a % count].place = PlaceId(place),
        Edit::Retask(a, b) => {
            let tasks = stops[b % count].what.tasks().to_vec();
            let room = RoomId((b % 8) as u32);
            stops[a % count].what = match b % 4 {
                0 => What::Clean(room, tasks),
                1 => What::OpenAndWet(room, tasks),
                2 => What::WipeAndMop(room, tasks),
                _ => What::Reopen(room),
            };
        }
        Edit::Give(b) => {
            let stop = stops[b % count].clone();
            case.plan.runs[(run + 1) % 3].stops.insert(0, stop);
        }
    }
}

proptest! {
    #[test]
    fn any_plan_can_be_checked_and_measured(edits in edits()) {
        let mut case = Case::sound();
        for (run, edit) in &edits {
            apply(&mut case, *run, edit);
        }
        let found = check(&case.site, &case.plan, &EVERYONE);
        for violation in &found {
            assert!(!violation.message.is_empty());
        }
        assert!(found.is_sorted_by_key(|v| v.rule));
        let measures = measure(&case.site, &case.plan);
        assert!(measures.runs.iter().all(|run| run.share.is_finite()));
    }
}

#[test]
fn strangers_are_reported_before_anything_else() {
    let edits: [fn(&mut Case); 5] = [
        |c| c.plan.runs[0].worker = WorkerId(77),
        |c| c.plan.runs[0].stops[1].place = PlaceId(77),
        |c| c.plan.runs[0].stops[1].what = What::Reopen(RoomId(77)),
        |c| c.plan.runs[0].stops[1].what = What::Break(77),
        |c| c.plan.runs[0].stops[1].span.to = Clock(i64::MAX),
    ];
    for edit in edits {
        let mut case = Case::sound();
        edit(&mut case);
        let found = check(&case.site, &case.plan, &EVERYONE);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].rule, Rule::Work);
    }
}

#[test]
fn messages_name_run_stop_and_times() {
    let mut case = Case::sound();
    case.retime(
        crate::support::two_floors::ANA,
        crate::support::night::ana::FILL,
        "18:05:04",
        "18:08:04",
    );
    let found = check(&case.site, &case.plan, &EVERYONE);
    let expected = "Ana's stop 2, fill `closet-G` 18:05:04-18:08:04: the walk with the cart takes 5 s, \
                    there are 4 s since Ana's stop 1, set-up `base` 18:00:00-18:05:00";
    assert_eq!(found[0].message, expected);
    assert_eq!(found[0].rule.to_string(), "rule 3 (walking)");
}

#[test]
fn rules_are_numbered_as_they_are_listed() {
    let numbers: Vec<usize> = Rule::ALL.iter().map(|rule| rule.number()).collect();
    assert_eq!(numbers, (1..=14).collect::<Vec<_>>());
}
