//! The program as a process that is timed, and that signals are sent to.

use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// The program that is measured: built for this bench, as fast as a release.
pub(crate) const PROGRAM: &str = env!("CARGO_BIN_EXE_evenrun");

/// A program that takes so much longer than any budget here is not waited for.
const TOO_LONG: Duration = Duration::from_mins(1);

/// How a run ended, and after how many seconds.
pub(crate) struct Ended {
    pub(crate) took: f64,
    pub(crate) how: String,
}

/// A run of the program, and when it began.
pub(crate) fn begun(args: &[String]) -> Result<(Child, Instant), String> {
    let mut command = Command::new(PROGRAM);
    command
        .args(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    let began = Instant::now();
    let child = command.spawn().map_err(|e| format!("{PROGRAM}: {e}"))?;
    Ok((child, began))
}

/// Waits for the end; sends a signal on the way.
pub(crate) fn ended(
    (mut child, began): (Child, Instant),
    signal: Option<(&str, Duration)>,
) -> Result<Ended, String> {
    if let Some((signal, at)) = signal {
        std::thread::sleep(at.saturating_sub(began.elapsed()));
        let mut kill = Command::new("kill");
        kill.args([&format!("-{signal}"), &child.id().to_string()]);
        // It may have ended by itself.
        let _ = kill.stderr(Stdio::null()).status();
    }
    let mut killed = false;
    let status = loop {
        if let Some(status) = child.try_wait().map_err(|e| e.to_string())? {
            break status;
        }
        if !killed && began.elapsed() > TOO_LONG {
            child.kill().map_err(|e| e.to_string())?;
            killed = true;
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    let how = if killed { "killed" } else { how(status) };
    Ok(Ended {
        took: began.elapsed().as_secs_f64(),
        how: how.to_string(),
    })
}

fn how(status: ExitStatus) -> &'static str {
    match status.code() {
        Some(0) => "0",
        Some(1) => "1",
        Some(2) => "2",
        Some(_) => "3",
        None => "signal",
    }
}
