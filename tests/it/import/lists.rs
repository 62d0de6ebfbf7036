//! Lists of rooms in their rarer forms: several buildings, units and marks told in several ways, formulas, rows that are no rooms.

use super::support::Folder;
use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Workbook, Worksheet};

fn import<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&["import", "rooms", "list.csv", "--into", "site"], more].concat()
}

#[test]
fn buildings_have_halls_and_ways_up_of_their_own_and_a_way_between() {
    let folder = Folder::new();
    folder.put(
        "list.csv",
        "Block,Room,Type,Area (m2),Floor\nMain,M1,Office,20,G\nMain,M2,Office,20,G\nMain,M3,Office,20,1\n\
         Annexe,X1,Office,20,G\nAnnexe,X2,Office,20,1\nTower,T1,Office,20,G\n",
    );
    let ran = folder.well(&import(&[]));
    assert!(
        ran.out.contains(
            "halls guessed: Hall Annexe G, Hall Main G, Hall Tower G, Hall Annexe 1, Hall Main 1\n"
        ),
        "{}",
        ran.out
    );
    let site = folder.text("site/site.yaml");
    for wanted in [
        // People come in where the most rooms of the ground floor are.
        "{id: Hall Main G, floor: G, spacing_m: 2, places: [entrance, closet, M1, M2]}",
        "{id: Stairs Annexe, landings: [\"Hall Annexe G@start\", \"Hall Annexe 1@start\"]}",
        "{id: Stairs Main, landings: [\"Hall Main G@start\", \"Hall Main 1@start\"]}",
        "{id: Way to Annexe, landings: [\"Hall Main G@start\", \"Hall Annexe G@start\"], length_m: 40}",
        "{id: Way to Tower, landings: [\"Hall Main G@start\", \"Hall Tower G@start\"], length_m: 40}",
    ] {
        assert!(site.contains(wanted), "{wanted}: {site}");
    }
    // The tower has one floor, and so no ways up.
    assert!(
        !site.contains("Stairs Tower") && !site.contains("Lift Tower"),
        "{site}"
    );
    folder.plans_at_once("site");
}

#[test]
fn what_a_list_leaves_out_or_leaves_open_is_named_up_to_a_few_and_counted() {
    let folder = Folder::new();
    let subtotals = ",Subtotal,9\n".repeat(7);
    let ids = ["A", "B", "C", "D", "E", "F", "G", "H", "I"];
    let restrooms = ids.map(|id| format!("{id}{id},Restroom,9\n")).concat();
    let closets = "K1,Custodial closet,4\nK2,Custodial closet,4\n";
    let list = ["Room,Type,Area (m2)\n", &subtotals, &restrooms, closets].concat();
    folder.put("list.csv", list);
    let ran = folder.well(&import(&[]));
    assert!(
        ran.out.contains("9 rooms, 2 custodial closets\n"),
        "{}",
        ran.out
    );
    for wanted in [
        "list.csv:2:2: I903: left out, as they have no room number: row 2, 3, 4, 5, 6 and 2 more",
        "I917: restroom `AA` and 8 more have neither bowls nor basins: cleaning them takes no time",
        "I905: nothing tells the floor of `AA`, `BB`, `CC`, `DD`, `EE`, `FF`, `GG`, `HH` and 1 more: the lowest is taken",
    ] {
        assert!(ran.err.contains(wanted), "{wanted}: {}", ran.err);
    }
}

#[test]
fn units_and_marks_are_taken_as_said_or_as_the_numbers_show_them() {
    let folder = Folder::new();
    folder.put("list.csv", "Room,Type,Area\n101,Office,190\n");
    folder.well(&import(&["--units", "us"]));
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_sqft\n101,,office,190\n"
    );
    let folder = Folder::new();
    // 18,5 can only have decimals behind its comma: 1.200 is more than a thousand then.
    folder.put(
        "list.csv",
        "Room,Type,Area (m2)\n101,Office,\"18,5\"\n102,Office,1.200\n",
    );
    folder.well(&import(&[]));
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2\n101,,office,18.5\n102,,office,1200\n"
    );
}

