//! How many toilets a workplace needs for the people present, so that closing one for cleaning can be judged.
//!
//! Source: 29 CFR 1910.141(c)(1)(i), Table J-1 (United States; other places have their own rules).

/// The last head count of each row of Table J-1, and the toilets it needs.
const TABLE_J_1: [(u32, u32); 6] = [(15, 1), (35, 2), (55, 3), (80, 4), (110, 5), (150, 6)];
/// Past the table: one more toilet for each further group of this many people or part of one.
const PEOPLE_PER_FURTHER_TOILET: u32 = 40;

/// Toilets required for this many people who share them; nobody needs none.
pub fn toilets_required(people: u32) -> u32 {
    let (most, toilets) = TABLE_J_1[TABLE_J_1.len() - 1];
    match TABLE_J_1.iter().find(|(last, _)| people <= *last) {
        _ if people == 0 => 0,
        Some((_, toilets)) => *toilets,
        None => toilets + (people - most).div_ceil(PEOPLE_PER_FURTHER_TOILET),
    }
}

#[cfg(test)]
mod tests {
    use super::toilets_required;

    /// 29 CFR 1910.141, Table J-1: both ends of each row.
    #[test]
    fn the_rows_of_table_j_1() {
        for (first, last, toilets) in [
            (1, 15, 1),
            (16, 35, 2),
            (36, 55, 3),
            (56, 80, 4),
            (81, 110, 5),
            (111, 150, 6),
        ] {
            assert_eq!(toilets_required(first), toilets, "{first} people");
            assert_eq!(toilets_required(last), toilets, "{last} people");
        }
    }

    /// 29 CFR 1910.141, Table J-1: past 150, one more for each additional 40. What a part of 40 needs it does not say; it is
    /// rounded up here.
    #[test]
    fn one_more_for_each_forty_past_the_table() {
        for (people, toilets) in [
            (151, 7),
            (190, 7),
            (191, 8),
            (230, 8),
            (u32::MAX, 107_374_185),
        ] {
            assert_eq!(toilets_required(people), toilets, "{people} people");
        }
    }

    #[test]
    fn nobody_needs_none() {
        assert_eq!(toilets_required(0), 0);
    }
}
