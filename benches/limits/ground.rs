//! A site with a plan and a split of it, and the commands that are run on it.

use super::building::{Figures, building, told};
use super::program::PROGRAM;
use evenrun::input::read_site;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// What the program left.
pub(crate) enum Left {
    /// No file at all.
    Nothing,
    /// Every file of the set, and a plan that keeps every rule.
    Sound,
    /// Something else.
    Wrong(String),
}

impl Left {
    pub(crate) fn word(&self) -> &str {
        match self {
            Left::Nothing => "nothing",
            Left::Sound => "sound",
            Left::Wrong(what) => what,
        }
    }

    pub(crate) fn code(&self) -> u8 {
        if matches!(self, Left::Wrong(_)) { 3 } else { 0 }
    }
}

/// A site and what the commands need besides.
pub(crate) struct Ground {
    held: TempDir,
    site: PathBuf,
    /// A room to explain, and who is taken away.
    room: String,
    away: Vec<String>,
}

impl Ground {
    /// The demo, or a made-up site; planned once, so that there is something to cover, audit and explain.
    pub(crate) fn of(site: &str, seed: u64) -> Result<Ground, String> {
        let held = tempfile::tempdir().map_err(|e| e.to_string())?;
        let path = held.path().join("site");
        let path = if site == "demo" {
            PathBuf::from("demo/larkfield")
        } else {
            let figures = figures(site, seed).ok_or_else(|| format!("`{site}` is no site"))?;
            let folder = building(figures).map_err(|e| e.to_string())?;
            folder.write(&path).map_err(|e| e.to_string())?;
            path
        };
        let reading = read_site(&path).map_err(|problems| told(&problems))?;
        let mut ground = Ground {
            held,
            site: path,
            room: reading
                .site
                .rooms
                .first()
                .map_or_else(String::new, |r| r.id.clone()),
            away: Vec::new(),
        };
        ground.list().map_err(|e| e.to_string())?;
        ground.plan()?;
        Ok(ground)
    }

    fn arg(&self, name: &str) -> String {
        self.held.path().join(name).display().to_string()
    }

    /// The rooms with what a list of rooms has of itself, without names that only the site explains.
    fn list(&self) -> Result<(), csv::Error> {
        let kept = ["id", "name", "kind", "area_m2"];
        let mut rooms = csv::Reader::from_path(self.site.join("rooms.csv"))?;
        let mut list = csv::Writer::from_path(self.arg("list.csv"))?;
        list.write_record(kept)?;
        let heads = rooms.headers()?.clone();
        let at = kept.map(|head| heads.iter().position(|h| h == head));
        for room in rooms.records() {
            let room = room?;
            let cells = at.map(|at| at.and_then(|at| room.get(at)).unwrap_or_default());
            list.write_record(cells)?;
        }
        list.flush()?;
        Ok(())
    }

    fn plan(&mut self) -> Result<(), String> {
        let (site, kept) = (self.site.display().to_string(), self.arg("kept"));
        let args = ["plan", &site, "--iterations", "20", "--out", &kept];
        Command::new(PROGRAM)
            .args(args)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .map_err(|e| e.to_string())?;
        let text = fs::read_to_string(self.arg("kept/plan.json")).map_err(|e| e.to_string())?;
        let plan: serde_json::Value = serde_json::from_str(&text).map_err(|e| e.to_string())?;
        let mut split = "room,worker\n".to_string();
        let mut known = BTreeSet::new();
        for run in plan["runs"].as_array().into_iter().flatten() {
            let worker = run["worker"].as_str().unwrap_or_default();
            self.away.push(worker.to_string());
            for stop in run["stops"].as_array().into_iter().flatten() {
                if let Some(room) = stop["room"]
                    .as_str()
                    .filter(|r| known.insert(r.to_string()))
                {
                    // Writing to a text cannot fail.
                    let _ = writeln!(split, "\"{room}\",\"{worker}\"");
                }
            }
        }
        // Half of a small crew, three of a large one.
        self.away.truncate((self.away.len() / 2).min(3));
        fs::write(self.arg("split.csv"), split).map_err(|e| e.to_string())
    }

