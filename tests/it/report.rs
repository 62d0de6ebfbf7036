//! The report: every name stays a name, nothing planned is missing, and the summary reads as a person would write it.

mod building;
mod kinds;
mod night;

use evenrun::plan::{Certificate, Facts, Measures, Plan, Rule, Violation, measure};
use evenrun::report::{Answer, html, table};
use evenrun::site::{Calendar, Site};
use evenrun::units::Clock;

/// A plan with what a report needs to know of it.
struct Made {
    site: Site,
    calendar: Calendar,
    plan: Plan,
    measures: Measures,
    violations: Vec<Violation>,
    facts: Facts,
}

impl Made {
    fn new(name: &str, floors: usize, crew: &[&str]) -> Made {
        let site = building::site(name, floors, crew);
        let plan = night::plan(&site);
        let facts = Facts {
            seed: 7,
            iterations: 12_000,
            bound: Some(0.4),
            certificate: vec![Certificate {
                what: "work <b>alone</b>".into(),
                minutes: 180.0,
            }],
            ..Facts::default()
        };
        Made {
            measures: measure(&site, &plan),
            site,
            calendar: night::calendar(),
            plan,
            violations: vec![],
            facts,
        }
    }

    fn answer(&self) -> Answer<'_> {
        let Made {
            site,
            calendar,
            plan,
            measures,
            violations,
            facts,
        } = self;
        Answer {
            site,
            calendar,
            plan,
            measures,
            violations,
            facts,
        }
    }
}

/// Names that would break a page, a terminal or a column if they were taken for anything but text.
fn hostile() -> Vec<String> {
    let long = "x".repeat(200);
    let names = [
        "<script>alert(1)</script>",
        "\"quoted\" 'twice' & more",
        "=cmd|' /C calc'!A0",
        "עובד ניקיון",
        "👩‍🔧 Zoë",
        "a\u{1b}[2Jb\u{202e}c\nd",
    ];
    names
        .iter()
        .map(ToString::to_string)
        .chain([long, "</style></title>".into()])
        .collect()
}

fn with_hostile_names() -> Made {
    let names = hostile();
    let crew: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut made = Made::new("<img src=x onerror=alert(1)>", 3, &crew);
    for (i, room) in made.site.rooms.iter().enumerate() {
        made.site.places[i].name = format!("{} {}", names[i % names.len()], room.id);
    }
    for (i, task) in made
        .site
        .kinds
        .iter_mut()
        .flat_map(|k| &mut k.tasks)
        .enumerate()
    {
        task.name = format!("{}{i}", names[i % names.len()]);
        task.source = format!("{}{i}", names[i % names.len()]);
        task.supplies = vec![format!("{}{i}", names[i % names.len()])];
    }
    made.site.policy.groups[0].name.clone_from(&names[0]);
    made.site.ways[0].id.clone_from(&names[0]);
    made
}

/// Every tag of a page, as written between `<` and `>`, the style left out.
fn tags(page: &str) -> Vec<&str> {
    let (before, rest) = page.split_once("<style>").unwrap_or((page, ""));
    let (_, after) = rest.split_once("</style>").unwrap_or(("", rest));
    let parts = before.split('<').chain(after.split('<'));
    parts
        .filter_map(|part| part.split_once('>').map(|(tag, _)| tag))
        .collect()
}

#[test]
fn hostile_names_stay_text_on_the_page() {
    let page = html(&with_hostile_names().answer());
    for tag in tags(&page) {
        let name = tag
            .trim_start_matches('/')
            .split([' ', '/'])
            .next()
            .unwrap_or("");
        assert!(
            !["script", "img", "iframe", "link", "b", "object"].contains(&name),
            "<{tag}>"
        );
        assert!(!tag.contains(" on"), "an event handler in <{tag}>");
    }
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert_eq!(page.matches("</style>").count(), 1);
    assert_eq!(
        page.matches("</title>").count(),
        page.matches("<title").count()
    );
}

#[test]
fn the_page_asks_the_network_for_nothing() {
    let page = html(&Made::new("Larkfield", 2, &["Ana", "Bilal"]).answer());
    for word in [
        "http:", "https:", "src=", "@import", "<script", "<link", "url(//",
    ] {
        assert!(!page.contains(word), "{word}");
    }
}

