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
/// Turns of both, of which the median counts.
const TURNS: usize = 7;
const PEER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/outside/peer/bench.py");

/// `review LOGS ENTRIES`.
pub fn bench(logs: usize, entries: usize) -> Result<Value, Error> {
    let folder = tempfile::tempdir()?;
    let yard = folder.path().join("yard");
    let book = commands::open(&yard, clock()?)?;
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
    drop(book);
    // In processes of their own, in turn: an app has not just built a yard in its memory, and a machine is not equally
    // fast all the time.
    let program = std::env::current_exe()?;
    let (mut ours, mut peers, mut ratios, mut last) = (Vec::new(), Vec::new(), Vec::new(), Value::Null);
    for _ in 0..TURNS {
        let out = std::process::Command::new(&program).args(["bench", "review_asked"]).arg(&yard).output()?;
        last = serde_json::from_slice(&out.stdout)?;
        let ms = last["whole_ms"].as_f64().unwrap_or_default();
        ours.push(ms);
        let Some((peer, parts)) = peer(&csv)? else { break };
        last["peer_parts"] = parts;
        peers.push(peer);
        ratios.push(peer / ms);
    }
    let told = |all: Vec<f64>| (!all.is_empty()).then(|| median(all));
    Ok(json!({
        "logs": logs, "entries": logs * each, "whole_ms": told(ours), "peer_ms": told(peers),
        "peer_to_ours_each": ratios, "peer_to_ours": told(ratios.clone()), "last": last,
    }))
}

/// `review_asked FOLDER`: two questions and the season of a yard that stands there.
pub fn asked(yard: &Path) -> Result<Value, Error> {
    let book = commands::open(yard, clock()?)?;
    let ask = |measure: &str| json!({"question": {"by": "wood", "measure": measure}});
    let whole = [("review_ask", ask("log_year")), ("review_ask", ask("soonest")), ("season_show", json!({}))];
    let mut parts = vec![Vec::new(); whole.len()];
    let mut sums = Vec::new();
    for round in 0..ROUNDS {
        // What was read for the round before is good no longer: each reads the logs once, as the peer does.
        let changed = json!({"key": "bench", "value": round.to_string()});
        commands::dispatch(&book, "draft_set", changed, None)?;
        let mut sum = 0.0;
        for ((name, ask), part) in whole.iter().zip(&mut parts) {
            let began = Instant::now();
            commands::dispatch(&book, name, ask.clone(), None)?;
            let ms = began.elapsed().as_secs_f64() * 1000.0;
            part.push(ms);
            sum += ms;
        }
        sums.push(sum);
    }
    let parts: Vec<f64> = parts.into_iter().map(median).collect();
    Ok(json!({
        "compared_ms": parts[0], "curves_ms": parts[1], "season_ms": parts[2], "whole_ms": median(sums),
        "held": shown(&book)?,
    }))
}

fn clock() -> Result<Clock, Error> {
    Clock::fixed("2026-12-01T12:00:00+01:00")
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
