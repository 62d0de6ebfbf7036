//! A route optimizer for multi-floor custodial assignments: splits a building's cleaning work fairly over a crew and gives
//! each person a timed run that can really be walked.
//!
//! The modules below are the pipeline, in order; each uses only those above it.

pub mod units;

pub mod site;

pub mod walk;

pub mod work;

pub mod route;

pub mod balance;

pub mod plan;

pub mod cover;

pub mod manage;

pub mod input;

pub mod report;
