//! How much is read: every limit of a file from outside, in one place. Beyond a limit there is a problem with a position, before memory is
//! taken for what lies there. [`LIMITS`] is the table of them in README.md.

use crate::plan::MOST_STOPS;

/// Every limit that README.md tells, in its words and in the order of its table: what, and how much.
pub const LIMITS: &[(&str, u64)] = &[
    ("MiB of a site's file", SITE_BYTES >> 20),
    ("characters of a value", VALUE_CHARACTERS as u64),
    ("characters of an id or name", NAME_CHARACTERS as u64),
    ("levels of lists and maps", YAML_DEPTH as u64),
    (
        "values of a YAML file, aliases written out",
        YAML_VALUES as u64,
    ),
    ("items of a list, rows of a site's table", LIST_ITEMS as u64),
    ("problems listed; more are counted", PROBLEMS as u64),
    ("rooms", ROOMS as u64),
    ("rooms, closets and places together", PLACES as u64),
    ("workers", WORKERS as u64),
    ("breaks of a worker", BREAKS as u64),
    ("floors", FLOORS as u64),
    ("halls", HALLS as u64),
    ("stairs, lifts and other ways together", WAYS as u64),
    ("pairs of landings of all ways", LANDING_PAIRS as u64),
    ("machines", MACHINES as u64),
    ("room kinds", KINDS as u64),
    ("tasks of a room kind", TASKS as u64),
    ("groups and exit pairs together", GROUPS as u64),
    ("duties", DUTIES as u64),
    ("skills, and keys and clearances", KEYS as u64),
    (
        "MiB of a plan, a carry-over or a list of rooms done",
        DOCUMENT_BYTES >> 20,
    ),
    ("stops of a plan", MOST_STOPS as u64),
    ("MiB of a list of rooms", TABLE_BYTES >> 20),
    ("rows of a list of rooms", TABLE_ROWS as u64),
    ("columns of a list of rooms", TABLE_COLUMNS as u64),
    ("cells of a list of rooms", TABLE_CELLS as u64),
    ("characters of a cell", CELL_CHARACTERS as u64),
    ("MiB that a spreadsheet unpacks to", UNPACKED_BYTES >> 20),
    ("MiB of a mapping file", MAPPING_BYTES >> 20),
    ("MiB of a calendar of events", EVENTS_BYTES >> 20),
    ("components of a calendar", COMPONENTS as u64),
    ("times of one recurrence", RECURRENCE_TIMES as u64),
    ("times of all recurrences", ALL_TIMES as u64),
    ("times of a recurrence in one day", TIMES_OF_DAY as u64),
    ("recurrences that never happen", IN_VAIN as u64),
    ("times of events in the days asked for", EVENT_TIMES as u64),
    ("days asked for", EVENT_DAYS as u64),
    ("MiB of a building", BUILDING_BYTES >> 20),
    ("elements or entities of a building", ELEMENTS as u64),
    ("levels of elements of a building", ELEMENT_DEPTH as u64),
    ("spaces of a building", SPACES as u64),
];

/// Largest file of a site. A room takes about 200 bytes: this is some 40,000 rooms, ten times the largest site planned for.
pub(crate) const SITE_BYTES: u64 = 8 << 20;
/// Largest plan, carry-over or list of rooms done: a plan of the largest site has a fifth of it.
pub(crate) const DOCUMENT_BYTES: u64 = 32 << 20;
/// Longest value, in characters: dated hours of a year take a third of it.
pub(crate) const VALUE_CHARACTERS: usize = 100_000;
/// Longest id or name, in characters: it must fit on a card.
pub(crate) const NAME_CHARACTERS: usize = 200;
/// Deepest nesting of lists and maps: the format itself needs seven levels.
pub(crate) const YAML_DEPTH: usize = 24;
/// Most values of a YAML file with its aliases written out: five times those of the largest site, calendar and all.
pub(crate) const YAML_VALUES: usize = 1_000_000;
/// What a list or map counts for among the values: as a raw type it takes the room of many texts.
pub(crate) const VALUES_OF_A_MAP: usize = 8;
/// Characters of a text that count as one value.
pub(crate) const CHARACTERS_OF_A_VALUE: usize = 64;
/// Most items of a list, and most rows of a table of a site: the periodic tasks of the largest site.
pub(crate) const LIST_ITEMS: usize = 50_000;
/// Most problems that are listed; more are counted. Nobody mends more in one go.
pub(crate) const PROBLEMS: usize = 500;
/// Most words for which the nearest known one is looked for: that takes time where thousands are known.
pub(crate) const HINTS: usize = 60;

