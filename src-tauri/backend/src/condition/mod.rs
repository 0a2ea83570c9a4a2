//! The wood itself: bark, ends, wax and plugs, who else lives in it; and what is done for a log but watering.

pub mod acts;
pub mod rules;
