//! The site's duties and its own rules.

use super::Names;
use super::names::Index;
use super::tasks::one_person;
use super::values::{Measure, count, minutes, minutes_as_seconds, text, within};
use super::words::{days, hours};
use crate::input::at::At;
use crate::input::log::Log;
use crate::input::raw::{RawDuty, RawGroup, RawPolicy, RawSpeeds};
use crate::site::{Duty, Group, PlaceId, Policy, RoomId, Speeds, Weekdays};
use crate::units::Seconds;

/// Slowest and fastest anybody walks, in metres a second: a shuffle and a run.
const SPEED: (f64, f64) = (0.05, 5.0);
/// Widest band of equal shares, in percent.
const WIDEST_BAND: f64 = 20.0;

/// Duties in order.
pub(super) fn duties(raw: &[RawDuty], names: &Names, log: &Log) -> Vec<Duty> {
    Index::of("duty", "", raw.iter().map(|d| &d.name), log);
    raw.iter().map(|duty| read_duty(duty, names, log)).collect()
}

fn read_duty(raw: &RawDuty, names: &Names, log: &Log) -> Duty {
    one_person(raw.people.as_ref(), log);
    Duty {
        name: raw.name.value.trim().to_string(),
        place: PlaceId::from(names.places.find(&raw.place, log).unwrap_or(0)),
        minutes: minutes(log, "min", &raw.min),
        window: hours(log, raw.window.as_ref()),
        days: days(log, raw.days.as_ref(), Weekdays::ALL),
        skills: names.skills.find_all(&raw.skills, log),
        last: raw.last.unwrap_or(false),
    }
}

/// The site's own rules; what is not said is as in [`Policy::default`].
pub(super) fn policy(raw: Option<&RawPolicy>, names: &Names, log: &Log) -> Policy {
    let usual = Policy::default();
    let Some(raw) = raw else { return usual };
    let time = |name: &str, given: &Option<At<f64>>, usual: Seconds| {
        given
            .as_ref()
            .map_or(usual, |given| minutes_as_seconds(log, name, given))
    };
    let band = raw
        .band_percent
        .as_ref()
        .map(|b| within(log, "band_percent", b, 0.0, WIDEST_BAND) / 100.0);
    Index::of("closure group", "", raw.groups.iter().map(|g| &g.name), log);
    Policy {
        set_up: time("set_up_min", &raw.set_up_min, usual.set_up),
        tear_down: time("tear_down_min", &raw.tear_down_min, usual.tear_down),
        band: band.unwrap_or(usual.band),
        overtime: time("overtime_min", &raw.overtime_min, usual.overtime),
        reserve: time("reserve_min", &raw.reserve_min, usual.reserve),
        groups: raw.groups.iter().map(|g| group(g, names, log)).collect(),
        exit_pairs: raw
            .exit_pairs
            .iter()
            .filter_map(|pair| exit_pair(pair, names, log))
            .collect(),
        rotate: names.kinds.find_all(&raw.rotate_kinds, log),
        fill: time("fill_min", &raw.fill_min, usual.fill),
        dump: time("dump_min", &raw.dump_min, usual.dump),
        fetch: time("fetch_min", &raw.fetch_min, usual.fetch),
        speeds: raw
            .speeds
            .as_ref()
            .map_or(usual.speeds, |s| speeds(s, usual.speeds, log)),
    }
}

fn group(raw: &RawGroup, names: &Names, log: &Log) -> Group {
    let rooms: Vec<RoomId> = names.rooms.find_all(&raw.rooms, log);
    let keep_open = count(log, "keep_open", raw.keep_open.as_ref(), 0..=10_000, 1);
    let all_known = raw
        .rooms
        .iter()
        .all(|r| r.sound && names.rooms.number(&r.value).is_some());
    if all_known && keep_open as usize >= rooms.len() {
        let name = &raw.name.value;
        let pos = raw.keep_open.as_ref().map_or(raw.name.pos, |k| k.pos);
        let message = format!(
            "group `{name}` has {} rooms and keeps {keep_open} open: none can ever be closed",
            rooms.len()
        );
        log.error(
            "E702",
            pos,
            message,
            "keep fewer open, or add rooms to the group",
        );
    }
    Group {
        name: text(log, "name of a group", &raw.name),
        rooms,
        keep_open,
    }
}

fn exit_pair(raw: &At<Vec<At<String>>>, names: &Names, log: &Log) -> Option<[RoomId; 2]> {
    let sound = raw.sound && raw.value.iter().all(|r| r.sound);
    let found: Vec<usize> = raw
        .value
        .iter()
        .filter_map(|room| names.rooms.find(room, log))
        .collect();
    match found.as_slice() {
        [a, b] if a != b && raw.value.len() == 2 => Some([RoomId::from(*a), RoomId::from(*b)]),
        found => {
            if sound && found.len() == raw.value.len() {
                let message = "an exit pair is two different rooms".to_string();
                log.error(
                    "E701",
                    raw.pos,
                    message,
                    "write it like `[hall G, stairs G]`",
                );
            }
            None
        }
    }
}

fn speeds(raw: &RawSpeeds, usual: Speeds, log: &Log) -> Speeds {
    let speed = |metric: &'static str,
                 us: &'static str,
                 m: &Option<At<f64>>,
                 ft: &Option<At<f64>>,
                 usual: f64| {
        Measure::length(metric, us, SPEED.0, SPEED.1)
            .read(log, m.as_ref(), ft.as_ref())
            .unwrap_or(usual)
    };
    let (up, down) = (
        ("stairs_up_m_s", "stairs_up_ft_s"),
        ("stairs_down_m_s", "stairs_down_ft_s"),
    );
    Speeds {
        foot: speed(
            "foot_m_s",
            "foot_ft_s",
            &raw.foot_m_s,
            &raw.foot_ft_s,
            usual.foot,
        ),
        cart: speed(
            "cart_m_s",
            "cart_ft_s",
            &raw.cart_m_s,
            &raw.cart_ft_s,
            usual.cart,
        ),
        stairs_up: speed(
            up.0,
            up.1,
            &raw.stairs_up_m_s,
            &raw.stairs_up_ft_s,
            usual.stairs_up,
        ),
        stairs_down: speed(
            down.0,
            down.1,
            &raw.stairs_down_m_s,
            &raw.stairs_down_ft_s,
            usual.stairs_down,
        ),
        walking: raw.walking.unwrap_or(true),
    }
}
