//! `evenrun new`: a small commented site to start from.

use super::exit::Exit;
use super::output::Output;
use super::refusal::{Refusal, refuse};
use evenrun::input::{new_site_text, schema};
use evenrun::report;
use std::fs;
use std::path::{Path, PathBuf};

/// The schema as the first line of a site file names it.
const SCHEMA_FILE: &str = "site.schema.json";

/// Options of `new`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun new my-site    a small commented site to change step by step")]
pub(super) struct Args {
    /// The folder to write site.yaml into; it is made if need be
    folder: PathBuf,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    match write(&args.folder) {
        Ok(path) => {
            output.note(format!(
                "wrote {}\nnext: evenrun plan {}",
                path.display(),
                args.folder.display()
            ));
            Exit::Done
        }
        Err(refusal) => refuse(&[refusal], output),
    }
}

fn write(folder: &Path) -> Result<PathBuf, Refusal> {
    let path = folder.join("site.yaml");
    if path.exists() {
        let message = format!("`{}` exists already", path.display());
        return Err(
            Refusal::of_file("exists", &path, message).hint("give another folder".to_string())
        );
    }
    fs::create_dir_all(folder).map_err(|error| {
        let message = format!("cannot make `{}`: {error}", folder.display());
        Refusal::of_file("unwritable", folder, message)
    })?;
    put(&path, new_site_text())?;
    put_schema(folder)?;
    Ok(path)
}

/// The schema that the first line of a site file names, for editors; one that is there is left as it is.
pub(super) fn put_schema(folder: &Path) -> Result<(), Refusal> {
    let path = folder.join(SCHEMA_FILE);
    if path.exists() {
        return Ok(());
    }
    put(&path, &format!("{:#}\n", schema()))
}

fn put(path: &Path, text: &str) -> Result<(), Refusal> {
    report::write(path, text.as_bytes())
        .map_err(|error| Refusal::of_file("unwritable", path, error.to_string()))
}
