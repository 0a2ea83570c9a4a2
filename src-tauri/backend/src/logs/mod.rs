//! Logs: what each is, and where it is in its life.

pub mod acts;
pub mod naming;
pub mod record;
pub mod rows;
pub mod rules;
