//! What is broken is said in words that somebody can act on.

use super::Case;
use crate::support::night::{ana, ben, stop};
use crate::support::two_floors::{ANA, BEN, CLOSET_G, EVERYONE, R101, R103, span, task};
use evenrun::plan::{Reason, Undone, UndoneWork, What, check};
use evenrun::site::{Hours, MachineId, Moves, Weekdays, WorkerId};
use evenrun::units::Litres;
use jiff::civil::Weekday;

/// Something that the checker says of the sound plan after an edit ends like this.
#[track_caller]
fn says(ending: &str, edit: impl FnOnce(&mut Case)) {
    let mut case = Case::sound();
    edit(&mut case);
    let all = case.messages();
    assert!(all.iter().any(|m| m.ends_with(ending)), "{all:#?}");
}

#[test]
fn a_machine_that_is_fetched_twice_is_told_at_the_second_time() {
    says(
        "Ben's stop 3, fetch `closet-G` 18:07:05-18:09:05: `scrubber` is fetched already",
        |c| {
            let again = What::Fetch(MachineId(0));
            let again = stop(again, CLOSET_G, "18:07:05", "18:09:05");
            c.stops(BEN).insert(ben::FETCH + 1, again);
        },
    );
}

/// All that 103 has is skipped there.
#[test]
fn work_that_is_not_due_is_not_owed_either() {
    says(
        "`dust` in `103` is listed undone, though not due on 2026-03-10",
        |c| {
            let what = UndoneWork::Task(task(&c.site, R103, "dust"));
            let reason = Reason::NoTime;
            c.plan.undone.push(Undone { what, reason });
        },
    );
}

#[test]
fn a_room_that_is_not_open_at_all_says_so_instead_of_its_hours() {
    says(
        "is not inside one window; there are none on this date",
        |c| {
            let saturday = Weekdays::of([Weekday::Saturday]);
            c.site.rooms[R101.index()].open = Some(Hours {
                weekly: vec![(saturday, span("18:00", "22:00"))],
                ..Hours::default()
            });
        },
    );
}

/// North takes two buckets, and with a cart of 20 l the restrooms take two carts.
#[test]
fn trips_that_cannot_be_made_are_told_as_such() {
    says(
        "18:39:45-18:51:00: no fill point can be reached for the trips this needs",
        |c| {
            c.site
                .closets
                .iter_mut()
                .for_each(|closet| closet.fill_point = false);
        },
    );
    says(
        "18:08:25-18:16:25: no waste point can be reached for the trips this needs",
        |c| {
            let Moves::Cart(cart) = &mut c.site.crew[ANA.index()].moves else {
                panic!("Ana has a cart");
            };
            cart.waste = Litres(20.0);
            c.site
                .closets
                .iter_mut()
                .for_each(|closet| closet.waste_point = false);
        },
    );
    // The length of such a stop is not judged: the one thing that is wrong is enough.
    let mut case = Case::sound();
    case.site
        .closets
        .iter_mut()
        .for_each(|closet| closet.fill_point = false);
    let of_north = |m: &&String| m.contains("`north`");
    assert_eq!(case.messages().iter().filter(of_north).count(), 1);
}

#[test]
fn strangers_are_called_by_where_they_stand() {
    let told = |edit: fn(&mut Case)| {
        let mut case = Case::sound();
        edit(&mut case);
        case.messages()
    };
    assert_eq!(
        told(|c| c.stops(BEN)[ben::FETCH].what = What::Fetch(MachineId(9))),
        ["rule 1 (work): the machine of stop 2 of run 2 is none of the site's"]
    );
    assert_eq!(
        told(|c| c.plan.undone[0].what = UndoneWork::Duty(9)),
        ["rule 1 (work): the work of entry 1 of what is undone is none of the site's"]
    );
    assert_eq!(
        told(|c| c.stops(ANA)[ana::MEAL].what = What::Break(9)),
        ["rule 1 (work): the break of stop 8 of run 1 is none of the site's"]
    );
    let case = Case::sound();
    let present = [&EVERYONE[..], &[WorkerId(9)]].concat();
    let found = check(&case.site, &case.plan, &present);
    assert_eq!(
        found[0].message,
        "worker 9 among those present is none of the site's"
    );
}
