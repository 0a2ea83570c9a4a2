//! Whether a log can be lifted without harm.

pub mod acts;
pub mod rules;
