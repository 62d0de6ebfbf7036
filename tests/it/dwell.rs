//! A restroom is up to three stops of one worker with lags between them. Whether to stay through the dwell and the drying, or to do
//! something near by and return, is worked out by hand to the second, with what each choice saves.
//!
//! One hall and a cart that does a metre a second, so that a walk takes as many seconds as it has metres. The restroom's *open and wet* takes
//! 60 s of spraying and 60 s of restocking, what was sprayed stays wet for 300 s from the end of the spraying, *wipe and mop* takes 120 s and
//! 120 s, the floor dries for 300 s, *reopen* takes 60 s. Filling the bucket takes 180 s and lasts for all of a night here. So from the
//! start of the first stop to the end of the last there are at least
//!
//! ```text
//! 120 + 240 of waiting + 240 + 300 of waiting + 60 = 960 s, of which 420 s are work.
//! ```

use crate::common::read_text;
use crate::support::enumerate::lowest_shares;
use crate::support::planner::{assert_all_done, date_of, highest, loads, planned, rooms_of};
use evenrun::plan::{Made, What};
use evenrun::site::Site;
use evenrun::units::{Clock, Seconds};

const ITERATIONS: u64 = 200;

/// Places with their metres along the hall, rooms and further rules of the site. Ana works from 18:00.
fn site(places: &[(&str, u32)], rooms: &[&str], policy: &str) -> Site {
    let spot = |(place, along): &(&str, u32)| format!("{{place: {place}, m: {along}}}");
    let spots: Vec<String> = places.iter().map(spot).collect();
    let closets = places
        .iter()
        .filter(|(place, _)| place.starts_with("closet"));
    let closets: Vec<String> = closets
        .map(|(id, _)| format!("{{id: {id}, fill_point: true, waste_point: true}}"))
        .collect();
    read_text(&format!(
        "site: Dwell and drying\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, line_m: [[0, 0], [400, 0]], places_at: [{spots}]}}]\n\
         places: [{{id: entrance}}]\n\
         closets: [{closets}]\n\
         standard:\n\
         \x20 - kind: restroom\n\
         \x20   restroom: true\n\
         \x20   reopen_min: 1\n\
         \x20   tasks:\n\
         \x20     - {{task: disinfect, how: spray, min: 1, wipe_min: 2, dwell_min: 5, source: assumption}}\n\
         \x20     - {{task: restock, how: dry, min: 1, source: assumption}}\n\
         \x20     - {{task: mop floor, how: mop, min: 2, drying_min: 5, source: assumption}}\n\
         \x20 - kind: office\n\
         \x20   tasks: [{{task: vacuum, how: dry, min: 3, source: assumption}}]\n\
         rooms: [{rooms}]\n\
         carts: [{{id: cart, waste_l: 100, bucket_m2: 60, bucket_rooms: 3}}]\n\
         crew: [{{name: Ana, shift: \"18:00-22:00\", start: entrance, cart: cart}}]\n\
         policy: {{fill_min: 3, speeds: {{cart_m_s: 1}}{policy}}}\n",
        spots = spots.join(", "),
        closets = closets.join(", "),
        rooms = rooms.join(", "),
    ))
}

const W1: &str = "{id: W1, kind: restroom, area_m2: 10}";
const W2: &str = "{id: W2, kind: restroom, area_m2: 10}";
const OFFICE: &str = "{id: O, kind: office, area_m2: 10}";

/// Everything is done by Ana, who is busy for so many seconds and home so long after 18:00.
fn assert_night(site: &Site, busy: i64, home: i64) -> Made {
    let made = planned(site, ITERATIONS, 1);
    assert_all_done(&made, "a night of restrooms");
    let end = made.measures.runs[0].span.map(|s| s.to);
    let by_hand = (Seconds(busy), Some(Clock(18 * 3600 + home)));
    let stops = &made.plan.runs[0].stops;
    assert_eq!((loads(&made)[0], end), by_hand, "{stops:#?}");
    made
}

/// Nothing else takes less: every order, every fill and every wait is tried.
fn assert_least(site: &Site, made: &Made) {
    let share = highest(made);
    let least = lowest_shares(site, date_of(site), share);
    assert_eq!(least, Some(vec![share]), "the figures by hand");
}

/// Of that, so many seconds are spent in a room only to wait for it.
fn assert_waits(made: &Made, attended: i64) {
    assert_eq!(made.measures.runs[0].parts.wait, Seconds(attended));
}

/// The rooms of Ana's stops, in order, by id.
fn rooms_in_order(site: &Site, made: &Made) -> Vec<String> {
    let rooms = rooms_of(made, 0).into_iter();
    rooms.map(|r| site.rooms[r].id.clone()).collect()
}

