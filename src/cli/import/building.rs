//! `evenrun import building`: what a building file holds, and the new site.

use super::super::exit::Exit;
use super::super::output::{self, Output};
use super::{counted, put, refused, tell};
use evenrun::input::{BuildingImport, BuildingRequest, import_building};
use std::path::PathBuf;

/// Options of `import building`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun import building house.ifc --into my-site --dry-run      show what the file holds
  evenrun import building campus.gml --into my-site --scale 0.2   a unit of the file is 0.2 m")]
pub(super) struct Args {
    /// The building: IFC (.ifc) or IndoorGML 1.0 (.gml)
    file: PathBuf,
    /// The folder of the new site; it is made if need be
    #[arg(long, value_name = "SITE")]
    into: PathBuf,
    /// Metres in one unit of an IndoorGML file, where the file leaves that open
    #[arg(long, value_name = "METRES", value_parser = metres)]
    scale: Option<f64>,
    /// Show what would be written, and write nothing
    #[arg(long)]
    dry_run: bool,
}

fn metres(text: &str) -> Result<f64, String> {
    let number: f64 = text.parse().map_err(|_| "not a number".to_string())?;
    if number > 0.0 && number <= 1000.0 {
        Ok(number)
    } else {
        Err("must be above 0, up to 1000".to_string())
    }
}

pub(super) fn run(args: &Args, output: Output) -> Result<Exit, Exit> {
    let request = BuildingRequest {
        file: &args.file,
        site: &args.into,
        scale: args.scale,
    };
    let import = import_building(&request).map_err(|problems| refused(&problems, output))?;
    output::data(&summary(&import))?;
    tell(&import.notes, &[], &import.after, output);
    put(&import.files, args.dry_run, output)?;
    if !args.dry_run {
        output.note(format!("next: evenrun plan {}", args.into.display()));
    }
    Ok(Exit::Done)
}

fn summary(import: &BuildingImport) -> String {
    format!(
        "storeys     {}: {}\nspaces      {}, of which {} joined to nothing\njoins       {} on one storey\nways out    {}\nstairs      {}\nlifts       {}\n\
         becomes     {} on {}\n",
        import.storeys.len(),
        import.storeys.join(", "),
        import.spaces,
        import.isolated,
        import.joins,
        import.ways_out,
        import.stairs,
        import.lifts,
        counted(import.rooms, "room"),
        counted(import.halls, "hall")
    )
}
