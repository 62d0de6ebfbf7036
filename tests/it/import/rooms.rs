//! `import rooms`: a new site, a site that is there, mapping files, units and marks.

use super::support::Folder;
use rust_xlsxwriter::Workbook;

/// A list as offices keep them: a title, units in headers, a total, a closet, a column nobody asked for.
#[expect(clippy::too_many_lines, reason = "a table")]
pub(super) fn list() -> Vec<u8> {
    let rows: [[&str; 7]; 12] = [
        ["Building 4: room list", "", "", "", "", "", ""],
        ["", "", "", "", "", "", ""],
        [
            "Room No.",
            "Description",
            "Room type",
            "Floor",
            "Area (sq ft)",
            "# of toilets",
            "Cost centre",
        ],
        [
            "101",
            "Front office",
            "Office",
            "1st floor",
            "190",
            "",
            "4711",
        ],
        ["102", "Chemistry", "Lab", "1st floor", "1,250", "", "4711"],
        [
            "103",
            "Men",
            "Men's restroom",
            "1st floor",
            "160.5",
            "3",
            "",
        ],
        ["104", "", "Custodial closet", "1st floor", "40", "", ""],
        [
            "201",
            " Seminar  room ",
            "classroom",
            "2nd floor",
            "540",
            "",
            "",
        ],
        [
            "202",
            "Women",
            "Women's restroom",
            "2nd floor",
            "160",
            "3",
            "",
        ],
        ["203", "Store", "Storage", "2nd floor", "n/a", "", ""],
        ["", "", "", "", "", "", ""],
        ["", "", "Total", "", "2,340", "", ""],
    ];
    let mut book = Workbook::new();
    book.add_worksheet()
        .set_name("Notes")
        .unwrap()
        .write(0, 0, "See the other sheet")
        .unwrap();
    let sheet = book.add_worksheet();
    sheet.set_name("Rooms").unwrap();
    for (r, row) in rows.iter().enumerate() {
        for (c, text) in row.iter().enumerate().filter(|(_, t)| !t.is_empty()) {
            match text.parse::<f64>() {
                Ok(number) => sheet.write(r as u32, c as u16, number).unwrap(),
                Err(_) => sheet.write(r as u32, c as u16, *text).unwrap(),
            };
        }
    }
    book.save_to_buffer().unwrap()
}

#[test]
fn a_spreadsheet_becomes_a_site_that_plans_at_once() {
    let folder = Folder::new();
    folder.put("list.xlsx", list());
    let ran = folder.well(&["import", "rooms", "list.xlsx", "--into", "site"]);
    insta::assert_snapshot!(ran.out, @r"
    sheet: Rooms
       header        becomes    for example
    A  Room No.      id         101 · 102 · 103
    B  Description   name       Front office · Chemistry · Men
    C  Room type     kind       Office · Lab · Men's restroom
    D  Floor         floor      1st floor · 2nd floor
    E  Area (sq ft)  area_sqft  190 · 1,250 · 160.5
    F  # of toilets  bowls      3
    G  Cost centre   -          4711

    6 rooms, 1 custodial closet
    added 6: 101, 102, 103, 201, 202, 203
    halls guessed: Hall 1, Hall 2
    ");
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_sqft,bowls\n\
         101,Front office,office,190,\n\
         102,Chemistry,lab,1250,\n\
         103,Men,restroom,160.5,3\n\
         201,Seminar room,classroom,540,\n\
         202,Women,restroom,160,3\n\
         203,Store,storage,190,\n"
    );
    // Every guess is told, each once, and nothing else.
    let told: Vec<&str> = ran.err.lines().filter(|l| l.contains(": I9")).collect();
    assert_eq!(told.len(), 5, "{}", ran.err);
    for wanted in [
        "`Men's restroom` (1 room) is taken as `restroom`",
        "row 12",
        "room `203` has no area",
    ] {
        assert!(
            told.iter().any(|line| line.contains(wanted)),
            "{wanted}: {}",
            ran.err
        );
    }
    let site = folder.text("site/site.yaml");
    assert!(site.contains("{id: Hall 1, floor: \"1\", spacing_ft: 7, places: [entrance, \"101\", \"102\", \"103\", \"104\"]} # guessed"), "{site}");
    assert!(site.contains("units: us"), "{site}");
    folder.plans_at_once("site");
}

