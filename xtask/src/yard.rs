//! The backend's own command line, `yard`, passed through.
//!
//! Never here: what a command means. Invariant: words pass unchanged.

use crate::Outcome;
use crate::steps::{cargo, output, run};

const YARD: [&str; 7] = ["run", "--quiet", "--package", "shadeyard-backend", "--bin", "yard", "--"];

/// `call NAME 'JSON' --yard FOLDER …`, as the user typed it.
pub fn call(words: &[String]) -> Outcome {
    if words.is_empty() {
        return Err(
            "call wants the name of a command: cargo xtask call yard_list '{\"search\":\"\"}' --yard FOLDER"
                .into(),
        );
    }
    run("call", cargo(YARD).arg("call").args(words))
}

/// The text of the types the pages are checked against.
pub fn types() -> Result<String, String> {
    output("types", cargo(YARD).arg("types"))
}