/// Alone the restroom is waited for, but the dwell is long enough for the water: 10 m to the closet at the entrance, 180 s and 10 m back
/// are 200 of its 240 s.
///
/// 10 there; 120; 200 for water; 40 of waiting; 240; 300 of waiting; 60; 10 home: 980. With the bucket filled before: 180 + 10 + 960 + 10 =
/// 1,160. The fill in the dwell saves exactly its own 180 s.
#[test]
fn water_is_fetched_while_the_spray_works() {
    let places = [("entrance", 0), ("closet", 0), ("W1", 10)];
    let site = site(&places, &[W1], "");
    let made = assert_night(&site, 980, 980);
    assert_waits(&made, 340);
    assert_least(&site, &made);
    let kinds: Vec<bool> = made.plan.runs[0]
        .stops
        .iter()
        .map(|s| s.what == What::Fill)
        .collect();
    assert_eq!(
        kinds.iter().position(|fill| *fill),
        Some(2),
        "after W1's first stop"
    );
}

/// Restrooms at 10 and 20 m, water at the entrance.
const NEIGHBOURS: [(&str, u32); 4] = [("entrance", 0), ("closet", 0), ("W1", 10), ("W2", 20)];

/// Each restroom's dwell and drying are spent in the other.
///
/// ```text
/// 10 to W1, open and wet 120 ...  130; may be wiped at 10 + 60 + 300 = 370
/// 10 to W2, open and wet 120 ...  260; may be wiped at 500
/// 20 to the closet, fill 180 ...  460
/// 10 to W1, wipe and mop 240 ...  710; dry at 1,010
/// 10 to W2, wipe and mop 240 ...  960; dry at 1,260
/// 10 to W1, at 970; wait 40, reopen 60 ... 1,070
/// 10 to W2, at 1,080; wait 180, reopen 60 ... 1,320
/// 20 home ... 1,340
/// ```
const IN_TURN: i64 = 1_340;
const WAITING_IN_TURN: i64 = 40 + 180;

/// One after the other, all dwell and drying but the 200 s for water are waited out: W1 is done at 10 + 960 = 970, W2 at 970 + 10 + 960 =
/// 1,940, and Ana is home at 1,960.
const ONE_BY_ONE: i64 = 1_960;
const WAITING_ONE_BY_ONE: i64 = 2 * (240 + 300) - 200;

#[test]
fn neighbouring_restrooms_interleave() {
    let site = site(&NEIGHBOURS, &[W1, W2], "");
    let made = assert_night(&site, IN_TURN, IN_TURN);
    assert_waits(&made, WAITING_IN_TURN);
    assert_least(&site, &made);
    let order = rooms_in_order(&site, &made);
    assert!(order[0] != order[1] && order[4] != order[5], "{order:?}");
}

/// Of a group of two one stays open, so that the second is begun only when the first is open again. That takes 620 s more: with W1
/// first 660 s more of waiting and 40 s less of walking, 60 m instead of 100; with W2 first it is the same 1,960 s, 80 m of them walked.
#[test]
fn a_group_that_keeps_one_open_costs_what_interleaving_saves() {
    let group = ", groups: [{name: both, rooms: [W1, W2], keep_open: 1}]";
    let site = site(&NEIGHBOURS, &[W1, W2], group);
    let made = assert_night(&site, ONE_BY_ONE, ONE_BY_ONE);
    let order = rooms_in_order(&site, &made);
    assert!(order[..3].iter().all(|r| *r == order[0]), "{order:?}");
    assert_eq!(ONE_BY_ONE - IN_TURN, 620);
}

/// W1 may be closed until 18:20 and W2 from then on: W1 is open again at 970 s, Ana is at W2 at 980 s and waits idly until 1,200 s. Busy as
/// long as one by one, home 220 s later.
#[test]
fn closure_windows_apart_keep_restrooms_apart() {
    let early = "{id: W1, kind: restroom, area_m2: 10, closure: \"daily 18:00-18:20\"}";
    let late = "{id: W2, kind: restroom, area_m2: 10, closure: \"daily 18:20-19:00\"}";
    let site = site(&NEIGHBOURS, &[early, late], "");
    let made = assert_night(&site, ONE_BY_ONE, ONE_BY_ONE + 220);
    assert_waits(&made, WAITING_ONE_BY_ONE);
    assert_eq!(
        rooms_in_order(&site, &made),
        ["W1", "W1", "W1", "W2", "W2", "W2"]
    );
}

/// An office of 180 s at 15 m is done while the floor at 10 m dries: 5 + 180 + 5 of its 300 s. The night takes 980 s as it did without the office,
/// and would take 190 s more with the office before or after: 180 s and the 10 m there and back.
#[test]
fn a_room_near_by_is_done_while_the_floor_dries() {
    let places = [("entrance", 0), ("closet", 0), ("W1", 10), ("O", 15)];
    let site = site(&places, &[W1, OFFICE], "");
    let made = assert_night(&site, 980, 980);
    assert_waits(&made, 40 + 110);
    assert_least(&site, &made);
    assert_eq!(rooms_in_order(&site, &made), ["W1", "W1", "O", "W1"]);
}

