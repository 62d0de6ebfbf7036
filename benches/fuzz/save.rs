//! Keeps inputs that did harm: one file for each way of doing it.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

/// Where inputs are kept, if anywhere.
#[derive(Clone)]
pub(crate) struct Save {
    family: &'static str,
    folder: Option<PathBuf>,
    reasons: Arc<Mutex<BTreeSet<String>>>,
}

impl Save {
    /// Into a folder.
    pub(crate) fn new(family: &'static str, folder: Option<PathBuf>) -> Save {
        Save {
            family,
            folder,
            reasons: Arc::default(),
        }
    }

    /// Keeps an input, unless there was one for this reason. Whether it is new.
    pub(crate) fn put(&self, why: &str, input: &[u8]) -> bool {
        let mut reasons = self.reasons.lock().unwrap_or_else(PoisonError::into_inner);
        if !reasons.insert(why.to_string()) {
            return false;
        }
        if let Some(folder) = &self.folder {
            let name = format!("{}-{}", self.family, reasons.len());
            // What cannot be kept is still told.
            let _ = fs::create_dir_all(folder);
            let _ = fs::write(folder.join(&name), input);
            let _ = fs::write(folder.join(format!("{name}.why")), why);
        }
        true
    }
}