#[test]
fn a_dry_run_shows_the_same_and_writes_nothing() {
    let folder = Folder::new();
    folder.put("list.xlsx", list());
    let dry = folder.well(&[
        "import",
        "rooms",
        "list.xlsx",
        "--into",
        "site",
        "--dry-run",
    ]);
    assert!(!folder.path("site").exists());
    assert!(
        dry.err.contains("would write site/site.yaml"),
        "{}",
        dry.err
    );
    let wet = folder.well(&["import", "rooms", "list.xlsx", "--into", "site"]);
    assert_eq!(dry.out, wet.out);
}

/// A site written by hand, with its own order, words and comments.
pub(super) const SITE: &str = "# Ours. Do not tidy this up.\nsite: Corner house\nrooms: list/rooms.csv   # kept by Kim\n\nfloors:\n  - {id: G} # ground\n  - {id: \"1\"}\n\
halls:\n  # the long one\n  - {id: G-Hall, floor: G, places: [entrance, closet, G01, G02]}\n\n# no lift yet\nstairs:\n  - {id: s, landings: [\"G-Hall@end\", \"1-Hall@start\"], steps: 20}\n\
closets: [{id: closet, fill_point: true, waste_point: true}]\nplaces: [{id: entrance}]\ncrew: [{name: Ana, shift: \"17:00-21:00\", start: entrance}]\n";
const ROOMS: &str = "id,kind,area_m2,prefer,open\r\nG02,office,24,Ana,\"mon-fri 17:00-21:00; 2026-03-12 closed\"\r\nG01,office,18,,\r\n";

pub(super) fn with_site() -> Folder {
    let folder = Folder::new();
    folder.put(
        "site/site.yaml",
        SITE.replace(", \"1-Hall@start\"", ", \"G-Hall@start\""),
    );
    folder.put("site/list/rooms.csv", ROOMS);
    folder
}

#[test]
fn a_site_that_is_there_is_merged_by_room_and_its_own_file_is_left_alone() {
    let folder = with_site();
    folder.put(
        "new.csv",
        "Room;Type;Area (m²);Bins\nG01;Office;18,0;2\nG02;Office;26,5;3\n",
    );
    let site = folder.text("site/site.yaml");
    let ran = folder.well(&["import", "rooms", "new.csv", "--into", "site"]);
    for line in [
        "changed 3:",
        "  G01 bins: nothing -> 2",
        "  G02 area_m2: 24 -> 26.5",
    ] {
        assert!(ran.out.contains(line), "{line}: {}", ran.out);
    }
    assert_eq!(folder.text("site/site.yaml"), site);
    assert_eq!(
        folder.text("site/list/rooms.csv"),
        "id,kind,area_m2,prefer,open,bins\r\nG02,office,26.5,Ana,mon-fri 17:00-21:00; 2026-03-12 closed,3\r\nG01,office,18,,,2\r\n"
    );
    let again = folder.well(&["import", "rooms", "new.csv", "--into", "site"]);
    assert!(again.out.contains("as before 2"), "{}", again.out);
    assert!(again.err.contains("nothing to write"), "{}", again.err);
}

