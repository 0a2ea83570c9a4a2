//! The licence of every part we build with or serve.
//!
//! Never here: how an expression is read. Invariant: a part with no licence named is not allowed.

use serde_json::Value;

use super::spdx::allowed;
use super::tree::{Breach, Tree};
use crate::steps::{cargo, output};

const LOCK: &str = "xtask/npm/package-lock.json";

/// Parts from cargo, as the committed lock file has them for this system, and parts from npm.
pub fn licences(tree: &Tree) -> Result<Vec<Breach>, String> {
    let host = output("licences", &mut rustc_host())?;
    let words = ["metadata", "--locked", "--format-version=1", "--filter-platform", host.trim()];
    let text = output("licences", &mut cargo(words))?;
    let metadata: Value = serde_json::from_str(&text).map_err(|err| format!("cargo metadata: {err}"))?;
    let mut breaches = crates(&metadata);
    if let Some(lock) = tree.files.iter().find(|file| file.path == LOCK) {
        let lock: Value = serde_json::from_str(&lock.text).map_err(|err| format!("{LOCK}: {err}"))?;
        breaches.extend(npm(&lock));
    }
    Ok(breaches)
}

fn rustc_host() -> std::process::Command {
    let rustc = std::env::var("RUSTC").unwrap_or_else(|_| "rustc".to_owned());
    crate::steps::program(&rustc, ["--print", "host-tuple"])
}

fn crates(metadata: &Value) -> Vec<Breach> {
    let empty = Vec::new();
    let packages = metadata["packages"].as_array().unwrap_or(&empty);
    let text = |package: &Value, key: &str| package[key].as_str().unwrap_or_default().to_owned();
    packages
        .iter()
        .filter(|package| !allowed(&text(package, "license")))
        .map(|package| refused("Cargo.lock", &text(package, "name"), &text(package, "license")))
        .collect()
}

fn npm(lock: &Value) -> Vec<Breach> {
    let Some(packages) = lock["packages"].as_object() else { return Vec::new() };
    packages
        .iter()
        .filter(|(path, _)| !path.is_empty())
        .map(|(path, part)| (path, part["license"].as_str().unwrap_or_default()))
        .filter(|(_, licence)| !allowed(licence))
        .map(|(path, licence)| refused(LOCK, path, licence))
        .collect()
}

fn refused(file: &str, part: &str, licence: &str) -> Breach {
    let licence = if licence.is_empty() { "no licence named" } else { licence };
    Breach {
        path: file.to_owned(),
        line: 1,
        says: format!("{part} is under a licence we don't take: {licence}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_part_under_another_licence_or_none_is_caught() {
        let metadata = json!({"packages": [
            {"name": "fine", "license": "MIT OR Apache-2.0"},
            {"name": "viral", "license": "AGPL-3.0-only"},
            {"name": "silent", "license": null},
        ]});
        let caught = crates(&metadata);
        assert_eq!(caught.len(), 2);
        assert!(caught[0].says.contains("viral") && caught[1].says.contains("silent"));
    }

    #[test]
    fn a_part_of_the_pages_is_held_to_the_same() {
        let lock = json!({"packages": {"": {}, "node_modules/a": {"license": "MIT"}, "node_modules/b": {"license": "GPL-3.0"}}});
        assert_eq!(npm(&lock).len(), 1);
    }
}
