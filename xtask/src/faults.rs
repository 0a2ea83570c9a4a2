//! `faults`: every case of every fault, in a release build, and the table of what was found.
//!
//! Never here: a fault. Invariant: a test of faults is one under `crash::`, which tries a small share unless
//! `FAULTS` is `all` and prints `fault NAME | cases | found`, or one with `hostile` in its path, which takes its
//! number of cases from `PROVE_CASES`.

use std::process::Stdio;
use std::time::Instant;

use crate::steps::{cargo, program, run};
use crate::{Outcome, prove, setup};

/// How many changed files are tried of each kind.
const HOSTILE: &str = "100000";

/// `faults [NAME]`.
pub fn faults(words: &[String]) -> Outcome {
    let wanted = match words {
        [] => "",
        [name] => name.as_str(),
        _ => return Err("faults takes one name at most.".into()),
    };
    setup::setup(setup::For::Faults)?;
    let yard = ["build", "--release", "--package", "shadeyard-backend", "--bin", "yard"];
    run("build", &mut cargo(yard))?;
    let mut rows = Vec::new();
    for binary in prove::binaries(&["--package", "shadeyard-tests"])? {
        let all = prove::tests(&binary)?.into_iter();
        let ours = all.filter(|name| name.starts_with("crash::") || name.contains("hostile"));
        for name in ours.filter(|name| name.contains(wanted)) {
            rows.extend(tried(&binary.to_string_lossy(), &name)?);
        }
    }
    if rows.is_empty() {
        return Err(format!("No fault has '{wanted}' in its path."));
    }
    table(&rows);
    let failed = rows.iter().filter(|row| row.failed).count();
    if failed == 0 { Ok(()) } else { Err(format!("{failed} faults were not survived.")) }
}

/// One line of the table.
#[derive(Debug, PartialEq)]
struct Row {
    name: String,
    cases: String,
    found: String,
    seconds: f64,
    failed: bool,
}

/// Runs one test and takes the lines it printed for the table; one that printed none stands by its name.
fn tried(binary: &str, name: &str) -> Result<Vec<Row>, String> {
    println!("   {name}");
    let began = Instant::now();
    let out = program(binary, ["--exact", name, "--nocapture"])
        .envs([("FAULTS", "all"), ("PROVE_CASES", HOSTILE)])
        .stdin(Stdio::null())
        .output()
        .map_err(|err| format!("{binary}: {err}"))?;
    let seconds = began.elapsed().as_secs_f64();
    let text = String::from_utf8_lossy(&out.stdout);
    if !out.status.success() {
        println!("{text}{}", String::from_utf8_lossy(&out.stderr));
    }
    let mut rows = rows(&text, seconds, !out.status.success());
    if rows.is_empty() {
        let skipped = text.lines().find_map(|line| line.find("skipped:").map(|at| &line[at..]));
        let (name, cases) = (name.to_owned(), skipped.unwrap_or("-").to_owned());
        rows.push(Row { name, cases, found: "-".into(), seconds, failed: !out.status.success() });
    }
    Ok(rows)
}

/// The time is that of the whole test, so it stands in its first line.
fn rows(text: &str, seconds: f64, failed: bool) -> Vec<Row> {
    let told = text.lines().filter_map(|line| line.split_once("fault ").map(|(_before, told)| told));
    let cells = told.filter_map(|told| {
        let mut cells = told.split(" | ").map(str::to_owned);
        Some((cells.next()?, cells.next()?, cells.next()?))
    });
    cells
        .enumerate()
        .map(|(n, (name, cases, found))| Row {
            name,
            cases,
            found,
            seconds: if n == 0 { seconds } else { 0.0 },
            failed,
        })
        .collect()
}

fn table(rows: &[Row]) {
    println!("\n| fault | cases | found | time |\n| --- | ---: | ---: | ---: |");
    for Row { name, cases, found, seconds, failed } in rows {
        let mark = if *failed { " FAILED" } else { "" };
        println!("| {name} | {cases} | {found}{mark} | {seconds:.0} s |");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_test_told_becomes_a_row() {
        let text = "test x ... fault power loss | 200 | 0\nnothing\nfault other | 5 | 1 lost\n";
        let rows = rows(text, 2.0, false);
        let row = |name: &str, cases: &str, found: &str, seconds| Row {
            name: name.into(),
            cases: cases.into(),
            found: found.into(),
            seconds,
            failed: false,
        };
        assert_eq!(rows, [row("power loss", "200", "0", 2.0), row("other", "5", "1 lost", 0.0)]);
    }
}
