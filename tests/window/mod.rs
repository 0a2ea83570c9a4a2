//! The real window, driven on a private screen: what a grower does, with bad input, in the dark, and after
//! the battery died.
//!
//! Never here: what the register works out; that is tested without a window. Invariant: each test has its own
//! yard, its own screen and its own deadline, and leaves its pictures in `target/pictures/<its name>`.
#![allow(clippy::expect_used, clippy::panic, reason = "a test that cannot go on stops there and says why")]
#![allow(
    clippy::disallowed_methods,
    reason = "keeps pictures and deadlines of its own; the register goes by the backend"
)]

mod afterwards;
mod bring_in;
mod care;
mod checks;
pub mod children;
mod closed;
mod driver;
mod first;
mod floor;
mod lamp;
mod life;
mod look;
mod night;
mod photographed;
mod picking;
mod review;
mod rounds;
mod settings;
mod sharing;
mod spots;
mod typed;
mod walk;
mod work;
pub mod yards;
