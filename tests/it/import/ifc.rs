//! IFC files (ISO 16739-1) in the forms that others write: units of their own, areas told twice, lifts, names with escapes.

use super::building::codes;
use super::support::Folder;

fn file(data: &str) -> String {
    format!("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n{data}ENDSEC;\nEND-ISO-10303-21;\n")
}

/// Two storeys with an office on each. The doors, storeys and areas are given in the units of the file.
fn house(units: &str, door: &str, height: &str, area: &str) -> String {
    file(&format!(
        "#1= IFCBUILDINGSTOREY('s',$,'G',$,$,$,$,$,.ELEMENT.,0.);\n#2= IFCBUILDINGSTOREY('t',$,'1',$,$,$,$,$,.ELEMENT.,{height});\n\
         #3= IFCSPACE('u',$,'G01',$,$,$,$,'Office',$,$,$);\n#4= IFCSPACE('v',$,'G02',$,$,$,$,'Office',$,$,$);\n\
         #5= IFCSPACE('w',$,'101',$,$,$,$,'Office',$,$,$);\n#6= IFCRELAGGREGATES('a',$,$,$,#1,(#3,#4));\n#7= IFCRELAGGREGATES('b',$,$,$,#2,(#5));\n\
         #8= IFCDOOR('d',$,'D1',$,$,$,$,$,{height},{door});\n#9= IFCRELSPACEBOUNDARY('c',$,$,$,#3,#8,$,.PHYSICAL.,.INTERNAL.);\n\
         #10= IFCRELSPACEBOUNDARY('e',$,$,$,#4,#8,$,.PHYSICAL.,.INTERNAL.);\n#11= IFCQUANTITYAREA('NetFloorArea',$,$,{area});\n\
         #12= IFCELEMENTQUANTITY('q',$,'BaseQuantities',$,$,(#11));\n#13= IFCRELDEFINESBYPROPERTIES('r',$,$,$,(#3),#12);\n{units}"
    ))
}

const METRE: &str = "#20= IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);\n";
const SQUARE_METRE: &str = "#21= IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);\n";

/// Units by their factors or, where a file leaves these out, by their names as IFC lists them (`IfcConversionBasedUnit`; the list is from memory).
/// A foot is 0.3048 m and a yard three feet (international yard and pound agreement of 1959); a prefix of a square metre counts twice.
#[test]
fn feet_inches_yards_and_square_feet_are_read_in_metres() {
    let foot = "#22= IFCMEASUREWITHUNIT(IFCRATIOMEASURE(0.3048),#20);\n#30= IFCCONVERSIONBASEDUNIT(#40,.LENGTHUNIT.,'FOOT',#22);\n";
    let square_foot = "#23= IFCMEASUREWITHUNIT(IFCAREAMEASURE(0.09290304),#21);\n#31= IFCCONVERSIONBASEDUNIT(#41,.AREAUNIT.,'SQUARE FOOT',#23);\n";
    let both = "#40= IFCUNITASSIGNMENT((#30,#31));\n";
    let yard = "#24= IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\n#22= IFCMEASUREWITHUNIT(IFCLENGTHMEASURE(914.4),#24);\n#30= IFCCONVERSIONBASEDUNIT(#40,.LENGTHUNIT.,'yard',#22);\n";
    let cases = [
        ([METRE, SQUARE_METRE, foot, square_foot, both].concat(), ["3.", "12.", "200."]),
        (
            // By their names alone.
            "#30= IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'inch',$);\n#31= IFCCONVERSIONBASEDUNIT($,.AREAUNIT.,'square foot',$);\n".to_string() + both,
            ["36.", "144.", "200."],
        ),
        (
            "#30= IFCCONVERSIONBASEDUNIT($,.LENGTHUNIT.,'feet',$);\n#31= IFCCONVERSIONBASEDUNIT($,.AREAUNIT.,'square inch',$);\n".to_string() + both,
            ["3.", "12.", "28800."],
        ),
        ([METRE, SQUARE_METRE, yard, square_foot, both].concat(), ["1.", "4.", "200."]),
        (
            "#30= IFCSIUNIT(*,.LENGTHUNIT.,.CENTI.,.METRE.);\n#31= IFCSIUNIT(*,.AREAUNIT.,.MILLI.,.SQUARE_METRE.);\n".to_string() + both,
            ["91.44", "365.76", "18580608."],
        ),
        (
            // Square feet that are described but not used.
            "#30= IFCSIUNIT(*,.LENGTHUNIT.,.DECI.,.METRE.);\n#31= IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.);\n#32= IFCCONVERSIONBASEDUNIT($,.AREAUNIT.,'square foot',$);\n"
                .to_string()
                + both,
            ["9.144", "36.576", "18.580608"],
        ),
    ];
    for (units, [door, height, area]) in cases {
        let folder = Folder::new();
        folder.put("x.ifc", house(&units, door, height, area));
        folder.well(&["import", "building", "x.ifc", "--into", "site"]);
        let (rooms, site) = (folder.text("site/rooms.csv"), folder.text("site/site.yaml"));
        assert!(
            rooms.contains("G01,Office,office,18.58,0.91\n"),
            "{units}{rooms}"
        );
        assert!(site.contains("{id: G, height_m: 3.66}"), "{units}{site}");
    }
}