#[test]
fn a_column_that_is_to_be_ignored_is_not_read() {
    let folder = Folder::new();
    folder.put(
        "list.csv",
        "Room,Type,Area (m2),Bins\n101,Office,18,a few\n",
    );
    let refused = folder.run(&import(&[]));
    assert!(
        refused.code == Some(2) && refused.err.contains("`bins` should be a number"),
        "{}",
        refused.err
    );
    folder.put(
        "map.yaml",
        "columns: {Room: id, Type: kind, Area (m2): area_m2, Bins: ignore}\n",
    );
    let ran = folder.well(&import(&["--map", "map.yaml"]));
    assert!(ran.out.contains("D  Bins       -"), "{}", ran.out);
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2\n101,,office,18\n"
    );
}

#[test]
fn a_table_of_rooms_that_no_site_names_is_not_written_over() {
    let folder = Folder::new();
    folder.put("list.csv", "Room,Type,Area (m2)\n101,Office,18\n");
    folder.put("site/rooms.csv", "mine");
    let ran = folder.run(&import(&[]));
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    assert!(
        ran.err.contains("I308")
            && ran
                .err
                .contains("rooms.csv` is there, but no site that uses it"),
        "{}",
        ran.err
    );
    assert_eq!(folder.text("site/rooms.csv"), "mine");
    assert!(!folder.path("site/site.yaml").exists());
}

#[test]
fn a_list_goes_into_the_folder_one_is_in() {
    let folder = Folder::new();
    folder.put("list.csv", "Room,Type,Area (m2)\n101,Office,18\n");
    folder.well(&["import", "rooms", "list.csv", "--into", "."]);
    assert!(folder.text("site.yaml").contains("\nsite: My site\n"));
    assert!(folder.text("rooms.csv").contains("101,,office,18\n"));
}

#[test]
fn a_folder_is_no_list() {
    let folder = Folder::new();
    folder.put("list.csv/inside", "");
    let ran = folder.run(&import(&[]));
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("E101: `list.csv` is not a file"),
        "{}",
        ran.err
    );
    let ran = folder.run(&[
        "import",
        "rooms",
        "list.csv/inside/rooms.csv",
        "--into",
        "site",
    ]);
    assert!(
        ran.code == Some(2)
            && ran
                .err
                .contains("E101: cannot read `list.csv/inside/rooms.csv`: not a directory"),
        "{}",
        ran.err
    );
}

/// A workbook with these headers and one row that is filled in.
fn book(row: impl FnOnce(&mut Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, header) in ["Room", "Type", "Area (m2)"].into_iter().enumerate() {
        sheet.write(0, column as u16, header).unwrap();
    }
    sheet.write(1, 0, "101").unwrap();
    row(sheet);
    book.save_to_buffer().unwrap()
}

#[test]
fn formulas_count_by_their_results() {
    let folder = Folder::new();
    let list = book(|sheet| {
        let kind = Formula::new("=\"Off\"&\"ice\"").set_result("Office");
        sheet.write(1, 1, kind).unwrap();
        let area = Formula::new("=6*3").set_result("18");
        sheet.write(1, 2, area).unwrap();
    });
    folder.put("list.xlsx", list);
    folder.well(&["import", "rooms", "list.xlsx", "--into", "site"]);
    assert_eq!(
        folder.text("site/rooms.csv"),
        "id,name,kind,area_m2\n101,,office,18\n"
    );
}

#[test]
fn cells_that_are_no_area_are_named_by_their_place_in_the_sheet() {
    let day = ExcelDateTime::from_ymd(2026, 1, 2).unwrap();
    let format = Format::new().set_num_format("d-m");
    let cases: [(&str, &str, Vec<u8>); 3] = [
        (
            "I305",
            "`area` should be a number from 0 on",
            book(|s| {
                s.write(1, 1, "Office").unwrap().write(1, 2, -4.5).unwrap();
            }),
        ),
        (
            "I306",
            "holds a date or a time",
            book(|s| {
                s.write(1, 1, "Office").unwrap();
                s.write_with_format(1, 2, &day, &format).unwrap();
            }),
        ),
        (
            "I306",
            "holds an error value",
            book(|s| {
                s.write(1, 1, "Office").unwrap();
                let formula = Formula::new("=1/0").set_result("#DIV/0!");
                s.write(1, 2, formula).unwrap();
            }),
        ),
    ];
    for (code, words, list) in cases {
        let folder = Folder::new();
        folder.put("list.xlsx", list);
        let ran = folder.run(&["import", "rooms", "list.xlsx", "--into", "site"]);
        assert_eq!(ran.code, Some(2));
        let told = |l: &str| l.contains(code) && l.contains(words) && l.contains("C2");
        assert!(ran.err.lines().any(told), "{code} {words}: {}", ran.err);
        assert!(!folder.path("site").exists());
    }
}
