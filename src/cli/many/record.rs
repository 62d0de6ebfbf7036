//! How a site that is done is known again: by what went into its plan, and the plan that came out.

use super::super::plan::{Args, PLAN};
use evenrun::report;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// The file beside the plan.
const RECORD: &str = "done.json";

/// What it says. SHA-256 in hexadecimal digits (FIPS 180-4).
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Record {
    /// Of the program's version, the options that matter, the date, and every file that was read.
    inputs: String,
    /// Of the plan file.
    plan: String,
}

impl Record {
    /// Of a site and the plan that lies in its folder of output. None if a file is not there any more.
    pub(super) fn of(args: &Args, date: Date, files: &[PathBuf], out: &Path) -> Option<Record> {
        let mut inputs = Sha256::new();
        let budget = args
            .iterations
            .map_or(format!("{} s", args.seconds), |n| format!("{n} rounds"));
        let version = env!("CARGO_PKG_VERSION");
        inputs.update(format!("{version}\n{date}\n{budget}\nseed {}\n", args.seed));
        for file in files {
            let bytes = fs::read(file).ok()?;
            let name = file.file_name().unwrap_or_default().to_string_lossy();
            // Lengths keep the end of one file apart from the start of the next.
            inputs.update(format!("{name}\n{}\n", bytes.len()));
            inputs.update(bytes);
        }
        let plan = fs::read(out.join(PLAN)).ok()?;
        Some(Record {
            inputs: in_digits(inputs),
            plan: in_digits(Sha256::new_with_prefix(plan)),
        })
    }

    /// Whether this is what was written down last time.
    pub(super) fn stands(&self, out: &Path) -> bool {
        let text = fs::read_to_string(out.join(RECORD)).unwrap_or_default();
        serde_json::from_str::<Record>(&text).is_ok_and(|written| written == *self)
    }

    /// Writes it down.
    pub(super) fn write(&self, out: &Path) -> Result<(), String> {
        let text = serde_json::to_string_pretty(self).map_err(|e| e.to_string())?;
        report::write(&out.join(RECORD), format!("{text}\n").as_bytes()).map_err(|e| e.to_string())
    }
}

fn in_digits(hash: Sha256) -> String {
    let bytes = hash.finalize();
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4, example of one block: the hash of `abc`.
    #[test]
    fn a_hash_is_written_as_the_standard_writes_it() {
        let abc = in_digits(Sha256::new_with_prefix("abc"));
        assert_eq!(
            abc,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
