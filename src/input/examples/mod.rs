//! Small sites to start from, one of a kind each; they need no other files.

/// Every example: its name, what it shows, and its site file.
pub const EXAMPLES: [(&str, &str, &str); 3] = [
    (
        "office",
        "two floors, US units",
        include_str!("office.yaml"),
    ),
    (
        "clinic",
        "one floor, keys, hours of rooms and restrooms",
        include_str!("clinic.yaml"),
    ),
    (
        "school",
        "three floors, a machine, ways out kept dry",
        include_str!("school.yaml"),
    ),
];