#[test]
fn rooms_that_are_new_are_put_on_a_guessed_hall_and_comments_stay() {
    let folder = with_site();
    folder.put("new.csv", "Room,Type,Area (sq m),Floor\nG01,Office,18,G\nG03,Lab,40,Ground floor\n101,Office,20,First\n");
    let ran = folder.well(&["import", "rooms", "new.csv", "--into", "site/site.yaml"]);
    for line in [
        "added 2: G03, 101",
        "gone from the file, kept in the site 1: G02",
        "halls guessed: Hall G, Hall 1",
    ] {
        assert!(ran.out.contains(line), "{line}: {}", ran.out);
    }
    let before = SITE.replace(", \"1-Hall@start\"", ", \"G-Hall@start\"");
    let after = folder.text("site/site.yaml");
    let kept: Vec<&str> = after
        .lines()
        .filter(|l| !l.ends_with("# guessed"))
        .collect();
    let mut wanted: Vec<&str> = before.lines().collect();
    wanted.extend(["", "links:"]);
    assert_eq!(kept, wanted);
    assert!(
        after.contains("\n  - {id: Hall G, floor: G, spacing_m: 3, places: [G03]} # guessed\n"),
        "{after}"
    );
    // The first floor has no hall to link to: the program says so instead of guessing a way up.
    assert!(ran.err.contains("E801"), "{}", ran.err);
}

#[test]
fn rooms_in_the_site_s_own_file_are_written_beside_it_and_a_person_decides() {
    let folder = Folder::new();
    let site = SITE.replace(
        "rooms: list/rooms.csv",
        "rooms:\n  - {id: G01, kind: office, area_m2: 18, needs: [a key, b key]}\n#",
    );
    folder.put("site/site.yaml", &site);
    folder.put(
        "new.csv",
        "Room,Type,Area (sq m)\nG01,Office,20\nG02,Office,21\n",
    );
    let ran = folder.well(&["import", "rooms", "new.csv", "--into", "site"]);
    assert_eq!(folder.text("site/site.yaml"), site);
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2,needs\nG01,,office,20,a key; b key\nG02,,office,21,\n"
    );
    assert!(
        ran.err
            .contains("write `rooms: rooms.csv` in place of that list"),
        "{}",
        ran.err
    );
    let again = folder.run(&["import", "rooms", "new.csv", "--into", "site"]);
    assert_eq!(again.code, Some(2));
    assert!(again.err.contains("I308"), "{}", again.err);
}

#[test]
fn a_mapping_file_is_written_first_and_followed_then() {
    let folder = Folder::new();
    folder.put(
        "list.csv",
        "Key,Zone,Zumba,Size\nA1,west,Dance floor,200\nA2,west,Void,10\nA3,east,Spa,30\n",
    );
    folder.put("mine.yaml", "columns: {Key: id, Size: area_m2, Zumba: kind}\nkinds: {Void: ignore, Dance floor: gym, \"*\": office}\n");
    let refused = folder.run(&["import", "rooms", "list.csv", "--into", "site"]);
    assert_eq!(refused.code, Some(2));
    let ran = folder.well(&[
        "import",
        "rooms",
        "list.csv",
        "--into",
        "site",
        "--map",
        "mine.yaml",
    ]);
    assert!(ran.out.contains("added 2: A1, A3"), "{}", ran.out);
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2\nA1,,gym,200\nA3,,office,30\n"
    );

    folder.put("other.csv", "Room,Type,Area\n1,Spa,20\n2,Office,20\n");
    let args = [
        "import",
        "rooms",
        "other.csv",
        "--into",
        "other",
        "--map",
        "map.yaml",
        "--units",
        "metric",
    ];
    let first = folder.well(&args);
    assert!(first.err.contains("nothing was imported"), "{}", first.err);
    assert!(!folder.path("other").exists());
    let map = folder.text("map.yaml");
    assert!(
        map.contains("  Room: id\n  Type: kind\n  Area: area\n"),
        "{map}"
    );
    assert!(map.contains("  # Spa: ?"), "{map}");
    folder.put(
        "map.yaml",
        map.replace("# Spa: ? # not understood", "Spa: gym"),
    );
    folder.well(&args);
    assert!(folder.text("other/rooms.csv").contains("1,,gym,20\n"));
}

