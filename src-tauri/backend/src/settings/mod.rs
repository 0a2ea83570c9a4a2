//! Settings: where the yard is, and how this device shows it.

pub mod acts;
pub mod rows;
pub mod rules;
