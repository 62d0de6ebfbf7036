//! How far to scale the minutes so that the load is about three quarters of available time.

use super::Folder;
use evenrun::input::{Problem, Problems, read_site};
use evenrun::site::Site;
use evenrun::units::Seconds;
use evenrun::work::due_on;
use std::io;

/// Load over available time that is aimed at.
const LOAD: f64 = 0.75;
/// What a good plan walks, fills, empties, fetches and attends, as a part of its load,
const NOT_WORK: f64 = 0.15;
/// and in a plain building, where it only walks.
const NOT_WORK_PLAIN: f64 = 0.04;

/// The factor for a building whose minutes are written at scale 1.
pub(super) fn scale(folder: &Folder) -> io::Result<f64> {
    let written = tempfile::tempdir()?;
    folder.write(written.path())?;
    let reading =
        read_site(written.path()).map_err(|problems| io::Error::other(told(&problems)))?;
    let site = &reading.site;
    let date = site
        .date
        .ok_or_else(|| io::Error::other("a made-up site names its date"))?;
    let minutes: f64 = due_on(site, date)
        .iter()
        .map(|task| task.minutes(site) + task.wipe_minutes(site))
        .sum();
    let plain = site.machines.is_empty();
    let not_work = if plain { NOT_WORK_PLAIN } else { NOT_WORK };
    let load = LOAD * available(site);
    let ready = site.policy.set_up + site.policy.tear_down;
    let fixed = ready.as_minutes() * site.crew.len() as f64;
    let pace: f64 = site.crew.iter().map(|w| w.pace).sum::<f64>() / site.crew.len() as f64;
    Ok(pace * (load * (1.0 - not_work) - fixed) / minutes)
}

/// Minutes of all shifts less breaks.
fn available(site: &Site) -> f64 {
    let of_one = |worker: &evenrun::site::Worker| {
        let rest: Seconds = worker.breaks.iter().map(|b| b.length).sum();
        (worker.shift.length() - rest).as_minutes()
    };
    site.crew.iter().map(of_one).sum()
}

/// Every problem of a site, as a user would see it.
pub(crate) fn told(problems: &Problems) -> String {
    let all: Vec<String> = problems.0.iter().map(Problem::render).collect();
    all.join("\n")
}
