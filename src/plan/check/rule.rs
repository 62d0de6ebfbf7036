//! The fourteen rules, by number, name and statement.

use std::fmt;

/// A rule that a sound plan keeps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// 1. Everything due is done once or listed undone.
    Work,
    /// 2. Runs lie inside shifts.
    Shift,
    /// 3. Walks are long enough.
    Walking,
    /// 4. Rooms are cleaned while they may be.
    Access,
    /// 5. Rooms are closed only while they may be.
    Closure,
    /// 6. Enough rooms of a group stay open.
    Groups,
    /// 7. The work in a room is in order.
    Order,
    /// 8. There is clean water for what is mopped.
    Water,
    /// 9. The cart is emptied in time.
    Waste,
    /// 10. Who does it may do it.
    Skills,
    /// 11. Machines are fetched, brought back, and enough.
    Machines,
    /// 12. Breaks are taken.
    Breaks,
    /// 13. One way out is dry.
    WayOut,
    /// 14. What matters less waits first.
    Priority,
}

impl Rule {
    /// All of them, in order.
    pub const ALL: [Rule; 14] = [
        Rule::Work,
        Rule::Shift,
        Rule::Walking,
        Rule::Access,
        Rule::Closure,
        Rule::Groups,
        Rule::Order,
        Rule::Water,
        Rule::Waste,
        Rule::Skills,
        Rule::Machines,
        Rule::Breaks,
        Rule::WayOut,
        Rule::Priority,
    ];

    /// Its number, from 1 to 14.
    pub fn number(self) -> usize {
        self as usize + 1
    }

    /// Its name, in a word or two.
    pub fn name(self) -> &'static str {
        match self {
            Rule::Work => "work",
            Rule::Shift => "shift",
            Rule::Walking => "walking",
            Rule::Access => "access",
            Rule::Closure => "closure",
            Rule::Groups => "closure groups",
            Rule::Order => "order in a room",
            Rule::Water => "water",
            Rule::Waste => "waste",
            Rule::Skills => "skills and clearance",
            Rule::Machines => "machines",
            Rule::Breaks => "breaks",
            Rule::WayOut => "way out",
            Rule::Priority => "priority",
        }
    }

    /// What it demands, in a line.
    pub fn statement(self) -> &'static str {
        match self {
            Rule::Work => "everything due is done once and takes its time, or is listed undone",
            Rule::Shift => {
                "everyone on duty has one run, from set-up to tear-down inside the shift"
            }
            Rule::Walking => "between two stops there is time for the shortest walk",
            Rule::Access => "rooms are cleaned and duties done inside their windows",
            Rule::Closure => {
                "a room is closed from its first stop until it is reopened, inside one closure window"
            }
            Rule::Groups => "at every moment enough rooms of a closure group are open",
            Rule::Order => "dry before wet, dwell and drying times kept, the floor last",
            Rule::Water => {
                "floors are mopped with fresh enough water, a restroom's never used elsewhere"
            }
            Rule::Waste => "the cart never holds more than it can and comes back empty",
            Rule::Skills => "who does a task may do it and may enter the room",
            Rule::Machines => "machines are fetched and brought back, and there are enough of them",
            Rule::Breaks => "each break is taken once, whole, in its window and place",
            Rule::WayOut => "of two ways out that form a pair one is dry at every moment",
            Rule::Priority => {
                "nothing is left undone that fits in place of something less important"
            }
        }
    }
}

impl fmt::Display for Rule {
    /// `rule 5 (closure)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "rule {} ({})", self.number(), self.name())
    }
}