/// The restroom, with water, `apart` metres from the entrance on one side, the office 50 m on the other.
fn on_both_sides(apart: u32) -> Site {
    let w1 = 100 + apart;
    let places = [("entrance", 100), ("closet", w1), ("W1", w1), ("O", 50)];
    site(&places, &[W1, OFFICE], "")
}

/// Going to the office while the floor dries saves the 300 s of drying and costs the way there and back once more: twice the restroom's
/// distance from the entrance, past which the way leads. It pays up to 150 m; close to that it saves a few seconds and keeps the room closed for
/// minutes longer, so 145 m, where it saves 10 s, stands for what pays. With the distance `a`:
///
/// ```text
/// to stay:  a + 960 + (a + 50) + 180 + 50 = 2 a + 1,240, of which 60 s of dwell (the fill takes 180 of 240) and 300 s of drying are waited
/// to leave: a + 120 + 240 + 240 + (a + 50) + 180 + (a + 50) + 60 + a = 4 a + 940, of which 60 s are waited
/// ```
#[test]
fn leaving_while_the_floor_dries_is_done_as_long_as_it_pays() {
    let (near, far) = (on_both_sides(145), on_both_sides(151));
    let left = assert_night(&near, 4 * 145 + 940, 4 * 145 + 940);
    assert_waits(&left, 60);
    assert_least(&near, &left);
    assert_eq!(rooms_in_order(&near, &left), ["W1", "W1", "O", "W1"]);
    let stayed = assert_night(&far, 2 * 151 + 1_240, 2 * 151 + 1_240);
    assert_waits(&stayed, 360);
    assert_least(&far, &stayed);
    let order = rooms_in_order(&far, &stayed);
    assert!(
        order.first() == Some(&"O".to_string()) || order.last() == Some(&"O".to_string()),
        "{order:?}"
    );
}

/// Two restrooms 200 m from the entrance on either side of it, each with water beside it.
///
/// One after the other: 200 + 960 + 400 + 960 + 200 = 2,720 s, of which 60 + 300 + 240 + 300 are waited; the bucket lasts. To come back to one of
/// them when it is dry costs 400 m and saves 300 s, to both 800 m and 600 s; to use the dwells too costs more yet.
#[test]
fn restrooms_far_apart_do_not_interleave() {
    let places = [
        ("entrance", 200),
        ("closet", 0),
        ("W1", 0),
        ("closet2", 400),
        ("W2", 400),
    ];
    let site = site(&places, &[W1, W2], "");
    let made = assert_night(&site, 2_720, 2_720);
    assert_waits(&made, 900);
    assert_least(&site, &made);
    let order = rooms_in_order(&site, &made);
    assert!(order[..3].iter().all(|r| *r == order[0]), "{order:?}");
}

/// A break of 5 minutes from 18:18 on, in a staff room at 15 m; the restroom at 10 m dries for 20 minutes after 180 s of work. She waits for the break while
/// the floor dries, and reopens from there.
///
/// ```text
/// fill 180; 10 to the restroom; mop until 370; 5 to the staff room; rest from 1,080 to 1,380; 5 back; dry at 1,570; reopen until 1,630; 10 home
/// busy 180 + 10 + 180 + 5 + 5, attended drying 1,570 - 1,385 = 185, reopen 60, 10 home: 635
/// ```
#[test]
fn a_break_is_waited_for_while_a_floor_dries() {
    let site = read_text(
        "site: A break while it dries\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{id: G}]\n\
         halls: [{id: hall, floor: G, line_m: [[0, 0], [100, 0]], places_at: [{place: entrance, m: 0}, {place: closet, m: 0}, {place: W, m: 10}, \
           {place: staff, m: 15}]}]\n\
         places: [{id: entrance}, {id: staff, break_place: true}]\n\
         closets: [{id: closet, fill_point: true, waste_point: true}]\n\
         standard: [{kind: restroom, restroom: true, reopen_min: 1, tasks: [{task: mop floor, how: mop, min: 3, drying_min: 20, source: assumption}]}]\n\
         rooms: [{id: W, kind: restroom, area_m2: 10}]\n\
         carts: [{id: cart, waste_l: 60, bucket_m2: 40, bucket_rooms: 3}]\n\
         crew: [{name: Ana, shift: \"18:00-22:00\", start: entrance, cart: cart, breaks: [{name: rest, min: 5, window: \"18:18-18:40\", paid: true}]}]\n\
         policy: {fill_min: 3, dump_min: 2, speeds: {cart_m_s: 1}}\n",
    );
    let made = planned(&site, ITERATIONS, 1);
    assert_all_done(&made, "a restroom and a break");
    assert_eq!(loads(&made)[0], Seconds(635));
}
