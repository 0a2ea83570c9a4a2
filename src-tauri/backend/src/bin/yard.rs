//! One command to a yard without a window, for scripts and tests; and the types for the screens.
//! Never a second way to write: it goes through the same list of commands.
//! Invariant: what was refused is printed as the reply the screens would get, and the exit code is 1.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "this program's whole task is to print")]
#![allow(clippy::disallowed_methods, reason = "it reads the photo it was pointed to")]

#[path = "yard/bench.rs"]
mod bench;
#[path = "yard/bench_photos.rs"]
mod bench_photos;
#[path = "yard/bench_review.rs"]
mod bench_review;
#[path = "yard/grow.rs"]
mod grow;
#[path = "yard/script.rs"]
mod script;

use serde_json::Value;
use shadeyard_backend::book::Clock;
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "yard types
yard call NAME [JSON] --yard FOLDER [--photo FILE] [--now RFC3339]
yard script FILE --yard FOLDER [--now RFC3339]
yard grow FOLDER [LOGS] [ENTRIES]
yard bench merge [ACTS] | archive [ACTS] [MEGABYTES] | records [ACTS] | photos [PHOTOS] | review [LOGS] [ENTRIES]";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.first().map(String::as_str) {
        Some("types") => print!("{}", commands::types()),
        Some("grow") => match grow::grow(&words[1..]) {
            Ok(figures) => println!("{figures:#}"),
            Err(error) => {
                eprintln!("{:#}", error.reply());
                return ExitCode::FAILURE;
            }
        },
        Some("bench") => match bench::bench(&words[1..]) {
            Ok(figures) => println!("{figures:#}"),
            Err(error) => {
                eprintln!("{:#}", error.reply());
                return ExitCode::FAILURE;
            }
        },
        Some(verb @ ("call" | "script")) => {
            let Some(ask) = Ask::of(&words[1..]) else { return usage() };
            let outcome = if verb == "call" { ask.call() } else { ask.script() };
            if let Err(error) = outcome {
                // Where nobody can be told (a full disk takes no output either), the code still says it.
                let _untold = writeln!(std::io::stderr(), "{:#}", error.reply());
                return ExitCode::FAILURE;
            }
        }
        _ => return usage(),
    }
    ExitCode::SUCCESS
}

fn usage() -> ExitCode {
    eprintln!("{USAGE}\n\nCommands: {}", commands::NAMES.join(" "));
    ExitCode::from(2)
}

struct Ask {
    name: String,
    request: Value,
    yard: PathBuf,
    photo: Option<PathBuf>,
    now: Option<String>,
}

impl Ask {
    fn of(words: &[String]) -> Option<Self> {
        let mut plain = Vec::new();
        let (mut yard, mut photo, mut now) = (None, None, None);
        let mut words = words.iter();
        while let Some(word) = words.next() {
            match word.as_str() {
                "--yard" => yard = Some(PathBuf::from(words.next()?)),
                "--photo" => photo = Some(PathBuf::from(words.next()?)),
                "--now" => now = Some(words.next()?.clone()),
                _ => plain.push(word),
            }
        }
        let request = match plain.get(1) {
            Some(text) => serde_json::from_str(text).ok()?,
            None => Value::Null,
        };
        let name = (*plain.first()?).clone();
        (plain.len() <= 2).then_some(())?;
        Some(Self { name, request, yard: yard?, photo, now })
    }

    fn clock(&self) -> Result<Clock, Error> {
        match &self.now {
            Some(text) => Clock::fixed(text),
            None => Ok(Clock::wall()),
        }
    }

    /// `name` is the script's file here.
    fn script(self) -> Result<(), Error> {
        let clock = self.clock()?;
        script::run(Path::new(&self.name), &self.yard, clock)
    }

    fn call(self) -> Result<(), Error> {
        let book = commands::open(&self.yard, self.clock()?)?;
        let bytes = self.photo.map(std::fs::read).transpose()?;
        let reply = commands::dispatch(&book, &self.name, self.request, bytes)?;
        if let Some(job) = reply.get("job").and_then(Value::as_str)
            && reply.get("state").is_none()
        {
            println!("{:#}", wait(&book, job)?);
            return Ok(());
        }
        println!("{reply:#}");
        Ok(())
    }
}

/// A job ends with its program, so a call waits for it.
fn wait(book: &shadeyard_backend::book::Book, job: &str) -> Result<Value, Error> {
    loop {
        let view = commands::dispatch(book, "job_show", serde_json::json!({"job": job}), None)?;
        if view["state"] != "running" {
            return Ok(view);
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
}
