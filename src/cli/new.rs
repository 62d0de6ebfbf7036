//! `evenrun new`: a small commented site to start from.

use super::exit::Exit;
use super::output::Output;
use evenrun::input::new_site_text;
use evenrun::report;
use std::fs;
use std::path::PathBuf;

/// Options of `new`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The folder to write site.yaml into; it is made if need be
    folder: PathBuf,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    let path = args.folder.join("site.yaml");
    if path.exists() {
        output.wrong(format!(
            "error: `{}` exists already\nhint: give another folder",
            path.display()
        ));
        return Exit::Bad;
    }
    if let Err(error) = fs::create_dir_all(&args.folder) {
        output.wrong(format!(
            "error: cannot make `{}`: {error}",
            args.folder.display()
        ));
        return Exit::Bad;
    }
    if let Err(error) = report::write(&path, new_site_text().as_bytes()) {
        output.wrong(format!("error: {error}"));
        return Exit::Bad;
    }
    output.note(format!(
        "wrote {}\nnext: evenrun plan {}",
        path.display(),
        args.folder.display()
    ));
    Exit::Done
}
