//! A Python with the libraries that Review's statistics are compared with.
//!
//! Never here: what is compared. Invariant: where there is none, nothing fails: it is said, and the comparison
//! is skipped.

use std::path::{Path, PathBuf};

use crate::steps::{on_path, program, target, top};

const NEEDS: &str = "tests/outside/peer/requirements.txt";
/// Asks once and not for long: without a network the tests have to go on.
const INSTALL: [&str; 8] = [
    "-m",
    "pip",
    "install",
    "--quiet",
    "--disable-pip-version-check",
    "--retries=1",
    "--timeout=15",
    "--requirement",
];
const TRY: &str = "import lifelines, numpy, pandas, scipy, statsmodels";

/// The one `SHADEYARD_PYTHON` names; else one of our own under `target`, made when packages can be had.
pub fn python() -> Option<PathBuf> {
    if let Some(named) = std::env::var_os("SHADEYARD_PYTHON") {
        return Some(PathBuf::from(named));
    }
    let own = target().join("peer-python");
    let python = own.join("bin/python");
    if serves(&python) {
        return Some(python);
    }
    if !on_path("python3") {
        println!("No Python here: the comparison with its statistics is skipped.");
        return None;
    }
    let made = program("python3", ["-m", "venv"]).arg(&own).status().is_ok_and(|s| s.success())
        && program(&python.to_string_lossy(), INSTALL)
            .arg(top().join(NEEDS))
            .status()
            .is_ok_and(|s| s.success());
    if made && serves(&python) {
        return Some(python);
    }
    println!("The libraries of {NEEDS} cannot be had: the comparison with them is skipped.");
    None
}

fn serves(python: &Path) -> bool {
    python.is_file()
        && program(&python.to_string_lossy(), ["-c", TRY]).output().is_ok_and(|o| o.status.success())
}
