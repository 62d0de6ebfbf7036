//! The cover sheet: what changes tonight, person by person, short enough to be read out at the start of a shift.
//!
//! Plain text in aligned columns. The same sheet shows what changed between any two plans.

use super::table::{Cell, aligned, left, plain};
use super::view::place_name;
use super::words::Words;
use crate::cover::{Diff, PersonDiff, Saver, Shift, Wait, Work};
use crate::plan::{Measures, Plan, Reason, UndoneWork, Violation};
use crate::site::{Calendar, Priority, Site, WorkerId};
use crate::units::{Clock, Seconds, Span};
use itertools::Itertools;

/// Widest an entry of a list of rooms may be before it goes on in the next line.
const WIDTH: usize = 100;

/// What a sheet shows.
#[derive(Clone, Copy, Debug)]
pub struct CoverSheet<'a> {
    /// What stands at its head, after the site and the date.
    pub title: &'a str,
    /// The site both plans are of.
    pub site: &'a Site,
    /// Their date.
    pub calendar: &'a Calendar,
    /// What changed tonight, in a line each; nothing where two plans are compared.
    pub news: &'a [String],
    /// The plan before, with its measures.
    pub before: (&'a Plan, &'a Measures),
    /// The plan now, with its measures.
    pub after: (&'a Plan, &'a Measures),
    /// What changed between them.
    pub diff: &'a Diff,
    /// What waits; nothing where two plans are compared.
    pub waits: &'a [Wait],
    /// The rules that the plan now breaks, if it was checked.
    pub violations: Option<&'a [Violation]>,
}

/// The sheet as text.
pub fn cover_sheet(sheet: &CoverSheet) -> String {
    let words = Words::terminal();
    let date = words.date(sheet.calendar.date());
    let mut lines = vec![plain(&format!(
        "{}, {date}: {}",
        sheet.site.name, sheet.title
    ))];
    if !sheet.news.is_empty() {
        lines.push(String::new());
        lines.push("what changed".to_string());
        lines.extend(sheet.news.iter().map(|line| format!("  {}", plain(line))));
    }
    for person in sheet.diff.people.iter().filter(|p| !p.is_same()) {
        lines.push(String::new());
        lines.extend(of_person(sheet, &words, person));
    }
    let same = sheet
        .diff
        .people
        .iter()
        .filter(|p| p.is_same() && p.runs.1.is_some());
    let same = same.map(|p| name(sheet.site, p.worker)).join(", ");
    if !same.is_empty() {
        lines.extend([String::new(), format!("as before: {same}")]);
    }
    lines.extend(undone(sheet));
    lines.extend(figures(sheet, &words));
    let trimmed = lines.iter().map(|line| line.trim_end()).join("\n");
    trimmed + "\n"
}

fn of_person(sheet: &CoverSheet, words: &Words, person: &PersonDiff) -> Vec<String> {
    let mut lines = vec![head(sheet, words, person)];
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for shift in &person.added {
        let how = match (shift.work, shift.other) {
            (Work::Break(_), _) => String::new(),
            (_, Some(other)) => format!("from {}", name(sheet.site, other)),
            (_, None) => "new".to_string(),
        };
        rows.push(row("added", words, sheet, person.worker, shift, how));
    }
    for shift in &person.dropped {
        let how = match (shift.work, shift.other) {
            (Work::Break(_), _) => String::new(),
            (_, Some(other)) => format!("to {}", name(sheet.site, other)),
            (_, None) => "waits".to_string(),
        };
        rows.push(row("dropped", words, sheet, person.worker, shift, how));
    }
    for (work, before, after) in &person.moved {
        let shift = Shift {
            work: *work,
            span: *after,
            other: None,
        };
        let how = format!("was {}", at(sheet, before.from));
        rows.push(row("moved", words, sheet, person.worker, &shift, how));
    }
    lines.extend(aligned(&rows));
    for (room, without, with) in &person.cut {
        let place = place_name(sheet.site, sheet.site.place_of_room(*room));
        let tasks = |tasks: &[crate::work::DueTask]| {
            tasks
                .iter()
                .map(|t| t.task(sheet.site).name.as_str())
                .join(", ")
        };
        if !without.is_empty() {
            lines.push(format!(
                "  less     {}: without {}",
                plain(&place),
                plain(&tasks(without))
            ));
        }
        if !with.is_empty() {
            lines.push(format!(
                "  more     {}: with {}",
                plain(&place),
                plain(&tasks(with))
            ));
        }
    }
    lines.extend(needs(sheet, person));
    lines
}

