//! Reading the site a command is about, and telling its problems.

use super::exit::Exit;
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use evenrun::input::{Problem, Reading, read_site, suggest};
use evenrun::site::{Site, WorkerId};
use itertools::Itertools;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde_json::json;
use std::path::Path;

/// The site; or every problem told, and how to end.
pub(super) fn read(path: &Path, output: Output) -> Result<Reading, Exit> {
    match read_site(path) {
        Ok(reading) => {
            for warning in &reading.warnings {
                output.note(warning.render() + "\n");
            }
            Ok(reading)
        }
        Err(problems) => {
            tell(&problems.0, output)?;
            output::wrong(count(&problems.0));
            Err(Exit::Bad)
        }
    }
}

/// Problems for people on stderr; also as JSON on stdout if wished.
pub(super) fn tell(problems: &[Problem], output: Output) -> Result<(), Exit> {
    for problem in problems {
        output::wrong(problem.render() + "\n");
    }
    output.problems(&json!(problems))
}

/// `3 errors, 1 warning`.
pub(super) fn count(problems: &[Problem]) -> String {
    let of = |severity| problems.iter().filter(|p| p.severity == severity).count();
    let (errors, warnings) = (
        of(evenrun::input::Severity::Error),
        of(evenrun::input::Severity::Warning),
    );
    let plural = |n: usize, word: &str| format!("{n} {word}{}", if n == 1 { "" } else { "s" });
    format!(
        "{}, {}",
        plural(errors, "error"),
        plural(warnings, "warning")
    )
}

/// The date asked for, else the site's own, else today.
pub(super) fn date(asked: Option<Date>, site: &Site) -> Date {
    let there = || {
        site.time_zone
            .as_deref()
            .and_then(|name| TimeZone::get(name).ok())
    };
    let today = || {
        Timestamp::now()
            .to_zoned_datetime(there().unwrap_or_else(TimeZone::system))
            .date()
    };
    asked.or(site.date).unwrap_or_else(today)
}

/// Workers by name; unknown names are told, with the crew's names.
pub(super) fn workers(
    names: &[String],
    site: &Site,
    output: Output,
) -> Result<Vec<WorkerId>, Exit> {
    let known = |name: &String| site.worker_named(name).ok_or_else(|| unknown(name, site));
    let (found, unknown): (Vec<_>, Vec<_>) = names.iter().map(known).partition_result();
    if unknown.is_empty() {
        Ok(found)
    } else {
        Err(refuse(&unknown, output))
    }
}

fn unknown(name: &str, site: &Site) -> Refusal {
    let message = format!("nobody in the crew is called `{name}`");
    let crew: Vec<&str> = site.crew.iter().map(|w| w.name.as_str()).collect();
    let near = suggest(name, &crew);
    let hint = if near.starts_with("did you mean") {
        near
    } else {
        let quoted: Vec<String> = crew.iter().map(|name| format!("`{name}`")).collect();
        format!("the crew is {}", quoted.join(", "))
    };
    Refusal::new("unknown-worker", message).hint(hint)
}
