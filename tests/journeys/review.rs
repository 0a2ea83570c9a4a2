//! Review asked of yards that have little, odd or too much to say.
//! Never how a figure is worked out: `outside` holds those.
//! Invariant: every question has an answer in a known word, whatever the yard is like.

use super::Yard;
use base64::Engine as _;
use serde_json::{Value, json};

const BY: [&str; 12] = [
    "wood",
    "strain",
    "class",
    "method",
    "spawn",
    "spot",
    "thickness",
    "laid_month",
    "laid_year",
    "wood_source",
    "spawn_source",
    "mushroom",
];
const MEASURES: [&str; 9] =
    ["log_year", "litre", "dry_kg", "soak", "life", "soonest", "longest", "damage", "competitors"];

fn ask(yard: &Yard, by: &str, measure: &str) -> Value {
    yard.call("review_ask", json!({"question": {"by": by, "measure": measure}}))
}

/// Every question there is: each is answered, and no figure is no number.
fn all(yard: &Yard) {
    for by in BY {
        for measure in MEASURES {
            let view = ask(yard, by, measure);
            let known = ["no_logs", "nothing_yet", "too_few", "one_group", "best", "close"];
            assert!(known.contains(&view["answer"]["kind"].as_str().unwrap()), "{view}");
            for row in view["rows"].as_array().unwrap() {
                assert_eq!(row["tell"] == true, row["why"].is_null(), "{row}");
                if let (Some(low), Some(high)) = (row["low"].as_f64(), row["high"].as_f64()) {
                    assert!(low <= high && low >= 0.0, "{row}");
                }
            }
        }
    }
    yard.call("season_show", json!({}));
}

fn laid(yard: &Yard, tag: &str, wood: &str, day: &str) -> String {
    yard.log(tag, json!({"wood": wood, "laid": day, "d_mm": [120], "length_mm": 1000, "spot": "Hedge"}))
}

fn pick(yard: &Yard, log: &str, day: &str, grams: Value) {
    yard.act(
        "picking_add",
        json!({"log": log, "day": day, "grams": grams, "caps": null, "damaged_pct": null,
        "by": null, "note": "", "draft": null}),
    );
}

#[test]
fn no_log_and_one_log_have_an_answer() {
    let yard = Yard::new();
    all(&yard);
    assert_eq!(ask(&yard, "wood", "log_year")["answer"]["kind"], "no_logs");
    let log = laid(&yard, "1", "red-oak", "2024-03-20");
    pick(&yard, &log, "2025-05-01", json!(400));
    all(&yard);
    let view = ask(&yard, "wood", "log_year");
    assert_eq!((&view["answer"]["kind"], &view["rows"][0]["why"]), (&json!("too_few"), &json!("few_logs")));
}

#[test]
fn logs_that_all_still_wait_are_neither_dropped_nor_nothing() {
    let yard = Yard::new();
    for tag in ["1", "2", "3", "4"] {
        laid(&yard, tag, if tag < "3" { "red-oak" } else { "beech" }, "2026-08-20");
    }
    all(&yard);
    let view = ask(&yard, "wood", "log_year");
    assert_eq!(view["answer"]["kind"], "nothing_yet", "{view}");
    assert_eq!(view["left_out"], json!([{"why": "spawn_run", "logs": 4}]));
    let waiting = ask(&yard, "wood", "soonest");
    assert_eq!(waiting["rows"][0]["used"], 2, "they wait, and are counted as waiting");
    assert!(waiting["rows"][0]["mean"].is_null());
}

#[test]
fn pickings_that_nobody_weighed_are_said_and_never_nothing() {
    let yard = Yard::new();
    for tag in ["1", "2", "3"] {
        let log = laid(&yard, tag, "red-oak", "2024-03-20");
        pick(&yard, &log, "2025-05-01", Value::Null);
    }
    all(&yard);
    let view = ask(&yard, "wood", "log_year");
    assert_eq!((&view["rows"][0]["why"], &view["rows"][0]["mean"]), (&json!("no_weights"), &Value::Null));
    // One weight anywhere: the others stand at what such a picking weighs, and the interval is the wider.
    let log = laid(&yard, "4", "red-oak", "2024-03-20");
    pick(&yard, &log, "2025-05-01", json!(500));
    let view = ask(&yard, "wood", "log_year");
    assert!(view["rows"][0]["used"] == 4 && view["rows"][0]["mean"].as_f64().unwrap() > 100.0, "{view}");
    assert_eq!(view["answer"]["kind"], "one_group");
}

