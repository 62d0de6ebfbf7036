//! Odd inputs, a few hundred of each family: nothing panics. The bench `fuzz` tries millions of them.

#[path = "../../benches/fuzz/inputs/mod.rs"]
mod inputs;

use inputs::{Family, NAMES, family};
use std::collections::BTreeSet;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Inputs of each family.
const INPUTS: u64 = 300;

fn named(name: &str) -> Family {
    family(name).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The first input that makes a family panic; always of the same ones, or a test would fail one day and not the next.
fn panics(family: &Family) -> Option<String> {
    let panics = |number: &u64| {
        let Some((format, input)) = family.input(0, *number) else {
            return false;
        };
        catch_unwind(AssertUnwindSafe(|| family.read(format, &input))).is_err()
    };
    let number = (0..INPUTS).find(panics)?;
    Some(format!("{}: input {number}", family.name))
}

#[test]
fn no_odd_input_makes_any_reader_panic() {
    let found: Vec<String> = NAMES
        .iter()
        .filter_map(|name| panics(&named(name)))
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Else mutations would be of nothing.
#[test]
fn every_format_begins_with_inputs_that_are_read() {
    for name in NAMES {
        let family = named(name);
        let accepted = |(format, seed): &(usize, &[u8])| family.read(*format, seed).accepted;
        let read: BTreeSet<usize> = family.seeds().filter(accepted).map(|(f, _)| f).collect();
        let all: BTreeSet<usize> = family.seeds().map(|(f, _)| f).collect();
        assert_eq!(read, all, "formats of {name}");
    }
}

/// Each of them panics if it is not refused with its code.
#[test]
fn what_has_too_much_of_something_is_refused() {
    let family = named("limits");
    let tried = family
        .seeds()
        .map(|(format, seed)| family.read(format, seed));
    assert!(tried.filter(|outcome| !outcome.accepted).count() > 25);
}
