//! Chores: what the yard asks for now.

pub mod acts;
pub mod rows;
pub mod rules;
