//! Recurrence (RFC 5545, sections 3.3.10 and 3.8.5): rules are expanded by the crate rrule as times on the wall, so that a meeting at nine
//! stays at nine when clocks change; the zone comes in afterwards.

use super::component::Component;
use super::lines::Line;
use super::time::{day, local, seconds};
use crate::input::limits::{ALL_TIMES, IN_VAIN, RECURRENCE_TIMES, RULE_CHARACTERS, TIMES_OF_DAY};
use crate::input::log::{Log, Pos};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use rrule::RRuleSet;
use std::cell::Cell;

/// The rules of a component.
#[derive(Clone, Debug, Default)]
pub(super) struct Recurrence {
    rules: Vec<(String, Pos)>,
    /// Further times on the wall, for zones alone: events have theirs with a zone.
    dates: Vec<DateTime>,
}

impl Recurrence {
    /// The rules of a component, and for descriptions of zones the dates; `None` if the log says what is wrong.
    pub(super) fn of(component: &Component, log: &Log) -> Option<Recurrence> {
        let mut rules = Vec::new();
        for line in component.all("RRULE").filter(|l| !l.value.is_empty()) {
            rules.push((checked(line, log)?, line.pos));
        }
        let dates = component
            .all("RDATE")
            .flat_map(|l| l.value.split(','))
            .filter_map(local);
        Some(Recurrence {
            rules,
            dates: dates.collect(),
        })
    }

    /// Whether there is a rule.
    pub(super) fn is_empty(&self) -> bool {
        self.rules.is_empty()
    }

    /// The times from `start` up to `until`, exclusive, on the wall. `until_wall` turns an end in universal time into one on the wall.
    /// `None` if the log says what is wrong.
    pub(super) fn times(
        &self,
        start: DateTime,
        until: DateTime,
        until_wall: &dyn Fn(DateTime) -> DateTime,
        effort: &Effort,
        log: &Log,
    ) -> Option<Vec<DateTime>> {
        let mut times = Vec::new();
        for (rule, pos) in &self.rules {
            if has_ended(rule, start, until_wall) {
                continue;
            }
            let set = parsed(rule, start, until_wall);
            let Ok(set) = set else {
                let why = set.err().map(|e| e.to_string()).unwrap_or_default();
                log.error(
                    "I405",
                    *pos,
                    format!("this recurrence is not understood: {why}"),
                    "",
                );
                return None;
            };
            let mut all = set.into_iter().map(|time| on_wall(time.timestamp()));
            let Some(first) = all.next() else {
                effort.looked_in_vain(*pos, log)?;
                if rule.contains("UNTIL=") || rule.contains("COUNT=") {
                    continue;
                }
                let message = format!("this recurrence never happens: `{rule}`");
                log.error("I405", *pos, message, "take it out, or put it right");
                return None;
            };
            let within = std::iter::once(first)
                .chain(all)
                .map_while(|wall| wall.filter(|w| *w < until));
            let before = times.len();
            times.extend(within.take(RECURRENCE_TIMES + 1));
            let more = times.len() - before;
            if more > RECURRENCE_TIMES {
                let message =
                    format!("this recurrence has more than {RECURRENCE_TIMES} times up to {until}");
                log.error("I407", *pos, message, RARER);
                return None;
            }
            effort.looked_at(more, *pos, log)?;
        }
        Some(times)
    }

    /// The first times of the rules of a zone's description, its start among them. `None` if the log says that it is too much.
    pub(super) fn first_times(
        &self,
        start: DateTime,
        most: usize,
        effort: &Effort,
        log: &Log,
    ) -> Option<Vec<DateTime>> {
        let mut times = vec![start];
        times.extend(&self.dates);
        for (rule, pos) in &self.rules {
            if let Ok(set) = parsed(rule, start, &|wall| wall) {
                let before = times.len();
                let first = set.into_iter().take(most);
                times.extend(first.filter_map(|t| on_wall(t.timestamp())));
                if times.len() == before {
                    effort.looked_in_vain(*pos, log)?;
                }
                effort.looked_at(times.len() - before, *pos, log)?;
            }
        }
        Some(times)
    }
}

/// What to do about too many times.
const RARER: &str = "let it begin later, or recur less often; or export fewer events";

/// How much was looked at in all recurrences of a calendar: each alone may be within its bounds.
#[derive(Debug, Default)]
pub(super) struct Effort {
    times: Cell<usize>,
    in_vain: Cell<usize>,
}

impl Effort {
    /// So many times more; `None` if that is too much.
    fn looked_at(&self, times: usize, pos: Pos, log: &Log) -> Option<()> {
        self.times.set(self.times.get() + times);
        if self.times.get() > ALL_TIMES {
            let message = format!("the recurrences up to here have more than {ALL_TIMES} times");
            log.error("I407", pos, message, RARER);
            return None;
        }
        Some(())
    }

    /// A rule that never happens, which is only known after thousands of years; `None` if there are too many of them.
    fn looked_in_vain(&self, pos: Pos, log: &Log) -> Option<()> {
        self.in_vain.set(self.in_vain.get() + 1);
        if self.in_vain.get() > IN_VAIN {
            let message = format!("more than {IN_VAIN} recurrences that never happen");
            log.error("I407", pos, message, "take them out, or put them right");
            return None;
        }
        Some(())
    }
}

