//! From the text of a document back to a plan: every name looked up, every time read, every mistake collected.

use super::{
    Misfit, PlanDocument, RunDocument, StopDocument, StopWord, UndoneDocument, UndoneReason,
    VERSION, break_names,
};
use crate::plan::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What};
use crate::site::{MachineId, PlaceId, RoomId, Site, Worker};
use crate::units::{Clock, Span};
use crate::work::DueTask;
use jiff::civil::Date;
use serde::Deserialize;

/// Most stops of a plan that is read: twenty for each room of the largest site.
pub(crate) const MOST_STOPS: usize = 100_000;

impl PlanDocument {
    /// Reads the text of a plan file.
    ///
    /// # Errors
    /// A text that is not JSON, is of another version, or lacks something or has something unknown: the first such place.
    pub fn from_json(text: &str) -> Result<PlanDocument, Misfit> {
        let Versioned { version } = serde_json::from_str(text).map_err(|e| unread(&e))?;
        match version {
            Some(version) if version == u64::from(VERSION) => {}
            Some(other) => {
                let message = format!("plan files of version {other} are not known here");
                return Err(Misfit::new("version", message)
                    .hint(format!("this program reads version {VERSION}")));
            }
            None => {
                let misfit = Misfit::new("version", "this is no plan file: it states no version");
                return Err(
                    misfit.hint("a plan file is the `plan.json` that `evenrun plan` writes")
                );
            }
        }
        let document: PlanDocument = serde_json::from_str(text).map_err(|e| unread(&e))?;
        let stops: usize = document.runs.iter().map(|run| run.stops.len()).sum();
        if stops > MOST_STOPS {
            let message = format!("{stops} stops are more than any plan has");
            return Err(Misfit::new("runs", message).hint(format!("up to {MOST_STOPS} are read")));
        }
        Ok(document)
    }

    /// Finds everything that the document names in the site.
    ///
    /// # Errors
    /// Everything that is not there or cannot be read, with its path.
    pub fn resolve(&self, site: &Site) -> Result<Plan, Vec<Misfit>> {
        let mut resolver = Resolver {
            site,
            misfits: Vec::new(),
        };
        let date = resolver.date(&self.date);
        let runs = self
            .runs
            .iter()
            .enumerate()
            .map(|(i, run)| resolver.run(run, &format!("runs[{i}]")));
        let runs: Vec<Option<Run>> = runs.collect();
        let undone = self
            .undone
            .iter()
            .enumerate()
            .map(|(i, u)| resolver.undone(u, &format!("undone[{i}]")));
        let undone: Vec<Option<Undone>> = undone.collect();
        match date {
            Some(date) if resolver.misfits.is_empty() => Ok(Plan {
                date,
                runs: runs.into_iter().flatten().collect(),
                undone: undone.into_iter().flatten().collect(),
            }),
            _ => Err(resolver.misfits),
        }
    }
}

/// The one thing looked at before all others.
#[derive(Deserialize)]
struct Versioned {
    version: Option<u64>,
}

fn unread(error: &serde_json::Error) -> Misfit {
    let (at, text) = (
        format!("{}:{}", error.line(), error.column()),
        error.to_string(),
    );
    let message = text
        .split(" at line ")
        .next()
        .unwrap_or_default()
        .to_string();
    Misfit::new(at, message)
}

/// Looks names up. Whatever is not found is noted, and `None` stands in its place.
struct Resolver<'a> {
    site: &'a Site,
    misfits: Vec<Misfit>,
}

