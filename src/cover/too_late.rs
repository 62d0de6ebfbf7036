//! What it is too late for: work that has to be over before something that has begun already.

use super::frozen::Frozen;
use crate::plan::{PlannedStop, UndoneWork, What};
use crate::site::{Site, WorkerId};
use crate::work::DueTask;

impl Frozen {
    /// Why a piece of work that is still to be done cannot be done any more, in words; none if it can.
    pub(super) fn too_late_for(&self, site: &Site, work: UndoneWork) -> Option<String> {
        self.locked_up_before(site).or_else(|| match work {
            UndoneWork::Task(task) => self.later_in_the_room(site, task),
            UndoneWork::Duty(_) => None,
        })
    }

    /// The duty that comes last, if it has begun or its worker is on the way to it, and whose it is.
    pub(super) fn last_duty(&self, site: &Site) -> Option<(WorkerId, &PlannedStop)> {
        let stops = self.past.iter();
        let mut stops = stops.flat_map(|(w, p)| p.stops.iter().map(|s| (*w, s)));
        stops.find(|(_, s)| matches!(s.what, What::Duty(duty) if site.duties[duty].last))
    }

    fn locked_up_before(&self, site: &Site) -> Option<String> {
        let (_, stop) = self.last_duty(site)?;
        let What::Duty(duty) = stop.what else {
            return None;
        };
        let began = stop.span.from;
        site.now.filter(|now| began <= *now).map(|_| {
            format!(
                "`{}` began at {began} and comes last",
                site.duties[duty].name
            )
        })
    }

    /// A room is worked from dry to wet and from high to low, by however many people.
    fn later_in_the_room(&self, site: &Site, task: DueTask) -> Option<String> {
        let step = |t: &DueTask| t.task(site).method.step();
        let begun = self.tasks().into_iter().filter(|t| t.room == task.room);
        begun
            .max_by_key(step)
            .filter(|other| step(other) > step(&task))
            .map(|other| {
                format!(
                    "`{}` has begun there and comes after it",
                    other.task(site).name
                )
            })
    }
}
