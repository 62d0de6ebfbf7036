//! `import building`: IndoorGML and IFC, with exact counts, every guess told, and a site that plans at once.

use super::support::Folder;
use std::fs;
use std::path::Path;

fn with(name: &str) -> Folder {
    let folder = Folder::new();
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fixtures/import/building")
        .join(name);
    folder.put(name, fs::read(path).unwrap());
    folder
}

pub(super) fn codes(err: &str) -> Vec<String> {
    let mut codes: Vec<String> = err
        .split(": ")
        .filter(|p| p.len() == 4 && p.starts_with('I'))
        .map(str::to_string)
        .collect();
    codes.sort();
    codes
}

/// An extract without geometry of the house that the crate `ifc_rs` 0.1.0-alpha.9 carries (resources/AC20-FZK-Haus.ifc; MIT licence): 7 spaces,
/// 5 doors, 1 stair, 2 storeys. Three doors join two rooms, two lead out; three open boundaries join rooms too.
#[test]
fn a_small_house_in_ifc_is_counted_exactly_and_plans_at_once() {
    let folder = with("house.ifc");
    let ran = folder.well(&["import", "building", "house.ifc", "--into", "site"]);
    insta::assert_snapshot!(ran.out, @r"
    storeys     2: Erdgeschoss, Dachgeschoss
    spaces      7, of which 0 joined to nothing
    joins       6 on one storey
    ways out    2
    stairs      1
    lifts       0
    becomes     7 rooms on 2 halls
    ");
    assert_eq!(codes(&ran.err), ["I912", "I916", "I918"]);
    // Net floor areas and widths of doors as the file has them.
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2,door_width_m\n4,Schlafzimmer,office,21.41,0.89\n3,Bad,office,12.13,0.89\n2,Buero,office,12.6,0.89\n5,Wohnen,office,25.21,\n\
         1,Flur,office,11.19,0.89\n6,K\u{fc}che,office,16.31,\n7,Galerie,office,74.51,\n"
    );
    let site = folder.text("site/site.yaml");
    assert!(
        site.contains("  - {id: Erdgeschoss, height_m: 2.7}\n  - {id: Dachgeschoss}\n"),
        "{site}"
    );
    folder.plans_at_once("site");
    let again = folder.run(&["import", "building", "house.ifc", "--into", "site"]);
    assert!(
        again.code == Some(2) && again.err.contains("I506"),
        "{}",
        again.err
    );
}