/// `Aoife: 16:00-22:55, was 16:00-22:41; share 84.1 %, was 76.7 %`.
fn head(sheet: &CoverSheet, words: &Words, person: &PersonDiff) -> String {
    let span = |s: Span| format!("{}-{}", at(sheet, s.from), at(sheet, s.to));
    let who = name(sheet.site, person.worker);
    let share = |(plan, measures): (&Plan, &Measures)| {
        let at = plan.runs.iter().position(|r| r.worker == person.worker)?;
        Some(words.percent(measures.runs.get(at)?.share))
    };
    match (person.runs, share(sheet.before), share(sheet.after)) {
        ((Some(was), Some(is)), Some(a), Some(b)) => {
            format!("{who}: {}, was {}; share {b}, was {a}", span(is), span(was))
        }
        ((_, Some(is)), _, Some(b)) => {
            format!("{who}: {}; share {b}; had nothing before", span(is))
        }
        ((Some(was), None), _, None) => format!("{who}: not there; was {}", span(was)),
        ((Some(was), None), ..) => format!("{who}: nothing to do; was {}", span(was)),
        _ => who,
    }
}

fn row(
    what: &str,
    words: &Words,
    sheet: &CoverSheet,
    worker: WorkerId,
    shift: &Shift,
    how: String,
) -> Vec<Cell> {
    let site = sheet.site;
    let called = match shift.work {
        Work::Room(room) => place_name(site, site.place_of_room(room)),
        Work::Duty(duty) => site
            .duties
            .get(duty)
            .map_or_else(String::new, |d| d.name.clone()),
        Work::Break(rest) => {
            let breaks = &site.crew[worker.index()].breaks;
            breaks
                .get(rest)
                .map_or_else(|| "break".to_string(), |b| b.name.clone())
        }
    };
    let times = words.clocks(sheet.calendar, shift.span);
    vec![
        left(format!("  {what}")),
        left(times),
        left(plain(&called)),
        left(how),
    ]
}

/// Keys and machines that somebody needs tonight and did not before.
fn needs(sheet: &CoverSheet, person: &PersonDiff) -> Vec<String> {
    let site = sheet.site;
    let mut needs: Vec<String> = Vec::new();
    for key in &person.keys {
        let key = &site.access[key.index()];
        needs.push(format!("  needs    {}", plain(key)));
    }
    for (machine, span) in &person.machines {
        let machine = &site.machines[machine.index()].name;
        let (from, to) = (at(sheet, span.from), at(sheet, span.to));
        needs.push(format!("  needs    {} from {from} to {to}", plain(machine)));
    }
    for machine in &person.machines_off {
        let machine = &site.machines[machine.index()].name;
        needs.push(format!("  leaves   {}", plain(machine)));
    }
    needs
}

/// What waits, with its reason, how late it becomes and what would have saved it; or what is undone otherwise than before.
fn undone(sheet: &CoverSheet) -> Vec<String> {
    let mut lines = Vec::new();
    if !sheet.waits.is_empty() {
        lines.extend([String::new(), "waits, most important first".to_string()]);
        for group in grouped(sheet) {
            lines.extend(waiting(sheet, &group));
        }
    } else if sheet.violations.is_some() {
        lines.extend([String::new(), "waits: nothing".to_string()]);
    }
    if sheet.violations.is_none() {
        for (title, list) in [
            ("given up", &sheet.diff.given_up),
            ("taken on", &sheet.diff.taken_on),
        ] {
            if list.is_empty() {
                continue;
            }
            lines.extend([String::new(), title.to_string()]);
            lines.extend(
                list.iter()
                    .map(|w| format!("  {}", plain(&called(sheet.site, *w)))),
            );
        }
    }
    lines
}

fn of_room(site: &Site, work: UndoneWork) -> (String, bool) {
    match work {
        UndoneWork::Task(task) => (place_name(site, site.place_of_room(task.room)), true),
        UndoneWork::Duty(duty) => (
            site.duties.get(duty).map_or("", |d| &d.name).to_string(),
            false,
        ),
    }
}

fn called(site: &Site, work: UndoneWork) -> String {
    match work {
        UndoneWork::Task(task) => format!("{}: {}", of_room(site, work).0, task.task(site).name),
        UndoneWork::Duty(_) => of_room(site, work).0,
    }
}

fn rank(site: &Site, wait: &Wait) -> Option<Priority> {
    match wait.what {
        UndoneWork::Task(task) => Some(task.priority(site)),
        UndoneWork::Duty(_) => None,
    }
}

/// Tasks of a room that matter as much and wait for the same reason are told together.
fn grouped<'a>(sheet: &CoverSheet<'a>) -> Vec<Vec<&'a Wait>> {
    let site = sheet.site;
    let alike = |a: &Wait, b: &Wait| {
        of_room(site, a.what) == of_room(site, b.what)
            && a.reason == b.reason
            && a.days_late == b.days_late
            && rank(site, a) == rank(site, b)
    };
    let mut groups: Vec<Vec<&Wait>> = Vec::new();
    for wait in sheet.waits {
        match groups.iter_mut().find(|g| alike(g[0], wait)) {
            Some(group) => group.push(wait),
            None => groups.push(vec![wait]),
        }
    }
    groups
}

