//! `prove`: the property tests with many cases, in a release build.
//!
//! Never here: a property. Invariant: a property test is one whose name holds `prove`; it takes its number
//! of cases from `PROPTEST_CASES`, small when that is not set.

use std::path::PathBuf;
use std::process::Stdio;
use std::time::Instant;

use serde_json::Value;

use crate::Outcome;
use crate::steps::{after, cargo, output, program};

/// What is proved when no number is given.
const CASES: &str = "10000";

/// `prove [--cases N]`.
pub fn prove(words: &[String]) -> Outcome {
    let cases = after(words, "--cases")?.unwrap_or(CASES);
    cases.parse::<u32>().map_err(|_| format!("--cases wants a whole number, not '{cases}'."))?;
    let mut failed = 0_usize;
    let mut rows = Vec::new();
    for binary in binaries()? {
        for name in names(&binary)? {
            let began = Instant::now();
            let out = program(&binary.to_string_lossy(), ["--exact", &name])
                .env("PROPTEST_CASES", cases)
                .stdin(Stdio::null())
                .output()
                .map_err(|err| format!("{}: {err}", binary.display()))?;
            let passed = out.status.success();
            if !passed {
                failed += 1;
                println!("{}", String::from_utf8_lossy(&out.stdout));
            }
            rows.push((name, passed, began.elapsed().as_secs_f64()));
        }
    }
    if rows.is_empty() {
        return Err("No test has `prove` in its name.".into());
    }
    table(&rows, cases);
    println!("\n{} passed, {failed} failed", rows.len() - failed);
    if failed == 0 { Ok(()) } else { Err("Not proved.".into()) }
}

fn table(rows: &[(String, bool, f64)], cases: &str) {
    let wide = rows.iter().map(|(name, ..)| name.len()).max().unwrap_or(4);
    println!("{:wide$}  {:>8}  {:>8}", "name", "cases", "seconds");
    for (name, passed, seconds) in rows {
        println!("{name:wide$}  {cases:>8}  {seconds:>8.1}{}", if *passed { "" } else { "  FAILED" });
    }
}

fn binaries() -> Result<Vec<PathBuf>, String> {
    let words = ["test", "--release", "--workspace", "--no-run", "--message-format=json-render-diagnostics"];
    let text = output("prove", &mut cargo(words))?;
    let lines = text.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok());
    Ok(lines
        .filter(|line| line["profile"]["test"] == Value::Bool(true))
        .filter_map(|line| line["executable"].as_str().map(PathBuf::from))
        .collect())
}

fn names(binary: &std::path::Path) -> Result<Vec<String>, String> {
    let text =
        output("prove", &mut program(&binary.to_string_lossy(), ["--list", "--format=terse", "prove"]))?;
    Ok(text.lines().filter_map(|line| line.strip_suffix(": test")).map(str::to_owned).collect())
}