/// A rule that names a frequency.
fn checked(line: &Line, log: &Log) -> Option<String> {
    let rule = line.value.to_uppercase();
    // A calendar whose line breaks were lost would else be taken for part of a rule.
    let plain = rule
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || matches!(c, '=' | ';' | ',' | '+' | '-'));
    if !plain || !rule.contains("FREQ=") {
        let message = format!("`{}` is no recurrence", line.value);
        log.error(
            "I405",
            line.pos,
            message,
            "recurrences are written like `FREQ=WEEKLY;BYDAY=MO,WE`",
        );
        return None;
    }
    let listed = |by: &str| {
        let part = rule.split(';').find_map(|part| part.strip_prefix(by));
        part.map_or(1, |list| list.split(',').count())
    };
    let of_day = ["BYHOUR=", "BYMINUTE=", "BYSECOND="]
        .map(listed)
        .iter()
        .product::<usize>();
    if of_day > TIMES_OF_DAY || rule.len() > RULE_CHARACTERS {
        let message = format!("a recurrence with more than {TIMES_OF_DAY} times a day");
        log.error("I407", line.pos, message, RARER);
        return None;
    }
    Some(rule)
}

/// The rule from `start` on, all on the wall and called universal time.
fn parsed(
    rule: &str,
    start: DateTime,
    until_wall: &dyn Fn(DateTime) -> DateTime,
) -> Result<RRuleSet, rrule::RRuleError> {
    let parts = rule.split(';').filter(|p| !p.is_empty());
    let parts: Vec<String> = parts
        .map(|part| {
            part.strip_prefix("UNTIL=").map_or(part.to_string(), |u| {
                format!("UNTIL={}", end(u, until_wall))
            })
        })
        .collect();
    format!("DTSTART:{}\nRRULE:{}", stamp(start), parts.join(";")).parse()
}

/// Whether a rule ends before it begins: so calendars write a series that was dropped.
fn has_ended(rule: &str, start: DateTime, until_wall: &dyn Fn(DateTime) -> DateTime) -> bool {
    let until = rule.split(';').find_map(|part| part.strip_prefix("UNTIL="));
    until.is_some_and(|until| local(&end(until, until_wall)).is_some_and(|end| end < start))
}

/// The end of a rule: a day is meant to its last second.
fn end(until: &str, until_wall: &dyn Fn(DateTime) -> DateTime) -> String {
    if let Some(day) = day(until) {
        return stamp(day.at(23, 59, 59, 0));
    }
    match local(until) {
        Some(wall) if until.ends_with('Z') => stamp(until_wall(wall)),
        Some(wall) => stamp(wall),
        None => until.to_string(),
    }
}

fn stamp(wall: DateTime) -> String {
    wall.strftime("%Y%m%dT%H%M%SZ").to_string()
}

fn on_wall(timestamp: i64) -> Option<DateTime> {
    let moment = Timestamp::from_second(timestamp).ok()?;
    let wall = moment.to_zoned_datetime(TimeZone::UTC).datetime();
    debug_assert_eq!(seconds(wall), timestamp);
    Some(wall)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::ToSpan;

    /// The examples of RFC 5545, section 3.8.5.3, against another library's expansion: see the first lines of the fixture.
    #[test]
    fn rules_expand_as_another_library_expands_them() {
        let table = include_str!("../../../../fixtures/import/events/recurrences.txt");
        let mut compared = 0;
        for line in table.lines().filter(|l| !l.starts_with('#')) {
            let parts: Vec<&str> = line.split(' ').collect();
            let start = local(parts[1]).unwrap();
            let recurrence = Recurrence {
                rules: vec![(parts[0].to_string(), Pos::default())],
                dates: Vec::new(),
            };
            let log = Log::default();
            // Up to the twelfth time, or long after the last one.
            let listed: Vec<&str> = parts[2].split(',').collect();
            let twelfth = listed
                .get(11)
                .and_then(|t| local(t)?.checked_add(1.seconds()).ok());
            let until = twelfth.unwrap_or(jiff::civil::date(2050, 1, 1).at(0, 0, 0, 0));
            let times = recurrence
                .times(start, until, &|wall| wall, &Effort::default(), &log)
                .unwrap();
            let told: Vec<String> = times
                .iter()
                .map(|t| t.strftime("%Y%m%dT%H%M%S").to_string())
                .collect();
            assert_eq!(told.join(","), parts[2], "{}", parts[0]);
            compared += 1;
        }
        assert_eq!(compared, 41);
    }

    #[test]
    fn a_rule_without_an_end_in_sight_is_refused() {
        let log = Log::default();
        let recurrence = Recurrence {
            rules: vec![("FREQ=SECONDLY".to_string(), Pos::default())],
            dates: Vec::new(),
        };
        let (start, until) = (jiff::civil::date(2026, 1, 1), jiff::civil::date(2026, 3, 1));
        assert!(
            recurrence
                .times(
                    start.at(0, 0, 0, 0),
                    until.at(0, 0, 0, 0),
                    &|w| w,
                    &Effort::default(),
                    &log
                )
                .is_none()
        );
        assert_eq!(log.into_problems()[0].code, "I407");
    }
}
