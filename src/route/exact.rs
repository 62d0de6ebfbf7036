//! Times one run by the exact sweep, around all others as they stand, and notes what the guesses need to know of it.

use super::instance::{FOREVER, Instance, NO_WAY, Secs};
use super::order::{Order, Visit};
use super::prices::Prices;
use super::run::{Run, refill};
use super::spare::note_spare;
use super::swept::Swept;
use super::timing::{Ending, Event, Others, Sweep};

/// Buffers reused from one timing to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Workspace {
    order: Order,
    /// By run, the order of it that was swept last.
    tried: Vec<Swept>,
    /// Whether runs are timed thoroughly.
    pub(super) thorough: bool,
}

/// One run to be timed, and what it is timed around.
#[derive(Clone, Copy)]
pub(super) struct Exact<'a> {
    pub(super) instance: &'a Instance,
    pub(super) prices: &'a Prices,
    pub(super) scope: &'a [u8],
    pub(super) others: Others<'a>,
    /// The order that the run has.
    pub(super) now: &'a Swept,
}

impl Exact<'_> {
    /// Price of an order; `None` if no timing of it is sound. `machines` are those that may be used.
    pub(super) fn price(
        self,
        visits: &[Visit],
        machines: u32,
        space: &mut Workspace,
    ) -> Option<i64> {
        let swept = self.sweep(visits, machines, false, space)?;
        let sweep = self.sweep_of(&swept.order, visits);
        let (_, _, price) = self.end(sweep, swept)?;
        Some(price)
    }

    /// Times an order and spells it out into `run`. False, and `run` is of no use, if no timing of it is sound.
    pub(super) fn time(
        self,
        visits: &[Visit],
        machines: u32,
        space: &mut Workspace,
        run: &mut Run,
    ) -> bool {
        let worker = self.others.run;
        let Some(swept) = self.sweep(visits, machines, space.thorough, space) else {
            return false;
        };
        let order = &swept.order;
        let sweep = self.sweep_of(order, visits);
        let Some((ending, last, price)) = self.end(sweep, swept) else {
            return false;
        };
        run.clear(self.instance, worker);
        refill(&mut run.visits, visits.iter().copied());
        (run.costs, run.ending, run.price) = (order.costs(), ending, price);
        (run.machines, run.with_cart) = (order.machines, order.with_cart);
        let who = &self.instance.workers[worker];
        let (out, home) = (self.instance.before.sets_out(worker, who), who.start);
        let stops = order.facts.iter().map(|f| f.place);
        refill(
            &mut run.path,
            std::iter::once(out).chain(stops).chain([home]),
        );
        run.events = sweep.trace(&swept.labels[..=visits.len()], last);
        self.note_times(order, run);
        std::mem::swap(&mut run.swept, swept);
        true
    }

    fn sweep_of<'o>(&'o self, order: &'o Order, visits: &'o [Visit]) -> Sweep<'o> {
        Sweep::new(self.instance, self.others.run, order, visits, self.others)
    }

    /// Sweeps an order to its last stop, from where it parts from those that were swept before; `None` if that is out of reach.
    fn sweep<'s>(
        self,
        visits: &[Visit],
        machines: u32,
        thorough: bool,
        space: &'s mut Workspace,
    ) -> Option<&'s mut Swept> {
        let worker = self.others.run;
        let Workspace { order, tried, .. } = space;
        if !order.read(self.instance, worker, visits, self.scope) || order.machines & !machines != 0
        {
            return None;
        }
        tried.resize_with(tried.len().max(worker + 1), Swept::default);
        let swept = &mut tried[worker];
        let sweep = self.sweep_of(order, visits).thoroughly(thorough);
        let (tried_far, now_far) = (swept.shared(&sweep), self.now.shared(&sweep));
        if now_far > tried_far {
            swept.copy(self.now, tried_far, now_far);
        }
        swept.become_order((worker, thorough), visits, order, tried_far.max(now_far));
        let Swept {
            order,
            around,
            labels,
            reached,
            ..
        } = &mut *swept;
        let sweep = self.sweep_of(order, visits).thoroughly(thorough);
        refill(&mut labels[0], [sweep.beginning()]);
        while *reached < visits.len() {
            let (before, after) = labels.split_at_mut(*reached + 1);
            sweep.step(*reached, &before[*reached], &mut after[0]);
            if after[0].is_empty() {
                return None;
            }
            around.push(sweep.around(*reached));
            *reached += 1;
        }
        Some(swept)
    }

    /// The best ending of an order that was swept: it, the label that it follows, and its price.
    fn end(self, sweep: Sweep, swept: &Swept) -> Option<(Ending, usize, i64)> {
        let costs = swept.order.costs();
        let price = |e: &_| self.prices.run(self.instance, self.others.run, costs, e);
        sweep.finish(swept.labels.get(swept.reached)?, price)
    }

    /// Fills in what follows from the times: spans of jobs, what is held meanwhile, free and latest times.
    fn note_times(self, order: &Order, run: &mut Run) {
        let worker = &self.instance.workers[self.others.run];
        let Run {
            events,
            visits,
            spans,
            holds,
            free,
            ..
        } = run;
        let before = &self.instance.before;
        refill(free, [worker.from + worker.set_up]);
        for stop in events.iter() {
            let Event::Visit(index) = stop.event else {
                continue;
            };
            free.push(stop.to);
            let (visit, part) = (visits[index], &order.facts[index].part);
            if let Some(span) = spans.iter_mut().find(|(id, ..)| *id == visit.job) {
                span.2 = stop.to;
            } else {
                let from = before.opened(self.others.run, visit.job);
                spans.push((visit.job, from.unwrap_or(stop.from), stop.to));
            }
            if part.mop > 0 {
                let (from, to) = (stop.to - part.wet_before, stop.to + part.wet_after);
                let wet = &self.instance.jobs[visit.job as usize].wet_limits;
                holds.extend(wet.iter().map(|limit| (*limit, from, to)));
            }
        }
        for (id, from, to) in spans {
            let closed = &self.instance.jobs[*id as usize].closed_limits;
            holds.extend(closed.iter().map(|limit| (*limit, *from, *to)));
        }
        self.note_slack(order, run);
        note_water(order, run);
        note_spare(self.instance, worker, order, run);
    }

    /// When each stop, and the end, may begin at the latest if everything after it happens as it does now, and how much other
    /// than stops happens in the gap before each.
    fn note_slack(self, order: &Order, run: &mut Run) {
        let worker = &self.instance.workers[self.others.run];
        let table = order.table(self.instance, self.others.run);
        let end = if order.ends_last {
            worker.latest
        } else {
            worker.latest_unless_last
        };
        let gaps = run.visits.len() + 1;
        refill(
            &mut run.latest,
            std::iter::repeat_n(end - worker.tear_down, gaps),
        );
        for times in [&mut run.gap_work, &mut run.starts, &mut run.waited] {
            refill(times, std::iter::repeat_n(0, gaps));
        }
        let mut gap = run.visits.len();
        let mut by = end;
        let (mut next, mut next_from) = (worker.start, None);
        for at in (1..run.events.len()).rev() {
            let timed = run.events[at];
            let length = timed.to - timed.from;
            let walk = table.walk(timed.place, next).min(NO_WAY / 2);
            by -= walk + length;
            run.waited[gap] += next_from.map_or(0, |from: Secs| from - walk - timed.to);
            match timed.event {
                Event::Visit(index) => {
                    run.starts[index] = timed.from;
                    by = by.min(self.latest_start(order, run, index, length));
                    run.latest[index] = by;
                    gap = index;
                }
                Event::Break(index) => {
                    by = by.min(worker.breaks[index].latest);
                    run.gap_work[gap] += length;
                }
                Event::TearDown => run.starts[gap] = timed.from,
                _ => run.gap_work[gap] += length,
            }
            (next, next_from) = (timed.place, Some(timed.from));
        }
        for index in 1..gaps {
            run.waited[index] += run.waited[index - 1];
        }
    }

    /// The latest start that the window a stop is in, and its later parts, leave it.
    fn latest_start(self, order: &Order, run: &Run, index: usize, length: Secs) -> Secs {
        let visit = run.visits[index];
        let job = &self.instance.jobs[visit.job as usize];
        let start = run.starts[index];
        let mut by = shut(&job.windows, start) - length;
        if order.facts[index].more {
            let follows = |v: &Visit| v.job == visit.job && v.part == visit.part + 1;
            if let Some(second) = run.visits.iter().position(follows) {
                by = by.min(run.latest[second] - order.facts[second].part.lag - length);
            }
        } else if let Some(closure) = &job.closure {
            by = by.min(shut(closure, start) - length);
            for limit in &job.closed_limits {
                let end = start + length;
                let full = self.others.holds.full_from(*limit, self.others.run, end);
                by = by.min(full - length);
            }
        }
        by
    }
}

/// When the window shuts in which a stop starts. Later windows are left out: in them everything after it would be late, too.
fn shut(windows: &[(Secs, Secs)], start: Secs) -> Secs {
    let open = windows
        .iter()
        .find(|(from, to)| *from <= start && start < *to);
    open.map_or(FOREVER, |(_, to)| *to)
}

/// For each stop and the end, whether water is carried there from one mopped floor to the next.
fn note_water(order: &Order, run: &mut Run) {
    let kept = &mut run.water_kept;
    refill(kept, std::iter::repeat_n(false, order.facts.len() + 1));
    let mut used: Option<usize> = None;
    for timed in &run.events {
        match timed.event {
            Event::Fill => used = None,
            Event::Visit(index) if order.facts[index].part.mop > 0 => {
                if let Some(last) = used {
                    kept[last + 1..=index].fill(true);
                }
                used = Some(index);
            }
            _ => {}
        }
    }
}
