//! `evenrun plan --all`: many sites, each by itself.
//!
//! As sites have nothing to do with each other, any engine that runs jobs can share them out: `--part` takes every n-th of them, and whoever
//! runs without it afterwards finds all done and prints the whole table.

mod one;
mod record;
mod sites;
mod summary;

use super::exit::Exit;
use super::output::{self, Output};
use super::plan::Args;
use super::refusal::refuse;
use super::search;
use evenrun::report::{self, SiteLine};
use itertools::Itertools;
use serde_json::json;
pub(super) use sites::Part;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use summary::State;

/// Plans all sites below a folder, or a share of them.
pub(super) fn planned(args: &Args, folder: &Path, output: Output) -> Result<Exit, Exit> {
    let sites = sites::below(folder, args.part).map_err(|refusal| refuse(&[refusal], output))?;
    let interrupted = Arc::default();
    search::listen(&interrupted, output);
    let task = one::Task {
        args,
        interrupted: &interrupted,
        output,
    };
    let states = in_turn(args.threads, sites.len(), |index| task.state(&sites[index]));
    let worst = states
        .iter()
        .map(State::exit)
        .max_by_key(|exit| *exit as u8);
    let lines = states.into_iter().zip(&sites);
    let lines: Vec<SiteLine> = lines
        .map(|(state, site)| state.line(site.name.clone()))
        .collect();
    let text = if output.is_json() {
        format!("{:#}\n", json!({ "sites": lines }))
    } else {
        report::sites_table(&lines)
    };
    output::data(&text)?;
    Ok(worst.unwrap_or(Exit::Done))
}

/// What `make` makes of each number below `count`, in that order, on so many threads (0 is one per processor).
///
/// Every thread takes the next number that nobody has. Were the numbers tasks of the pool, a thread that waits for the other half of its
/// own search would begin another site meanwhile, and its time would run out.
fn in_turn(threads: u16, count: usize, make: impl Fn(usize) -> State + Sync) -> Vec<State> {
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(usize::from(threads))
        .build();
    let (next, states) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let work = || {
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                return;
            }
            let state = make(index);
            if let Ok(mut states) = states.lock() {
                states.push((index, state));
            }
        }
    };
    match &pool {
        Ok(pool) => drop(pool.broadcast(|_| work())),
        // No threads to be had: this one does it all.
        Err(_) => work(),
    }
    let states = states.into_inner().unwrap_or_else(PoisonError::into_inner);
    let in_order = states.into_iter().sorted_by_key(|(index, _)| *index);
    in_order.map(|(_, state)| state).collect()
}
