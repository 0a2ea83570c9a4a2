//! `types`: the committed `ui/api/types.d.ts`, written from the backend's own types.
//!
//! Never here: a type. Invariant: `--check` writes nothing.

use std::fs;

use crate::steps::top;
use crate::{Outcome, yard};

const FILE: &str = "ui/api/types.d.ts";

/// Writes the file, or with `--check` says whether it is what the backend would write now.
pub fn types(words: &[String]) -> Outcome {
    if words.iter().any(|word| word == "--check") { check(yard::types()?.as_str()) } else { write() }
}

/// Fails when the committed types are not the backend's of the last build.
pub fn check_as_built() -> Outcome {
    check(yard::types_as_built()?.as_str())
}

fn check(now: &str) -> Outcome {
    let committed = fs::read_to_string(top().join(FILE)).map_err(|err| format!("{FILE}: {err}"))?;
    if committed == now {
        Ok(())
    } else {
        Err(format!("{FILE} is stale: run `cargo xtask types` and commit what it writes."))
    }
}

fn write() -> Outcome {
    let text = yard::types()?;
    fs::write(top().join(FILE), text).map_err(|err| format!("{FILE}: {err}"))?;
    println!("wrote {FILE}");
    Ok(())
}
