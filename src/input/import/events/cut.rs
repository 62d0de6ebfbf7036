//! Cleaning hours without the times that a room is in use: dated hours in place of the weekly ones. What else stands in the cell stays as it
//! was written.

use super::busy::Busy;
use super::time::seconds;
use crate::input::notation;
use crate::site::Hours;
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// A day of wall-clock time, in seconds.
const DAY: i64 = 86_400;

/// The hours of a room on the dates from `from` to `until` with these times cut out, each made longer by `margin` seconds on both sides.
/// `None` if nothing is cut. `Err` if what stands there are no hours.
pub(super) fn cut(
    cell: &str,
    busy: &[&Busy],
    from: Date,
    until: Date,
    margin: i64,
    forget: bool,
) -> Result<Option<String>, ()> {
    let mut items: Vec<String> = cell
        .split(';')
        .map(|i| i.trim().to_string())
        .filter(|i| !i.is_empty())
        .collect();
    if forget {
        items.retain(|item| date_of(item).is_none_or(|d| d < from || d >= until));
    }
    let hours = if items.is_empty() {
        None
    } else {
        Some(notation::hours(&items.join("; ")).map_err(|_| ())?)
    };
    let mut dated: BTreeMap<Date, String> = BTreeMap::new();
    let mut day = from;
    while day < until {
        let spans = on(hours.as_ref(), day);
        let left = without(&spans, busy, day, margin);
        if left != spans {
            dated.insert(day, written(day, &left));
        }
        let Ok(next) = day.checked_add(1.days()) else {
            break;
        };
        day = next;
    }
    if dated.is_empty() && !forget {
        return Ok(None);
    }
    if hours.is_none() && !dated.is_empty() {
        // A date stands in place of weekly hours; without any, all other days would be closed.
        items.insert(0, "daily 00:00-24:00".to_string());
    }
    items.retain(|item| date_of(item).is_none_or(|d| !dated.contains_key(&d)));
    items.extend(dated.into_values());
    let text = items.join("; ");
    Ok((text != cell.trim()).then_some(text))
}

fn date_of(item: &str) -> Option<Date> {
    item.split_whitespace().next()?.parse().ok()
}

/// The hours of a day as seconds from its midnight; all day if there are none.
fn on(hours: Option<&Hours>, day: Date) -> Vec<(i64, i64)> {
    let Some(hours) = hours else {
        return vec![(0, DAY)];
    };
    let dated = hours.dated.get(&day).cloned();
    let spans = dated.unwrap_or_else(|| {
        let weekly = hours
            .weekly
            .iter()
            .filter(|(days, _)| days.contains(day.weekday()));
        weekly.map(|(_, span)| *span).collect()
    });
    spans.iter().map(|s| (s.from.0, s.to.0)).collect()
}

fn without(spans: &[(i64, i64)], busy: &[&Busy], day: Date, margin: i64) -> Vec<(i64, i64)> {
    let midnight = seconds(day.to_datetime(jiff::civil::Time::midnight()));
    let mut left = spans.to_vec();
    for busy in busy {
        // To whole minutes, never shorter than the event.
        let from = (seconds(busy.from) - midnight - margin).div_euclid(60) * 60;
        let to = (seconds(busy.to) - midnight + margin + 59).div_euclid(60) * 60;
        left = left
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(from)), (a.max(to), b)])
            .filter(|(a, b)| a < b)
            .collect();
        left.dedup();
    }
    left
}

fn written(day: Date, spans: &[(i64, i64)]) -> String {
    if spans.is_empty() {
        return format!("{day} closed");
    }
    let clock = |s: i64| format!("{:02}:{:02}", s / 3600, s / 60 % 60);
    let spans: Vec<String> = spans
        .iter()
        .map(|(a, b)| format!("{}-{}", clock(*a), clock(*b)))
        .collect();
    format!("{day} {}", spans.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn busy(day: i8, from: i8, to: i8) -> Busy {
        let at = |hour: i8| date(2026, 3, day + hour / 24).at(hour % 24, 0, 0, 0);
        Busy {
            location: String::new(),
            from: at(from),
            to: at(to),
            pos: crate::input::log::Pos::default(),
        }
    }

    fn cut_out(cell: &str, busy: &[Busy], margin: i64) -> Option<String> {
        let busy: Vec<&Busy> = busy.iter().collect();
        cut(
            cell,
            &busy,
            date(2026, 3, 10),
            date(2026, 3, 13),
            margin,
            false,
        )
        .unwrap()
    }

    #[test]
    fn events_are_cut_out_of_the_hours_of_their_dates() {
        let cell = "mon-fri 17:00-22:00; sat 08:00-12:00";
        let text = cut_out(
            cell,
            &[busy(10, 18, 20), busy(11, 12, 23), busy(12, 9, 10)],
            0,
        )
        .unwrap();
        assert_eq!(
            text,
            "mon-fri 17:00-22:00; sat 08:00-12:00; 2026-03-10 17:00-18:00 20:00-22:00; 2026-03-11 closed"
        );
        // Once more changes nothing.
        assert_eq!(
            cut_out(&text, &[busy(10, 18, 20), busy(11, 12, 23)], 0),
            None
        );
        let wide = cut_out(cell, &[busy(10, 18, 20)], 900).unwrap();
        assert!(
            wide.ends_with("; 2026-03-10 17:00-17:45 20:15-22:00"),
            "{wide}"
        );
    }

    #[test]
    fn a_room_that_is_always_open_stays_so_on_other_days_and_nights_reach_over_midnight() {
        let text = cut_out("", &[busy(10, 22, 26)], 0).unwrap();
        assert_eq!(
            text,
            "daily 00:00-24:00; 2026-03-10 00:00-22:00; 2026-03-11 02:00-24:00"
        );
        let night = cut_out("daily 18:00-26:00", &[busy(11, 0, 1)], 0).unwrap();
        assert_eq!(
            night,
            "daily 18:00-26:00; 2026-03-10 18:00-24:00 25:00-26:00"
        );
    }

    #[test]
    fn dates_may_be_forgotten_first() {
        let all: Vec<&Busy> = Vec::new();
        let cell = "daily 17:00-22:00; 2026-03-10 closed; 2026-04-01 closed";
        let text = cut(cell, &all, date(2026, 3, 10), date(2026, 3, 13), 0, true).unwrap();
        assert_eq!(
            text.as_deref(),
            Some("daily 17:00-22:00; 2026-04-01 closed")
        );
    }
}
