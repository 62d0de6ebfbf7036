//! Who is there: staggered shifts, breaks, carts, skills and clearances.

use super::Figures;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;
use std::fmt::Write;

/// A shift with its breaks.
struct Shift {
    hours: &'static str,
    rest: &'static str,
    meal: Option<&'static str>,
}

const EARLY: Shift = Shift {
    hours: "16:00-23:30",
    rest: "17:30-19:00",
    meal: Some("19:30-21:30"),
};
const MIDDLE: Shift = Shift {
    hours: "16:30-24:00",
    rest: "18:00-19:30",
    meal: Some("20:00-22:00"),
};
const LATE: Shift = Shift {
    hours: "17:00-24:30",
    rest: "18:30-20:00",
    meal: Some("20:30-22:30"),
};
const SHORT: Shift = Shift {
    hours: "18:00-22:00",
    rest: "19:00-21:00",
    meal: None,
};

/// Shifts of every ten people, and whether they have a cart.
const PATTERN: [(&Shift, bool); 10] = [
    (&EARLY, true),
    (&LATE, true),
    (&MIDDLE, true),
    (&SHORT, true),
    (&EARLY, true),
    (&SHORT, false),
    (&LATE, true),
    (&MIDDLE, true),
    (&SHORT, true),
    (&EARLY, true),
];

const PACES: [f64; 5] = [0.95, 1.0, 1.0, 1.05, 1.1];

/// The crew's file.
pub(super) fn crew(figures: Figures, rng: &mut Pcg64Mcg) -> String {
    let mut text = String::new();
    for worker in 0..figures.workers {
        let (shift, cart) = PATTERN[worker % PATTERN.len()];
        let _ = write!(
            text,
            "- name: W{:02}\n  shift: \"{}\"\n  start: crew base\n",
            worker + 1,
            shift.hours
        );
        if figures.plain {
            text.push_str("  cart: cart\n");
        } else {
            let pace = PACES.choose(rng).unwrap_or(&1.0);
            write_rules(worker, shift, cart, *pace, &mut text);
        }
    }
    text
}

fn write_rules(worker: usize, shift: &Shift, cart: bool, pace: f64, text: &mut String) {
    let _ = writeln!(text, "  pace: {pace}");
    if cart {
        text.push_str("  cart: cart\n");
    }
    let mut skills = Vec::new();
    skills.extend((cart && worker.is_multiple_of(3)).then_some("floor machine"));
    skills.extend(std::ptr::eq(shift, &LATE).then_some("alarm"));
    if !skills.is_empty() {
        let _ = writeln!(text, "  skills: [{}]", skills.join(", "));
    }
    if worker % 3 == 1 {
        text.push_str("  access: [lab clearance]\n");
    }
    let _ = writeln!(
        text,
        "  breaks:\n    - {{name: rest, min: 15, window: \"{}\", paid: true}}",
        shift.rest
    );
    if let Some(meal) = shift.meal {
        let _ = writeln!(text, "    - {{name: meal, min: 30, window: \"{meal}\"}}");
    }
}
