//! The parts that come by npm: lit-html for the pages, TypeScript and axe-core for the checks.
//!
//! Never here: a bundler. Invariant: exactly the versions of the committed lock file, no install script
//! run, and `ui/vendor/lit-html` is a whole copy of the module tree or is not there at all.

use std::fs;
use std::path::{Path, PathBuf};

use crate::Outcome;
use crate::steps::{program, run, top};

/// Installs the locked parts and lays the copy, unless both are fresh.
pub fn install() -> Outcome {
    let lock = said(fs::read_to_string(home().join("package-lock.json")), "xtask/npm/package-lock.json")?;
    let stamp = home().join("node_modules/.shadeyard-lock");
    let fresh = fs::read_to_string(&stamp).is_ok_and(|text| text == lock);
    if !fresh {
        println!("Installing the pages' parts with npm");
        let words = ["ci", "--ignore-scripts", "--no-audit", "--no-fund"];
        run("npm ci", program("npm", words).current_dir(home()))?;
        said(fs::write(&stamp, &lock), "the npm stamp")?;
    }
    let laid = vendor().join("lit-html.js").is_file();
    if fresh && laid { Ok(()) } else { lay() }
}

/// A program that npm installed, by its file inside `node_modules`.
pub fn script(inside: &str) -> PathBuf {
    home().join("node_modules").join(inside)
}

fn home() -> PathBuf {
    top().join("xtask/npm")
}

fn vendor() -> PathBuf {
    top().join("ui/vendor/lit-html")
}

/// Copies beside the place and renames, so that a break in the middle leaves no half a tree.
fn lay() -> Outcome {
    let half = top().join("ui/vendor/.lit-html.half");
    let _absent = fs::remove_dir_all(&half);
    copy(&script("lit-html"), &half)?;
    let _absent = fs::remove_dir_all(vendor());
    said(fs::rename(&half, vendor()), "ui/vendor/lit-html")
}

fn copy(from: &Path, to: &Path) -> Outcome {
    said(fs::create_dir_all(to), "ui/vendor")?;
    for entry in said(fs::read_dir(from), "node_modules/lit-html")? {
        let entry = said(entry, "node_modules/lit-html")?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = entry.path();
        if path.is_dir() {
            // `development` and `node` are second copies for other hosts.
            if name != "development" && name != "node" && name != "node_modules" {
                copy(&path, &to.join(&name))?;
            }
        } else if wanted(&name) {
            said(fs::copy(&path, to.join(&name)).map(|_bytes| ()), &name)?;
        }
    }
    Ok(())
}

fn wanted(name: &str) -> bool {
    name.ends_with(".js") || name.ends_with(".d.ts") || name == "LICENSE"
}

fn said<T>(result: std::io::Result<T>, what: &str) -> Result<T, String> {
    result.map_err(|err| format!("{what}: {err}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn modules_types_and_the_licence_are_copied_and_maps_are_not() {
        assert!(wanted("lit-html.js") && wanted("lit-html.d.ts") && wanted("LICENSE"));
        assert!(!wanted("lit-html.js.map") && !wanted("lit-html.d.ts.map") && !wanted("package.json"));
    }
}
