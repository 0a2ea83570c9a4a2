//! Review: what the record says did best, and how surely.

pub mod acts;
pub mod rows;
pub mod rules;
