//! A grower's own spreadsheet, taken in as one act or not at all.

pub mod acts;
pub mod cells;
pub mod lines;
pub mod names;
pub mod rows;
pub mod rules;
pub mod sheet;