/// Most rooms: walking times are kept between any two places.
pub(crate) const ROOMS: usize = 5_000;
/// Most rooms, closets and other places together.
pub(crate) const PLACES: usize = 6_000;
/// Most people in a crew.
pub(crate) const WORKERS: usize = 400;
/// Most breaks of a worker.
pub(crate) const BREAKS: usize = 12;
/// Most floors: more than the tallest buildings have.
pub(crate) const FLOORS: usize = 200;
/// Most halls.
pub(crate) const HALLS: usize = 2_000;
/// Most stairs, lifts, ramps, links and ways through the open together.
pub(crate) const WAYS: usize = 1_000;
/// Most pairs of landings of all ways together: each is a step of a walk.
pub(crate) const LANDING_PAIRS: usize = 500_000;
/// Most machines: the search keeps those that somebody has in 32 bits.
pub(crate) const MACHINES: usize = 32;
/// Most room kinds.
pub(crate) const KINDS: usize = 500;
/// Most tasks of a room kind: the search counts them in eight bits.
pub(crate) const TASKS: usize = 100;
/// Most groups and exit pairs together.
pub(crate) const GROUPS: usize = 1_000;
/// Most duties.
pub(crate) const DUTIES: usize = 1_000;
/// Most skills, and most keys and clearances.
pub(crate) const KEYS: usize = 1_000;

/// Largest table of rooms from elsewhere: a spreadsheet of 5,000 rooms has a tenth of it.
pub(crate) const TABLE_BYTES: u64 = 16 << 20;
/// Most rows of such a table.
pub(crate) const TABLE_ROWS: usize = 5_000;
/// Most columns of such a table.
pub(crate) const TABLE_COLUMNS: usize = 200;
/// Most cells of such a table, empty ones between filled ones too.
pub(crate) const TABLE_CELLS: usize = 1_000_000;
/// Longest text of a cell, in characters: a remark, not a book.
pub(crate) const CELL_CHARACTERS: usize = 2_000;
/// Most bytes that a spreadsheet may unpack to.
pub(crate) const UNPACKED_BYTES: u64 = 48 << 20;
/// Most parts of a spreadsheet, and most of its sheets.
pub(crate) const BOOK_PARTS: usize = 2_000;
/// Largest mapping file.
pub(crate) const MAPPING_BYTES: u64 = 1 << 20;

/// Largest calendar of events: some 50,000 events.
pub(crate) const EVENTS_BYTES: u64 = 16 << 20;
/// Most components of a calendar.
pub(crate) const COMPONENTS: usize = 100_000;
/// Deepest nesting of components; the standards need three levels.
pub(crate) const COMPONENT_DEPTH: usize = 8;
/// Most times of one recurrence that are looked at, from its start on: two hundred years of days.
pub(crate) const RECURRENCE_TIMES: usize = 75_000;
/// Most times of all recurrences together that are looked at.
pub(crate) const ALL_TIMES: usize = 1_000_000;
/// Most recurrences that never happen: that is only known after looking at thousands of years.
pub(crate) const IN_VAIN: usize = 4;
/// Most times of one day in a recurrence: all times of a year may be wanted at once.
pub(crate) const TIMES_OF_DAY: usize = 300;
/// Longest rule of a recurrence, in characters.
pub(crate) const RULE_CHARACTERS: usize = 2_000;
/// Most times of events within the days asked for.
pub(crate) const EVENT_TIMES: usize = 200_000;
/// Most changes of a zone's clocks that one of its rules tells: so many years, as a rule.
pub(crate) const ZONE_CHANGES: usize = 300;
/// Most days that hours are worked out for.
pub(crate) const EVENT_DAYS: i64 = 366;

/// Largest building file.
pub(crate) const BUILDING_BYTES: u64 = 128 << 20;
/// Most elements of `IndoorGML`, or entities of IFC.
pub(crate) const ELEMENTS: usize = 2_000_000;
/// Deepest nesting of elements of `IndoorGML`.
pub(crate) const ELEMENT_DEPTH: usize = 100;
/// Deepest nesting of values of an IFC entity.
pub(crate) const ENTITY_DEPTH: usize = 16;
/// Most spaces of a building.
pub(crate) const SPACES: usize = 5_000;
