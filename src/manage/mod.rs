//! What a manager asks: how today's split compares with the best one, on which day periodic work falls, how many people it takes.
//!
//! Every answer is made by the layers below, with their search, their bound and their check; nothing here knows of files.

mod audit;

pub use audit::{
    Audit, AuditDocument, AuditRequest, GivenStop, Hand, Late, Moves, Rotation, RotationDocument,
    Twice, audit, rooms_of, rotation,
};
