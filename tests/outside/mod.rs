//! Checks against figures from outside the project: almanacs, handbooks, trials, reference data sets.
//! Never a figure of our own making without the sum written out beside it.
//! Invariant: each check names its source, and says so when the source is memory or common practice.

mod curves;
mod dates;
mod dusk;
mod first_fruit;
mod forecast;
mod invented;
mod lifting;
mod moisture;
mod peer;
mod recovered;
mod station;
mod statistics;
mod timber;
mod woods;
