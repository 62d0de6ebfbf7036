//! Watches from outside: an input that takes too long, or too much memory, ends the bench, and is kept.

use super::save::Save;
use std::fs;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// Longest time for an input.
pub(crate) const LONGEST: Duration = Duration::from_secs(5);
/// Most memory of the whole bench, in MiB.
pub(crate) const MOST_MIB: u64 = 1024;
/// How often is looked.
const PAUSE: Duration = Duration::from_millis(20);

/// What is being read, since when.
#[derive(Clone, Default)]
pub(crate) struct Watch(Arc<Mutex<Current>>);

/// When an input began, and the input.
type Current = Option<(Instant, Vec<u8>)>;

impl Watch {
    /// Looks on from a thread of its own. `ends` is called with the reason when an input is too slow or too big.
    pub(crate) fn new(save: Save, ends: fn(&str) -> !) -> Watch {
        let watch = Watch::default();
        let seen = watch.clone();
        thread::spawn(move || {
            loop {
                thread::sleep(PAUSE);
                if let Some(why) = seen.trouble() {
                    let input = seen.lock().take().map(|(_, input)| input);
                    save.put(&why, &input.unwrap_or_default());
                    ends(&why);
                }
            }
        });
        watch
    }

    /// An input begins.
    pub(crate) fn begin(&self, input: &[u8]) {
        let mut current = self.lock();
        let (since, bytes) = current.get_or_insert_with(|| (Instant::now(), Vec::new()));
        *since = Instant::now();
        bytes.clear();
        bytes.extend_from_slice(input);
    }

    /// No input is being read.
    pub(crate) fn end(&self) {
        *self.lock() = None;
    }

    fn trouble(&self) -> Option<String> {
        let took = self.lock().as_ref().map(|(since, _)| since.elapsed())?;
        if took > LONGEST {
            return Some(format!("hang: more than {} s", LONGEST.as_secs()));
        }
        let taken = resident_mib().filter(|mib| *mib > MOST_MIB)?;
        Some(format!("memory: {taken} MiB"))
    }

    fn lock(&self) -> MutexGuard<'_, Current> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Resident memory now, where the system tells it.
fn resident_mib() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
    let kib: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kib / 1024)
}
