//! The tank: what goes in, when it comes out, and the rest that follows.

pub mod acts;
pub mod rows;
pub mod rules;
