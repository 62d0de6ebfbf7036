//! `evenrun new`: a site to start from: a small commented one, an example, or one made of answers.

use super::exit::Exit;
use super::folder;
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use super::site;
use evenrun::input::{EXAMPLES, Guide, new_site_text, schema};
use evenrun::report;
use std::io::{self, BufRead};
use std::path::{Path, PathBuf};

/// The schema as the first line of a site file names it.
const SCHEMA_FILE: &str = "site.schema.json";
/// Wrong answers in a row after which nobody seems to be there.
const MOST_WRONG: usize = 20;

/// Options of `new`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun new my-site                    a small commented site to change step by step
  evenrun new my-site --guided           a dozen questions, and a site of your answers
  evenrun new my-site --example clinic   a small finished site to look into")]
pub(super) struct Args {
    /// The folder to write site.yaml into; it is made if need be
    folder: PathBuf,
    /// Ask a dozen questions and make the site of the answers
    #[arg(long, conflicts_with = "example")]
    guided: bool,
    /// Copy an example
    #[arg(long, value_name = "NAME", value_parser = EXAMPLES.map(|(name, _, _)| name))]
    example: Option<String>,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    written(args, output).unwrap_or_else(|exit| exit)
}

fn written(args: &Args, output: Output) -> Result<Exit, Exit> {
    let refused = |refusal| refuse(&[refusal], output);
    let path = args.folder.join("site.yaml");
    if path.exists() {
        let message = format!("`{}` exists already", path.display());
        let refusal = Refusal::of_file("exists", &path, message);
        return Err(refused(refusal.hint("give another folder".to_string())));
    }
    let text = match &args.example {
        Some(wanted) => example(wanted).to_string(),
        None if args.guided => guided(&mut io::stdin().lock(), output)?,
        None => new_site_text().to_string(),
    };
    folder::make(&args.folder).map_err(refused)?;
    // Last, for a folder that has it is taken for finished.
    put_schema(&args.folder).map_err(refused)?;
    put(&path, &text).map_err(refused)?;
    let folder = args.folder.display();
    output.note(format!(
        "wrote {}\nnext: evenrun plan {folder}",
        path.display()
    ));
    Ok(Exit::Done)
}

fn example(wanted: &str) -> &'static str {
    let found = EXAMPLES.iter().find(|(name, _, _)| *name == wanted);
    found.map_or(new_site_text(), |(_, _, text)| *text)
}

/// Asks, on stderr, and takes answers from stdin.
fn guided(answers: &mut impl BufRead, output: Output) -> Result<String, Exit> {
    output.note("Press return to take what stands in brackets. Everything can be changed in the file afterwards.\n");
    let mut guide = Guide::default();
    let mut wrong = 0;
    while let Some(question) = guide.question() {
        output::wrong(format!("{} [{}]", question.text, question.default));
        let mut answer = String::new();
        let read = answers.read_line(&mut answer).unwrap_or(0);
        if read == 0 || wrong >= MOST_WRONG {
            let message = "the questions were not answered to the end; nothing was written";
            return Err(refuse(
                &[Refusal::new("unanswered", message.to_string())],
                output,
            ));
        }
        match guide.answer(&answer) {
            Ok(()) => wrong = 0,
            Err(why) => {
                wrong += 1;
                output::wrong(format!("  {why}"));
            }
        }
    }
    guide.site().map_err(|problems| {
        if let Err(exit) = site::tell(&problems.0, output) {
            return exit;
        }
        output::wrong("the answers do not fit together; nothing was written");
        Exit::Bad
    })
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
