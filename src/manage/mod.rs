//! What a manager asks: how today's split compares with the best one, on which day periodic work falls, how many people it takes.
//!
//! Every answer is made by the layers below, with their search, their bound and their check; nothing here knows of files.

mod audit;
mod calendar;
mod staff;

pub use audit::{
    Audit, AuditDocument, AuditRequest, GivenStop, Hand, Late, Moves, Rotation, RotationDocument,
    Twice, audit, rooms_of, rotation,
};
pub use calendar::{
    CalendarDocument, CalendarRequest, DayLoad, Heaviest, PeriodicCalendar, calendar, split_of,
};
pub use staff::{
    Attempt, Formula, Level, SchoolFigures, Staff, StaffDocument, StaffRequest, Turn, Workload,
    casbo, formulas, staff, usps_people, workload,
};
