//! Published staffing formulas, for orientation beside our own answer. They disagree, and say nothing of this building's walks, water or hours.
//!
//! | what | source |
//! |---|---|
//! | CEDS levels 1 to 5 | US Department of Education, CEDS element 001866 "Building Cleaning Standard Type", ceds.ed.gov/element/001866 |
//! | NCES levels 1 to 4 | NCES 2003-347, *Planning Guide for Maintaining School Facilities*, 2003, chapter 5, as quoted by spaces4learning.com, June 2004 |
//! | NCES level 5 | the same guide, from memory |
//! | ASBO norm | 2,500 square feet an hour, 20,000 in 8 hours, as quoted by cleanlink.com, article 8546 |
//! | CASBO | California Association of School Business Officials, casbo.org/casbos-custodial-staffing-formula |
//! | USPS | 1,760 productive hours a year for one custodian, maintenance bulletin of 1987 (doczz.net/doc/2228992) |

use crate::site::Site;
use crate::units::SQUARE_METRES_PER_SQUARE_FOOT;

/// A formula's answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Formula {
    /// Who gives it.
    pub list: &'static str,
    /// Which of its levels, or what it divides by.
    pub basis: &'static str,
    /// Fewest people.
    pub least: f64,
    /// Most people.
    pub most: f64,
    /// What it was read in.
    pub source: &'static str,
}

/// What is known of a school beyond its rooms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SchoolFigures {
    /// Enrolment.
    pub students: u32,
    /// Teachers.
    pub teachers: u32,
    /// Classrooms.
    pub classrooms: u32,
    /// How much the community uses it.
    pub community: f64,
}

impl SchoolFigures {
    /// CASBO's factors for use by the community: elementary, middle and high schools.
    pub const ELEMENTARY: f64 = 0.0625;
    /// Of middle schools.
    pub const MIDDLE: f64 = 0.25;
    /// Of high schools.
    pub const HIGH: f64 = 0.5;
}

const CEDS: &str = "CEDS element 001866";
const NCES: &str = "NCES 2003-347";

/// Square feet per custodian in 8 hours: list, level, least, most, source.
const BY_AREA: [(&str, &str, f64, f64, &str); 11] = [
    (
        CEDS,
        "level 1",
        10_000.0,
        10_000.0,
        "ceds.ed.gov/element/001866",
    ),
    (
        CEDS,
        "level 2",
        11_000.0,
        18_000.0,
        "ceds.ed.gov/element/001866",
    ),
    (
        CEDS,
        "level 3",
        19_000.0,
        25_000.0,
        "ceds.ed.gov/element/001866",
    ),
    (
        CEDS,
        "level 4",
        26_000.0,
        46_000.0,
        "ceds.ed.gov/element/001866",
    ),
    (
        CEDS,
        "level 5",
        47_000.0,
        80_000.0,
        "ceds.ed.gov/element/001866",
    ),
    (
        NCES,
        "level 1",
        10_000.0,
        11_000.0,
        "quoted by spaces4learning.com 2004",
    ),
    (
        NCES,
        "level 2",
        18_000.0,
        20_000.0,
        "quoted by spaces4learning.com 2004",
    ),
    (
        NCES,
        "level 3",
        28_000.0,
        31_000.0,
        "quoted by spaces4learning.com 2004",
    ),
    (
        NCES,
        "level 4",
        45_000.0,
        50_000.0,
        "quoted by spaces4learning.com 2004",
    ),
    (NCES, "level 5", 85_000.0, 90_000.0, "from memory"),
    (
        "ASBO norm",
        "20,000 sq ft",
        20_000.0,
        20_000.0,
        "quoted by cleanlink.com 8546",
    ),
];

/// Productive hours of one custodian in a year (USPS).
const USPS_HOURS: f64 = 1760.0;

/// People by annual hours of work.
pub fn usps_people(annual_hours: f64) -> f64 {
    annual_hours / USPS_HOURS
}

/// People by CASBO's formula: the mean of four quotients, more for small schools, and more for use by the community.
pub fn casbo(school: &SchoolFigures, square_feet: f64) -> f64 {
    let mean = (f64::from(school.students) / 325.0
        + f64::from(school.teachers) / 13.0
        + f64::from(school.classrooms) / 13.0
        + square_feet / 18_000.0)
        / 4.0;
    let small = if school.students < 450 { 0.3 } else { 0.0 };
    mean + small + school.community
}

/// Floor area of all rooms in square feet.
pub(super) fn square_feet(site: &Site) -> f64 {
    let area: f64 = site.rooms.iter().map(|r| r.area.0).sum();
    area / SQUARE_METRES_PER_SQUARE_FOOT
}

/// Every formula's answer for so much floor, so many hours a year, and a school if it is one.
pub fn formulas(
    square_feet: f64,
    annual_hours: f64,
    school: Option<&SchoolFigures>,
) -> Vec<Formula> {
    let by_area = BY_AREA.map(|(list, basis, least, most, source)| Formula {
        list,
        basis,
        least: square_feet / most,
        most: square_feet / least,
        source,
    });
    let exact = |list, basis, people, source| Formula {
        list,
        basis,
        least: people,
        most: people,
        source,
    };
    let casbo = school.map(|s| {
        let people = casbo(s, square_feet);
        exact(
            "CASBO",
            "students, teachers, rooms, area",
            people,
            "casbo.org/casbos-custodial-staffing-formula",
        )
    });
    let usps = exact(
        "USPS",
        "hours a year / 1,760",
        usps_people(annual_hours),
        "maintenance bulletin of 1987",
    );
    by_area.into_iter().chain(casbo).chain([usps]).collect()
}
