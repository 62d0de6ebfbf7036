//! What the plan rests on: the site's rules, the search's seed, and where the minutes come from.

use crate::report::Answer;
use crate::report::words::{Words, short};
use crate::site::Site;
use maud::{Markup, html};
use std::collections::{BTreeMap, BTreeSet};

/// The section on assumptions.
pub(super) fn section(answer: &Answer, words: &Words) -> Markup {
    html! {
        section.assumptions #assumptions aria-labelledby="assumptions-head" {
            h2 #assumptions-head { (words.say("nav-assumptions")) }
            p { (words.say("assumptions-note")) }
            table {
                caption { (words.say("figures-used")) }
                thead { tr { th scope="col" { (words.say("col-figure")) } th scope="col" { (words.say("col-value")) } } }
                tbody {
                    @for (name, value) in policy(words, answer.site).into_iter().chain(search(answer)) {
                        tr { th scope="row" { (words.say(name)) } td { bdi { (value) } } }
                    }
                }
            }
            (sources(words, answer.site))
        }
    }
}

fn policy(words: &Words, site: &Site) -> Vec<(&'static str, String)> {
    let policy = &site.policy;
    let speeds = policy.speeds;
    let speed = |metres: f64| words.speed(metres);
    let walking = if speeds.walking {
        words.say("walking-counted")
    } else {
        words.say("walking-free")
    };
    vec![
        ("set-setup", short(policy.set_up)),
        ("set-tear-down", short(policy.tear_down)),
        ("set-reserve", short(policy.reserve)),
        ("set-overtime", short(policy.overtime)),
        ("set-fill", short(policy.fill)),
        ("set-dump", short(policy.dump)),
        ("set-fetch", short(policy.fetch)),
        ("set-band", words.percent(policy.band)),
        ("set-walking", walking),
        ("set-foot", speed(speeds.foot)),
        ("set-cart", speed(speeds.cart)),
        (
            "set-stairs",
            [speeds.stairs_up, speeds.stairs_down]
                .map(speed)
                .join(" / "),
        ),
        (
            "set-zone",
            site.time_zone
                .clone()
                .unwrap_or_else(|| words.say("zone-none")),
        ),
    ]
}

fn search(answer: &Answer) -> Vec<(&'static str, String)> {
    vec![
        ("set-seed", answer.facts.seed.to_string()),
        ("set-iterations", answer.facts.iterations.to_string()),
        ("set-program", answer.facts.program.clone()),
    ]
}

/// Each source with the tasks whose minutes come from it, over the kinds of room that the site has.
fn sources(words: &Words, site: &Site) -> Markup {
    let kinds: BTreeSet<_> = site.rooms.iter().map(|r| r.kind).collect();
    let mut sources: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for kind in kinds.iter().map(|k| &site.kinds[k.index()]) {
        for task in &kind.tasks {
            sources
                .entry(task.source.as_str())
                .or_default()
                .insert(format!(
                    "{}: {}",
                    words.known(&kind.id),
                    words.known(&task.name)
                ));
        }
    }
    html! {
        table {
            caption { (words.say("sources-of")) }
            thead { tr { th scope="col" { (words.say("col-source")) } th scope="col" { (words.say("col-tasks")) } } }
            tbody {
                @for (source, tasks) in &sources {
                    @let tasks: Vec<&str> = tasks.iter().map(String::as_str).collect();
                    @let source = if source.is_empty() { words.say("source-none") } else { words.known(source) };
                    tr { th scope="row" { bdi { (source) } } td { bdi { (tasks.join("; ")) } } }
                }
            }
        }
    }
}
