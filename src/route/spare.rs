//! What the bucket could serve in addition in each gap of a run that is timed: one more room between two fills.

use super::instance::{Instance, Part, Worker};
use super::label::Water;
use super::order::Order;
use super::run::{Run, refill};
use super::timing::Event;

/// What is left over of a bucket, all rooms from one fill to the next counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Spare {
    area: i32,
    rooms: i32,
    /// What its water is used for.
    water: Water,
}

impl Spare {
    fn fresh(worker: &Worker) -> Spare {
        Spare {
            area: worker.bucket,
            rooms: i32::from(worker.bucket_rooms),
            water: Water::Unused,
        }
    }

    fn mop(&mut self, part: &Part, water: Water) {
        self.rooms -= 1;
        self.area = part.mop_left.unwrap_or(self.area - part.mop);
        self.water = water;
    }

    /// Whether it is enough for a part, too.
    pub(super) fn serves(&self, part: &Part, water: Water) -> bool {
        part.mop_left.is_none()
            && self.rooms > 0
            && self.area >= part.mop
            && (self.holds(water) || self.water == Water::Unused)
    }

    /// Whether it is used for such rooms.
    pub(super) fn holds(&self, water: Water) -> bool {
        self.water == water
    }
}

/// Notes in `run`, which is timed, what is left over in every gap: before what is done there, and after it.
pub(super) fn note_spare(instance: &Instance, worker: &Worker, order: &Order, run: &mut Run) {
    let mut now = Spare::default();
    let sides = 2 * (order.facts.len() + 1);
    refill(&mut run.spare, std::iter::repeat_n(now, sides));
    let (mut since, mut before) = (0, 0);
    for timed in &run.events {
        match timed.event {
            Event::Fill => {
                run.spare[since..=before].fill(now);
                now = Spare::fresh(worker);
                since = before + 1;
            }
            Event::Visit(index) => {
                let part = &order.facts[index].part;
                if part.mop > 0 {
                    let job = &instance.jobs[run.visits[index].job as usize];
                    now.mop(part, Water::used_in(job));
                }
                before = 2 * (index + 1);
            }
            _ => {}
        }
    }
    run.spare[since..].fill(now);
}
