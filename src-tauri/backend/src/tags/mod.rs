//! Tags: sheets to print, a code and large letters for each log.

pub mod acts;
pub mod pdf;
pub mod rules;
