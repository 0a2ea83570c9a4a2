//! The backend's own command line, `yard`, passed through.
//!
//! Never here: what a command means. Invariant: words pass unchanged.

use crate::Outcome;
use crate::python::python;
use crate::setup::{For, setup};
use crate::steps::{cargo, output, program, run, target};

const YARD: [&str; 7] = ["run", "--quiet", "--package", "shadeyard-backend", "--bin", "yard", "--"];

const RELEASE: [&str; 8] =
    ["run", "--release", "--quiet", "--package", "shadeyard-backend", "--bin", "yard", "--"];

/// `call NAME 'JSON' --yard FOLDER …`, as the user typed it.
pub fn call(words: &[String]) -> Outcome {
    if words.is_empty() {
        return Err(
            "call wants the name of a command: cargo xtask call yard_list '{\"search\":\"\"}' --yard FOLDER"
                .into(),
        );
    }
    run("call", cargo(YARD).arg("call").args(words))
        .map_err(|_| "Not done: the reason stands above.".to_owned())
}

/// `bench NAME …`, in a release build; figures as JSON, each beside its peer of the same run.
pub fn bench(words: &[String]) -> Outcome {
    if words.is_empty() {
        return Err("bench wants a name: merge, archive, records, photos or review.".into());
    }
    setup(For::Bench)?;
    let mut command = cargo(RELEASE);
    if words[0] == "review"
        && let Some(python) = python()
    {
        command.env("SHADEYARD_PYTHON", python);
    }
    run("bench", command.arg("bench").args(words))
}

/// The text of the types the pages are checked against.
pub fn types() -> Result<String, String> {
    output("types", cargo(YARD).arg("types"))
}

/// The same from the binary that a build of the whole workspace left: building it alone would take other
/// features of its parts, and so a second build of them.
pub fn types_as_built() -> Result<String, String> {
    let built = target().join("debug/yard");
    output("types", &mut program(&built.to_string_lossy(), ["types"]))
}
