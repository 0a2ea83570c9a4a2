//! `deny`: licences, known faults and sources of every crate, through cargo-deny.
//!
//! Never here: what is allowed; `.deny.toml` says that. Invariant: it installs nothing and is no step of
//! the two main commands: known faults change from day to day without a change here.

use crate::Outcome;
use crate::steps::{cargo, on_path, run};

/// `deny [CHECK …]`, all checks when none is named.
pub fn deny(words: &[String]) -> Outcome {
    if !on_path("cargo-deny") {
        return Err("cargo-deny is not installed. Install it with:\n  cargo install cargo-deny --locked\nand run this again.".into());
    }
    run("deny", cargo(["deny", "--config", ".deny.toml", "check"]).args(words))
}
