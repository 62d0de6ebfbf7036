//! The small one-line notations of site files, one file each. They know nothing of files: a text in, a value or a reason out.

mod days;
mod frequency;
mod hours;
mod span;
mod spot;

pub(crate) use days::weekdays;
pub(crate) use frequency::frequency;
pub(crate) use hours::{WrongHours, hours};
pub(crate) use span::{WrongSpan, span};
pub(crate) use spot::{Along, spot};
