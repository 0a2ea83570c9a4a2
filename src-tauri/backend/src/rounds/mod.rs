//! Rounds: the yard walked log by log, by night for slugs and by day for caps.

pub mod acts;
pub mod calendar;
pub mod forecast;
pub mod losses;
pub mod rows;
pub mod rules;
pub mod sightings;
pub mod slug_weather;
