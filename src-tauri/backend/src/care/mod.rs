//! Care: is the register sound, is it kept somewhere else, who writes in it, and the way back.

pub mod acts;
pub mod rows;
pub mod rules;
