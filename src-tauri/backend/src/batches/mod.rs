//! Wood felled together, and how long it can wait to be laid.

pub mod acts;
pub mod rows;
pub mod rules;
