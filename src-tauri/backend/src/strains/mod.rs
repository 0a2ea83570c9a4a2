//! Mushrooms, their strains, and the spawn lots they came in.

pub mod acts;
pub mod rows;
pub mod rules;
