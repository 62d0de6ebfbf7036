//! The audit: today's split beside the best one, the rooms that have to change hands, and how hard each run is.

use super::Answer;
use super::html;
use super::sheet::{Grid, Sheet, page_of, texts};
use super::view::{place_name, undone_of};
use super::words::Words;
use crate::manage::{Audit, Hand, Rotation, Twice, rooms_of};
use crate::plan::{Effort, Facts, Measures, Plan, Run, RunMeasures, UndoneWork};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Seconds;
use itertools::Itertools;

/// An audit with everything known about it.
#[derive(Clone, Copy, Debug)]
pub struct AuditAnswer<'a> {
    /// The site.
    pub site: &'a Site,
    /// The audit.
    pub audit: &'a Audit,
    /// Rooms that the split gives to two workers.
    pub twice: &'a [Twice],
    /// Everybody's efforts over several plans, if any were given.
    pub rotation: &'a [Rotation],
    /// How the best plan was made.
    pub facts: &'a Facts,
}

/// The audit for the terminal.
pub fn audit_table(answer: &AuditAnswer) -> String {
    texts(&sheets(answer, &Words::terminal()))
}

/// The report of the best plan, with the audit before it.
pub fn audit_html(answer: &AuditAnswer, words: &Words) -> String {
    let best = &answer.audit.best;
    let plan = Answer {
        site: answer.site,
        calendar: &best.calendar,
        plan: &best.plan,
        measures: &best.measures,
        violations: &best.violations,
        facts: answer.facts,
    };
    html::with_sheets(&plan, words, &sheets(answer, words))
}

/// Efforts over several plans for the terminal.
pub fn rotation_table(site: &Site, rotation: &[Rotation]) -> String {
    texts(&[rotation_sheet(site, rotation, &Words::terminal())])
}

/// Efforts over several plans as a page.
pub fn rotation_html(site: &Site, rotation: &[Rotation], words: &Words) -> String {
    page_of(words, &site.name, &[rotation_sheet(site, rotation, words)])
}

fn sheets(answer: &AuditAnswer, words: &Words) -> Vec<Sheet> {
    let mut sheets = vec![
        shares(answer, words),
        findings(answer, words),
        hard(answer, words),
    ];
    if !answer.rotation.is_empty() {
        sheets.push(rotation_sheet(answer.site, answer.rotation, words));
    }
    sheets
}

fn head(words: &Words, id: &str) -> (String, bool) {
    (words.say(id), false)
}

fn number(words: &Words, id: &str) -> (String, bool) {
    (words.say(id), true)
}

fn name(site: &Site, worker: WorkerId) -> String {
    site.crew[worker.index()].name.clone()
}

fn room(site: &Site, room: RoomId) -> String {
    place_name(site, site.place_of_room(room))
}

/// A run with its measures.
type Side<'a> = (&'a RunMeasures, &'a Run);

fn shares(answer: &AuditAnswer, words: &Words) -> Sheet {
    let (site, audit) = (answer.site, answer.audit);
    let sides = audit.today.measures.runs.iter().zip(&audit.today.plan.runs);
    let best = audit.best.measures.runs.iter().zip(&audit.best.plan.runs);
    let row = |((now, run), (then, then_run)): (Side, Side)| {
        let over = (now.overtime > Seconds::ZERO).then(|| now.overtime.to_string());
        vec![
            name(site, now.worker),
            rooms_of(run).to_string(),
            now.load.to_string(),
            words.percent(now.share),
            over.unwrap_or_default(),
            rooms_of(then_run).to_string(),
            then.load.to_string(),
            words.percent(then.share),
        ]
    };
    let grid = Grid {
        caption: words.say("audit-caption"),
        columns: vec![
            head(words, "col-worker"),
            number(words, "col-rooms-today"),
            number(words, "col-load-today"),
            number(words, "col-share-today"),
            number(words, "col-over"),
            number(words, "col-rooms-best"),
            number(words, "col-load-best"),
            number(words, "col-share-best"),
        ],
        rows: sides.zip(best).map(row).collect(),
    };
    let date = words.date(audit.today.plan.date);
    let about = [
        ("site", site.name.as_str().into()),
        ("date", date.as_str().into()),
    ];
    Sheet {
        id: "audit",
        head: words.tell("audit-head", &about),
        lead: lead(answer, words),
        grids: vec![grid, hands(answer, words)],
        notes: vec![words.say("audit-how"), words.say("audit-moves-how")],
    }
}