impl Resolver<'_> {
    fn date(&mut self, text: &str) -> Option<Date> {
        let date = text.parse().ok();
        if date.is_none() {
            self.note(
                Misfit::new("date", format!("`{text}` is not a date"))
                    .hint("write it like `2026-03-10`"),
            );
        }
        date
    }

    fn run(&mut self, run: &RunDocument, path: &str) -> Option<Run> {
        let site = self.site;
        let at = format!("{path}.worker");
        let names = site.crew.iter().map(|w| w.name.as_str());
        let index = self.find(at, "worker", &run.worker, names)?;
        let stops = run.stops.iter().enumerate();
        let stops: Vec<Option<PlannedStop>> = stops
            .map(|(i, stop)| self.stop(stop, &site.crew[index], &format!("{path}.stops[{i}]")))
            .collect();
        Some(Run {
            worker: index.into(),
            stops: stops.into_iter().flatten().collect(),
        })
    }

    fn stop(&mut self, stop: &StopDocument, worker: &Worker, path: &str) -> Option<PlannedStop> {
        let room = self.room(stop.room.as_deref(), path);
        let place = self.place(stop, room, path);
        let (from, to) = (
            self.clock(&stop.from, path, "from"),
            self.clock(&stop.to, path, "to"),
        );
        let what = self.what(stop, room, worker, path);
        Some(PlannedStop {
            what: what?,
            place: place?,
            span: Span::new(from?, to?),
        })
    }

    fn room(&mut self, name: Option<&str>, path: &str) -> Option<RoomId> {
        let rooms = self.site.rooms.iter().map(|r| r.id.as_str());
        self.find(format!("{path}.room"), "room", name?, rooms)
            .map(RoomId::from)
    }

    /// The place stated, or else the room's.
    fn place(&mut self, stop: &StopDocument, room: Option<RoomId>, path: &str) -> Option<PlaceId> {
        match (&stop.place, &stop.room) {
            (Some(name), _) => {
                let places = self.site.places.iter().map(|p| p.id.as_str());
                self.find(format!("{path}.place"), "place", name, places)
                    .map(PlaceId::from)
            }
            (None, Some(_)) => room.map(|room| self.site.place_of_room(room)),
            (None, None) => {
                self.note(Misfit::new(path, "neither `room` nor `place` is given"));
                None
            }
        }
    }

    fn what(
        &mut self,
        stop: &StopDocument,
        room: Option<RoomId>,
        worker: &Worker,
        path: &str,
    ) -> Option<What> {
        let site = self.site;
        match stop.what {
            StopWord::SetUp => Some(What::SetUp),
            StopWord::TearDown => Some(What::TearDown),
            StopWord::Fill => Some(What::Fill),
            StopWord::Dump => Some(What::Dump),
            StopWord::Clean => self.room_work(stop, room, path, What::Clean),
            StopWord::OpenAndWet => self.room_work(stop, room, path, What::OpenAndWet),
            StopWord::WipeAndMop => self.room_work(stop, room, path, What::WipeAndMop),
            StopWord::Reopen => self.room_work(stop, room, path, |room, _| What::Reopen(room)),
            StopWord::Duty => {
                let duties = site.duties.iter().map(|d| d.name.as_str());
                self.named(path, "duty", stop.duty.as_deref(), duties)
                    .map(What::Duty)
            }
            StopWord::Fetch | StopWord::Return => {
                let machines = site.machines.iter().map(|m| m.name.as_str());
                let machine = self
                    .named(path, "machine", stop.machine.as_deref(), machines)
                    .map(MachineId::from)?;
                let fetched = stop.what == StopWord::Fetch;
                Some(if fetched {
                    What::Fetch(machine)
                } else {
                    What::Return(machine)
                })
            }
            StopWord::Break => {
                let breaks = break_names(worker);
                let breaks = breaks.iter().map(String::as_str);
                self.named(path, "break", stop.rest.as_deref(), breaks)
                    .map(What::Break)
            }
        }
    }

    fn room_work(
        &mut self,
        stop: &StopDocument,
        room: Option<RoomId>,
        path: &str,
        what: fn(RoomId, Vec<DueTask>) -> What,
    ) -> Option<What> {
        if stop.room.is_none() {
            self.note(Misfit::new(
                format!("{path}.room"),
                format!("`{}` needs a room", stop.what),
            ));
        }
        let room = room?;
        let tasks = stop.tasks.iter().enumerate();
        let tasks: Vec<Option<DueTask>> = tasks
            .map(|(i, name)| self.task(room, name, format!("{path}.tasks[{i}]")))
            .collect();
        Some(what(room, tasks.into_iter().flatten().collect()))
    }

    fn task(&mut self, room: RoomId, name: &str, at: String) -> Option<DueTask> {
        let kind = self.site.rooms[room.index()].kind;
        let tasks = self.site.kinds[kind.index()]
            .tasks
            .iter()
            .map(|t| t.name.as_str());
        let of = format!("task for `{}`", self.site.rooms[room.index()].id);
        self.find(at, &of, name, tasks)
            .map(|index| DueTask { room, kind, index })
    }

    fn undone(&mut self, undone: &UndoneDocument, path: &str) -> Option<Undone> {
        let site = self.site;
        let what = match (&undone.room, &undone.task, &undone.duty) {
            (Some(_), Some(task), None) => {
                let room = self.room(undone.room.as_deref(), path)?;
                self.task(room, task, format!("{path}.task"))
                    .map(UndoneWork::Task)
            }
            (None, None, Some(duty)) => {
                let duties = site.duties.iter().map(|d| d.name.as_str());
                self.find(format!("{path}.duty"), "duty", duty, duties)
                    .map(UndoneWork::Duty)
            }
            _ => {
                self.note(Misfit::new(
                    path,
                    "either `room` and `task` or `duty` is needed",
                ));
                None
            }
        };
        let detail = undone.detail.clone().unwrap_or_default();
        let reason = match undone.reason {
            UndoneReason::Nobody => Reason::Nobody(detail),
            UndoneReason::NoWindow => Reason::NoWindow(detail),
            UndoneReason::TooLate => Reason::TooLate(detail),
            UndoneReason::NoTime => Reason::NoTime,
        };
        Some(Undone {
            what: what?,
            reason,
        })
    }

    fn clock(&mut self, text: &str, path: &str, key: &str) -> Option<Clock> {
        let clock = text.parse::<Clock>();
        clock
            .map_err(|e| self.note(Misfit::new(format!("{path}.{key}"), e.to_string())))
            .ok()
    }

    /// The index of a name that a stop of this kind has to give.
    fn named<'n>(
        &mut self,
        path: &str,
        key: &str,
        name: Option<&str>,
        known: impl Iterator<Item = &'n str> + Clone,
    ) -> Option<usize> {
        let at = format!("{path}.{key}");
        let Some(name) = name else {
            self.note(Misfit::new(at, format!("the {key} is not named")));
            return None;
        };
        self.find(at, key, name, known)
    }

    /// The index of a name.
    fn find<'n>(
        &mut self,
        at: String,
        what: &str,
        name: &str,
        mut known: impl Iterator<Item = &'n str> + Clone,
    ) -> Option<usize> {
        let all = known.clone();
        let index = known.position(|k| k == name);
        if index.is_none() {
            self.note(Misfit::unknown(at, what, name, all));
        }
        index
    }

    fn note(&mut self, misfit: Misfit) {
        self.misfits.push(misfit);
    }
}
