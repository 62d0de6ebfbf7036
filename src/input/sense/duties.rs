//! Whether each duty fits somebody's shift.

use super::skills::holds;
use super::{calendar, some_date};
use crate::input::log::Log;
use crate::input::resolve::Origins;
use crate::site::{Duty, Hours, Site, Worker};
use crate::units::Seconds;
use jiff::ToSpan;

/// Looks at every duty.
pub(super) fn look(site: &Site, origins: &Origins, log: &Log) {
    for (duty, pos) in site.duties.iter().zip(&origins.duties) {
        let skilled: Vec<&Worker> = site
            .crew
            .iter()
            .filter(|w| holds(w, &duty.skills))
            .collect();
        if skilled.is_empty() {
            let skills: Vec<&str> = duty
                .skills
                .iter()
                .map(|s| site.skills[s.index()].as_str())
                .collect();
            let message = format!(
                "nobody has all the skills for duty `{}`: `{}`",
                duty.name,
                skills.join("`, `")
            );
            log.error("E805", *pos, message, "give a worker the skill");
        } else if !skilled.iter().any(|w| fits(site, duty, w)) {
            let message = format!("duty `{}` fits into nobody's shift", duty.name);
            log.error(
                "E812",
                *pos,
                message,
                "compare its `window` and `days` with the shifts",
            );
        }
    }
}

fn fits(site: &Site, duty: &Duty, worker: &Worker) -> bool {
    let length = Seconds::of_work(duty.minutes, worker.pace);
    let Some(window) = &duty.window else {
        return length <= worker.shift.length()
            && duty.days.iter().any(|d| worker.days.contains(d));
    };
    let weekly = Hours {
        weekly: window.weekly.clone(),
        ..Hours::default()
    };
    let start = some_date(site);
    let week = (0..7)
        .filter_map(|i| start.checked_add(i.days()).ok())
        .map(|d| (d, &weekly));
    let mut days = week.chain(window.dated.keys().map(|d| (*d, window)));
    days.any(|(date, hours)| {
        let calendar = calendar(site, date);
        let shift = calendar.elapsed_span(worker.shift);
        let on_duty = worker.days.contains(date.weekday()) && duty.days.contains(date.weekday());
        on_duty
            && calendar
                .windows(hours)
                .into_iter()
                .any(|w| w.common(shift).length() >= length)
    })
}