/// What would have saved a group, one thing after another.
fn savers(group: &[&Wait]) -> Vec<Saver> {
    let mut savers: Vec<Saver> = Vec::new();
    for saver in group.iter().filter_map(|w| w.saver.as_ref()) {
        let joined = savers
            .iter()
            .enumerate()
            .find_map(|(at, s)| Some((at, s.and(saver)?)));
        match joined {
            Some((at, both)) => savers[at] = both,
            None => savers.push(saver.clone()),
        }
    }
    savers
}

fn waiting(sheet: &CoverSheet, group: &[&Wait]) -> Vec<String> {
    let (site, first) = (sheet.site, group[0]);
    let tasks = group.iter().filter_map(|w| match w.what {
        UndoneWork::Task(task) => Some(task.task(site).name.clone()),
        UndoneWork::Duty(_) => None,
    });
    let time: Seconds = group.iter().map(|w| time(site, w.what)).sum();
    let priority = rank(site, first).map_or("duty", Priority::word);
    let (place, is_room) = of_room(site, first.what);
    let tasks = tasks.collect_vec().join(", ");
    let what = if is_room {
        format!("{place}: {tasks}")
    } else {
        place
    };
    let reason = match &first.reason {
        Reason::Nobody(why) | Reason::NoWindow(why) | Reason::TooLate(why) => why.clone(),
        Reason::NoTime => "no time beside what matters as much or more".to_string(),
    };
    let days = first.days_late;
    let late = format!(
        "{days} {} late if done on {}{}",
        if days == 1 { "day" } else { "days" },
        first.next,
        if first.overdue {
            ", and then before all but health"
        } else {
            ""
        }
    );
    let mut lines = folded(&plain(&format!("{priority}, {time}: {what}")), "  ");
    lines.extend(folded(&plain(&format!("{reason}; {late}")), "      "));
    let saved = savers(group).iter().map(|s| s.words(site)).join("; and ");
    if !saved.is_empty() {
        let saved = plain(&format!("saved by: {saved}"));
        lines.extend(folded(&saved, "      "));
    }
    lines
}

fn time(site: &Site, work: UndoneWork) -> Seconds {
    match work {
        UndoneWork::Task(t) => Seconds::of_work(t.minutes(site) + t.wipe_minutes(site), 1.0),
        UndoneWork::Duty(duty) => {
            Seconds::of_work(site.duties.get(duty).map_or(0.0, |d| d.minutes), 1.0)
        }
    }
}

/// A text in lines of a bearable length, all but the first further in.
fn folded(text: &str, indent: &str) -> Vec<String> {
    let mut lines = vec![indent.to_string()];
    for word in text.split(' ') {
        let last = lines.len() - 1;
        if lines[last].len() + word.len() > WIDTH {
            lines.push(format!("{indent}  {word} "));
        } else {
            lines[last].push_str(word);
            lines[last].push(' ');
        }
    }
    lines
}

fn figures(sheet: &CoverSheet, words: &Words) -> Vec<String> {
    let counts = sheet.diff.counts;
    let part = |of: usize, all: usize| words.percent(of as f64 / all.max(1) as f64);
    let (before, after) = (sheet.before.1.evenness, sheet.after.1.evenness);
    let mut lines = vec![
        String::new(),
        format!(
            "calm: {} of {} stops stay with their person ({}), {} of these start within 15 min of before ({}); runs touched: {}",
            counts.kept,
            counts.stops,
            part(counts.kept, counts.stops),
            counts.on_time,
            part(counts.on_time, counts.kept),
            counts.runs
        ),
        format!(
            "evenness: highest {}, was {}; lowest {}, was {}",
            words.percent(after.highest),
            words.percent(before.highest),
            words.percent(after.lowest),
            words.percent(before.lowest)
        ),
    ];
    let Some(violations) = sheet.violations else {
        return lines;
    };
    if violations.is_empty() {
        lines.push("sound: every rule is kept".to_string());
    } else {
        lines.push(format!(
            "NOT SOUND: {}",
            words.count("n-broken", violations.len())
        ));
        lines.extend(
            violations
                .iter()
                .map(|v| format!("  {}: {}", v.rule, plain(&v.message))),
        );
    }
    lines.push(String::new());
    lines.push("Times are planning figures: contact times of product labels and drying times are kept whatever the clock says.".to_string());
    lines
}

fn name(site: &Site, worker: WorkerId) -> String {
    plain(&site.crew[worker.index()].name)
}

fn at(sheet: &CoverSheet, moment: Clock) -> String {
    Words::terminal().clock(sheet.calendar, moment)
}
