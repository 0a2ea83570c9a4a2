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
#![allow(missing_docs, reason = "a test's name is its document")]

mod archive;
mod care;
mod crash;
mod journeys;
mod merge;
mod migrations;
mod outside;
mod privacy;
mod window;
