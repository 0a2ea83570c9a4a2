//! `prove`: the property tests with many cases, and the scenes of photos, in a release build.
//!
//! Never here: a property. Invariant: every test inside a `proptest!` is run, whatever it is called; it takes
//! its number of cases from `PROPTEST_CASES` or `PROVE_CASES`, small when neither is set.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::time::Instant;

use serde_json::Value;

use crate::Outcome;
use crate::steps::{after, cargo, output, program};
use crate::tidy::tree::{Tree, without_comments};

/// What is proved when no number is given.
const CASES: &str = "2000";
/// Tests that print what they measure, each with a number of cases of its own.
const MEASURED: [&str; 2] = ["photos::scenes::", "photos::corpus::"];

/// `prove [--cases N]`.
pub fn prove(words: &[String]) -> Outcome {
    let cases = after(words, "--cases")?.unwrap_or(CASES);
    cases.parse::<u32>().map_err(|_| format!("--cases wants a whole number, not '{cases}'."))?;
    let names = properties(&Tree::of_the_repository()?);
    let (mut rows, mut measured) = (Vec::new(), Vec::new());
    // The shell has no property, and is most of what there is to build.
    for binary in binaries(&["--workspace", "--exclude", "shadeyard", "--exclude", "xtask"])? {
        for test in tests(&binary)? {
            if test.rsplit("::").next().is_some_and(|name| names.contains(name)) {
                rows.push(row(&binary, test, cases)?);
            } else if MEASURED.iter().any(|part| test.starts_with(part)) {
                measured.push(row(&binary, test, cases)?);
            }
        }
    }
    if rows.len() < names.len() {
        return Err(format!("{} properties are written, only {} were found built.", names.len(), rows.len()));
    }
    rows.extend(measured);
    table(&rows, cases);
    let failed = rows.iter().filter(|row| !row.passed).count();
    println!("\n{} passed, {failed} failed", rows.len() - failed);
    if failed == 0 { Ok(()) } else { Err("Not proved.".into()) }
}

/// One property, proved or not.
struct Row {
    test: String,
    passed: bool,
    seconds: f64,
}

fn row(binary: &Path, test: String, cases: &str) -> Result<Row, String> {
    let began = Instant::now();
    let out = program(&binary.to_string_lossy(), ["--exact", "--nocapture", &test])
        .envs([("PROPTEST_CASES", cases), ("PROVE_CASES", cases)])
        .stdin(Stdio::null())
        .output()
        .map_err(|err| format!("{}: {err}", binary.display()))?;
    let passed = out.status.success();
    if !passed || MEASURED.iter().any(|part| test.starts_with(part)) {
        println!("{}", String::from_utf8_lossy(&out.stdout));
    }
    Ok(Row { test, passed, seconds: began.elapsed().as_secs_f64() })
}

fn table(rows: &[Row], cases: &str) {
    let wide = rows.iter().map(|row| row.test.len()).max().unwrap_or(4);
    println!("{:wide$}  {:>8}  {:>8}", "name", "cases", "seconds");
    for Row { test, passed, seconds } in rows {
        println!("{test:wide$}  {cases:>8}  {seconds:>8.1}{}", if *passed { "" } else { "  FAILED" });
    }
}

/// The names of the tests that stand in a `proptest!`.
fn properties(tree: &Tree) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for file in tree.ending(&[".rs"]) {
        let code = without_comments(&file.text, true);
        for (at, _) in code.match_indices("proptest! {") {
            let block = block(&code[at..]);
            for (at, _) in block.match_indices("#[test]") {
                let after = block[at..].split_once("fn ").map_or("", |(_, after)| after);
                names.extend(after.split('(').next().map(|name| name.trim().to_owned()));
            }
        }
    }
    names
}

/// From here to the brace that closes the first one.
fn block(code: &str) -> &str {
    let mut depth = 0_usize;
    for (at, c) in code.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 1 => return &code[..at],
            '}' => depth -= 1,
            _ => {}
        }
    }
    code
}

/// Builds the tests of the packages that `which` names; where they lie.
pub fn binaries(which: &[&str]) -> Result<Vec<PathBuf>, String> {
    let words = ["test", "--release", "--no-run", "--message-format=json-render-diagnostics"];
    let text = output("build of the tests", cargo(words).args(which))?;
    let lines = text.lines().filter_map(|line| serde_json::from_str::<Value>(line).ok());
    Ok(lines
        .filter(|line| line["profile"]["test"] == Value::Bool(true))
        .filter_map(|line| line["executable"].as_str().map(PathBuf::from))
        .collect())
}

/// The tests in a binary, by their paths.
pub fn tests(binary: &Path) -> Result<Vec<String>, String> {
    let text =
        output("list of the tests", &mut program(&binary.to_string_lossy(), ["--list", "--format=terse"]))?;
    Ok(text.lines().filter_map(|line| line.strip_suffix(": test")).map(str::to_owned).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_test_in_a_proptest_is_a_property_and_no_other() {
        let text = "proptest! { #[test] fn sums_agree(x in 0..9) { if x > 1 { } }\n/// More.\n#[test]\nfn again(y in 0..2) {} }
            #[test] fn a_plain_one() {}";
        let names = properties(&Tree::of(&[("a.rs", text)]));
        assert_eq!(names.into_iter().collect::<Vec<_>>(), ["again", "sums_agree"]);
    }
}
