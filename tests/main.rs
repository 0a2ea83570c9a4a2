//! The one test binary: outside checks, journeys, merging, migrations, the window.
//! Never a test inside a screen or a shell.
//! Invariant: every test is named as a sentence and leaves nothing behind but pictures under target/.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test says what broke by breaking"
)]
#![allow(clippy::disallowed_methods, reason = "tests make, break and look at files on purpose")]
#![allow(clippy::print_stdout, reason = "a measured rate is told, not only held to a bound")]
#![allow(clippy::too_many_lines, reason = "a walk through the window is one story")]
#![allow(missing_docs, reason = "a test's name is its document")]

mod archive;
mod care;
mod crash;
mod golden;
mod journeys;
mod merge;
mod migrations;
mod outside;
mod photos;
mod privacy;
mod window;
