//! Checks against figures from outside the project: almanacs, handbooks, trials, reference data sets.
//! Never a figure of our own making without the sum written out beside it.
//! Invariant: each check names its source, and says so when the source is memory or common practice.

mod dates;
mod dusk;
mod spread;
mod timber;
mod woods;