#[test]
fn forty_kilograms_are_shown_and_asked_about_and_still_counted() {
    let yard = Yard::new();
    for (n, tag) in ["1", "2", "3", "4", "5", "6"].into_iter().enumerate() {
        let log = laid(&yard, tag, if n < 3 { "red-oak" } else { "beech" }, "2024-03-20");
        for (day, grams) in [("2025-05-01", 380 + 10 * n), ("2025-09-10", 420), ("2026-05-05", 400)] {
            pick(&yard, &log, day, json!(if tag == "2" && day == "2025-09-10" { 40_000 } else { grams }));
        }
    }
    let view = ask(&yard, "wood", "log_year");
    assert_eq!(view["odd"].as_array().map(Vec::len), Some(1), "{}", view["odd"]);
    assert_eq!((&view["odd"][0]["tag"], &view["odd"][0]["grams"]), (&json!("2"), &json!(40_000)));
    let oak = view["rows"].as_array().unwrap().iter().find(|r| r["key"] == "red-oak").unwrap();
    assert!(oak["grams"].as_i64().unwrap() > 40_000, "it is counted as it stands");
    assert!(!view["without_odd"].is_null(), "and what would be said without it is said");
    all(&yard);
}

#[test]
fn one_wood_on_one_mushroom_only_is_said_to_be_tied() {
    let yard = Yard::new();
    for n in 0..4 {
        for (wood, mushroom) in [("red-oak", "shiitake"), ("sugar-maple", "shiitake"), ("beech", "erinaceus")]
        {
            let more = json!({"wood": wood, "mushroom": mushroom, "laid": "2024-03-20", "d_mm": [120], "length_mm": 900});
            let log = yard.log(&format!("{wood}{n}"), more);
            pick(&yard, &log, "2025-09-01", json!(300 + 20 * n));
        }
    }
    let tied = &ask(&yard, "wood", "log_year")["tied"];
    assert_eq!(tied, &json!([{"with": "mushroom", "groups": ["beech"], "only": ["erinaceus"]}]));
    let asked = json!({"question": {"by": "wood", "measure": "log_year", "mushroom": "shiitake"}});
    assert_eq!(yard.call("review_ask", asked)["tied"], json!([]));
}

#[test]
fn the_same_record_gives_the_same_answer_and_the_rows_behind_it() {
    let yard = Yard::new();
    for n in 0..4 {
        for (wood, grams) in [("red-oak", 300), ("=cmd", 500)] {
            let wood_id = if wood == "red-oak" { "red-oak" } else { "beech" };
            let log = laid(&yard, &format!("{wood}{n}"), wood_id, "2024-03-20");
            pick(&yard, &log, "2025-09-01", json!(grams + 20 * n));
        }
    }
    assert_eq!(ask(&yard, "wood", "log_year"), ask(&yard, "wood", "log_year"));
    let sheet = yard.call("review_sheet", json!({"question": {"by": "wood", "measure": "log_year"}}));
    let bytes = base64::engine::general_purpose::STANDARD.decode(sheet["base64"].as_str().unwrap()).unwrap();
    let text = String::from_utf8(bytes).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.unwrap()).collect();
    assert_eq!(rows.len(), 8);
    assert!(rows.iter().any(|r| &r[1] == "'=cmd0") && rows.iter().all(|r| &r[3] == "1" && !r[4].is_empty()));
}

/// What was read for one answer is kept for the next: it must go whenever anything changes, the day and the place too.
#[test]
fn an_answer_stands_on_the_register_as_it_is_now() {
    let mut yard = Yard::new();
    let logs: Vec<String> =
        (0..6).map(|n| laid(&yard, &format!("{n}"), ["red-oak", "beech"][n % 2], "2024-03-20")).collect();
    let changes: [&dyn Fn(&Yard); 5] = [
        &|yard| logs.iter().for_each(|log| pick(yard, log, "2025-09-01", json!(300))),
        &|yard| pick(yard, &logs[0], "2025-09-20", json!(900)),
        &|yard| drop(yard.act("undo", json!({}))),
        &|yard| yard.now("2027-02-01T08:00:00+01:00"),
        &|yard| {
            let place = json!({"place": "", "lat": -34.0, "lon": 150.0, "night_after_min": 60});
            yard.act("settings_set", place);
        },
    ];
    let told = |yard: &Yard| {
        let asked = [ask(yard, "wood", "log_year"), ask(yard, "wood", "soonest")];
        (asked, yard.call("season_show", json!({})))
    };
    let mut before = told(&yard);
    for (n, change) in changes.into_iter().enumerate() {
        change(&yard);
        let after = told(&yard);
        assert_ne!(before, after, "change {n}");
        yard.restart();
        assert_eq!(told(&yard), after, "change {n}: a book that has kept nothing says the same");
        before = after;
    }
}

#[test]
fn a_document_is_written_from_its_parts() {
    let yard = Yard::new();
    let parts = json!([
        {"part": "heading", "words": "The season", "first": true},
        {"part": "words", "words": "Nothing (yet)."},
        {"part": "row", "cells": ["Month", "g"], "head": true},
        {"part": "interval", "name": "Oak", "mean": 2.0, "low": 1.0, "high": 3.0, "end": 4.0},
        {"part": "bars", "words": ["J", "F"], "values": [0.0, 3.0]},
    ]);
    let file = yard.call("pdf_make", json!({"name": "season-2026", "parts": parts}));
    let bytes = base64::engine::general_purpose::STANDARD.decode(file["base64"].as_str().unwrap()).unwrap();
    assert!(bytes.starts_with(b"%PDF-1.4") && file["name"] == "season-2026.pdf");
}
