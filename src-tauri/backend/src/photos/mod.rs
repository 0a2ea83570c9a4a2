//! Photos: kept whole, shown small or large, never another in their place; found by their tag, and measured.

pub mod acts;
mod decode;
pub mod exif;
pub mod find;
mod grid;
pub mod growth;
mod pack;
pub mod plane;
mod relief;
pub mod rows;
pub mod rules;
pub mod share;
mod squares;