fn lead(answer: &AuditAnswer, words: &Words) -> Vec<String> {
    let (audit, moves) = (answer.audit, &answer.audit.moves);
    let range = |measures: &Measures| {
        let loads = measures.runs.iter().map(|r| r.load);
        let (least, most) = loads.minmax().into_option().unwrap_or_default();
        (least.to_string(), most.to_string())
    };
    let ((least, most), (least_best, most_best)) =
        (range(&audit.today.measures), range(&audit.best.measures));
    let compared = words.tell(
        "audit-lead",
        &[
            ("least", least.into()),
            ("most", most.into()),
            ("leastBest", least_best.into()),
            ("mostBest", most_best.into()),
        ],
    );
    let bound = audit.best.bound.share;
    let above = |bound: f64| audit.best.measures.evenness.highest / bound - 1.0;
    let gap = if bound > 0.0 { above(bound) } else { 0.0 };
    let proof = words.tell(
        "audit-bound",
        &[
            ("today", words.percent(moves.today).into()),
            (
                "best",
                words.percent(audit.best.measures.evenness.highest).into(),
            ),
            ("bound", words.percent(bound).into()),
            ("gap", words.percent(gap).into()),
        ],
    );
    let count = moves.hands.len();
    let changed = match (moves.enough, count) {
        (false, _) => words.say("audit-no-moves"),
        (true, 0) => words.say("audit-nothing-to-gain"),
        (true, _) => {
            let id = if moves.smallest {
                "audit-moves-smallest"
            } else {
                "audit-moves"
            };
            words.tell(
                id,
                &[
                    ("count", count.into()),
                    ("after", words.percent(moves.after).into()),
                ],
            )
        }
    };
    vec![compared, changed, proof]
}

fn hands(answer: &AuditAnswer, words: &Words) -> Grid {
    let site = answer.site;
    let row = |hand: &Hand| {
        vec![
            room(site, hand.room),
            name(site, hand.from),
            name(site, hand.to),
        ]
    };
    Grid {
        caption: words.say("audit-hands"),
        columns: ["col-room", "col-from", "col-to"]
            .map(|id| head(words, id))
            .into(),
        rows: answer.audit.moves.hands.iter().map(row).collect(),
    }
}

/// Today's plan as an answer.
fn today<'a>(answer: &AuditAnswer<'a>, plan: &'a Plan) -> Answer<'a> {
    Answer {
        site: answer.site,
        calendar: &answer.audit.today.calendar,
        plan,
        measures: &answer.audit.today.measures,
        violations: &answer.audit.today.violations,
        facts: answer.facts,
    }
}

/// What is wrong with today's split: broken rules, undone work, rooms of nobody and of two.
fn findings(answer: &AuditAnswer, words: &Words) -> Sheet {
    let (site, audit) = (answer.site, answer.audit);
    let mut rows: Vec<Vec<String>> = Vec::new();
    // What nobody owns is a finding of its own.
    let mut owned = audit.today.plan.clone();
    owned.undone.retain(|u| match u.what {
        UndoneWork::Task(task) => !audit.unassigned.contains(&task.room),
        UndoneWork::Duty(_) => true,
    });
    let broken = audit.today.violations.iter();
    // Every stop after the end of a shift breaks the same rule again.
    let broken = broken.into_group_map_by(|v| (v.rule, v.worker));
    for ((rule, _), all) in broken.into_iter().sorted_by_key(|(key, _)| *key) {
        let first = all.first().map(|v| v.message.clone()).unwrap_or_default();
        let more = match all.len() {
            1 => String::new(),
            count => format!(" ({})", words.count("n-more-findings", count - 1)),
        };
        rows.push(vec![rule.to_string(), first + &more]);
    }
    for late in &audit.late {
        let clock = |c| words.clock(&audit.today.calendar, c);
        let about = [
            ("worker", name(site, late.worker).into()),
            ("room", room(site, late.room).into()),
            ("said", clock(late.said).into()),
            ("can", clock(late.can).into()),
        ];
        rows.push(vec![
            words.say("finding-late"),
            words.tell("late-is", &about),
        ]);
    }
    for group in undone_of(&today(answer, &owned), words) {
        let places = group.places.iter().map(|(place, _)| place).join(", ");
        let what = format!(
            "{}, {}: {} ({places})",
            group.priority, group.time, group.reason
        );
        rows.push(vec![words.say("finding-undone"), what]);
    }
    rows.extend(ownership(answer, words));
    let lead = if rows.is_empty() {
        vec![words.say("findings-none")]
    } else {
        Vec::new()
    };
    Sheet {
        id: "findings",
        head: words.say("findings-head"),
        lead,
        grids: vec![Grid {
            caption: String::new(),
            columns: ["col-finding", "col-what"].map(|id| head(words, id)).into(),
            rows,
        }],
        notes: Vec::new(),
    }
}

