//! What a run keeps by itself: its sequence and walks, its windows, its breaks, its dwells.

use super::{Table, WAITING, window};
use crate::route::{Event, FoundRun, Secs, Visit, WalkTable};

impl Table<'_> {
    /// Everything that a run keeps by itself.
    pub(super) fn read_run(&mut self, run: usize) {
        let FoundRun { visits, events } = &self.found.runs[run];
        let who = &self.instance.workers[run];
        let (from, latest) = (i64::from(who.from), i64::from(who.latest));
        let moments = events
            .iter()
            .map(|_| self.rules.moment(from, latest))
            .collect();
        self.moments.push(moments);
        for (index, event) in events.iter().enumerate() {
            let (at, length) = (self.at((run, index)), event.to - event.from);
            self.rules.cost(at, 1);
            if let Some(before) = index.checked_sub(1) {
                let walk = self.walks(run).walk(events[before].place, event.place);
                let gap = events[before].to - events[before].from + walk;
                let before = self.at((run, before));
                self.rules.after(before, at, i64::from(gap));
            }
            match event.event {
                Event::SetUp => self.inside(run, index, (event.from, event.from)),
                Event::Break(rest) => {
                    let rest = &who.breaks[rest];
                    self.inside(run, index, (rest.from, rest.latest));
                }
                Event::TearDown => {
                    self.rules.not_after(at, i64::from(event.from));
                    self.rules.cost(at, WAITING);
                }
                Event::Visit(visit) => {
                    let visit = visits[visit];
                    let job = &self.instance.jobs[visit.job as usize];
                    let (open, shut) = window(&job.windows, event.from, event.to);
                    // Who goes last waits for everybody else, who are back by now.
                    let open = if job.last { event.from } else { open };
                    self.inside(run, index, (open.max(job.not_before), shut - length));
                    if visit.part > 0 {
                        self.keep_lag(run, index);
                    }
                }
                _ => {}
            }
        }
    }

    /// An event starts within these.
    fn inside(&mut self, run: usize, index: usize, (low, high): (Secs, Secs)) {
        let at = self.at((run, index));
        self.rules.not_before(at, i64::from(low));
        self.rules.not_after(at, i64::from(high));
    }

    /// The dwell or drying since the part before is kept, and nobody waits for it in the room longer than now.
    fn keep_lag(&mut self, run: usize, index: usize) {
        let events = &self.found.runs[run].events;
        let mut here = self.visits(run).skip_while(|(i, _)| *i < index);
        let Some((_, visit)) = here.next() else {
            return;
        };
        let is_before =
            |(i, v): &(usize, Visit)| *i < index && v.job == visit.job && v.part + 1 == visit.part;
        let Some((before, _)) = self.visits(run).filter(is_before).last() else {
            return;
        };
        let lag = self.part(run, visit).lag;
        let length = |i: usize| events[i].to - events[i].from;
        let last = index - 1;
        let walk = self
            .walks(run)
            .walk(events[last].place, events[index].place);
        let (ready, arrival) = (events[before].to + lag, events[last].to + walk);
        let attended = (ready.min(events[index].from) - arrival).max(0);
        let (since, until) = (length(before) + lag, length(last) + walk + attended);
        let first = self.at((run, before));
        let (here, last) = (self.at((run, index)), self.at((run, last)));
        self.rules.after(first, here, i64::from(since));
        self.rules.after(first, last, i64::from(since - until));
    }

    fn walks(&self, run: usize) -> &WalkTable {
        let who = &self.instance.workers[run];
        let scope = |job: u32| self.found.scope[job as usize];
        let needs_cart = |job: u32| self.instance.scope(run, job, scope(job)).cart;
        let carts = self.found.runs[run]
            .visits
            .iter()
            .any(|v| needs_cart(v.job));
        &self.instance.walks[who.with_cart.filter(|_| carts).unwrap_or(who.on_foot)]
    }
}
