//! Walks as legs and in words.

use super::buildings::{
    calendar, hall, named, on_foot, place, slow_door, spot, two_floors, way, with_cart,
};
use evenrun::report::{Language, Words};
use evenrun::site::{HallId, Side, Site, WayKind};
use evenrun::units::{Metres, Seconds};
use evenrun::walk::{Leg, Walker, path};

fn words(site: &Site, walker: &Walker, from: &str, to: &str) -> Option<String> {
    in_language(Language::English, site, walker, from, to)
}

fn in_language(
    language: Language,
    site: &Site,
    walker: &Walker,
    from: &str,
    to: &str,
) -> Option<String> {
    let path = path(
        site,
        walker,
        &calendar(),
        named(site, from),
        named(site, to),
    )?;
    Some(Words::new(language, site).walk(site, &path))
}

fn said(site: &Site, from: &str, to: &str) -> String {
    words(site, &on_foot(), from, to).unwrap_or_default()
}

#[test]
fn out_of_a_room_on_the_left_the_halls_end_is_to_the_left() {
    let site = two_floors();
    assert_eq!(said(&site, "G1", "G2"), "left along G-East 12 m to G2");
    assert_eq!(said(&site, "G3", "G2"), "right along G-East 12 m to G2");
    assert_eq!(said(&site, "G2", "G1"), "left along G-East 12 m to G1");
    assert_eq!(said(&site, "R1", "R2"), "left along 1-East 16 m to R2");
}

#[test]
fn stairs_and_lifts_are_named_with_the_floor_they_lead_to() {
    let site = two_floors();
    let by_stairs = "right along G-East 10 m, north stairs to 1, along 1-East 10 m to R1";
    assert_eq!(said(&site, "G1", "R1"), by_stairs);
    // The lift is on the left, so out of it the start of the hall is to the right.
    let by_lift = "right along G-East 8 m, lift to 1, right along 1-East 4 m to R2";
    assert_eq!(said(&site, "G2", "R2"), by_lift);
}

#[test]
fn the_same_walk_is_said_in_spanish_and_in_feet() {
    let mut site = two_floors();
    let said = |site: &Site| in_language(Language::Spanish, site, &on_foot(), "G1", "R1").unwrap();
    let metric = "a la derecha por G-East 10 m, north stairs hasta 1, por 1-East 10 m hasta R1";
    assert_eq!(said(&site), metric);
    site.us_units = true;
    assert_eq!(said(&site), metric.replace("10 m", "33 ft"));
}

#[test]
fn no_walk_at_all_and_a_walk_of_no_length_have_words_too() {
    let mut site = two_floors();
    assert_eq!(said(&site, "G1", "G1"), "stay");
    assert_eq!(said(&site, "G1", "G3"), "across the hall to G3");
    site.places[4].spot.side = Side::Left;
    assert_eq!(said(&site, "G1", "G3"), "to G3");
}

#[test]
fn what_cannot_be_reached_has_no_walk() {
    let mut site = two_floors();
    site.ways.clear();
    assert_eq!(words(&site, &on_foot(), "G1", "R1"), None);
}

#[test]
fn links_say_their_length_and_vanish_where_halls_simply_meet() {
    let mut site = two_floors();
    site.halls.push(hall("G-West", 0, 20.0));
    site.places.push(place("W1", spot(2, 5.4, Side::Ahead)));
    let bridge = |length| {
        let ends = vec![spot(0, 30.0, Side::Ahead), spot(2, 0.0, Side::Ahead)];
        way(
            "bridge",
            WayKind::Link {
                length: Metres(length),
            },
            ends,
        )
    };
    site.ways.push(bridge(14.0));
    let far = "left along G-East 20 m, bridge 14 m to G-West, along G-West 5 m to W1";
    assert_eq!(said(&site, "G1", "W1"), far);
    site.ways[2] = bridge(0.0);
    assert_eq!(
        said(&site, "G1", "W1"),
        "left along G-East 20 m, along G-West 5 m to W1"
    );
}

#[test]
fn a_path_joins_the_stretches_of_a_hall_and_counts_level_metres_only() {
    let mut site = two_floors();
    site.halls[0].doors.push((Metres(25.0), slow_door(4)));
    let [from, to] = ["G1", "R2"].map(|id| named(&site, id));
    let path = path(&site, &with_cart(), &calendar(), from, to).unwrap();
    let hall = |index: usize, from, to| Leg::Hall {
        hall: HallId::from(index),
        from: Metres(from),
        to: Metres(to),
    };
    let ride = Leg::Way {
        way: 1,
        from: 0,
        to: 1,
    };
    assert_eq!(path.legs, [hall(0, 10.0, 30.0), ride, hall(1, 30.0, 26.0)]);
    assert_eq!(path.distance, Metres(24.0));
    // 24 m at 0.8 m/s, the lift's 31 s, the door's 4 s.
    assert_eq!(path.time, Seconds(30 + 31 + 4));
}