/// Two storeys of our own: 13 states, of which one is joined to nothing; 13 transitions, of which one leads nowhere and six have the weight zero.
#[test]
fn a_small_school_in_indoor_gml_is_counted_exactly_and_plans_at_once() {
    let folder = with("school.gml");
    let ran = folder.well(&["import", "building", "school.gml", "--into", "site"]);
    insta::assert_snapshot!(ran.out, @r"
    storeys     2: 0, 1
    spaces      13, of which 1 joined to nothing
    joins       10 on one storey
    ways out    0
    stairs      1
    lifts       1
    becomes     10 rooms on 2 halls
    ");
    assert_eq!(codes(&ran.err), ["I904", "I913", "I914", "I915", "I917"]);
    let rooms = folder.text("site/rooms.csv");
    // The floor of the classroom's cell is 8 m by 6 m; its ceiling, which is larger, is not taken.
    for row in [
        "R1,Classroom 1,classroom,48\n",
        "U2,Library,library,15\n",
        "S0,Stairs ground,stairs,10\n",
    ] {
        assert!(rooms.contains(row), "{rooms}");
    }
    let site = folder.text("site/site.yaml");
    // From the lift by the hallways to the stairs: 3 + 8 + 8 + 3 m.
    assert!(
        site.contains("line_m: [[20, 11], [20, 8], [12, 8], [4, 8], [1, 8]]"),
        "{site}"
    );
    assert!(
        site.contains("{id: Lift 1, landings: [\"Hall 0-1@0.00\", \"Hall 1-1@0.00\"]}"),
        "{site}"
    );
    assert!(
        site.contains("landings: [\"Hall 0-1@22.00\", \"Hall 1-1@19.44\"]"),
        "{site}"
    );
    folder.plans_at_once("site");
}

/// A network without names in a unit of its own: three storeys 20 apart, 80 nodes, 85 links, one node isolated, all weights zero.
fn network() -> String {
    let (mut nodes, mut links) = (Vec::new(), Vec::new());
    let mut corridors: Vec<Vec<usize>> = Vec::new();
    for storey in 0..3 {
        let z = 20 * storey;
        let corridor: Vec<usize> = (0..8)
            .map(|i| {
                nodes.push((20 * i, 0, z));
                nodes.len() - 1
            })
            .collect();
        links.extend(corridor.windows(2).map(|pair| (pair[0], pair[1])));
        for room in 0..if storey < 2 { 18 } else { 19 } {
            nodes.push((20 * (room % 8) + 3, if room % 2 == 0 { -10 } else { 10 }, z));
            links.push((nodes.len() - 1, corridor[room as usize % 8]));
        }
        corridors.push(corridor);
    }
    for storey in 0..2 {
        links.push((corridors[storey][0], corridors[storey + 1][0]));
        links.push((corridors[storey][7], corridors[storey + 1][7]));
    }
    nodes.push((500, 500, 0));
    // Rings: short cuts along the corridors.
    links.extend((0..5).map(|k| (corridors[k % 3][k], corridors[k % 3][k + 2])));
    assert_eq!((nodes.len(), links.len()), (80, 85));
    let state = |(i, (x, y, z)): (usize, &(i32, i32, i32))| {
        format!(
            "<State gml:id=\"R{i}\"><geometry><gml:Point><gml:pos>{x} {y} {z}</gml:pos></gml:Point></geometry></State>\n"
        )
    };
    let transition = |(i, (a, b)): (usize, &(usize, usize))| {
        format!(
            "<Transition gml:id=\"T{i}\"><weight>0.0</weight><connects xlink:href=\"#R{a}\"/><connects xlink:href=\"#R{b}\"/></Transition>\n"
        )
    };
    let states: String = nodes.iter().enumerate().map(state).collect();
    let transitions: String = links.iter().enumerate().map(transition).collect();
    format!(
        "<IndoorFeatures xmlns=\"http://www.opengis.net/indoorgml/1.0/core\" xmlns:gml=\"http://www.opengis.net/gml/3.2\" \
         xmlns:xlink=\"http://www.w3.org/1999/xlink\">{states}{transitions}</IndoorFeatures>"
    )
}

#[test]
fn a_network_in_an_unknown_unit_asks_for_a_scale_and_then_plans_at_once() {
    let folder = Folder::new();
    folder.put("campus.gml", network());
    let refused = folder.run(&["import", "building", "campus.gml", "--into", "site"]);
    assert_eq!(refused.code, Some(2));
    assert!(
        refused.err.contains("storeys are 20.0 apart") && refused.err.contains("--scale 0.175"),
        "{}",
        refused.err
    );
    assert!(!folder.path("site").exists());
    let ran = folder.well(&[
        "import",
        "building",
        "campus.gml",
        "--into",
        "site",
        "--scale",
        "0.2",
    ]);
    for line in [
        "storeys     3: 0, 1, 2",
        "spaces      80, of which 1 joined to nothing",
        "joins       81 on one storey",
        "stairs      2",
        "lifts       0",
    ] {
        assert!(ran.out.contains(line), "{line}: {}", ran.out);
    }
    assert!(
        ran.err
            .contains("85 of 85 transitions have the weight zero"),
        "{}",
        ran.err
    );
    assert!(
        folder
            .text("site/site.yaml")
            .contains("{id: \"0\", height_m: 4}")
    );
    // Of 79 that are joined, six are landings of stairs; and the headers.
    assert_eq!(folder.text("site/rooms.csv").lines().count(), 74);
    folder.plans_at_once("site");
}

/// What is not told is guessed, and each guess is told: a space on no storey, parts that nothing joins, storeys without any way up.
#[test]
fn gaps_of_a_building_are_told_and_bridged() {
    let folder = Folder::new();
    let state = |id: &str, name: &str, pos: &str| {
        format!(
            "<State gml:id=\"{id}\"><gml:name>{name}</gml:name><geometry><gml:Point><gml:pos>{pos}</gml:pos></gml:Point></geometry></State>"
        )
    };
    let join = |a: &str, b: &str| {
        format!(
            "<Transition><connects xlink:href=\"#{a}\"/><connects xlink:href=\"#{b}\"/></Transition>"
        )
    };
    let parts = [
        state("A", "Hallway", "0 0 0"),
        state("B", "Office", "5 0 0"),
        state("C", "Corridor", "30 0 0"),
        state("D", "Office", "35 0 0"),
        state("E", "Hallway", "0 0 3"),
        state("F", "Office", "5 0 3"),
        state("G", "Office", "").replace("<gml:pos></gml:pos>", ""),
        join("A", "B"),
        join("C", "D"),
        join("E", "F"),
    ];
    folder.put(
        "x.gml",
        format!(
            "<x xmlns:gml=\"g\" xmlns:xlink=\"x\">{}</x>",
            parts.concat()
        ),
    );
    let ran = folder.well(&["import", "building", "x.gml", "--into", "site"]);
    assert_eq!(
        codes(&ran.err),
        ["I904", "I911", "I916", "I918", "I919"],
        "{}",
        ran.err
    );
    folder.plans_at_once("site");
    let ifc = "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n#1= IFCBUILDINGSTOREY('g',$,'G',$,$,$,$,$,.ELEMENT.,0.);\n#2= IFCSPACE('g',$,'1',$,$,$,$,'Office',$,$,$);\n#3= IFCSPACE('g',$,'2',$,$,$,$,'Lost',$,$,$);\n\
               #4= IFCBUILDINGSTOREY('g',$,'U',$,$,$,$,$,.ELEMENT.,3000.);\n#5= IFCRELAGGREGATES('g',$,$,$,#1,(#2));\n#6= IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#7= IFCUNITASSIGNMENT((#6));\nENDSEC;\n";
    folder.put("x.ifc", ifc);
    let ran = folder.well(&["import", "building", "x.ifc", "--into", "two"]);
    assert!(
        ran.err.contains("I911: space `2` is on no storey"),
        "{}",
        ran.err
    );
    assert!(
        folder
            .text("two/site.yaml")
            .contains("{id: G, height_m: 3}")
    );
}

#[test]
fn a_scale_is_a_number_of_metres_above_nothing() {
    let folder = Folder::new();
    for (scale, said) in [
        ("0", "must be above 0, up to 1000"),
        ("1001", "must be above 0, up to 1000"),
        ("NaN", "must be above 0, up to 1000"),
        ("wide", "not a number"),
    ] {
        let ran = folder.run(&[
            "import", "building", "x.gml", "--into", "site", "--scale", scale,
        ]);
        assert_eq!(ran.code, Some(2), "{scale}");
        assert!(ran.err.contains(said), "{scale}: {}", ran.err);
    }
}
