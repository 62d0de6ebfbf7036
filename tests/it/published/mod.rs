//! The engine against published best-known answers of two classic problems, read by the same files that the benches read.
//!
//! How near it comes in half a minute is measured by the benches; here a short search has to come near at all.

mod even;
mod routing;

use evenrun::route::{Budget, Found, Instance, Settings, Stop, search};
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

fn fixture(name: &str) -> PathBuf {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    root.join("fixtures/routing").join(name)
}

fn searched(instance: &Instance, iterations: u64) -> Found {
    let settings = Settings {
        stop: Stop {
            budget: Budget::Iterations(iterations),
            interrupted: &AtomicBool::new(false),
        },
        seed: 1,
        islands: 1,
    };
    search(instance, None, &[], settings, &mut |_, _| {})
}