/// Rooms of nobody, and of two.
fn ownership(answer: &AuditAnswer, words: &Words) -> Vec<Vec<String>> {
    let (site, audit) = (answer.site, answer.audit);
    let mut rows = Vec::new();
    if !audit.unassigned.is_empty() {
        let rooms = audit.unassigned.iter().map(|r| room(site, *r)).join(", ");
        rows.push(vec![words.say("finding-unassigned"), rooms]);
    }
    for twice in answer.twice {
        let about = [
            ("room", room(site, twice.room).into()),
            ("first", name(site, twice.first).into()),
            ("also", name(site, twice.also).into()),
        ];
        rows.push(vec![
            words.say("finding-twice"),
            words.tell("twice-is", &about),
        ]);
    }
    rows
}

/// Headings of the figures of [`Effort`].
const EFFORTS: [&str; 6] = [
    "effort-wet",
    "effort-restrooms",
    "effort-steps",
    "effort-metres",
    "effort-waste",
    "effort-heavy",
];

/// The figures with those who have the most marked by their part of the whole.
fn hard(answer: &AuditAnswer, words: &Words) -> Sheet {
    let site = answer.site;
    let grid = |caption: &str, efforts: &[(WorkerId, Effort)]| {
        let total = efforts
            .iter()
            .fold(Effort::default(), |sum, (_, e)| sum.and(*e));
        let row = |(worker, effort): &(WorkerId, Effort)| {
            let cells = figures(words, effort, &total);
            std::iter::once(name(site, *worker)).chain(cells).collect()
        };
        Grid {
            caption: words.say(caption),
            columns: std::iter::once(head(words, "col-worker"))
                .chain(EFFORTS.map(|id| number(words, id)))
                .collect(),
            rows: efforts.iter().map(row).collect(),
        }
    };
    let audit = answer.audit;
    Sheet {
        id: "effort",
        head: words.say("effort-head"),
        lead: Vec::new(),
        grids: vec![
            grid("effort-today", &audit.efforts_today),
            grid("effort-best", &audit.efforts_best),
        ],
        notes: vec![words.say("effort-counted")],
    }
}

fn figures(words: &Words, effort: &Effort, total: &Effort) -> Vec<String> {
    let both = effort.figures().into_iter().zip(total.figures());
    let cell = |(own, all): (f64, f64)| {
        if all > 0.0 {
            format!("{} ({:.0} %)", words.number(own, 0), own / all * 100.0)
        } else {
            "-".to_string()
        }
    };
    both.map(cell).collect()
}

fn rotation_sheet(site: &Site, rotation: &[Rotation], words: &Words) -> Sheet {
    let total = rotation
        .iter()
        .fold(Effort::default(), |sum, r| sum.and(r.effort));
    let row = |r: &Rotation| {
        let cells = figures(words, &r.effort, &total).into_iter().zip(r.most);
        let cells = cells.map(|(text, most)| format!("{text}, {most}"));
        [name(site, r.worker), r.shifts.to_string()]
            .into_iter()
            .chain(cells)
            .collect()
    };
    let grid = Grid {
        caption: words.say("rotation-caption"),
        columns: [head(words, "col-worker"), number(words, "col-shifts")]
            .into_iter()
            .chain(EFFORTS.map(|id| number(words, id)))
            .collect(),
        rows: rotation.iter().map(row).collect(),
    };
    Sheet {
        id: "rotation",
        head: words.say("rotation-head"),
        lead: Vec::new(),
        grids: vec![grid],
        notes: vec![words.say("effort-counted")],
    }
}
