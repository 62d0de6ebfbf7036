//! Rule 12: each break of a working run is taken once, whole, inside its window, at its place: the stated one, or else any
//! break place, or the start place where the site has none.

use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading};

/// The breaks of one run; one without stops has none.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    if run.stops.is_empty() {
        return;
    }
    for (index, rest) in run.worker.breaks.iter().enumerate() {
        let taken = run
            .stops
            .iter()
            .filter(|s| s.what == What::Break(index))
            .count();
        if taken != 1 {
            let problem = format!("`{}` is taken {taken} times instead of once", rest.name);
            found.in_run(Rule::Breaks, run, &problem);
        }
    }
    for (at, stop) in run.stops.iter().enumerate() {
        if let What::Break(index) = stop.what {
            is_taken_whole(run, at, index, found);
            is_at_its_place(run, at, index, found);
        }
    }
}

fn is_taken_whole(run: &ReadRun, at: usize, index: usize, found: &mut Findings) {
    let (stop, rest, window) = (
        &run.stops[at],
        &run.worker.breaks[index],
        run.break_windows[index],
    );
    let (name, planned) = (&rest.name, stop.span.to - stop.span.from);
    if planned != rest.length {
        let problem = format!(
            "`{name}` takes {}, planned are {}",
            exact(rest.length),
            exact(planned)
        );
        found.at_stop(Rule::Breaks, run, at, &problem);
    }
    if !window.holds(stop.span) {
        let problem = format!("`{name}` lies inside {}-{}", window.from, window.to);
        found.at_stop(Rule::Breaks, run, at, &problem);
    }
}

fn is_at_its_place(run: &ReadRun, at: usize, index: usize, found: &mut Findings) {
    let (place, rest) = (run.stops[at].place, &run.worker.breaks[index]);
    let any = run.site.places.iter().any(|p| p.break_place);
    let fits = match rest.place {
        Some(stated) => place == stated,
        None if any => run.site.places[place.index()].break_place,
        None => place == run.worker.start,
    };
    if !fits {
        let problem = format!("`{}` is not taken here", rest.name);
        found.at_stop(Rule::Breaks, run, at, &problem);
    }
}
