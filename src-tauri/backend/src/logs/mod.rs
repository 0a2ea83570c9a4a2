//! Logs: what each is, and where it is in its life.

pub mod acts;
pub mod endgrain;
pub mod known;
pub mod lost;
pub mod naming;
pub mod record;
pub mod rows;
pub mod rules;
pub mod search;
