//! Plan files and carry-overs.

use super::sites::few_rounds;
use super::{Family, Outcome, Stock, project};
use evenrun::cover::{CarryDocument, Changes, Covered, Earlier, Request, cover, diff, waits};
use evenrun::input::read_site;
use evenrun::plan::{self, Facts, Made, Plan, PlanDocument, Tonight, check, explain, measure};
use evenrun::report::{self, Answer, Language, Words};
use evenrun::site::{Calendar, RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use jiff::civil::{Date, date};
use std::collections::BTreeSet;
use std::io;
use std::sync::atomic::AtomicBool;

/// One of so many plans that were read is kept to and covered.
const TAKEN_UP: usize = 8;
/// The date of the plans.
const DAY: Date = date(2026, 3, 10);

/// A site, and a plan of it.
struct Base {
    site: Site,
    made: Made,
}

impl Base {
    fn new() -> io::Result<Base> {
        let read = read_site(&project("fixtures/two_floors"));
        let site = read
            .map_err(|problems| io::Error::other(problems.to_string()))?
            .site;
        let made = made(&site, None);
        Ok(Base { site, made })
    }

    /// The plan covered after some changes.
    fn covered(&self, changes: &Changes) -> io::Result<Covered> {
        let usual = Tonight::default();
        covered(&self.site, &self.made.plan, &[], &usual, changes)
            .ok_or_else(|| io::Error::other("the plan cannot be covered"))
    }

    /// Several changes at once.
    fn night(&self) -> io::Result<Covered> {
        self.covered(&Changes {
            leaves: vec![(WorkerId(0), Clock::at(19, 0))],
            overtime: Some(Seconds::minutes(30)),
            closed: vec![(RoomId(2), Span::new(Clock::at(20, 0), Clock::at(21, 0)))],
            added: vec![(RoomId(0), "spill".to_string(), Some(10.0))],
            ..Changes::default()
        })
    }
}

fn made(site: &Site, keep: Option<&Plan>) -> Made {
    let never = AtomicBool::new(false);
    let request = plan::Request {
        site,
        date: DAY,
        absent: &[],
        keep,
        settings: few_rounds(&never),
    };
    plan::make(&request, &mut |_, _| {})
}

fn covered(
    site: &Site,
    plan: &Plan,
    absent: &[WorkerId],
    tonight: &Tonight,
    changes: &Changes,
) -> Option<Covered> {
    let never = AtomicBool::new(false);
    let request = Request {
        site,
        earlier: Earlier {
            plan,
            absent,
            tonight,
        },
        changes,
        steady: 7,
        settings: few_rounds(&never),
    };
    cover(&request, &mut |_, _| {}).ok()
}

fn facts(made: &Made, tonight: Option<Tonight>, absent: Vec<WorkerId>) -> Facts {
    Facts {
        program: "evenrun".to_string(),
        seed: 1,
        iterations: made.iterations,
        sound: true,
        bound: Some(made.bound.share),
        tonight,
        absent,
        ..Facts::default()
    }
}

fn json(document: Result<String, serde_json::Error>) -> io::Result<Vec<u8>> {
    Ok(document?.into_bytes())
}

/// Plan files as they are verified, shown, compared, kept to and covered.
pub(super) fn plans() -> io::Result<Family> {
    let base = Base::new()?;
    let night = base.night()?;
    let away = base.covered(&Changes {
        absent: vec![WorkerId(1)],
        ..Changes::default()
    })?;
    let usual = PlanDocument::new(
        &base.site,
        &base.made.plan,
        &base.made.measures,
        facts(&base.made, None, vec![]),
    );
    let mut seeds = vec![json(usual.to_json())?];
    for covered in [night, away] {
        let facts = facts(&covered.made, Some(covered.tonight), covered.absent);
        let document = PlanDocument::new(
            &covered.site,
            &covered.made.plan,
            &covered.made.measures,
            facts,
        );
        seeds.push(json(document.to_json())?);
    }
    let waited = r#"{"waited":[{"room":"G01","task":"dust","since":"2026-03-03"},{"duty":"lock up","since":"2026-03-09"}]"#;
    let words = [
        waited,
        "tonight",
        "now",
        "extra",
        "shifts",
        "no_breaks",
        "closed",
        "added",
        "again",
        "overtime_min",
        "set-up",
        "tear-down",
        "open and wet",
        "wipe and mop",
        "reopen",
        "fetch",
        "return",
        "break",
        "no window",
        "nobody",
        "no time",
        "\"place\": \"closet G\",",
        "\"room\": \"101\",",
        "walk_s",
        "detail",
        "priority",
        "certificate",
    ];
    Ok(Family::new(
        "plan",
        Stock::new(seeds, &words),
        move |input| read_plan(&base, input),
    ))
}

fn read_plan(base: &Base, input: &[u8]) -> Outcome {
    let Ok(text) = std::str::from_utf8(input) else {
        return Outcome::misfit(["not UTF-8"]);
    };
    let document = match PlanDocument::from_json(text) {
        Ok(document) => document,
        Err(misfit) => return Outcome::misfit([misfit.message]),
    };
    let site = match (&document.tonight, document.date.parse()) {
        (Some(night), Ok(date)) => match night.apply(&base.site, date) {
            Ok(site) => site,
            Err(misfits) => return Outcome::misfit(misfits.into_iter().map(|m| m.message)),
        },
        _ => base.site.clone(),
    };
    let plan = match document.resolve(&site) {
        Ok(plan) => plan,
        Err(misfits) => return Outcome::misfit(misfits.into_iter().map(|m| m.message)),
    };
    let absent: Option<Vec<WorkerId>> = document
        .absent
        .iter()
        .map(|name| site.worker_named(name))
        .collect();
    let Some(absent) = absent else {
        return Outcome::misfit(["an unknown worker is absent"]);
    };
    let broken = shown(base, &site, &plan, &document, &absent);
    if input.len().is_multiple_of(TAKEN_UP) && plan.date == DAY {
        taken_up(base, &site, &plan, &document, &absent);
    }
    Outcome::accepted(broken)
}

/// Everything that is done with a plan without a search. The rules it breaks.
fn shown(
    base: &Base,
    site: &Site,
    plan: &Plan,
    document: &PlanDocument,
    absent: &[WorkerId],
) -> BTreeSet<String> {
    let present = site.present(plan.date, absent);
    let violations = check(site, plan, &present);
    let measures = measure(site, plan);
    let facts = Facts {
        certificate: document.certificate.clone(),
        tonight: document.tonight.clone(),
        bound: document.evenness.bound,
        absent: absent.to_vec(),
        ..facts(&base.made, None, Vec::new())
    };
    let again = PlanDocument::new(site, plan, &measures, facts.clone());
    drop(again.to_json());
    drop(diff(site, plan, &base.made.plan));
    drop(explain(
        site,
        plan,
        &present,
        RoomId((violations.len() % site.rooms.len()) as u32),
    ));
    let answer = Answer {
        site,
        calendar: &Calendar::new(plan.date, site.time_zone.as_deref()),
        plan,
        measures: &measures,
        violations: &violations,
        facts: &facts,
    };
    drop(report::table(&answer));
    let words = Words::new(Language::English, site);
    for form in [report::csv, report::ics, report::map_svg] {
        drop(form(&answer, &words));
    }
    drop((
        report::html(&answer, &words),
        report::cards(&answer, &words, false),
    ));
    violations
        .iter()
        .map(|v| format!("rule {}", v.rule.number()))
        .collect()
}

/// A plan kept to, and covered in the middle of the night.
///
/// # Panics
/// If a plan that comes out breaks a rule.
fn taken_up(base: &Base, site: &Site, plan: &Plan, document: &PlanDocument, absent: &[WorkerId]) {
    let made = made(site, Some(plan));
    assert!(
        made.violations.is_empty(),
        "the plan breaks rules: {:?}",
        made.violations
    );
    let usual = Tonight::default();
    let night = document.tonight.as_ref().unwrap_or(&usual);
    let changes = Changes {
        absent: vec![WorkerId(0)],
        now: Some(Clock::at(19, 30)),
        ..Changes::default()
    };
    drop(covered(&base.site, plan, absent, night, &changes));
}

/// Carry-overs as the next night takes them up.
pub(super) fn carries() -> io::Result<Family> {
    let base = Base::new()?;
    let night = base.covered(&Changes {
        absent: vec![WorkerId(0)],
        closed: vec![(RoomId(0), Span::new(Clock::at(0, 0), Clock::at(47, 0)))],
        ..Changes::default()
    })?;
    let undone = &night.made.plan.undone;
    let waits = waits(&night.site, DAY, &night.tonight, undone, &night.savers);
    let document = CarryDocument::new(&night.site, DAY, &waits);
    let with_duty = r#"{"version":1,"site":"Two floors","date":"2026-03-09","waits":[{"duty":"lock up","minutes":5,"reason":"no time","since":"2026-03-06","next":"2026-03-10","days_late":1,"overdue":false},{"room":"G01","task":"dust","minutes":3.5,"reason":"nobody","detail":"x","since":"2026-02-06","next":"2026-03-10","days_late":30,"overdue":true,"priority":"appearance","saved_by":"y"}]}"#;
    let seeds = vec![json(document.to_json())?, with_duty.into()];
    let words = [
        "\"Two floors\"",
        "no time",
        "nobody",
        "no window",
        "since",
        "overdue",
    ];
    Ok(Family::new(
        "carry",
        Stock::new(seeds, &words),
        move |input| read_carry(&base, input),
    ))
}

fn read_carry(base: &Base, input: &[u8]) -> Outcome {
    let Ok(text) = std::str::from_utf8(input) else {
        return Outcome::misfit(["not UTF-8"]);
    };
    let day = date(2026, 3, 11);
    let read = CarryDocument::from_json(text).and_then(|carry| carry.take_up(&base.site, day));
    let night = match read {
        Ok(night) => night,
        Err(misfit) => return Outcome::misfit([misfit.message]),
    };
    match night.apply(&base.site, day) {
        Ok(site) => {
            super::sites::go_on(&site);
            Outcome::accepted(BTreeSet::new())
        }
        Err(misfits) => Outcome::misfit(misfits.into_iter().map(|m| m.message)),
    }
}
