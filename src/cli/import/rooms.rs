//! `evenrun import rooms`: what would become of each column, what changes, and then the files.

use super::super::exit::Exit;
use super::super::output::{self, Output};
use super::{changes, counted, put, refused, tell};
use evenrun::input::{ColumnUse, RoomsImport, RoomsRequest, Units, import_rooms, map_rooms};
use std::fmt::Write;
use std::path::PathBuf;
use unicode_width::UnicodeWidthStr;

/// Widest text of a cell in the preview.
const WIDEST: usize = 36;

/// Options of `import rooms`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun import rooms list.xlsx --into my-site --dry-run    show what would become of it
  evenrun import rooms list.xlsx --into my-site              make the site, or update its rooms
  evenrun import rooms list.xlsx --into my-site --map map.yaml
                                                             write map.yaml; change it; the same command then imports by it")]
pub(super) struct Args {
    /// The spreadsheet (.xlsx) or CSV file
    file: PathBuf,
    /// The site: a folder or its YAML file; a folder without a site becomes one
    #[arg(long, value_name = "SITE")]
    into: PathBuf,
    /// Import by this mapping file; if it is not there yet, write it as understood and do nothing else
    #[arg(long, value_name = "FILE")]
    map: Option<PathBuf>,
    /// Unit of areas that have none in the file: metric or us
    #[arg(long, value_name = "UNITS", value_parser = units)]
    units: Option<Units>,
    /// What stands before decimals, if the file leaves that open: point or comma
    #[arg(long, value_name = "MARK", value_parser = ["point", "comma"])]
    decimal: Option<String>,
    /// Show what would change, and write nothing
    #[arg(long)]
    dry_run: bool,
    /// Print what changes as JSON
    #[arg(long)]
    json: bool,
}

fn units(word: &str) -> Result<Units, String> {
    match word {
        "metric" => Ok(Units::Metric),
        "us" => Ok(Units::Us),
        _ => Err("say metric or us".to_string()),
    }
}

pub(super) fn run(args: &Args, output: Output) -> Result<Exit, Exit> {
    let output = output.json(args.json);
    let mut request = RoomsRequest {
        file: &args.file,
        site: &args.into,
        mapping: None,
        units: args.units,
        decimal_comma: args.decimal.as_ref().map(|mark| mark == "comma"),
    };
    if let Some(path) = &args.map {
        if !path.exists() {
            let text = map_rooms(&request).map_err(|problems| refused(&problems, output))?;
            put(&[(path.clone(), text)], args.dry_run, output)?;
            output.note("nothing was imported: change the file and give the same command again");
            return Ok(Exit::Done);
        }
        request.mapping = Some(path);
    }
    let import = import_rooms(&request).map_err(|problems| refused(&problems, output))?;
    if output.is_json() {
        output::data(&format!("{:#}\n", serde_json::json!(import.changes)))?;
    } else {
        output::data(&preview(&import))?;
    }
    tell(&import.notes, &import.advice, &import.after, output);
    put(&import.files, args.dry_run, output)?;
    if !args.dry_run && !import.files.is_empty() {
        output.note(format!("next: evenrun check {}", args.into.display()));
    }
    Ok(Exit::Done)
}

fn preview(import: &RoomsImport) -> String {
    let mut text = String::new();
    if let Some(sheet) = &import.sheet {
        let _ = writeln!(text, "sheet: {sheet}");
    }
    text.push_str(&columns(&import.columns));
    let closets = match import.closets.len() {
        0 => String::new(),
        n => format!(", {}", counted(n, "custodial closet")),
    };
    let _ = writeln!(text, "\n{}{closets}", counted(import.rooms, "room"));
    text.push_str(&changes(&import.changes));
    if !import.halls.is_empty() {
        let _ = writeln!(text, "halls guessed: {}", import.halls.join(", "));
    }
    text
}

fn columns(columns: &[ColumnUse]) -> String {
    let mut rows = vec![["", "header", "becomes", "for example"].map(String::from)];
    rows.extend(columns.iter().map(|c| {
        let becomes = c.becomes.unwrap_or("-");
        [
            c.letters.clone(),
            cut(&c.header),
            becomes.to_string(),
            cut(&c.sample.join(" · ")),
        ]
    }));
    let width = |column: usize| rows.iter().map(|r| r[column].width()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..4).map(width).collect();
    let mut text = String::new();
    for row in &rows {
        let cells = row
            .iter()
            .zip(&widths)
            .map(|(cell, width)| format!("{cell}{}", " ".repeat(width - cell.width())));
        let _ = writeln!(text, "{}", cells.collect::<Vec<_>>().join("  ").trim_end());
    }
    text
}

fn cut(text: &str) -> String {
    if text.chars().count() <= WIDEST {
        return text.to_string();
    }
    let kept: String = text.chars().take(WIDEST - 1).collect();
    format!("{}…", kept.trim_end())
}