#[test]
fn units_and_decimal_marks_are_asked_for_only_where_nothing_tells() {
    let folder = Folder::new();
    let csv = |text: &str| folder.put("list.csv", text);
    let areas = |more: &[&str]| {
        let _ = std::fs::remove_dir_all(folder.path("s"));
        folder.well(&[&["import", "rooms", "list.csv", "--into", "s"], more].concat());
        folder
            .text("s/rooms.csv")
            .lines()
            .skip(1)
            .map(|l| l.rsplit(',').next().unwrap().to_string())
            .collect::<Vec<_>>()
    };
    csv(
        "\u{feff}Room,Type,Area\r\n101,Office,18.5 m²\r\n102,Office,\"1,200 sq ft\"\r\n103,Office,22.25 m2\r\n",
    );
    folder.well(&["import", "rooms", "list.csv", "--into", "s"]);
    assert_eq!(
        folder.text("s/rooms.csv"),
        "id,name,kind,area_m2,area_sqft\n101,,office,18.5,\n102,,office,,1200\n103,,office,22.25,\n"
    );
    csv("Room;Type;Area\n101;Office;18,5\n102;Office;1.200\n");
    assert_eq!(areas(&["--units", "metric"]), ["18.5", "1200"]);
    csv("Room,Type,Area (m2)\n101,Office,\"1,200\"\n");
    assert_eq!(areas(&["--decimal", "point"]), ["1200"]);
    assert_eq!(areas(&["--decimal", "comma"]), ["1.2"]);
}

/// More changes than anybody reads at once, two closets, and a header as long as a sentence.
#[test]
fn a_long_list_of_changes_is_cut_and_all_of_it_is_in_the_json() {
    let folder = Folder::new();
    let long = "Area in square metres as measured by the house";
    let list = |area: u32| {
        let rooms = (1..=45).map(|n| format!("{n},Office,{area},{n} Oak Way\n"));
        let closets = "901,Custodial closet,4,\n902,Custodial closet,4,\n";
        format!(
            "Room No.,Room type,Area (m2),{long}\n{}{closets}",
            rooms.collect::<String>()
        )
    };
    folder.put("list.csv", list(12));
    let first = folder.well(&["import", "rooms", "list.csv", "--into", "site"]);
    assert!(
        first.out.contains("45 rooms, 2 custodial closets"),
        "{}",
        first.out
    );
    assert!(
        first.out.contains("Area in square metres as measured b…") && !first.out.contains(long),
        "{}",
        first.out
    );
    folder.put("list.csv", list(14));
    let args = ["import", "rooms", "list.csv", "--into", "site", "--dry-run"];
    let ran = folder.well(&args);
    assert!(ran.out.contains("changed 45:"), "{}", ran.out);
    assert!(
        ran.out.contains("  and 5 more; --json lists all\n"),
        "{}",
        ran.out
    );
    let all = crate::cli::json(&folder.well(&[&args[..], &["--json"]].concat()).out);
    let changed = all["changed"].as_array().unwrap();
    assert_eq!(changed.len(), 45, "{all:#}");
    assert_eq!(
        (&changed[0]["before"], &changed[0]["after"]),
        (&"12".into(), &"14".into())
    );
}

#[test]
fn units_are_metric_or_us_and_nothing_else() {
    let folder = Folder::new();
    folder.put("list.csv", "Room No.,Room type,Area\n1,Office,100\n");
    let import = |units: &str| {
        let args = ["import", "rooms", "list.csv", "--into", units];
        folder.run(&[&args[..], &["--units", units]].concat())
    };
    for (units, key) in [("us", "area_sqft"), ("metric", "area_m2")] {
        assert_eq!(import(units).code, Some(0), "{units}");
        let header = folder.text(&format!("{units}/rooms.csv"));
        assert!(header.lines().next().unwrap().contains(key), "{header}");
    }
    let wrong = import("yards");
    assert_eq!(wrong.code, Some(2));
    assert!(wrong.err.contains("say metric or us"), "{}", wrong.err);
}