#[test]
fn the_net_area_of_a_space_counts_in_whatever_order_they_stand() {
    let set = |n: u32, name: &str, area: &str| {
        format!(
            "#{n}= IFCQUANTITYAREA('{name}',$,$,{area});\n#{}= IFCELEMENTQUANTITY('q',$,'x',$,$,(#{n}));\n#{}= IFCRELDEFINESBYPROPERTIES('r',$,$,$,(#2),#{});\n",
            n + 1,
            n + 2,
            n + 1
        )
    };
    let (net, gross, other) = (
        |n| set(n, "NetFloorArea", "18."),
        |n| set(n, "GrossFloorArea", "21."),
        |n| set(n, "FloorArea by hand", "30."),
    );
    let wall = set(80, "NetWallArea", "99.");
    for (sets, wanted) in [
        ([other(10), gross(20), net(30)].concat(), "18"),
        ([net(10), gross(20), other(30)].concat(), "18"),
        ([other(10), gross(20), wall.clone()].concat(), "21"),
        ([wall, other(90)].concat(), "30"),
    ] {
        let folder = Folder::new();
        let text = format!(
            "#1= IFCBUILDINGSTOREY('s',$,'G',$,$,$,$,$,.ELEMENT.,0.);\n#2= IFCSPACE('u',$,'G01',$,$,$,$,'Office',$,$,$);\n{sets}"
        );
        folder.put("x.ifc", file(&text));
        folder.well(&["import", "building", "x.ifc", "--into", "site"]);
        assert_eq!(
            folder.text("site/rooms.csv"),
            format!("id,name,kind,area_m2\nG01,Office,office,{wanted}\n")
        );
    }
}

/// Strings as in ISO 10303-21; a space without a number, and one that is a closet.
#[test]
fn lifts_stop_everywhere_escalators_lead_up_one_storey_and_names_are_read() {
    let storey = |n: u32, name: &str, height: u32| {
        format!("#{n}= IFCBUILDINGSTOREY('s',$,'{name}',$,$,$,$,$,.ELEMENT.,{height}.);\n")
    };
    let space = |n: u32, id: &str, name: &str| {
        format!("#{n}= IFCSPACE('u',$,{id},$,$,$,$,'{name}',$,$,$);\n")
    };
    let text = [
        storey(1, "G", 0),
        storey(2, "1", 4),
        storey(3, "2", 8),
        space(11, "'G01'", r"Caf\X\E9 office"),
        space(12, "$", "Women''s restroom"),
        space(13, "'K1'", "Custodial closet"),
        space(14, "'101'", r"\X4\0001F9F9\X0\ store"),
        space(15, "'201'", "Office"),
        "#20= IFCRELAGGREGATES('a',$,$,$,#1,(#11,#12,#13));\n#21= IFCRELAGGREGATES('a',$,$,$,#2,(#14));\n#22= IFCRELAGGREGATES('a',$,$,$,#3,(#15));\n".to_string(),
        "#30= IFCTRANSPORTELEMENT('t',$,'Lift A',$,$,$,$,$,.ELEVATOR.,$,$);\n#31= IFCTRANSPORTELEMENT('t',$,'Moving stairs',$,$,$,$,$,.ESCALATOR.,$,$);\n".to_string(),
        "#32= IFCSTAIR('t',$,'To the roof',$,$,$,$,$,.STRAIGHT_RUN_STAIR.);\n#40= IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(#30,#31),#1);\n".to_string(),
        "#41= IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(#32),#3);\n".to_string(),
    ];
    let folder = Folder::new();
    folder.put("x.ifc", file(&text.concat()));
    let ran = folder.well(&["import", "building", "x.ifc", "--into", "site"]);
    // The stairs of the uppermost storey lead nowhere.
    assert!(
        ran.out
            .contains("stairs      1\nlifts       1\nbecomes     4 rooms on 3 halls\n"),
        "{}",
        ran.out
    );
    // With a lift, carts get everywhere from the one closet.
    assert!(
        !codes(&ran.err).contains(&"I918".to_string()),
        "{}",
        ran.err
    );
    let site = folder.text("site/site.yaml");
    for wanted in [
        "{id: Lift A, landings: [\"Hall G@start\", \"Hall 1@start\", \"Hall 2@start\"]}",
        "{id: Moving stairs, landings: [\"Hall G@start\", \"Hall 1@start\"]}",
        "{id: K1, name: Custodial closet,",
    ] {
        assert!(site.contains(wanted), "{wanted}: {site}");
    }
    assert_eq!(site.matches("name: Custodial closet").count(), 1, "{site}");
    let rooms = folder.text("site/rooms.csv");
    for wanted in [
        "G01,Caf\u{e9} office,office,",
        "space 2,Women's restroom,restroom,",
        "101,\u{1f9f9} store,",
    ] {
        assert!(rooms.contains(wanted), "{wanted}: {rooms}");
    }
    folder.plans_at_once("site");
}

/// A part of nothing in particular is on the only storey there is; it is no reason to refuse the rest.
#[test]
fn a_relation_to_nothing_tells_nothing() {
    let folder = Folder::new();
    let text = "#1= IFCBUILDINGSTOREY('s',$,'G',$,$,$,$,$,.ELEMENT.,0.);\n#2= IFCSPACE('u',$,'G01',$,$,$,$,'Office',$,$,$);\n\
                #3= IFCRELAGGREGATES('a',$,$,$,$,(#2));\n#4= IFCRELCONTAINEDINSPATIALSTRUCTURE('c',$,$,$,(#2),$);\n\
                #5= IFCRELSPACEBOUNDARY('b',$,$,$,$,#2,$,.PHYSICAL.,.INTERNAL.);\n#6= IFCRELDEFINESBYPROPERTIES('r',$,$,$,(#2),$);\n";
    folder.put("x.ifc", file(text));
    folder.well(&["import", "building", "x.ifc", "--into", "site"]);
    assert!(
        folder
            .text("site/rooms.csv")
            .contains("G01,Office,office,15\n")
    );
}
