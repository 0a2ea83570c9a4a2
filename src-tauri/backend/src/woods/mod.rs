//! The woods a log can be cut from: what each is worth to a mushroom, and where that is said.
//! Never what this yard's own records say of a wood: `review` has that.
//! Invariant: no rating or figure stands in the table without its mark and source.

pub mod acts;
pub mod rows;
pub mod rules;