/// The page's own check of its tree: every tag that opens closes again, in order.
#[test]
fn every_tag_of_the_page_is_closed_in_order() {
    let page = html(&with_hostile_names().answer());
    let mut open: Vec<&str> = Vec::new();
    for tag in tags(&page) {
        let name = tag.split(' ').next().unwrap_or("");
        match name.strip_prefix('/') {
            Some(closed) => assert_eq!(open.pop(), Some(closed)),
            None if ["!DOCTYPE", "meta"].contains(&name) => {}
            None => open.push(name),
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

#[test]
fn links_and_labels_on_the_page_point_at_something() {
    let page = html(&Made::new("Larkfield", 3, &["Ana", "Bilal", "Chiara"]).answer());
    let values = |name: &str| -> Vec<String> {
        let opening = format!(" {name}=\"");
        let found = page.split(&opening).skip(1);
        found
            .filter_map(|rest| rest.split_once('"').map(|(value, _)| value.to_string()))
            .collect()
    };
    let ids = values("id");
    let distinct: std::collections::BTreeSet<_> = ids.iter().collect();
    assert_eq!(distinct.len(), ids.len(), "an id is used twice");
    let labels: Vec<_> = values("aria-labelledby")
        .iter()
        .flat_map(|v| v.split(' ').map(String::from).collect::<Vec<_>>())
        .collect();
    let links = values("href")
        .into_iter()
        .map(|v| v.trim_start_matches('#').to_string());
    for target in labels.into_iter().chain(links) {
        assert!(ids.contains(&target), "nothing has the id {target}");
    }
}

#[test]
fn the_page_has_every_room_planned_and_every_room_left() {
    let made = Made::new("Larkfield", 3, &["Ana", "Bilal", "Chiara"]);
    let page = html(&made.answer());
    for room in &made.site.rooms {
        assert!(page.contains(&format!("({})", room.id)), "{}", room.id);
    }
    for word in [
        "wet for at least 10 min",
        "floor dries at least 15 min",
        "way out: mop one half",
        "never mix products",
        "blue key",
        "bin bags",
        "lift to",
    ] {
        assert!(page.to_lowercase().contains(word), "{word}");
    }
}

#[test]
fn cautions_fit_what_is_on_the_card() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    let chemicals = |made: &Made| html(&made.answer()).contains("Never mix products");
    assert!(chemicals(&made));
    made.plan.runs[0]
        .stops
        .retain(|s| s.what.room().is_none() && !matches!(s.what, evenrun::plan::What::Fill));
    assert!(!chemicals(&made));
    assert!(html(&made.answer()).contains("Who has the last word"));
}

#[test]
fn a_broken_plan_says_so_first() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    let message = "Ana walks <through> a wall".to_string();
    made.violations.push(Violation {
        rule: Rule::Work,
        worker: None,
        place: None,
        at: Some(Clock(0)),
        message,
        exchange: None,
    });
    let page = html(&made.answer());
    assert!(page.contains("Not sound") && page.contains("Ana walks &lt;through&gt; a wall"));
    assert!(table(&made.answer()).contains("NOT SOUND: 1 rule broken"));
}

#[test]
fn the_table_has_every_worker_and_cannot_steer_the_terminal() {
    let made = with_hostile_names();
    let text = table(&made.answer());
    assert!(
        text.chars()
            .all(|c| c == '\n' || (!c.is_control() && c != '\u{202e}'))
    );
    for name in [
        "<script>alert(1)</scrip…",
        "\"quoted\" 'twice' & more",
        "=cmd|' /C calc'!A0",
        "עובד ניקיון",
        "👩‍🔧 Zoë",
        "xxxxxxxxxxxxxxxxxxxxxxx…",
    ] {
        assert!(text.contains(name), "{name} in\n{text}");
    }
}

#[test]
fn a_plan_of_nobody_and_a_night_of_nothing_can_be_shown() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    made.plan.runs[0].stops.clear();
    made.measures = measure(&made.site, &made.plan);
    made.facts.bound = None;
    assert!(html(&made.answer()).contains("No stops in this shift"));
    assert!(table(&made.answer()).contains("No bound is known"));
    made.plan.runs.clear();
    made.measures = measure(&made.site, &made.plan);
    made.facts.absent = vec![evenrun::site::WorkerId(0)];
    assert!(table(&made.answer()).contains("away: Ana"));
    assert!(table(&made.answer()).contains("Nobody is present"));
    assert!(html(&made.answer()).contains("Nobody is present"));
}

#[test]
fn a_small_table_reads_as_a_person_would_write_it() {
    let made = Made::new("Larkfield", 1, &["Ana", "清掃 Bea"]);
    insta::assert_snapshot!(table(&made.answer()), @r#"
    Larkfield, Tuesday 10 March 2026

    worker    shift        run          stops  work  walk  fill  wait   share              floors
    Ana       18:00-02:00  18:00-22:18     19   170     5    15    38  50.7 %  #####.....  G
    清掃 Bea  18:00-02:00  -                0     0     0     0     0   0.0 %  ..........

    evenness: highest 50.7 %, lowest 0.0 %, range 50.7 points, standard deviation 25.37 points, Gini 0.5000
    proof: proven bound 40.0 %, gap 26.83 %
    Nobody could get the longest run's share below 40.0 % (3 h 00 of the 7 h 30 that Ana has); this plan's is 50.7 % (3 h 48).

    undone:
      duty, 10 min: nobody present may do it: nobody holds the skill <alarm> & key
        Staff room (staff): Lock up
      health, 3 min: not enough time beside work that matters as much or more
        Classroom G6 (G06): empty bins
      expected, 20 min: not enough time beside work that matters as much or more
        Classroom G6 (G06): sweep, wipe desks

    sound: every rule is kept
    "#);
}
