//! One of many sites: read, planned and written, or left as it is.

use super::super::exit::Exit;
use super::super::output::{self, Output};
use super::super::plan::{self, Args, CARDS, PAGE, PLAN};
use super::super::refusal::refuse;
use super::super::search::{ISLANDS, budget};
use super::super::{folder, site};
use super::record::Record;
use super::sites::Found;
use super::summary::State;
use evenrun::plan::{PlanDocument, Request, make};
use evenrun::report::{Answer, SiteFigures};
use evenrun::route::{Settings, Stop};
use jiff::civil::Date;
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

/// What is asked of every site.
pub(super) struct Task<'a> {
    pub(super) args: &'a Args,
    pub(super) interrupted: &'a AtomicBool,
    pub(super) output: Output,
}

impl Task<'_> {
    /// Plans a site. A fault in the program is this site's, and stops no other.
    pub(super) fn state(&self, site: &Found) -> State {
        if self.interrupted.load(Ordering::Relaxed) {
            return State::NotBegun;
        }
        catch_unwind(AssertUnwindSafe(|| self.planned(site))).unwrap_or(State::Fault)
    }

    fn planned(&self, found: &Found) -> State {
        let began = Instant::now();
        // Problems are told one by one, each with its file; only the table is data.
        let told = self.output.json(false).without_notes();
        let Ok(reading) = site::read(&found.folder, told) else {
            return State::Refused;
        };
        let date = site::date(self.args.date, &reading.site);
        let out = self.args.out.join(&found.name);
        if let Some(figures) = self.as_before(date, &reading.files, &out) {
            return State::Stands(figures);
        }
        if let Err(refusal) = folder::room_for(&out, &[PLAN, PAGE, CARDS]) {
            refuse(&[refusal], told);
            return State::Refused;
        }
        let request = Request {
            site: &reading.site,
            date,
            absent: &[],
            keep: None,
            settings: self.settings(began),
        };
        let made = make(&request, &mut |_, _| {});
        let facts = plan::facts_of(&made, self.args.seed, Vec::new());
        let answer = Answer {
            site: &reading.site,
            calendar: &made.calendar,
            plan: &made.plan,
            measures: &made.measures,
            violations: &made.violations,
            facts: &facts,
        };
        let written = plan::as_json(&answer).and_then(|json| {
            plan::files(&out, &answer, None, &json, told)?;
            Ok(json)
        });
        match written {
            Ok(json) => self.written(&json, date, &reading.files, &out, found),
            Err(Exit::Bug) => State::Fault,
            Err(_) => State::Refused,
        }
    }

    /// By the clock one island a site: threads are busy with other sites, and two islands on one thread would have half of the time each.
    fn settings(&self, began: Instant) -> Settings<'_> {
        Settings {
            stop: Stop {
                budget: budget(self.args.seconds, self.args.iterations, began),
                interrupted: self.interrupted,
            },
            seed: self.args.seed,
            islands: if self.args.iterations.is_some() {
                ISLANDS
            } else {
                1
            },
        }
    }

    /// The plan of last time, if the same would go into it.
    fn as_before(&self, date: Date, files: &[PathBuf], out: &Path) -> Option<SiteFigures> {
        let record = Record::of(self.args, date, files, out)?;
        let text = record
            .stands(out)
            .then(|| fs::read_to_string(out.join(PLAN)).ok())??;
        let document = PlanDocument::from_json(&text).ok()?;
        Some(SiteFigures::of(&document))
    }

    /// A plan cut short is a plan, but not done: next time it is made again.
    fn written(
        &self,
        json: &str,
        date: Date,
        files: &[PathBuf],
        out: &Path,
        found: &Found,
    ) -> State {
        let Ok(document) = PlanDocument::from_json(json) else {
            return State::Fault;
        };
        let figures = SiteFigures::of(&document);
        if self.interrupted.load(Ordering::Relaxed) {
            return State::CutShort(figures);
        }
        let noted =
            Record::of(self.args, date, files, out).map_or(Ok(()), |record| record.write(out));
        if let Err(error) = noted {
            output::wrong(format!("error: {}: {error}", found.name));
            return State::Refused;
        }
        State::Planned(figures)
    }
}
