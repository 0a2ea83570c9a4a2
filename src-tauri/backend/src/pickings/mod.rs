//! Pickings: what was harvested from a log.

pub mod acts;
pub mod rules;
