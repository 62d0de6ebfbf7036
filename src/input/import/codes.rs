//! The table of codes of imports, beside those of sites. A code never changes its meaning.
//!
//! I1 files, I2 headers and mapping, I3 rooms, I4 calendars, I9 guesses and gaps, which are warnings.

/// Every code with what it stands for, in order.
pub const IMPORT_CODES: &[(&str, &str)] = &[
    ("I101", "a kind of file that is not read"),
    ("I102", "a spreadsheet that unpacks to too much"),
    ("I103", "no spreadsheet, or a damaged one"),
    ("I104", "too many rows or columns, or too long a cell"),
    ("I105", "a quote that is never closed"),
    ("I201", "no row of headers"),
    ("I202", "a mapping file that says something unknown"),
    (
        "I203",
        "a column of the mapping file that the table does not have",
    ),
    ("I301", "a room twice in the table"),
    ("I302", "an unknown unit of area"),
    ("I303", "areas without a unit"),
    ("I304", "a number that may be thousands or decimals"),
    ("I305", "not a number"),
    ("I306", "a date or an error value in a cell"),
    ("I307", "an unknown kind of room"),
    ("I308", "a site whose rooms cannot be merged"),
    ("I309", "a table without rooms"),
    ("I401", "a file without a calendar"),
    ("I402", "not a line of a calendar"),
    ("I403", "a component that is not begun or not ended"),
    ("I404", "not a date, a time or a duration"),
    ("I405", "not a recurrence"),
    ("I406", "a time zone that nothing tells"),
    ("I407", "too many components, events or times"),
    ("I408", "times that need the site's time zone"),
    ("I901", "two columns for one thing"),
    ("I902", "a kind of room that was guessed"),
    ("I903", "rows without a room number"),
    ("I904", "a room without an area"),
    ("I905", "a room without a floor"),
    ("I906", "events at a location that is no room"),
    ("I907", "a change of all later times of an event"),
];
