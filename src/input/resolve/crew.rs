//! The crew: shifts, breaks, pace, what they may do and open, what they push.

use super::Names;
use super::values::{Measure, count, minutes_as_seconds, text};
use super::words::{days, span};
use crate::input::log::Log;
use crate::input::raw::{RawBreak, RawCart, RawWorker};
use crate::site::{Break, Cart, Moves, PlaceId, Weekdays, Worker};
use crate::units::{Litres, Metres, Seconds, Span, SquareMetres};

/// Waste a cart holds, with its usual value (assumption: one sack of 120 l).
const WASTE: (Measure, f64) = (
    Measure::volume("waste_l", "waste_gal", 1.0, 10_000.0),
    120.0,
);
/// Floor one fill of the bucket mops, with its usual value (assumption).
const BUCKET: (Measure, f64) = (
    Measure::area("bucket_m2", "bucket_sqft", 1.0, 10_000.0),
    60.0,
);
/// Clear width a cart needs, with its usual value (assumption).
const WIDTH: (Measure, f64) = (Measure::width("width_m", "width_in", 0.1, 5.0), 0.75);
/// Rooms one fill serves: EPA, *Using Microfiber Mops in Hospitals*, 2002: change every two or three rooms.
const USUAL_BUCKET_ROOMS: u32 = 3;
/// Slowest and fastest pace: outside of it, it is the standard that is wrong.
const PACE: std::ops::RangeInclusive<f64> = 0.2..=5.0;
/// Hours of the clock that come round every day.
const DAY: Seconds = Seconds(86_400);

/// Carts in order.
pub(super) fn carts(raw: &[RawCart], log: &Log) -> Vec<Cart> {
    let cart = |c: &RawCart| Cart {
        waste: Litres(
            WASTE
                .0
                .read(log, c.waste_l.as_ref(), c.waste_gal.as_ref())
                .unwrap_or(WASTE.1),
        ),
        bucket: SquareMetres(
            BUCKET
                .0
                .read(log, c.bucket_m2.as_ref(), c.bucket_sqft.as_ref())
                .unwrap_or(BUCKET.1),
        ),
        bucket_rooms: count(
            log,
            "bucket_rooms",
            c.bucket_rooms.as_ref(),
            1..=1_000,
            USUAL_BUCKET_ROOMS,
        ),
        width: Metres(
            WIDTH
                .0
                .read(log, c.width_m.as_ref(), c.width_in.as_ref())
                .unwrap_or(WIDTH.1),
        ),
    };
    raw.iter().map(cart).collect()
}

/// The crew in order.
pub(super) fn crew(raw: &[RawWorker], carts: &[Cart], names: &Names, log: &Log) -> Vec<Worker> {
    raw.iter()
        .map(|worker| read(worker, carts, names, log))
        .collect()
}

fn read(raw: &RawWorker, carts: &[Cart], names: &Names, log: &Log) -> Worker {
    let shift = span(log, &raw.shift, "E603").unwrap_or_default();
    let cart = raw
        .cart
        .as_ref()
        .and_then(|c| names.carts.find(c, log))
        .and_then(|c| carts.get(c));
    Worker {
        name: raw.name.value.trim().to_string(),
        shift,
        days: days(log, raw.days.as_ref(), Weekdays::WORKING),
        pace: pace(raw, log),
        start: PlaceId::from(names.places.find(&raw.start, log).unwrap_or(0)),
        skills: names.skills.find_all(&raw.skills, log),
        access: names.access.find_all(&raw.access, log),
        moves: cart.map_or(Moves::Foot, |cart| Moves::Cart(*cart)),
        stairs: raw.stairs.unwrap_or(true),
        heavy: raw.heavy.unwrap_or(true),
        breaks: raw
            .breaks
            .iter()
            .map(|b| read_break(b, shift, names, log))
            .collect(),
    }
}

fn pace(raw: &RawWorker, log: &Log) -> f64 {
    let Some(given) = &raw.pace else { return 1.0 };
    if given.sound && !PACE.contains(&given.value) {
        let message = format!("the pace of `{}` is {}", raw.name.value, given.value);
        let hint = "from 0.2 to 5; 1 is the standard's own pace, 1.1 a tenth faster";
        log.error("E602", given.pos, message, hint);
    }
    given.value.clamp(*PACE.start(), *PACE.end())
}

fn read_break(raw: &RawBreak, shift: Span, names: &Names, log: &Log) -> Break {
    let window = raw
        .window
        .as_ref()
        .map_or(Some(shift), |w| span(log, w, "E208"))
        .unwrap_or(shift);
    let place = raw.place.as_ref().and_then(|p| names.places.find(p, log));
    Break {
        name: text(log, "name of a break", &raw.name),
        length: minutes_as_seconds(log, "min", &raw.min),
        window: in_shift(window, shift),
        place: place.map(PlaceId::from),
        paid: raw.paid.unwrap_or(false),
    }
}

/// A window after midnight of a shift that passes midnight: `01:00-03:00` in `22:00-06:00` is `25:00-27:00`.
fn in_shift(window: Span, shift: Span) -> Span {
    let later = Span::new(window.from + DAY, window.to + DAY);
    if window.meets(shift) || !later.meets(shift) {
        window
    } else {
        later
    }
}
