//! Photos: kept whole, shown small or large, never another in their place.

pub mod acts;
pub mod exif;
pub mod rows;
pub mod rules;
pub mod share;
