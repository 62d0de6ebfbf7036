//! The report: every name stays a name, nothing planned is missing, and the summary reads as a person would write it.

mod browser;
mod building;
mod files;
mod kinds;
mod languages;
mod large;
mod maps;
mod night;

use evenrun::plan::{Certificate, Facts, Measures, Plan, Request, Rule, Violation, make, measure};
use evenrun::report::{Answer, Language, Words, cards, html, table};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::{Calendar, Group, Site};
use evenrun::units::{Clock, Span};
use std::sync::atomic::AtomicBool;

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

    /// A plan that the program makes for the site's own date.
    fn of(site: Site) -> Made {
        let request = Request {
            site: &site,
            date: site.date.unwrap_or(night::calendar().date()),
            absent: &[],
            keep: None,
            settings: Settings {
                stop: Stop {
                    budget: Budget::Iterations(300),
                    interrupted: &AtomicBool::new(false),
                },
                seed: 1,
                islands: 1,
            },
        };
        let made = make(&request, &mut |_, _| {});
        Made {
            calendar: made.calendar,
            plan: made.plan,
            measures: made.measures,
            violations: made.violations,
            facts: Facts::default(),
            site,
        }
    }

    fn words(&self) -> Words {
        Words::new(Language::English, &self.site)
    }

    fn page(&self) -> String {
        html(&self.answer(), &self.words())
    }

    fn cards(&self) -> String {
        cards(&self.answer(), &self.words(), false)
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

/// Every tag of a page, as written between `<` and `>`; what stands in the page's own style and script is left out.
fn tags(page: &str) -> Vec<&str> {
    let (before, rest) = page.split_once("<style>").unwrap_or((page, ""));
    let (_, after) = rest.split_once("</style>").unwrap_or(("", rest));
    let (after, script) = after.split_once("<script>").unwrap_or((after, ""));
    let (_, end) = script.split_once("</script>").unwrap_or(("", ""));
    let parts = [before, after, end]
        .into_iter()
        .flat_map(|part| part.split('<'));
    parts
        .filter_map(|part| part.split_once('>').map(|(tag, _)| tag))
        .collect()
}

#[test]
fn hostile_names_stay_text_on_the_page() {
    let made = with_hostile_names();
    for page in [made.page(), made.cards()] {
        names_are_text(&page);
    }
}

fn names_are_text(page: &str) {
    for tag in tags(page) {
        let name = tag
            .trim_start_matches('/')
            .split([' ', '/'])
            .next()
            .unwrap_or("");
        assert!(
            !["img", "iframe", "link", "b", "object"].contains(&name),
            "<{tag}>"
        );
        // What stands in quotes is a value.
        let outside: String = tag.split('"').step_by(2).collect();
        assert!(!outside.contains(" on"), "an event handler in <{tag}>");
    }
    assert_eq!(page.matches("<script").count(), 1, "the page's own");
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert_eq!(page.matches("</style>").count(), 1);
    assert_eq!(
        page.matches("</title>").count(),
        page.matches("<title").count()
    );
}

#[test]
fn the_page_asks_the_network_for_nothing() {
    let made = Made::new("Larkfield", 2, &["Ana", "Bilal"]);
    for page in [made.page(), made.cards()] {
        // The name of SVG is an address that nobody asks for.
        let page = page.replace("http://www.w3.org/2000/svg", "");
        for word in [
            "http:", "https:", "src=", "@import", "<link", "url(//", "fetch(", "XMLHttp",
        ] {
            assert!(!page.contains(word), "{word}");
        }
    }
}

/// The page's own check of its tree: every tag that opens closes again, in order.
#[test]
fn every_tag_of_the_page_is_closed_in_order() {
    let made = with_hostile_names();
    for page in [made.page(), made.cards()] {
        closes_in_order(&page);
    }
}

fn closes_in_order(page: &str) {
    let mut open: Vec<&str> = Vec::new();
    for tag in tags(page) {
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
    let made = Made::new("Larkfield", 3, &["Ana", "Bilal", "Chiara"]);
    for page in [made.page(), made.cards()] {
        links_lead_somewhere(&page);
    }
}

fn links_lead_somewhere(page: &str) {
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
    let page = made.page();
    for room in &made.site.rooms {
        assert!(page.contains(&format!("({})", room.id)), "{}", room.id);
    }
    let page = made.cards();
    for word in [
        "wet for at least 10 min",
        "floor dries at least 15 min",
        "way out: mop one half",
        "never mix products",
        "blue key",
        "bin bags",
        "lift to",
        "3 bowls",
        "seen on the way",
        "next fresh water",
    ] {
        assert!(page.to_lowercase().contains(word), "{word}");
    }
}

#[test]
fn cautions_fit_what_is_on_the_card() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    let chemicals = |made: &Made| made.cards().contains("Never mix products");
    assert!(chemicals(&made));
    made.plan.runs[0]
        .stops
        .retain(|s| s.what.room().is_none() && !matches!(s.what, evenrun::plan::What::Fill));
    assert!(!chemicals(&made));
    assert!(made.cards().contains("Who has the last word"));
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
    let page = made.page();
    assert!(made.cards().contains("Do not work from these sheets"));
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
    assert!(made.page().contains("No stops in this shift"));
    assert!(table(&made.answer()).contains("No bound is known"));
    made.plan.runs.clear();
    made.measures = measure(&made.site, &made.plan);
    made.facts.absent = vec![evenrun::site::WorkerId(0)];
    assert!(table(&made.answer()).contains("away: Ana"));
    assert!(table(&made.answer()).contains("Nobody is present"));
    assert!(made.page().contains("Nobody is present"));
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

#[test]
fn a_plan_with_work_left_undone_does_not_look_done() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    assert!(made.page().contains("of work is left undone."));
    assert!(!made.page().contains("All work due is planned"));
    made.plan.undone.clear();
    assert!(made.page().contains("All work due is planned"));
}

#[test]
fn every_closed_room_has_one_row_and_every_group_says_how_many_are_open() {
    let mut made = Made::new("Larkfield", 3, &["Ana", "Bilal"]);
    let again = made.site.policy.groups[0].clone();
    made.site.policy.groups.push(Group {
        name: "The same again".into(),
        ..again
    });
    let page = made.page();
    let rows = |text: &str| {
        page.matches(&format!("class=\"label\" x=\"34.0\" y=\"12\">{text}"))
            .count()
    };
    assert_eq!(
        rows("Women&#39;s restroom G (G00):") + rows("Women's restroom G (G00):"),
        1
    );
    assert!(page.contains("The same again: at least 2 of 3 must stay open; fewest open:"));
}

#[test]
fn us_sites_read_in_feet_on_a_clock_of_twelve_hours() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    made.site.us_units = true;
    let page = made.page();
    assert!(
        page.contains("3.51 ft/s") && !page.contains("m/s"),
        "speeds"
    );
    assert!(page.contains("6:00\u{a0}pm-2:00\u{a0}am"), "the shift");
    assert!(made.cards().contains("592 sq ft"), "55 m2 of a classroom");
}

