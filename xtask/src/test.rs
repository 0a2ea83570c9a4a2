//! `test`: all that a change has to pass, in order of how soon a mistake shows.
//!
//! Never here: a test. Invariant: stops at the first failure and names the step; a tool that is missing is
//! said before anything is built.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::setup::{For, setup};
use crate::steps::{Steps, cargo, program, run, top};
use crate::{Outcome, npm, python, tidy, types};

/// `test [NAME]`.
pub fn test(words: &[String]) -> Outcome {
    match words {
        [] => everything(),
        [name] => named(name),
        _ => Err("test takes one name at most.".into()),
    }
}

fn everything() -> Outcome {
    let mut steps = Steps::new(9);
    steps.step("setup", || setup(For::Tests))?;
    steps.step("layout of the Rust text (fmt)", || {
        run("cargo fmt", &mut cargo(["fmt", "--all", "--check"]))
    })?;
    steps.step("fences (tidy)", tidy::tidy)?;
    steps.step("lints (clippy)", clippy)?;
    steps.step("build", build)?;
    steps.step("types are fresh", types::check_as_built)?;
    steps.step("types of the pages (tsc)", tsc)?;
    steps.step("tests of the pages (node)", node)?;
    steps.step("tests", || run("cargo test", peered(&mut cargo(["test", "--workspace"]))))?;
    println!("\nAll passed in {:.0} s.", steps.seconds());
    Ok(())
}

/// With a Python to compare statistics with, where there is one or one can be made; else it says so.
fn peered(command: &mut Command) -> &mut Command {
    match python::python() {
        Some(python) => command.env("SHADEYARD_PYTHON", python),
        None => command,
    }
}

fn named(name: &str) -> Outcome {
    let mut steps = Steps::new(3);
    steps.step("setup", || setup(For::Tests))?;
    steps.step("build", build)?;
    steps.step("tests by name", || run("cargo test", &mut cargo(["test", "--workspace", name])))?;
    println!("\nOnly the tests with '{name}' in their path were run: {:.0} s.", steps.seconds());
    Ok(())
}

fn clippy() -> Outcome {
    run("clippy", &mut cargo(["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"]))
}

/// The whole workspace at once: the same set of features as the tests, so nothing is built twice.
fn build() -> Outcome {
    run("build", &mut cargo(["build", "--workspace", "--all-targets"]))
}

fn tsc() -> Outcome {
    let tsc = npm::script("typescript/bin/tsc").into_os_string();
    let types = npm::script("@types").into_os_string();
    let command = &mut program("node", [tsc]);
    run("tsc", command.args(["--project", "ui/tsconfig.json", "--typeRoots"]).arg(types))
}

fn node() -> Outcome {
    let mut files = Vec::new();
    gather(&top().join("tests/ui"), &mut files);
    if files.is_empty() {
        return Err("tests/ui holds no *.test.js.".into());
    }
    files.sort();
    let words =
        std::iter::once(OsString::from("--test")).chain(files.into_iter().map(PathBuf::into_os_string));
    run("node --test", &mut program("node", words))
}

/// Named one by one: versions of Node differ in what a folder after `--test` means.
fn gather(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for path in entries.flatten().map(|entry| entry.path()) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            gather(&path, files);
        } else if name.ends_with(".test.js") || name.ends_with(".test.mjs") {
            files.push(path);
        }
    }
}
