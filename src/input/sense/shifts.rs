//! Whether shifts are as long as shifts are, and can hold their breaks.

use crate::input::log::Log;
use crate::input::resolve::Origins;
use crate::site::{Site, Worker};
use crate::units::{Clock, Seconds};

/// A longer shift that goes on past midnight is taken for two times written the wrong way round.
const LONGEST: Seconds = Seconds::minutes(16 * 60);
const MIDNIGHT: Clock = Clock(86_400);

/// Looks at every worker.
pub(super) fn look(site: &Site, origins: &Origins, log: &Log) {
    for (index, worker) in site
        .crew
        .iter()
        .enumerate()
        .filter(|(_, w)| !w.shift.is_empty())
    {
        each_break(worker, &origins.breaks[index], log);
        if worker.shift.to > MIDNIGHT && worker.shift.length() > LONGEST {
            let message = format!(
                "the shift of `{}`, {}, is {} long",
                worker.name,
                worker.shift,
                worker.shift.length()
            );
            log.warning(
                "W903",
                origins.workers[index],
                message,
                "look at both times: a shift that ends before it begins goes on into the next day",
            );
        }
        let breaks: Seconds = worker.breaks.iter().map(|b| b.length).sum();
        let rest = worker.shift.length() - breaks - site.policy.set_up - site.policy.tear_down;
        if rest <= Seconds::ZERO {
            let message = format!(
                "the shift of `{}` is {} long; its breaks, set-up and tear-down fill it",
                worker.name,
                worker.shift.length()
            );
            log.error(
                "E606",
                origins.workers[index],
                message,
                "shorten the breaks or lengthen the shift",
            );
        }
    }
}

fn each_break(worker: &Worker, at: &[crate::input::log::Pos], log: &Log) {
    for (pause, pos) in worker.breaks.iter().zip(at) {
        let (name, window, shift) = (&pause.name, pause.window, worker.shift);
        if pause.length > window.length() {
            let message = format!(
                "break `{name}` of `{}` takes {}, its window {window} is shorter",
                worker.name, pause.length
            );
            log.error(
                "E605",
                *pos,
                message,
                "widen the window, or shorten the break",
            );
        } else if window.common(shift).length() < pause.length {
            let message = format!(
                "break `{name}` of `{}` does not fit into the shift: its window is {window}, the shift {shift}",
                worker.name
            );
            log.error("E604", *pos, message, "give a window inside the shift");
        }
    }
}
