//! Moving logs from spot to spot: when it is time, and the dated entries that say so.

pub mod acts;
pub mod rows;
pub mod rules;
