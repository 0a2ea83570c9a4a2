//! Photos against outside readers and known truth: reading codes, measuring, printing, odd and hostile files.
//! Never the window, and never a made-up answer: each figure comes from the run that prints it.
//! Invariant: a share of fixed scenes runs in every test; `PROVE_CASES` sets how many run in all.

#![allow(clippy::print_stdout, reason = "what is measured is told by the run that measured it")]

mod corpus;
mod kept;
mod memory;
mod scenes;
mod sheet;
mod turned;

use std::path::PathBuf;
use std::process::Command;

/// A log's id for scenes.
pub const LOG: &str = "0198f3a2-7b1c-7def-8abc-0123456789ab";

/// How many scenes: those of every test, or as many as are asked for.
pub fn cases(few: usize, many: usize) -> usize {
    if std::env::var_os("PROVE_CASES").is_some() { many } else { few }
}

/// Does `one` for all numbers below `n`, on as many threads as there are cores.
pub fn side_by_side<T: Send>(n: usize, one: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let part = |core: usize| (core..n).step_by(cores).map(|i| (i, one(i))).collect::<Vec<_>>();
    let mut all: Vec<(usize, T)> = std::thread::scope(|scope| {
        let part = &part;
        let threads: Vec<_> = (0..cores).map(|core| scope.spawn(move || part(core))).collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("a thread ends")).collect()
    });
    all.sort_by_key(|(i, _)| *i);
    all.into_iter().map(|(_, found)| found).collect()
}

/// Whether a program is installed; what is skipped without it is said.
pub fn has(program: &str) -> bool {
    let found = std::env::var_os("PATH")
        .is_some_and(|path| std::env::split_paths(&path).any(|dir| dir.join(program).is_file()));
    if !found {
        println!("skipped: {program} is not installed; cargo xtask setup installs it");
    }
    found
}

/// What a program printed.
pub fn said(program: &str, words: &[&str]) -> String {
    let out = Command::new(program).args(words).output().unwrap_or_else(|e| panic!("{program}: {e}"));
    String::from_utf8_lossy(&out.stdout).into_owned()
}

/// The `yard` program of this build.
pub fn yard_program() -> PathBuf {
    crate::crash::yard()
}

/// Where the odd and hostile pictures lie.
pub fn corpus_folder() -> PathBuf {
    let beside = yard_program();
    let target = beside.parent().and_then(std::path::Path::parent).map(std::path::Path::to_path_buf);
    target.unwrap_or_default().join("corpus")
}
