//! Places in the yard, in the order they are walked.

pub mod acts;
pub mod rows;
