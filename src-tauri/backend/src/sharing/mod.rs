//! Sharing: the archive one carries away, and what two hands wrote apart.

pub mod acts;
pub mod rows;
pub mod rules;
