//! Places in the yard, in the order they are walked, and what each is like.

pub mod acts;
pub mod rows;
pub mod rules;