#[test]
fn stops_that_take_no_time_are_shown_as_one_time() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    let first = &mut made.plan.runs[0].stops[0];
    first.span = Span::new(first.span.to, first.span.to);
    let cards = made.cards();
    assert!(
        cards.contains(">18:10</th>") && cards.contains("Start"),
        "{cards}"
    );
    assert!(!cards.contains("18:10-18:10"));
}

#[test]
fn a_site_without_walking_says_so_among_what_figures_rest_on() {
    let walking = |site: Site| {
        let page = Made::of(site).page();
        let (_, after) = page.split_once("walking").unwrap();
        (after.contains("left out"), page.contains("left out"))
    };
    let free = crate::support::plain_site::desks(&[30], 1, "");
    let mut counted = free.clone();
    counted.policy.speeds.walking = true;
    assert!(walking(free).0);
    assert!(!walking(counted).1);
}

#[test]
fn a_morning_in_spanish_is_before_noon() {
    let text = crate::support::plain_site::desks_text(&[30], 1, "units: us\n")
        .replace("17:00-22:00", "05:00-14:00");
    let made = Made::of(crate::common::read_text(&text));
    let words = Words::new(Language::Spanish, &made.site);
    let page = html(&made.answer(), &words);
    assert!(page.contains("5:00\u{a0}a. m."), "no morning");
    assert!(page.contains("2:00\u{a0}p. m."), "no afternoon");
    assert!(!page.contains("5:00\u{a0}am"));
}
