//! Dusk over the yard: when the night round can start.
//! Never the clock or the place: both are handed in.
//! Invariant: a time that does not come that evening is absent, never guessed.

pub mod rules;
