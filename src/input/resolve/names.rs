//! Names: every id that is declared, and looking up those that are used.

use super::values::text;
use crate::input::at::At;
use crate::input::log::{Log, Pos};
use std::collections::BTreeMap;

/// The ids of one sort of thing, in the order of declaration.
pub(crate) struct Index {
    what: &'static str,
    unknown: &'static str,
    ids: Vec<String>,
    at: Vec<Pos>,
    by_id: BTreeMap<String, usize>,
    /// Whether ids are missing because their list could not be read: an unknown one may then be among them.
    lost: bool,
}

impl Index {
    /// No ids yet. `what` is the sort of thing in words, `unknown` the code for an id that is not there.
    pub(crate) fn new(what: &'static str, unknown: &'static str) -> Index {
        Index {
            what,
            unknown,
            ids: Vec::new(),
            at: Vec::new(),
            by_id: BTreeMap::new(),
            lost: false,
        }
    }

    /// The same ids; if some were lost with the file they are in, unknown ones are not told.
    pub(crate) fn lost_if(self, lost: bool) -> Index {
        Index { lost, ..self }
    }

    /// The ids of a list.
    pub(crate) fn of<'a>(
        what: &'static str,
        unknown: &'static str,
        ids: impl IntoIterator<Item = &'a At<String>>,
        log: &Log,
    ) -> Index {
        let mut index = Index::new(what, unknown);
        for id in ids {
            index.declare(id, log);
        }
        index
    }

    /// Adds an id; one that is there already is a problem, but takes its number all the same.
    pub(crate) fn declare(&mut self, id: &At<String>, log: &Log) {
        let name = text(log, &format!("id of a {}", self.what), id);
        if let Some(first) = self
            .by_id
            .get(&name)
            .filter(|_| id.sound && !name.is_empty())
        {
            let message = format!("there is another {} `{name}`", self.what);
            let first = self.at[*first];
            let hint = format!(
                "the first is in {} line {}",
                log.path(first).display(),
                first.line
            );
            log.error("E301", id.pos, message, hint);
        } else {
            self.by_id.insert(name.clone(), self.ids.len());
        }
        self.ids.push(name);
        self.at.push(id.pos);
    }

    /// The number of an id; one that is not there is a problem.
    pub(crate) fn find(&self, id: &At<String>, log: &Log) -> Option<usize> {
        if !id.sound {
            return None;
        }
        let found = self.by_id.get(id.value.trim()).copied();
        if found.is_none() && !self.lost {
            let message = format!("there is no {} `{}`", self.what, id.value);
            let hint = log.near(&id.value, &self.ids);
            log.error(self.unknown, id.pos, message, hint);
        }
        found
    }

    /// The number of an id, if it is there.
    pub(crate) fn number(&self, id: &str) -> Option<usize> {
        self.by_id.get(id.trim()).copied()
    }

    /// The numbers of ids, each once, as the wanted type.
    pub(crate) fn find_all<I: From<usize>>(&self, ids: &[At<String>], log: &Log) -> Vec<I> {
        let mut found: Vec<usize> = Vec::new();
        for number in ids.iter().filter_map(|id| self.find(id, log)) {
            if !found.contains(&number) {
                found.push(number);
            }
        }
        found.into_iter().map(I::from).collect()
    }

    /// Where all were declared.
    pub(crate) fn positions(&self) -> Vec<Pos> {
        self.at.clone()
    }

    /// The ids in order.
    pub(crate) fn ids(&self) -> &[String] {
        &self.ids
    }

    /// How many there are.
    pub(crate) fn len(&self) -> usize {
        self.ids.len()
    }
}
