//! What a command stops at besides the problems of a site's own files: an unknown name, a file that cannot be read or written, a
//! plan that does not fit. Told to people on stderr, and as JSON to programs that asked for it.

use super::exit::Exit;
use super::output::{self, Output};
use evenrun::plan::Misfit;
use serde::Serialize;
use serde_json::json;
use std::path::Path;

/// One reason to stop; in JSON its `severity` is `error`, as of a site's problem.
#[derive(Debug, Serialize)]
#[serde(tag = "severity", rename = "error")]
pub(super) struct Refusal {
    /// A word for programs.
    code: &'static str,
    /// The file it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    file: Option<String>,
    /// Where in the file.
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<String>,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    hint: Option<String>,
}

impl Refusal {
    pub(super) fn new(code: &'static str, message: String) -> Refusal {
        Refusal {
            code,
            file: None,
            at: None,
            message,
            hint: None,
        }
    }

    /// A file that cannot be read, written or made.
    pub(super) fn of_file(code: &'static str, path: &Path, message: String) -> Refusal {
        Refusal {
            file: Some(path.display().to_string()),
            ..Refusal::new(code, message)
        }
    }

    /// Something in a plan file that does not fit the site.
    pub(super) fn of_plan(path: &Path, misfit: &Misfit) -> Refusal {
        Refusal {
            at: Some(misfit.at.clone()),
            hint: misfit.hint.clone(),
            ..Refusal::of_file("plan-misfit", path, misfit.message.clone())
        }
    }

    /// Something in what is said of tonight that does not fit the site.
    pub(super) fn of_change(misfit: &Misfit) -> Refusal {
        Refusal {
            hint: misfit.hint.clone(),
            ..Refusal::new("night-misfit", misfit.message.clone())
        }
    }

    /// The same with what to do about it.
    pub(super) fn hint(self, hint: String) -> Refusal {
        Refusal {
            hint: Some(hint),
            ..self
        }
    }

    fn render(&self) -> String {
        // A message about a whole file names it.
        let place = match (&self.file, &self.at) {
            (Some(file), Some(at)) => format!("{file}: {at}: "),
            _ => String::new(),
        };
        let hint = self.hint.as_ref().map(|hint| format!("\nhint: {hint}"));
        format!("error: {place}{}{}", self.message, hint.unwrap_or_default())
    }
}

/// Tells why the command stops here.
pub(super) fn refuse(refusals: &[Refusal], output: Output) -> Exit {
    for refusal in refusals {
        output::wrong(refusal.render());
    }
    match output.problems(&json!(refusals)) {
        Ok(()) => Exit::Bad,
        Err(exit) => exit,
    }
}
