//! Odd inputs for everything that is read from outside, each handed to the entry point that the commands use.
//!
//! What is read without a problem goes on: a site is walked through and now and then planned, a plan is checked, measured, compared and shown.
//! The bench `fuzz` tries many inputs and the tests a few, from the same families.

mod book;
mod cuts;
mod desk;
mod documents;
mod huge;
mod imports;
mod mutate;
mod odd;
mod sites;

pub(crate) use mutate::Stock;

use book::Parts;
use evenrun::input::{Problem, Problems};
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeSet;
use std::fmt;
use std::io;
use std::path::PathBuf;

/// What became of an input.
#[derive(Clone, Debug, Default)]
pub(crate) struct Outcome {
    /// Whether it was read without an error.
    pub(crate) accepted: bool,
    /// The problem codes and broken rules that were reached, as far as there are codes.
    pub(crate) codes: BTreeSet<String>,
}

impl Outcome {
    fn refused(problems: &Problems) -> Outcome {
        Outcome {
            codes: codes(&problems.0),
            ..Outcome::default()
        }
    }

    /// Refused for a reason that has no code: its words without names and numbers.
    pub(crate) fn misfit(messages: impl IntoIterator<Item = impl fmt::Display>) -> Outcome {
        let plain = |message: String| -> String {
            let outside = message.split('`').step_by(2).collect::<Vec<_>>().join("`");
            outside
                .chars()
                .filter(|c| !c.is_ascii_digit())
                .take(60)
                .collect()
        };
        Outcome {
            codes: messages.into_iter().map(|m| plain(m.to_string())).collect(),
            ..Outcome::default()
        }
    }

    /// Read, perhaps with warnings.
    pub(crate) fn accepted(codes: BTreeSet<String>) -> Outcome {
        Outcome {
            accepted: true,
            codes,
        }
    }
}

/// The codes of problems, each of which is also shown as on a terminal.
fn codes(problems: &[Problem]) -> BTreeSet<String> {
    let shown: usize = problems.iter().map(|p| p.render().len()).sum();
    debug_assert!(shown > 0 || problems.is_empty());
    problems.iter().map(|p| p.code.to_string()).collect()
}

/// Hands an input of a format to the library.
type Read = dyn Fn(usize, &[u8]) -> Outcome;

/// A kind of input.
pub(crate) struct Family {
    /// How it is called.
    pub(crate) name: &'static str,
    stocks: Vec<Stock>,
    books: Vec<Parts>,
    /// Whether the seeds themselves are the inputs.
    unchanged: bool,
    read: Box<Read>,
}

impl Family {
    /// Of texts of one format.
    pub(crate) fn new(
        name: &'static str,
        stock: Stock,
        read: impl Fn(&[u8]) -> Outcome + 'static,
    ) -> Family {
        Family::of_formats(name, vec![stock], move |_, input| read(input))
    }

    /// Of texts of several formats, which are read each in its own way.
    fn of_formats(
        name: &'static str,
        stocks: Vec<Stock>,
        read: impl Fn(usize, &[u8]) -> Outcome + 'static,
    ) -> Family {
        Family {
            name,
            stocks,
            books: Vec::new(),
            unchanged: false,
            read: Box::new(read),
        }
    }

    /// The input of a number: always the same. With it comes its format. A family whose seeds are left unchanged has no more than these.
    pub(crate) fn input(&self, seed: u64, number: u64) -> Option<(usize, Vec<u8>)> {
        if self.unchanged {
            let nth = self.seeds().nth(number as usize);
            return nth.map(|(format, input)| (format, input.to_vec()));
        }
        let chance = &mut Pcg64Mcg::seed_from_u64(seed.rotate_left(32) ^ number);
        let format = (number % self.stocks.len() as u64) as usize;
        let stock = &self.stocks[format];
        // Every other archive is sound, and odd inside.
        let book = (number / 2) as usize % self.books.len().max(1);
        let input = match self.books.get(book).filter(|_| number % 2 == 1) {
            Some(parts) => parts.odd(stock, chance),
            None => stock.odd(chance),
        };
        Some((format, input))
    }

    /// Hands an input to the library.
    pub(crate) fn read(&self, format: usize, input: &[u8]) -> Outcome {
        (self.read)(format, input)
    }

    /// Every input that it begins with, and its format.
    pub(crate) fn seeds(&self) -> impl Iterator<Item = (usize, &[u8])> {
        let formats = self.stocks.iter().enumerate();
        formats.flat_map(|(format, stock)| stock.seeds.iter().map(move |s| (format, s.as_slice())))
    }
}

/// All families of odd inputs but the command line, which is the program's own. Beside them are `limits`
/// and `slow`: inputs that have too much of something, refused soon or after seconds.
pub(crate) const NAMES: [&str; 9] = [
    "site", "rooms", "plan", "events", "xlsx", "gml", "ifc", "split", "carry",
];

/// A family by its name.
pub(crate) fn family(name: &str) -> io::Result<Family> {
    match name {
        "site" => sites::site(),
        "rooms" => sites::rooms(),
        "split" => sites::split(),
        "plan" => documents::plans(),
        "carry" => documents::carries(),
        "events" => imports::events(),
        "xlsx" => imports::books(),
        "gml" => imports::gml(),
        "ifc" => imports::ifc(),
        "limits" => huge::quick(),
        "slow" => huge::slow(),
        _ => Err(io::Error::new(
            io::ErrorKind::NotFound,
            format!("there is no family `{name}`"),
        )),
    }
}

/// The project's own folder.
fn project(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(name)
}
