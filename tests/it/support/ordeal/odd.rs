//! Sites at the edge of what there can be.

use super::changes::{Night, changes};
use crate::support::planner::{date_of, planned};
use crate::support::random::{eased_site, random_site, site_of};
use evenrun::cover::Changes;
use evenrun::site::{Hours, Site};
use evenrun::units::{Clock, Seconds, Span};
use jiff::civil::date;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

/// One night in so many is large.
const LARGE: u64 = 40;

/// An odd night of a seed, of each kind in turn, that changes at random.
pub(crate) fn odd_night(seed: u64) -> Night {
    let site = odd_site(seed);
    let plan = planned(&site, 5 + seed % 10, seed).plan;
    let rng = &mut Pcg64Mcg::seed_from_u64(seed.wrapping_mul(31));
    // Work after midnight, or on a day of 23 or 25 hours: whoever leaves would leave at another time than is drawn.
    let changes = match seed % 10 {
        4 | 5 => Changes {
            absent: site
                .present(date_of(&site), &[])
                .into_iter()
                .take(1)
                .collect(),
            ..Changes::default()
        },
        _ => changes(rng, &site),
    };
    Night {
        site,
        plan,
        changes,
    }
}

fn odd_site(seed: u64) -> Site {
    if seed.is_multiple_of(LARGE) {
        return site_of(seed, 400);
    }
    match seed % 10 {
        0 => site_of(seed, 0),
        1 => site_of(seed, 1),
        2 => without_anybody(seed),
        3 => always_shut(seed),
        4 => over_midnight(seed),
        5 => when_clocks_change(seed),
        6 => all_in_one_spot(seed),
        7 => of_no_length(seed),
        8 => eased_site(seed),
        _ => random_site(seed),
    }
}

fn without_anybody(seed: u64) -> Site {
    let mut site = random_site(seed);
    site.crew.clear();
    for room in &mut site.rooms {
        (room.only, room.never, room.prefer) = Default::default();
    }
    site
}

/// No room may be cleaned at any time.
fn always_shut(seed: u64) -> Site {
    let mut site = random_site(seed);
    for room in &mut site.rooms {
        room.open = Some(Hours::default());
    }
    site
}

/// Everybody from ten to six.
fn over_midnight(seed: u64) -> Site {
    let mut site = eased_site(seed);
    shift_all(&mut site, Span::new(Clock::at(22, 0), Clock::at(30, 0)));
    site
}

/// The night in which the hour after one comes twice, or never.
fn when_clocks_change(seed: u64) -> Site {
    let mut site = over_midnight(seed);
    site.time_zone = Some("Europe/Dublin".to_string());
    let spring = seed.is_multiple_of(2);
    site.date = Some(if spring {
        date(2026, 3, 28)
    } else {
        date(2026, 10, 24)
    });
    site
}

fn shift_all(site: &mut Site, shift: Span) {
    let later = shift.from - Clock::at(16, 0);
    for worker in &mut site.crew {
        worker.shift = shift;
        for rest in &mut worker.breaks {
            rest.window = Span::new(rest.window.from + later, rest.window.to + later);
        }
        worker.breaks.retain(|b| b.window.to <= shift.to);
    }
}

/// Nobody ever walks.
fn all_in_one_spot(seed: u64) -> Site {
    let mut site = random_site(seed);
    let spot = site.places[0].spot;
    for place in &mut site.places {
        place.spot = spot;
    }
    site
}

/// Nothing takes any time.
fn of_no_length(seed: u64) -> Site {
    let mut site = random_site(seed);
    for task in site.kinds.iter_mut().flat_map(|k| &mut k.tasks) {
        (task.minutes, task.wipe_minutes) = (0.0, 0.0);
    }
    (site.policy.set_up, site.policy.tear_down) = (Seconds::ZERO, Seconds::ZERO);
    site
}
