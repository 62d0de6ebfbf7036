//! What the plan rests on: the site's rules, the search's seed, and where the minutes come from.

use crate::report::Answer;
use crate::report::view::words;
use crate::site::Site;
use crate::units::Seconds;
use maud::{Markup, html};
use std::collections::{BTreeMap, BTreeSet};

/// The section on assumptions.
pub(super) fn section(answer: &Answer) -> Markup {
    html! {
        section.assumptions #assumptions aria-labelledby="assumptions-head" {
            h2 #assumptions-head { "Assumptions" }
            p { "Times are planning figures. Product labels, the site's own rules and local codes come first." }
            table {
                caption { "Rules and figures used" }
                thead { tr { th scope="col" { "What" } th scope="col" { "Value" } } }
                tbody {
                    @for (name, value) in policy(answer.site).into_iter().chain(search(answer)) {
                        tr { th scope="row" { (name) } td { bdi { (value) } } }
                    }
                }
            }
            (sources(answer.site))
        }
    }
}

fn policy(site: &Site) -> Vec<(&'static str, String)> {
    let policy = &site.policy;
    let speeds = policy.speeds;
    let time = |seconds: Seconds| words::short(seconds);
    let speed = |metres: f64| format!("{metres:.2} m/s");
    let walking = if speeds.walking {
        "counted"
    } else {
        "left out"
    };
    vec![
        ("getting ready", time(policy.set_up)),
        ("putting away", time(policy.tear_down)),
        ("kept free in every shift", time(policy.reserve)),
        ("most overtime", time(policy.overtime)),
        ("fresh water", time(policy.fill)),
        ("emptying the cart", time(policy.dump)),
        (
            "fetching a machine, and again bringing it back",
            time(policy.fetch),
        ),
        ("shares count as equal within", words::percent(policy.band)),
        ("walking", walking.into()),
        ("speed on foot", speed(speeds.foot)),
        ("speed with a cart", speed(speeds.cart)),
        (
            "speed on stairs, up and down",
            format!(
                "{} and {}",
                speed(speeds.stairs_up),
                speed(speeds.stairs_down)
            ),
        ),
        (
            "time zone",
            site.time_zone
                .clone()
                .unwrap_or_else(|| "none: every day has 24 hours".into()),
        ),
    ]
}

fn search(answer: &Answer) -> Vec<(&'static str, String)> {
    vec![
        ("seed", answer.facts.seed.to_string()),
        ("iterations", answer.facts.iterations.to_string()),
        ("program", answer.facts.program.clone()),
    ]
}

/// Each source with the tasks whose minutes come from it, over the kinds of room that the site has.
fn sources(site: &Site) -> Markup {
    let kinds: BTreeSet<_> = site.rooms.iter().map(|r| r.kind).collect();
    let mut sources: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for kind in kinds.iter().map(|k| &site.kinds[k.index()]) {
        for task in &kind.tasks {
            let source = if task.source.is_empty() {
                "not stated"
            } else {
                &task.source
            };
            sources
                .entry(source)
                .or_default()
                .insert(format!("{}: {}", kind.id, task.name));
        }
    }
    html! {
        table {
            caption { "Where the minutes of each task come from" }
            thead { tr { th scope="col" { "Source" } th scope="col" { "Tasks" } } }
            tbody {
                @for (source, tasks) in &sources {
                    @let tasks: Vec<&str> = tasks.iter().map(String::as_str).collect();
                    tr { th scope="row" { bdi { (source) } } td { bdi { (tasks.join("; ")) } } }
                }
            }
        }
    }
}
