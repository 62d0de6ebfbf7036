//! How many people to begin with.

use super::Hand;
use crate::site::Site;
use crate::work::{due_on, quantity};
use jiff::civil::date;

/// Minutes of a guessed shift, five hours, that are left for work in rooms: walking, water and set-up take about a third (assumption).
const MINUTES_IN_ROOMS: f64 = 200.0;
/// Most people that are guessed.
const MOST: usize = 100;

/// So many people for the work in these rooms of a site, by their numbers, on a working day; at least one.
pub(crate) fn hands(site: &Site, of: &dyn Fn(usize) -> bool) -> usize {
    // Any full week shows the same; this one has no holiday that a site could know.
    let days = (2..=6).map(|day| minutes(site, day, of));
    let busiest = days.fold(0.0, f64::max);
    ((busiest / MINUTES_IN_ROOMS).ceil() as usize).clamp(1, MOST)
}

fn minutes(site: &Site, day: i8, of_room: &dyn Fn(usize) -> bool) -> f64 {
    let due = due_on(site, date(2026, 3, day));
    let of = |task: &crate::work::DueTask| {
        let amount = quantity(task.task(site).rate, &site.rooms[task.room.index()]);
        amount.mul_add(task.task(site).wipe_minutes, task.minutes(site))
    };
    due.iter().filter(|t| of_room(t.room.index())).map(of).sum()
}

/// A crew of that many, to be replaced by the real one.
pub(crate) fn crew_for(count: usize, start: &str) -> Vec<Hand> {
    let hand = |n: usize| Hand {
        name: format!("Person {n}"),
        shift: "17:00-22:00".to_string(),
        start: start.to_string(),
        guessed: true,
    };
    (1..=count).map(hand).collect()
}
