//! Rounds: the yard walked log by log in one evening.

pub mod acts;
pub mod rows;
pub mod rules;
