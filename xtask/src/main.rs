//! The project's own commands, called as `cargo xtask NAME`.
//!
//! Lives here: the list of commands and what each is for. Never here: anything the app itself does.
//! Invariant: a command that fails says in one sentence what to do next and ends with a code other than 0.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a command line speaks through its output")]
#![allow(
    clippy::disallowed_methods,
    reason = "works on the source tree and the clock on the wall, never on a yard's register"
)]

mod corpus;
mod demo;
mod deny;
mod faults;
mod npm;
mod prove;
mod python;
mod run;
mod setup;
mod steps;
mod test;
mod tidy;
mod types;
mod yard;

use std::process::ExitCode;

/// What a command ends with: nothing, or the sentence that says why not.
pub type Outcome = Result<(), String>;

const USAGE: &str = "\
cargo xtask NAME

  run    install what is missing, build, and open the app on the demo yard
         (with no display, or --walk: drive the real window and leave pictures; --yard FOLDER for another yard)
  test   everything a change has to pass; `test NAME` runs only the Rust tests with NAME in their path
  tidy   the fences: arrows between rooms, lengths, colours, words, licences
  types  write ui/api/types.d.ts from the backend; --check only compares
  demo   make the demo yard: demo [FOLDER] [--until DAY] [--again]
  call   one backend command by hand: call NAME 'JSON' --yard FOLDER [--photo FILE] [--now INSTANT]
  prove  the property tests, long: prove [--cases N]
  faults every case of every fault, long: faults [NAME]; prints the table
  bench  how fast, beside a peer in the same run: bench merge | archive | records | photos | review
  deny   licences, known faults and sources of every crate: deny [CHECK ...] (needs cargo-deny)
  setup  only install what is missing
";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let Some((name, rest)) = words.split_first() else {
        print!("{USAGE}");
        return ExitCode::SUCCESS;
    };
    match call(name, rest) {
        Ok(()) => ExitCode::SUCCESS,
        Err(says) => {
            eprintln!("\n{says}");
            ExitCode::FAILURE
        }
    }
}

fn call(name: &str, rest: &[String]) -> Outcome {
    match name {
        "run" => run::run(rest),
        "test" => test::test(rest),
        "tidy" => tidy::tidy(),
        "types" => types::types(rest),
        "demo" => demo::demo(rest),
        "call" => yard::call(rest),
        "deny" => deny::deny(rest),
        "prove" => prove::prove(rest),
        "bench" => yard::bench(rest),
        "faults" => faults::faults(rest),
        "setup" => setup::setup(setup::For::Tests),
        "help" | "--help" | "-h" => {
            print!("{USAGE}");
            Ok(())
        }
        other => Err(format!("There is no command '{other}'.\n\n{USAGE}")),
    }
}
