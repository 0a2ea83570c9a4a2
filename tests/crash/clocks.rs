//! Clocks that go back, jump ahead, or change with the season and the border.
//! Never a rule about which day an evening belongs to: that is the rounds' own.
//! Invariant: no act is refused for the clock's sake, stamps only grow, and a picking's day is the
//! local day the clock showed.

use super::{Run, room, share, told};
use crate::journeys::{asked, fields};
use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use std::path::Path;
use std::process::{Command, Stdio};

/// What the clock showed, act by act. Made up but for the changes of 2026 in the EU (29 March and
/// 25 October at 01:00 UTC, directive 2000/84/EC) and in Lord Howe Island (half an hour, tz database).
const SCENARIOS: [&[&str]; 20] = [
    &["2026-10-03T19:00:00+02:00", "2026-10-03T18:00:00+02:00", "2026-10-03T18:00:01+02:00"],
    &["2026-10-03T19:00:00+02:00", "2026-10-02T19:00:00+02:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "2025-10-03T19:00:00+02:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "1970-01-01T00:00:00+00:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "2026-10-03T19:00:00+02:00", "2026-10-03T19:00:00+02:00"],
    &["2026-10-03T19:00:00+02:00", "2026-10-03T18:59:59+02:00", "2026-10-03T18:59:58+02:00"],
    &["2026-10-03T19:00:00+02:00", "2026-10-04T19:00:00+02:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "2027-10-03T19:00:00+02:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "2099-12-31T23:59:59+01:00", "2026-10-03T19:00:05+02:00"],
    &["2026-10-03T19:00:00+02:00", "2038-01-19T03:14:08+00:00", "2026-10-03T19:00:05+02:00"],
    &["2026-03-29T01:59:59+01:00", "2026-03-29T03:00:00+02:00", "2026-03-29T03:00:01+02:00"],
    &["2026-10-25T02:59:59+02:00", "2026-10-25T02:00:00+01:00", "2026-10-25T02:30:00+01:00"],
    &["2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00", "2026-10-25T02:30:00+02:00"],
    &["2026-04-05T01:59:59+11:00", "2026-04-05T01:30:00+10:30", "2026-04-05T01:59:59+10:30"],
    &["2026-10-03T23:59:59+02:00", "2026-10-04T00:00:00+02:00", "2026-10-03T23:59:58+02:00"],
    &["2026-12-31T23:59:59+01:00", "2027-01-01T00:00:00+01:00", "2026-12-31T23:59:59+01:00"],
    &["2028-02-28T23:59:59+01:00", "2028-02-29T00:00:00+01:00", "2028-03-01T00:00:00+01:00"],
    &["2026-10-03T23:30:00+02:00", "2026-10-03T22:30:00+01:00", "2026-10-04T00:30:00+03:00"],
    &["2026-10-03T10:00:00+14:00", "2026-10-02T10:00:00-10:00", "2026-10-02T22:00:00+00:00"],
    &["2026-10-03T19:00:00+02:00", "2026-10-03T19:00:00-02:00", "2026-10-03T19:00:00+05:45"],
];

#[test]
fn no_clock_refuses_an_act_or_moves_a_day_and_stamps_only_grow() {
    let found: Vec<String> =
        SCENARIOS.iter().filter_map(|clock| fixed(clock).err().map(|e| format!("{clock:?}: {e}"))).collect();
    told("clock back, forward, DST (a clock set by hand)", SCENARIOS.len(), &found);
    if share(0, 1) == 1 {
        on_the_wall();
    }
}

fn fixed(shown: &[&str]) -> Result<(), String> {
    let folder = room();
    let clock = Clock::fixed(shown[0]).expect("an instant");
    let open = || commands::open(folder.path(), clock.clone()).map_err(|e| e.to_string());
    let mut book = open()?;
    let log = act(&book, "log_add", json!({"fields": fields("37", json!({}))}))?["said"]["log"].clone();
    for now in shown {
        clock.set(now).expect("an instant");
        let done = act(&book, "picking_add", picking(&log))?;
        let shows =
            commands::dispatch(&book, "log_show", json!({"log": log}), None).map_err(|e| e.to_string())?;
        let mut entries = shows["entries"].as_array().into_iter().flatten();
        let entry = entries.find(|entry| entry["act"] == done["act"]).ok_or("the picking is not shown")?;
        if entry["day"] != now[..10] {
            return Err(format!("picked at {now}, shown on {}", entry["day"]));
        }
        // And it is so in a register that was closed and opened again.
        drop(book);
        book = open()?;
    }
    grown(&book, shown.len() + 1)
}

fn act(book: &Book, name: &str, request: Value) -> Result<Value, String> {
    commands::dispatch(book, name, asked(request), None).map_err(|e| format!("{name}: {}", e.reply()))
}

fn picking(log: &Value) -> Value {
    json!({"log": log, "day": null, "grams": 120, "caps": 4, "damaged_pct": null, "by": null, "note": ""})
}

fn grown(book: &Book, acts: usize) -> Result<(), String> {
    let stamps: Vec<String> = book
        .read(|conn| {
            let mut list = conn.prepare("SELECT stamp FROM act ORDER BY seq")?;
            let rows = list.query_map([], |r| r.get(0))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
        .map_err(|e| e.to_string())?;
    let grow = stamps.windows(2).all(|two| two[0] < two[1]);
    if grow && stamps.len() == acts { Ok(()) } else { Err(format!("stamps {stamps:?}")) }
}

/// The same with the real program on the system's own clock, which libfaketime turns.
fn on_the_wall() {
    let there =
        Command::new("faketime").arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status();
    if there.is_err() {
        println!("skipped: faketime is not installed");
        return;
    }
    let found: Vec<String> =
        SCENARIOS.iter().filter_map(|clock| turned(clock).err().map(|e| format!("{clock:?}: {e}"))).collect();
    told("clock back, forward, DST (the system's own, by libfaketime)", SCENARIOS.len(), &found);
}

fn turned(shown: &[&str]) -> Result<(), String> {
    let folder = room();
    for (n, now) in shown.iter().enumerate() {
        let script = folder.path().join(format!("script-{n}"));
        let added = json!({"name": "log_add", "request": asked(json!({"fields": fields(&n.to_string(), json!({}))}))});
        let picked = json!({"name": "picking_add", "request": asked(picking(&json!("@1/said/log")))});
        std::fs::write(&script, format!("{added}\n{picked}\n")).expect("a script");
        let run = under(now, &script, &folder.path().join("yard"));
        if !run.status.success() || !run.refused.is_empty() {
            return Err(format!("{now}: {} {:?}", run.error, run.refused));
        }
    }
    let book = super::witness::open(&folder.path().join("yard"))?;
    let days: Vec<String> = book
        .read(|conn| {
            let sql =
                "SELECT e.day FROM entry e JOIN act a ON a.n = e.act WHERE e.kind = 'picking' ORDER BY a.seq";
            Ok(conn.prepare(sql)?.query_map([], |r| r.get(0))?.collect::<Result<_, _>>()?)
        })
        .map_err(|e| e.to_string())?;
    if !days.iter().map(String::as_str).eq(shown.iter().map(|now| &now[..10])) {
        return Err(format!("days {days:?}"));
    }
    grown(&book, 2 * shown.len())
}

/// `TZ` in the POSIX form, whose sign is turned about.
fn under(now: &str, script: &Path, folder: &Path) -> Run {
    let (sign, offset) = (&now[19..20], &now[20..]);
    let zone = format!("XXX{}{offset}", if sign == "+" { "-" } else { "+" });
    let local = now[..19].replace('T', " ");
    Run::of(
        Command::new("faketime")
            .arg(local)
            .arg(super::yard())
            .arg("script")
            .arg(script)
            .arg("--yard")
            .arg(folder)
            .env("TZ", zone),
    )
}