    /// The command line of a command with a budget.
    pub(crate) fn command(&self, command: &str, seconds: f64) -> Vec<String> {
        let (site, out) = (self.site.display().to_string(), self.arg("out"));
        let (plan, split) = (self.arg("kept/plan.json"), self.arg("split.csv"));
        let budget = ["--seconds".to_string(), seconds.to_string()];
        let mut args = vec![command.to_string(), site.clone()];
        match command {
            "all" => {
                let below = self.site.parent().map(|p| p.display().to_string());
                args = ["plan", "--all", &below.unwrap_or_default()]
                    .map(String::from)
                    .to_vec();
            }
            "report" => {
                args.push(plan);
                for form in ["html", "cards", "csv", "ics", "map-svg"] {
                    args.extend([format!("--{form}"), format!("{out}/{form}")]);
                }
                return args;
            }
            "import" => {
                let list = self.arg("list.csv");
                return ["import", "rooms", &list, "--into", &out]
                    .map(String::from)
                    .to_vec();
            }
            "cover" => {
                args.push(plan);
                for name in &self.away {
                    args.extend(["--absent".to_string(), name.clone()]);
                }
            }
            "audit" => args.push(split),
            "calendar" => args.extend(["--weeks".to_string(), "12".to_string()]),
            "explain" => {
                args.extend([plan, self.room.clone()]);
                return args;
            }
            _ => {}
        }
        if command != "calendar" {
            args.extend(budget);
        }
        args.extend(["--out".to_string(), out]);
        args
    }

    /// Forgets what the last command wrote.
    pub(crate) fn clear(&self) -> Result<(), String> {
        let out = self.held.path().join("out");
        match fs::remove_dir_all(out) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(error.to_string()),
            _ => Ok(()),
        }
    }

    /// What a command left.
    pub(crate) fn left(&self, command: &str) -> Result<Left, String> {
        let set: &[&str] = match command {
            "plan" | "all" => &["plan.json", "report.html", "cards.html"],
            "cover" => &[
                "plan.json",
                "changes.json",
                "carry.json",
                "report.html",
                "cards.html",
            ],
            "audit" => &["best.json", "audit.html"],
            "staff" => &["staff.html"],
            "calendar" => &["calendar.yaml", "calendar.html"],
            "report" => &["html", "cards"],
            "import" => &["site.yaml", "rooms.csv"],
            _ => &[],
        };
        let mut out = self.held.path().join("out");
        if command == "all" {
            out.extend(self.site.file_name());
        }
        let there: Vec<&&str> = set.iter().filter(|f| out.join(f).is_file()).collect();
        if there.is_empty() {
            return Ok(Left::Nothing);
        }
        if there.len() < set.len() {
            return Ok(Left::Wrong(format!("only {there:?}")));
        }
        if !set[0].ends_with("json") {
            return Ok(Left::Sound);
        }
        let (site, plan) = (self.site.display().to_string(), out.join(set[0]));
        let verified = Command::new(PROGRAM)
            .args(["verify", &site])
            .arg(&plan)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .map_err(|e| e.to_string())?;
        Ok(match verified.code() {
            Some(0) => Left::Sound,
            code => Left::Wrong(format!("verify ended with {code:?}")),
        })
    }
}

/// Rooms and workers, with a floor for every hundred rooms, but three at least.
fn figures(site: &str, seed: u64) -> Option<Figures> {
    let (rooms, workers) = site.split_once('/')?;
    let rooms = rooms.parse().ok()?;
    Some(Figures {
        rooms,
        workers: workers.parse().ok()?,
        floors: (rooms / 100).max(3).min(rooms / 12),
        seed,
        plain: false,
    })
}
