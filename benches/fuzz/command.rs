//! Command lines: words as a shell would hand them over, read as the program reads them; nothing is run.

use crate::cli;
use crate::inputs::{Family, Outcome, Stock};
use std::collections::BTreeSet;

/// Command lines to begin with, a word a line.
const LINES: &[&str] = &[
    "check my-site --json",
    "plan my-site --date 2026-03-10 --seconds 60 --seed 7 --threads 2 --absent Mei --keep out/plan.json --carry - --out out",
    "plan my-site --iterations 500 --quiet --json",
    "verify my-site -",
    "explain my-site out/plan.json G01",
    "cover my-site out/plan.json --absent Ana@19:30 --late Ben@18:15 --close G01@18:00-19:00 --add G01:spill:10 --overtime 30 --now 19:00 --done done.csv --steady 3",
    "diff my-site a.json b.json",
    "report my-site out/plan.json --html a.html --cards b.html --csv c --ics d --map-svg e --lang es --large",
    "audit my-site split.csv --times --seconds 5",
    "staff my-site --levels",
    "calendar my-site --from 2026-03-02 --weeks 4",
    "import rooms list.xlsx --into my-site --dry-run",
    "import events room.ics --into my-site --from 2026-03-02 --days 28",
    "import building house.ifc --into my-site --scale 0.2",
    "new my-site --from office",
    "completions bash",
    "man --out pages",
    "help plan",
    "--version",
];
const WORDS: &[&str] = &[
    "--help",
    "-q",
    "-v",
    "-qv",
    "--",
    "-",
    "--x",
    "-x",
    "--seconds=",
    "--seconds=-1",
    "--date=",
    "=",
    "--no-",
];

/// Command lines.
pub(crate) fn family() -> Family {
    let seeds = LINES
        .iter()
        .map(|line| line.replace(' ', "\n").into_bytes());
    let stock = Stock::new(seeds.collect(), WORDS);
    Family::new("command", stock, |input| {
        let text = String::from_utf8_lossy(input);
        let words = std::iter::once("evenrun").chain(text.split('\n'));
        match cli::understood(words.map(Into::into)) {
            Ok(_) => Outcome::accepted(BTreeSet::new()),
            Err(error) => {
                let shown = error.render().to_string();
                debug_assert!(!shown.is_empty());
                Outcome::misfit([format!("{:?}", error.kind())])
            }
        }
    })
}
