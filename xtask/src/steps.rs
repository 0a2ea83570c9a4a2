//! Running other programs: where the workspace lies, one step with its headline, a program's output.
//!
//! Never here: which programs, and in which order.
//! Invariant: every program runs from the top of the workspace, and a failure names the step.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use crate::Outcome;

/// The top folder of the workspace.
pub fn top() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().unwrap_or(here).to_path_buf()
}

/// Where cargo builds: `CARGO_TARGET_DIR`, else `target` at the top.
pub fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| top().join("target"), |dir| top().join(dir))
}

/// A program to be run from the top.
pub fn program<I, S>(name: &str, words: I) -> Command
where
    I: IntoIterator<Item = S>,
    S: AsRef<OsStr>,
{
    let mut command = Command::new(name);
    command.args(words).current_dir(top());
    command
}

/// The cargo that started us.
pub fn cargo<I, S>(words: I) -> Command
where
    I: IntoIterator<Item = S>,
    S: AsRef<OsStr>,
{
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    program(&cargo, words)
}

/// Runs a program in front of the user; the step's name is what a failure says.
pub fn run(step: &str, command: &mut Command) -> Outcome {
    let program = name_of(command);
    let status = command.status().map_err(|err| format!("{step}: cannot start {program}: {err}"))?;
    if status.success() { Ok(()) } else { Err(format!("{step} failed ({program}: {status}).")) }
}

fn name_of(command: &Command) -> String {
    let path = Path::new(command.get_program());
    path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned()
}

/// A program's standard output; its errors go to the user.
pub fn output(step: &str, command: &mut Command) -> Result<String, String> {
    let program = name_of(command);
    let out = command
        .stderr(std::process::Stdio::inherit())
        .output()
        .map_err(|err| format!("{step}: cannot start {program}: {err}"))?;
    if !out.status.success() {
        return Err(format!("{step} failed ({program}: {}).", out.status));
    }
    String::from_utf8(out.stdout).map_err(|_| format!("{step}: {program} printed no UTF-8."))
}

/// Whether a program can be started by its name.
pub fn on_path(name: &str) -> bool {
    let Some(path) = std::env::var_os("PATH") else { return false };
    std::env::split_paths(&path).any(|dir| dir.join(name).is_file())
}

/// Steps in order, each under a headline; stops at the first that fails.
pub struct Steps {
    began: Instant,
    number: usize,
    of: usize,
}

impl Steps {
    /// A row of `of` steps.
    pub fn new(of: usize) -> Self {
        Self { began: Instant::now(), number: 0, of }
    }

    /// Runs one step under its headline.
    pub fn step(&mut self, name: &str, work: impl FnOnce() -> Outcome) -> Outcome {
        self.number += 1;
        println!("\n== {}/{} {name}", self.number, self.of);
        let began = Instant::now();
        work().map_err(|says| {
            format!(
                "{says}\nStopped at step {} of {}: {name}. Nothing after it was run.",
                self.number, self.of
            )
        })?;
        println!("   {name}: {:.1} s", began.elapsed().as_secs_f64());
        Ok(())
    }

    /// Seconds since the first step.
    pub fn seconds(&self) -> f64 {
        self.began.elapsed().as_secs_f64()
    }
}

/// The word after `flag`, when the flag is there.
pub fn after<'a>(words: &'a [String], flag: &str) -> Result<Option<&'a str>, String> {
    let Some(at) = words.iter().position(|word| word == flag) else { return Ok(None) };
    words.get(at + 1).map(|word| Some(word.as_str())).ok_or_else(|| format!("{flag} wants a word after it."))
}
