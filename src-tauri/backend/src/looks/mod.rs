//! Looks: a check of a log, and what was seen on it.

pub mod acts;
pub mod rules;
