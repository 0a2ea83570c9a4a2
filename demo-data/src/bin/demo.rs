//! `demo FOLDER --until DAY`: builds the invented yard and says what it holds.
//! Never into a folder with anything in it.
//! Invariant: it exits with 0 only when the whole yard was built.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a command speaks on its terminal")]

use chrono::NaiveDate;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "demo FOLDER --until DAY   (an empty or new folder; a day such as 2026-11-25)";

fn main() -> ExitCode {
    match run(std::env::args().skip(1).collect()) {
        Ok(said) => {
            println!("{said}");
            ExitCode::SUCCESS
        }
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

fn run(words: Vec<String>) -> Result<String, String> {
    let (folder, until) = asked(&words)?;
    if holds_anything(&folder) {
        return Err(format!("{}: not empty, left as it is", folder.display()));
    }
    let report = shadeyard_demo::build(&folder, until).map_err(|error| error.to_string())?;
    Ok(format!(
        "{}: {} logs, {} entries, {} drawn pictures\nfrom {} to {}\nin {}",
        report.place,
        report.logs,
        report.entries,
        report.photos,
        report.span.0,
        report.span.1,
        folder.display()
    ))
}

fn asked(words: &[String]) -> Result<(PathBuf, NaiveDate), String> {
    match words {
        [folder, flag, day] if flag == "--until" => {
            let until = day.parse().map_err(|_| format!("{day}: no day\n{USAGE}"))?;
            Ok((PathBuf::from(folder), until))
        }
        _ => Err(USAGE.to_owned()),
    }
}

/// Unreadable counts as holding something.
#[allow(clippy::disallowed_methods, reason = "only looks whether the folder is empty")]
fn holds_anything(folder: &Path) -> bool {
    match std::fs::read_dir(folder) {
        Ok(mut inside) => inside.next().is_some(),
        Err(error) => error.kind() != std::io::ErrorKind::NotFound,
    }
}
