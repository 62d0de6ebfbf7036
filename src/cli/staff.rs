//! `evenrun staff`: how many people it takes.

use super::exit::Exit;
use super::output::{self, Output};
use super::plan::day;
use super::refusal::refuse;
use super::search::Search;
use super::{folder, site};
use clap::ValueEnum;
use evenrun::input::read_shift;
use evenrun::manage::{Level, SchoolFigures, Staff, StaffDocument, StaffRequest, staff};
use evenrun::report::{Language, Words, staff_html, staff_table};
use evenrun::site::Site;
use evenrun::units::Span;
use jiff::civil::Date;
use std::path::PathBuf;
use std::time::Instant;

/// The file that is written.
const PAGE: &str = "staff.html";

/// Kinds of school, for one of the published formulas.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum School {
    Elementary,
    Middle,
    High,
}

/// Options of `staff`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun staff my-site --shift 17:30-24:30
  evenrun staff my-site --levels  and for less work")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The date whose work is to be done; else the one the site names, else today
    #[arg(long, value_parser = day)]
    date: Option<Date>,
    /// Everybody's shift, such as 17:00-23:00; else that of the first of the crew
    #[arg(long, value_name = "FROM-TO", value_parser = shift)]
    shift: Option<Span>,
    /// Also how many it takes without the work for appearance, and for the work for health alone
    #[arg(long)]
    levels: bool,
    /// Students enrolled, for one of the published formulas
    #[arg(long, value_name = "N", requires = "teachers")]
    students: Option<u32>,
    /// Teachers, for the same formula
    #[arg(long, value_name = "N", requires = "students")]
    teachers: Option<u32>,
    /// The kind of school, for the same formula
    #[arg(long, value_enum, default_value = "middle")]
    school: School,
    #[command(flatten)]
    search: Search,
    /// Folder for staff.html; it is made if need be
    #[arg(long, value_name = "DIR", default_value = "out")]
    out: PathBuf,
    /// Print the answer as one JSON object instead of the tables
    #[arg(long)]
    json: bool,
}

fn shift(text: &str) -> Result<Span, String> {
    read_shift(text).ok_or_else(|| "not a shift; write it like 17:00-23:00".to_string())
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    counted(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn counted(args: &Args, output: Output) -> Result<Exit, Exit> {
    let began = Instant::now();
    let reading = site::read(&args.site, output)?;
    let site = &reading.site;
    folder::room_for(&args.out, &[PAGE]).map_err(|refusal| refuse(&[refusal], output))?;
    let started = args.search.start(began);
    let bar = output.bar();
    let request = StaffRequest {
        site,
        date: site::date(args.date, site),
        shift: args.shift,
        levels: args.levels,
        school: school(args, site),
        settings: started.settings(),
    };
    let staff = staff(&request, &mut |people| {
        bar.set_message(format!("{people} people"));
    });
    bar.finish_and_clear();
    tell(args, site, &staff, output)?;
    let enough = |l: &Level| l.enough.is_some() && l.never_done == 0;
    let found = staff.levels_left == 0 && staff.levels.iter().all(enough);
    Ok(if found { Exit::Done } else { Exit::Left })
}

fn school(args: &Args, site: &Site) -> Option<SchoolFigures> {
    let is_classroom = |kind: usize| site.kinds.get(kind).is_some_and(|k| k.id == "classroom");
    let classrooms = site.rooms.iter().filter(|r| is_classroom(r.kind.index()));
    let (students, teachers) = args.students.zip(args.teachers)?;
    Some(SchoolFigures {
        students,
        teachers,
        classrooms: classrooms.count() as u32,
        community: match args.school {
            School::Elementary => SchoolFigures::ELEMENTARY,
            School::Middle => SchoolFigures::MIDDLE,
            School::High => SchoolFigures::HIGH,
        },
    })
}

fn tell(args: &Args, site: &Site, staff: &Staff, output: Output) -> Result<(), Exit> {
    let words = Words::new(Language::English, site);
    output.put(&args.out.join(PAGE), &staff_html(site, staff, &words))?;
    let text = if output.is_json() {
        let program = concat!("evenrun ", env!("CARGO_PKG_VERSION"));
        let document = StaffDocument::new(site, staff, program, args.search.seed);
        document.to_json().map_err(|error| {
            output::wrong(format!("error: cannot write the answer down: {error}"));
            Exit::Bug
        })?
    } else {
        staff_table(site, staff)
    };
    output::data(&text)
}
