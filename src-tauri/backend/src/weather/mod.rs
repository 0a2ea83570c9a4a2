//! Weather by day: typed in, or read from a station's file. Nothing is fetched.

pub mod acts;
pub mod rows;
pub mod rules;
