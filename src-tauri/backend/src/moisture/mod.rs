//! How wet the wood is: sample discs, weighings, watering.

pub mod acts;
pub mod rows;
pub mod rules;
