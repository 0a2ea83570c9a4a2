//! Mushrooms and their strains.

pub mod rows;
pub mod rules;
