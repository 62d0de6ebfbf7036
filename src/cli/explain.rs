//! `evenrun explain`: why a room is done by whom and when, or not at all.

use super::exit::Exit;
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use super::site;
use super::verify;
use evenrun::input::suggest;
use evenrun::plan::{
    ExplainedStop, Explanation, Figures, Moment, Other, Outcome, Reason, Rule, StopWord,
    UndoneTask, VisitExplained, What, explain,
};
use evenrun::site::{RoomId, Site};
use evenrun::units::Span;
use evenrun::work::Barrier;
use itertools::Itertools;
use std::fmt::Write;
use std::path::PathBuf;

/// Shares closer than this are shown as the same.
const SAME: f64 = 0.0005;

/// Options of `explain`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun explain demo/larkfield out/plan.json 104    why this person, why then, why not done")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan file, as written by `evenrun plan`; `-` is standard input
    plan: PathBuf,
    /// The room, by its id
    room: String,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    explained(args, output).unwrap_or_else(|exit| exit)
}

fn explained(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, output)?;
    let site = &reading.site;
    let room = room_of(&args.room, site, output)?;
    let read = verify::read_plan(&args.plan, site, output)?;
    let present = site.present(read.plan.date, &read.absent);
    let explanation = explain(site, &read.plan, &present, room);
    output::data(&Teller { site }.text(&explanation))?;
    Ok(Exit::Done)
}

fn room_of(id: &str, site: &Site, output: Output) -> Result<RoomId, Exit> {
    site.room_named(id).ok_or_else(|| {
        let known = site.rooms.iter().map(|r| r.id.as_str()).collect_vec();
        let refusal = Refusal::new("unknown-room", format!("there is no room `{id}`"));
        let hint = suggest(id, &known);
        refuse(
            &[if hint.is_empty() {
                refusal
            } else {
                refusal.hint(hint)
            }],
            output,
        )
    })
}

struct Teller<'a> {
    site: &'a Site,
}

impl Teller<'_> {
    fn text(&self, told: &Explanation) -> String {
        let room = &self.site.rooms[told.room.index()];
        let kind = &self.site.kinds[room.kind.index()].id;
        let mut text = format!("{}  {}, {kind}\n", room.id, room.name);
        if let Some(open) = &told.open {
            let _ = writeln!(text, "may be cleaned {}", listed(open));
        }
        if let Some(closure) = &told.closure {
            let _ = writeln!(text, "may be closed {}", listed(closure));
        }
        for visit in &told.visits {
            self.visit(visit, &mut text);
        }
        if told.visits.is_empty() {
            text.push_str("\nNobody comes here.\n");
        }
        for task in &told.undone {
            self.undone(task, &mut text);
        }
        for (what, names) in [
            ("not due today", &told.not_due),
            ("does not apply here", &told.skipped),
        ] {
            if !names.is_empty() {
                let _ = writeln!(text, "\n{what}: {}", names.join(", "));
            }
        }
        text
    }

    fn visit(&self, visit: &VisitExplained, text: &mut String) {
        let name = self.name(visit.worker);
        let _ = writeln!(text, "\n{name} does it:");
        for stop in &visit.stops {
            self.stop(stop, text);
        }
        let _ = writeln!(text, "\nWhy {name}, and nobody else:");
        self.others(visit.others.as_deref(), text);
    }

    fn stop(&self, explained: &ExplainedStop, text: &mut String) {
        let stop = &explained.stop;
        let tasks = stop
            .what
            .tasks()
            .iter()
            .map(|t| t.task(self.site).name.as_str())
            .join(", ");
        let tasks = if tasks.is_empty() {
            tasks
        } else {
            format!(": {tasks}")
        };
        let _ = writeln!(
            text,
            "  {}  {}{tasks}",
            short(stop.span),
            StopWord::of(&stop.what)
        );
        let why = self.why_then(explained);
        let _ = writeln!(text, "      {why}");
    }

    fn why_then(&self, explained: &ExplainedStop) -> String {
        let stop = &explained.stop;
        let from = match &explained.before {
            Some((What::SetUp, _, walk)) => format!("after set-up, {walk} on the way"),
            Some((what, place, walk)) => {
                let place = &self.site.places[place.index()].id;
                format!("after {} `{place}`, {walk} on the way", StopWord::of(what))
            }
            None => "first of all".to_string(),
        };
        match &explained.moment {
            Moment::OnArrival => format!("begins on arrival, {from}"),
            Moment::Dwell { arrival } => {
                format!(
                    "could be there {}, {from}; surfaces have to stay wet until then",
                    arrival.hour_minute()
                )
            }
            Moment::Drying { arrival } => {
                format!(
                    "could be there {}, {from}; the floor dries until then",
                    arrival.hour_minute()
                )
            }
            Moment::Forbidden {
                arrival,
                rule,
                message,
            } => {
                let start = stop.span.from.hour_minute();
                let why = match rule {
                    Rule::Access => format!("the room may be cleaned from {start} on"),
                    Rule::Closure => format!("the room may be closed from {start} on"),
                    // The checker names the stop first.
                    _ => {
                        let problem = message
                            .split_once(": ")
                            .map_or(message.as_str(), |(_, problem)| problem);
                        format!(
                            "rule {} ({}) keeps it from beginning then: {problem}",
                            rule.number(),
                            rule.name()
                        )
                    }
                };
                format!("could be there {}, {from}; {why}", arrival.hour_minute())
            }
            Moment::ClosedLonger { arrival } => {
                format!(
                    "could begin {} as well, {from}; the room would be closed longer, not sooner done",
                    arrival.hour_minute()
                )
            }
            Moment::Later { arrival } => {
                format!(
                    "could begin {} as well, {from}; no rule asks for the wait",
                    arrival.hour_minute()
                )
            }
        }
    }

    fn others(&self, others: Option<&[Other]>, text: &mut String) {
        let Some(others) = others else {
            text.push_str(
                "  cannot be told: the runs of this plan cannot be timed again in their order\n",
            );
            return;
        };
        if others.is_empty() {
            text.push_str("  nobody else is there\n");
        }
        let width = others
            .iter()
            .map(|o| self.name(o.worker).chars().count())
            .max()
            .unwrap_or(0);
        for other in others {
            let _ = writeln!(
                text,
                "  {:width$}  {}",
                self.name(other.worker),
                outcome(&other.outcome)
            );
        }
    }

    fn undone(&self, undone: &UndoneTask, text: &mut String) {
        let task = undone.task.task(self.site);
        let priority = undone.task.priority(self.site).word();
        let reason = match &undone.reason {
            Reason::Nobody(detail) => format!("nobody may do it: {detail}"),
            Reason::NoWindow(detail) => format!("it fits nowhere, even alone: {detail}"),
            Reason::TooLate(detail) => format!("it was too late for it that night: {detail}"),
            Reason::NoTime => {
                "there is no time beside work that matters as much or more".to_string()
            }
        };
        let _ = writeln!(text, "\nNot done: {} ({priority}): {reason}", task.name);
        if undone.reason == Reason::NoTime {
            self.others(undone.others.as_deref(), text);
        }
    }

    fn name(&self, worker: evenrun::site::WorkerId) -> &str {
        &self.site.crew[worker.index()].name
    }
}

