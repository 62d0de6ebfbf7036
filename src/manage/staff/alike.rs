//! A crew of so many people who are all alike: the shift asked for, every skill and every key, a cart, pace 1.

use crate::site::{AccessId, Break, Moves, Priority, Site, SkillId, Worker};
use crate::units::{Seconds, Span};
use crate::work::{all_tasks, crew_days};
use itertools::Itertools;

/// The site with so many people alike on one shift, its rooms open to all of them.
pub(super) fn with_people(site: &Site, shift: Option<Span>, people: usize) -> Site {
    let mut alike = site.clone();
    let one = one_of(site, shift);
    let named = |number: usize| Worker {
        name: format!("person {number}"),
        ..one.clone()
    };
    alike.crew = (1..=people).map(named).collect();
    for room in &mut alike.rooms {
        // These name people of the crew that there is.
        (room.only, room.never, room.prefer) = Default::default();
    }
    alike
}

/// Who everybody is like.
fn one_of(site: &Site, shift: Option<Span>) -> Worker {
    let first = site.crew.iter();
    let like = first.min_by_key(|w| shift.map_or(0, |s| (w.shift.from - s.from).0.abs()));
    let carts = site.crew.iter().filter(|w| w.moves != Moves::Foot);
    // Whoever carries most: the others could do no more.
    let cart = carts
        .map(|w| w.moves)
        .max_by(|a, b| volume(a).total_cmp(&volume(b)));
    let starts = site.crew.iter().map(|w| w.start).counts();
    let start = starts
        .into_iter()
        .max_by_key(|(place, count)| (*count, std::cmp::Reverse(*place)));
    let shift = shift.or(like.map(|w| w.shift)).unwrap_or_default();
    let breaks = like.map(|w| w.breaks.clone()).unwrap_or_default();
    Worker {
        name: String::new(),
        shift,
        days: crew_days(site),
        pace: 1.0,
        start: start.map(|(place, _)| place).unwrap_or_default(),
        skills: (0..site.skills.len()).map(SkillId::from).collect(),
        access: (0..site.access.len()).map(AccessId::from).collect(),
        moves: cart.unwrap_or(Moves::Foot),
        stairs: true,
        heavy: true,
        breaks: breaks
            .into_iter()
            .filter_map(|b| within(shift, b))
            .collect(),
    }
}

fn volume(moves: &Moves) -> f64 {
    match moves {
        Moves::Cart(cart) => cart.waste.0,
        Moves::Foot => 0.0,
    }
}

/// A break as far as it fits into a shift; one that does not goes anywhere in its middle half.
fn within(shift: Span, rest: Break) -> Option<Break> {
    let window = rest.window.common(shift);
    let quarter = Seconds(shift.length().0 / 4);
    let middle = Span::new(shift.from + quarter, shift.to - quarter);
    let window = [window, middle]
        .into_iter()
        .find(|w| w.length() >= rest.length)?;
    Some(Break { window, ..rest })
}

/// The site with only the work that matters at least so much.
pub(super) fn with_work_to(site: &Site, priority: Priority) -> Site {
    let mut less = site.clone();
    for task in all_tasks(site) {
        if task.priority(site) > priority {
            let name = task.task(site).name.clone();
            less.rooms[task.room.index()].skip.push(name);
        }
    }
    less
}
