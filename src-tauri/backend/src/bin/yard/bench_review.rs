//! How fast Review answers on a large made-up yard, beside pandas, lifelines and statsmodels on the same entries.
//! Never a figure of the trade.
//! Invariant: both read the same logs and entries, in the same run; what the peer leaves out is said in it.

#![allow(
    clippy::disallowed_methods,
    reason = "measuring needs a stopwatch, and it makes files to measure with"
)]

use serde_json::{Value, json};
use shadeyard_backend::book::change::Act;
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use std::fmt::Write as _;
use std::path::Path;
use std::time::Instant;

const BEGIN_MS: i64 = 1_777_600_000_000;
const WOODS: [&str; 6] = ["sugar-maple", "white-oak", "red-oak", "beech", "red-maple", "black-cherry"];
const ROUNDS: usize = 5;
const PEER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/outside/peer/bench.py");

/// `review LOGS ENTRIES`.
pub fn bench(logs: usize, entries: usize) -> Result<Value, Error> {
    let clock = Clock::fixed("2026-12-01T12:00:00+01:00")?;
    let folder = tempfile::tempdir()?;
    let book = commands::open(&folder.path().join("yard"), clock)?;
    let each = entries / logs.max(1);
    let (mut acts, mut sheet) =
        (Vec::new(), String::from("log,wood,thick,laid,kind,day,grams,seen,low,high\n"));
    for n in 0..logs {
        acts.extend(log(n, each, &mut sheet));
        if acts.len() > 20_000 {
            book.take(&std::mem::take(&mut acts))?;
        }
    }
    book.take(&acts)?;
    let csv = folder.path().join("entries.csv");
    std::fs::write(&csv, sheet)?;
    let ask = |measure: &str| json!({"question": {"by": "wood", "measure": measure}});
    let whole = [("review_ask", ask("log_year")), ("review_ask", ask("soonest")), ("season_show", json!({}))];
    let mut parts = vec![Vec::new(); whole.len()];
    for _ in 0..ROUNDS {
        for ((name, ask), part) in whole.iter().zip(&mut parts) {
            let began = Instant::now();
            commands::dispatch(&book, name, ask.clone(), None)?;
            part.push(began.elapsed().as_secs_f64() * 1000.0);
        }
    }
    let medians: Vec<f64> = parts.into_iter().map(median).collect();
    let ours: f64 = medians.iter().sum();
    let peer = peer(&csv)?;
    Ok(json!({
        "logs": logs, "entries": logs * each, "compared_ms": medians[0], "curves_ms": medians[1],
        "season_ms": medians[2], "whole_ms": ours, "peer_ms": peer.as_ref().map(|p| p.0),
        "peer_parts": peer.as_ref().map(|p| p.1.clone()), "peer_to_ours": peer.map(|p| p.0 / ours), "held": shown(&book)?,
    }))
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// What the answer was, so that a fast wrong one is seen.
fn shown(book: &Book) -> Result<Value, Error> {
    let ask = json!({"question": {"by": "wood", "measure": "log_year"}});
    Ok(commands::dispatch(book, "review_ask", ask, None)?["answer"].clone())
}

/// The peer's milliseconds, its own reading of the file included, its start not; `None` without one.
fn peer(csv: &Path) -> Result<Option<(f64, Value)>, Error> {
    let Some(python) = std::env::var_os("SHADEYARD_PYTHON") else { return Ok(None) };
    let out = std::process::Command::new(python).arg(PEER).arg(csv).output()?;
    let said: Value = serde_json::from_slice(&out.stdout)?;
    Ok(said["ms"].as_f64().map(|ms| (ms, said["parts"].clone())))
}

/// A log and its entries: looks, the forecasts kept with them, pickings and stops of rounds in turn.
fn log(n: usize, each: usize, sheet: &mut String) -> Vec<Act> {
    let wood = WOODS[n % WOODS.len()];
    let laid = chrono::NaiveDate::from_ymd_opt(2022 + (n % 4) as i32, 4, 1).unwrap_or_default();
    let log = id(10, n);
    let mut changes = Vec::new();
    let mut set = |name: &str, value: Value| {
        changes.push(json!({"set": {"kind": "log", "id": log, "name": name, "value": value}}));
    };
    set("tag", json!(n.to_string()));
    set("wood", json!(wood));
    set("d1_mm", json!(90 + n % 70));
    set("length_mm", json!(1000));
    set("mushroom", json!("shiitake"));
    set("method", json!("drilled"));
    set("laid", json!(laid.to_string()));
    for i in 0..each {
        let day = laid + chrono::Days::new(200 + (i * 300 / each.max(1)) as u64 + (n % 30) as u64);
        let at = BEGIN_MS + i as i64 * 1000;
        let mut row = json!({"log": log, "day": day.to_string(), "at": at, "zone": "+02:00", "note": ""});
        let grams = 40 + (n * 37 + i * 91) % 300 + 40 * (WOODS.len() - n % WOODS.len());
        let (kind, own, told) = match i % 4 {
            0 => ("look", json!({"seen": "button"}), ",button,,".to_owned()),
            1 => {
                let look = id(20, n * each + i - 1);
                let own = json!({"look": look, "stage": "button", "low_tenths": 10, "mid_tenths": 30, "high_tenths": 60, "own": 0});
                ("forecast", own, ",,10,60".to_owned())
            }
            2 => ("picking", json!({"grams": grams, "caps": 9}), format!("{grams},,,")),
            _ => (
                "check",
                json!({"round": id(30, i), "how": "seen", "slugs": 1, "damage": "none"}),
                ",,,".to_owned(),
            ),
        };
        let _ = writeln!(sheet, "{n},{wood},{},{laid},{kind},{day},{told}", 90 + n % 70);
        if let (Some(row), Value::Object(own)) = (row.as_object_mut(), own) {
            row.extend(own);
        }
        changes.push(json!({"put": {"kind": kind, "id": id(20, n * each + i), "row": row}}));
    }
    let at = BEGIN_MS + n as i64 * 60_000;
    vec![Act {
        device: id(1, 1),
        seq: i64::try_from(n + 1).unwrap_or(0),
        stamp: format!("{:016x}", at << 16),
        at,
        zone: "+02:00".into(),
        name: "csv_take".into(),
        undoes: None,
        body: json!({"said": {"what": "logs", "n": 1}, "changes": changes}),
    }]
}

fn id(kind: u32, n: usize) -> String {
    format!("{kind:08x}-0000-7000-8000-{n:012x}")
}