fn outcome(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Barred(barrier) => format!("may not: {}", barred(barrier)),
        Outcome::NoPlace { alone: false, .. } => {
            "could not: it does not fit into the shift and the room's hours, even alone".to_string()
        }
        Outcome::NoPlace { takes, left, .. } if takes > left => {
            format!("could not: it takes {takes}, and {left} of the shift are left")
        }
        Outcome::NoPlace { takes, .. } => {
            format!("could not: hours, breaks and closures leave no stretch for its {takes}")
        }
        Outcome::Worse(figures) => format!("could: {}", changed(figures)),
        Outcome::Equal(figures) => format!("could as well: {}", changed(figures)),
        Outcome::Better(figures) => format!(
            "could, and better, which the search has not found: {}",
            changed(figures)
        ),
    }
}

fn barred(barrier: &Barrier) -> String {
    match barrier {
        Barrier::NobodyPresent => "not on duty".to_string(),
        Barrier::NoOwner => "the split gives the room to somebody else".to_string(),
        Barrier::NotWanted => "the room says so".to_string(),
        Barrier::Skill(skill) => format!("lacks the skill `{skill}`"),
        Barrier::Access(key) => format!("does not hold `{key}`"),
        Barrier::Heavy => "no heavy lifting".to_string(),
        Barrier::NoCart => "has no cart".to_string(),
        Barrier::NoWay => "cannot get there in the way that the work needs".to_string(),
    }
}

fn changed(figures: &Figures) -> String {
    let percent = |share: f64| format!("{:.1} %", share * 100.0);
    let (now, then) = figures.share;
    let (highest, highest_then) = figures.highest;
    let rise = if (highest - highest_then).abs() < SAME {
        format!("the highest share stays {}", percent(highest))
    } else {
        format!(
            "the highest share goes from {} to {}",
            percent(highest),
            percent(highest_then)
        )
    };
    let minutes = figures.not_cleaning;
    let walking = if minutes.abs() < 0.5 {
        String::new()
    } else if minutes > 0.0 {
        format!("; {minutes:.0} min more without cleaning")
    } else {
        format!("; {:.0} min less without cleaning", -minutes)
    };
    format!(
        "own share from {} to {}, {rise}{walking}",
        percent(now),
        percent(then)
    )
}

fn listed(windows: &[Span]) -> String {
    if windows.is_empty() {
        return "at no time on this date".to_string();
    }
    windows.iter().map(|w| short(*w)).join(", ")
}

fn short(span: Span) -> String {
    format!("{}-{}", span.from.hour_minute(), span.to.hour_minute())
}
