//! How long each layer takes for a site, without any round of search, and how big what comes out is.

use crate::Failure;
use crate::args::Args;
use crate::common::memory::peak_mib;
use crate::line::asked;
use crate::planned::{ISLANDS, date_of};
use evenrun::balance::{bound, split};
use evenrun::input::read_site;
use evenrun::plan::{Facts, Ground, Made, PlanDocument, check};
use evenrun::report::{self, Answer, Language, Words};
use evenrun::route::{Budget, Found, Instance, Settings, Stop, pose, search};
use evenrun::site::{Calendar, PlaceId, Site};
use evenrun::walk::{Walks, ideal_times};
use evenrun::work::{due_on, gather};
use std::fmt::Write;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

/// Takes the time from one phase to the next.
struct Clock {
    last: Duration,
    line: String,
}

impl Clock {
    /// A phase is over.
    fn tell(&mut self, phase: &str) {
        self.add(phase, self.took());
        self.last = used();
    }

    /// Of the phase that goes on.
    fn took(&self) -> Duration {
        used().saturating_sub(self.last)
    }

    fn add(&mut self, phase: &str, took: Duration) {
        let _ = write!(self.line, " {phase}={:.3}", took.as_secs_f64());
    }

    fn bytes(&mut self, what: &str, text: &str) {
        let _ = write!(self.line, " {what}_kb={}", text.len().div_ceil(1024));
    }
}

/// Processor time of all threads so far, where the system tells it (`/proc/self/task/*/schedstat`, nanoseconds); other programs disturb it little.
fn used() -> Duration {
    let of_thread = |entry: std::io::Result<std::fs::DirEntry>| -> Option<u64> {
        let text = std::fs::read_to_string(entry.ok()?.path().join("schedstat")).ok()?;
        text.split_whitespace().next()?.parse().ok()
    };
    let threads = std::fs::read_dir("/proc/self/task").into_iter().flatten();
    Duration::from_nanos(threads.filter_map(of_thread).sum())
}

/// The line of phases, in seconds of processor time, and of sizes, in KiB.
///
/// # Errors
/// If the site has problems, or the plan is not sound.
pub(crate) fn phases(args: &Args, path: &Path) -> Result<String, Failure> {
    let mut clock = Clock {
        last: used(),
        line: asked(args),
    };
    let site = &read_site(path).map_err(Failure::Site)?.site;
    clock.tell("read");
    let ground = ground(site, &mut clock);
    let instance = pose(&ground.question(site));
    clock.tell("jobs");
    let found = found(args, &instance, &mut clock);
    let ideal = ideal_times(site, &ground.calendar);
    clock.tell("ideal");
    let way = |from, to| {
        let time = ideal.get(PlaceId(from), PlaceId(to));
        time.map_or(0, |time| time.0)
    };
    bound(&instance, &found.scope, &way, Stop::NEVER);
    clock.tell("bound");
    // With the bound once more, beside the check.
    let made = ground.answer(site, &instance, &found, Stop::NEVER, &|_, _| true);
    clock.last = used();
    let violations = check(site, &made.plan, &ground.present);
    clock.tell("check");
    if !violations.is_empty() {
        let found = violations.iter().map(|v| v.message.clone()).collect();
        let seed = args.seed;
        return Err(Failure::Unsound { seed, found });
    }
    pages(site, &made, &mut clock)?;
    let memory = peak_mib().map_or_else(String::new, |mib| format!(" memory_mb={mib}"));
    Ok(format!(
        "{} places={} tables={} undone={}{memory}",
        clock.line,
        site.places.len(),
        ground.walks.tables().len(),
        made.plan.undone.len(),
    ))
}

/// Who is there, how they walk, what is to be done.
fn ground(site: &Site, clock: &mut Clock) -> Ground {
    let date = date_of(site);
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let present = site.present(date, &[]);
    let walks = Walks::of(site, &calendar, &present);
    clock.tell("walks");
    let jobs = gather(site, &due_on(site, date), date, &present, &walks);
    Ground {
        calendar,
        present,
        walks,
        jobs,
    }
}

/// A plan without any round of search.
fn found(args: &Args, instance: &Instance, clock: &mut Clock) -> Found {
    let never = AtomicBool::new(false);
    let stop = Stop {
        budget: Budget::Iterations(0),
        interrupted: &never,
    };
    let owners = split(instance, stop);
    clock.tell("split");
    let settings = Settings {
        stop,
        seed: args.seed,
        islands: ISLANDS,
    };
    let mut there = false;
    let found = search(instance, None, &owners, settings, &mut |_, _| {
        if !std::mem::replace(&mut there, true) {
            clock.tell("first");
        }
    });
    clock.tell("last_touches");
    found
}

/// What is written of a plan.
fn pages(site: &Site, made: &Made, clock: &mut Clock) -> Result<(), Failure> {
    let facts = Facts {
        sound: true,
        bound: Some(made.bound.share),
        ..Facts::default()
    };
    let answer = Answer {
        site,
        calendar: &made.calendar,
        plan: &made.plan,
        measures: &made.measures,
        violations: &made.violations,
        facts: &facts,
    };
    let words = Words::new(Language::English, site);
    let page = report::html(&answer, &words);
    let cards = report::cards(&answer, &words, false);
    let json = PlanDocument::new(site, &made.plan, &made.measures, facts.clone()).to_json()?;
    clock.tell("pages");
    clock.bytes("report", &page);
    clock.bytes("cards", &cards);
    clock.bytes("plan", &json);
    Ok(())
}
