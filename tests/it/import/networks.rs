//! Networks of OGC IndoorGML in rarer forms: without corridors, through rooms, with faces that are not told, with nothing joined.

use super::building::codes;
use super::support::Folder;

fn state(id: &str, name: &str, pos: &str, cell: &str) -> String {
    let dual = if cell.is_empty() {
        String::new()
    } else {
        format!("<duality xlink:href=\"#{cell}\"/>")
    };
    format!(
        "<State gml:id=\"{id}\"><gml:name>{name}</gml:name>{dual}<geometry><gml:Point><gml:pos>{pos}</gml:pos></gml:Point></geometry></State>\n"
    )
}

fn join(a: &str, b: &str) -> String {
    format!(
        "<Transition><weight>1</weight><connects xlink:href=\"#{a}\"/><connects xlink:href=\"#{b}\"/></Transition>\n"
    )
}

fn network(parts: &[String]) -> Folder {
    let folder = Folder::new();
    folder.put(
        "x.gml",
        format!(
            "<IndoorFeatures xmlns=\"http://www.opengis.net/indoorgml/1.0/core\" xmlns:gml=\"http://www.opengis.net/gml/3.2\" \
             xmlns:xlink=\"http://www.w3.org/1999/xlink\">\n{}</IndoorFeatures>\n",
            parts.concat()
        ),
    );
    folder
}

const IMPORT: [&str; 5] = ["import", "building", "x.gml", "--into", "site"];

/// Where the room is along its hall, as the site has it.
fn metres(site: &str, place: &str) -> String {
    let key = format!("{{place: {place}, m: ");
    let rest = site
        .split_once(&key)
        .unwrap_or_else(|| panic!("{key}: {site}"))
        .1;
    rest[..rest.find('}').unwrap()].to_string()
}

/// From one corridor to the other there is no way but through the office: the hall leads through it. The lab is joined to both corridors
/// and lies along the hall at the nearer one.
#[test]
fn a_hall_leads_through_a_room_where_there_is_no_other_way() {
    let folder = network(&[
        // A hair off the corner: no hall begins at minus nothing.
        state("C1", "Corridor", "-0.001 0 0", ""),
        state("X1", "Office", "5 0 0", ""),
        state("C2", "Corridor", "12 0 0", ""),
        state("X2", "Lab", "11 3 0", ""),
        join("C1", "X1"),
        join("X1", "C2"),
        join("X2", "C1"),
        join("X2", "C2"),
    ]);
    folder.well(&IMPORT);
    let site = folder.text("site/site.yaml");
    assert!(site.contains("line_m: [[0, 0], [5, 0], [12, 0]]"), "{site}");
    assert_eq!(
        (metres(&site, "X1"), metres(&site, "X2")),
        ("5".to_string(), "12".to_string())
    );
    folder.plans_at_once("site");
}

/// Of three rooms in a row the middle one is the one that most others are joined to.
#[test]
fn without_corridors_one_walks_through_the_room_with_the_most_doors() {
    let folder = network(&[
        state("X1", "Office", "0 0 0", ""),
        state("X2", "Office", "6 0 0", ""),
        state("X3", "Office", "12 0 0", ""),
        join("X1", "X2"),
        join("X2", "X3"),
    ]);
    let ran = folder.well(&IMPORT);
    assert!(ran.out.contains("3 rooms on 1 hall\n"), "{}", ran.out);
    let site = folder.text("site/site.yaml");
    // A hall has a length, even that of one room.
    assert!(site.contains("line_m: [[6, 0], [7, 0]]"), "{site}");
    for room in ["X1", "X2", "X3"] {
        assert_eq!(metres(&site, room), "0");
    }
    folder.plans_at_once("site");
}

/// A face without positions, a wall, and a floor of 4 m by 3 m; and a cell with nothing but a face without positions.
#[test]
fn the_area_of_a_cell_is_that_of_its_lowest_level_face() {
    let face = |positions: &str| {
        format!(
            "<gml:exterior><gml:LinearRing><gml:posList>{positions}</gml:posList></gml:LinearRing></gml:exterior>"
        )
    };
    let cell = |id: &str, faces: &str| format!("<CellSpace gml:id=\"{id}\">{faces}</CellSpace>\n");
    let faces = [
        face(""),
        face("0 0 0 4 0 0 4 0 3 0 0 3"),
        face("0 0 3 9 0 3 9 9 3 0 9 3"),
        face("0 0 0 4 0 0 4 3 0 0 3 0"),
    ];
    let folder = network(&[
        cell("c1", &faces.concat()),
        cell("c2", &face("")),
        state("X1", "Office", "0 0 0", "c1"),
        state("X2", "Office", "5 0 0", "c2"),
        state("C1", "Corridor", "2 2 0", ""),
        join("X1", "C1"),
        join("X2", "C1"),
    ]);
    let ran = folder.well(&IMPORT);
    let rooms = folder.text("site/rooms.csv");
    assert!(
        rooms.contains("X1,Office,office,12\n") && rooms.contains("X2,Office,office,15\n"),
        "{rooms}"
    );
    assert!(
        ran.err.contains("2 spaces have no area: 15 m2 is taken for rooms, 10 m2 for pieces of corridor: `X2 Office`, `C1 Corridor`"),
        "{}",
        ran.err
    );
}

/// Closets are places with water, not rooms to clean; a landing called a lift is no room either, whatever its cell is for.
#[test]
fn closets_and_lifts_of_a_network_are_no_rooms() {
    let passage = |id: &str| {
        format!("<TransitionSpace gml:id=\"{id}\"><class>corridor</class></TransitionSpace>\n")
    };
    let folder = network(&[
        passage("p0"),
        passage("p1"),
        state("C0", "Corridor", "0 0 0", ""),
        state("K0", "Custodial closet", "5 0 0", ""),
        state("X0", "Office", "0 5 0", ""),
        state("L0", "Lift", "9 0 0", "p0"),
        state("L1", "Lift", "9 0 3.5", "p1"),
        state("C1", "Corridor", "0 0 3.5", ""),
        state("X1", "Office", "0 5 3.5", ""),
        join("C0", "K0"),
        join("C0", "X0"),
        join("C0", "L0"),
        join("L0", "L1"),
        join("L1", "C1"),
        join("C1", "X1"),
    ]);
    let ran = folder.well(&IMPORT);
    assert!(
        ran.out
            .contains("lifts       1\nbecomes     4 rooms on 2 halls\n"),
        "{}",
        ran.out
    );
    let site = folder.text("site/site.yaml");
    assert!(site.contains("{id: K0, name: Custodial closet,"), "{site}");
    assert!(
        site.contains("{id: Lift 1, landings: [\"Hall 0-1@9.00\", \"Hall 1-1@0.00\"]}"),
        "{site}"
    );
    let rooms = folder.text("site/rooms.csv");
    let ids: Vec<&str> = rooms
        .lines()
        .skip(1)
        .filter_map(|l| l.split(',').next())
        .collect();
    assert_eq!(ids, ["C0", "X0", "C1", "X1"]);
    folder.plans_at_once("site");
}

/// Nothing is joined to anything: no hall, so no site, and that is told.
#[test]
fn a_network_without_joins_is_refused() {
    let folder = network(&[
        state("X1", "Office", "0 0 0", ""),
        state("X2", "Office", "5 0 0", ""),
    ]);
    let ran = folder.run(&IMPORT);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{}", ran.err);
    assert_eq!(codes(&ran.err)[0], "I913", "{}", ran.err);
    assert!(!folder.path("site").exists());
}
