//! Bad input: a clear reason with its field, nothing lost, nothing half-written.

use super::{Yard, asked, fields};
use serde_json::{Value, json};

/// Each case: what is changed in a good request, the field that is named, and why.
#[test]
fn a_log_that_cannot_be_true_is_refused_by_its_field() {
    let yard = Yard::new();
    let long = "x".repeat(4001);
    let cases = [
        (json!({"tag": "   "}), "tag", "empty"),
        (json!({"tag": "a tag much too long for any label"}), "tag", "too_long"),
        (json!({"d_mm": [0]}), "d_mm", "range"),
        (json!({"d_mm": [-120]}), "d_mm", "range"),
        (json!({"d_mm": [120, 12000]}), "d_mm", "range"),
        (json!({"d_mm": [120, 120, 120, 120]}), "d_mm", "too_long"),
        (json!({"length_mm": 0}), "length_mm", "range"),
        (json!({"length_mm": 900_000}), "length_mm", "range"),
        (json!({"laid": "2026-02-30"}), "laid", "not_a_date"),
        (json!({"laid": "next spring"}), "laid", "not_a_date"),
        (json!({"laid": "2026-10-04"}), "laid", "future"),
        (json!({"felled": "2027"}), "felled", "future"),
        (json!({"felled": "2026-05-01", "laid": "2026-04-30"}), "laid", "order"),
        (json!({"wood": "plastic"}), "wood", "unknown_word"),
        (json!({"note": long}), "note", "too_long"),
        (json!({"spot": long}), "spot", "too_long"),
    ];
    for (more, field, why) in cases {
        let refused = yard.refused("log_add", asked(json!({"fields": fields("1", more.clone())})));
        assert_eq!((&refused["code"], &refused["field"]), (&json!("invalid"), &json!(field)), "{more}");
        assert_eq!(refused["detail"]["why"], why, "{more}");
    }
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["total"], 0);
    assert_eq!(yard.call("act_list", json!({"limit": 9}))["acts"], json!([]), "no act was written");
    assert_eq!(yard.call("log_form", json!({}))["spots"], json!([]), "and no spot of a refused log");
}

#[test]
fn a_rough_date_is_only_refused_when_it_cannot_be_true() {
    let yard = Yard::new();
    yard.log("1", json!({"felled": "2026", "laid": "2026-04"}));
    yard.log("2", json!({"felled": "XXXX", "laid": "2021-21"}));
    yard.log("3", json!({"felled": "2026-09-30", "laid": "2026"}));
    yard.log("4", json!({"laid": "2026-10-03"}));
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["total"], 4);
}

#[test]
fn a_conifer_is_recorded_because_it_is_true_and_said() {
    let yard = Yard::new();
    let done = yard.act("log_add", json!({"fields": fields("1", json!({"wood": "pine", "laid": "XXXX"}))}));
    assert_eq!(done["said"]["conifer"], true);
}

#[test]
fn a_picking_that_cannot_be_true_is_refused_by_its_field() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"laid": "2025-04-01"}));
    let cases = [
        (json!({"grams": 0}), "grams", "range"),
        (json!({"grams": -5}), "grams", "range"),
        (json!({"grams": 500_000}), "grams", "range"),
        (json!({"caps": -1}), "caps", "range"),
        (json!({"damaged_pct": 101}), "damaged_pct", "range"),
        (json!({"day": "2026-10-04"}), "day", "future"),
        (json!({"day": "2025-03-31"}), "day", "order"),
    ];
    for (more, field, why) in cases {
        let mut ask = json!({"log": log, "note": ""});
        ask.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        let refused = yard.refused("picking_add", asked(ask));
        assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!(field), &json!(why)), "{more}");
    }
    assert_eq!(yard.call("log_show", json!({"log": log}))["row"]["pickings"], 0);
}

#[test]
fn a_weight_that_was_not_taken_is_not_nought() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    yard.act("picking_add", json!({"log": log, "caps": 4, "note": ""}));
    yard.act("picking_add", json!({"log": log, "grams": 200, "damaged_pct": 20, "by": "slugs", "note": ""}));
    let row = &yard.call("log_show", json!({"log": log}))["row"];
    let found = ["pickings", "grams", "unweighed"].map(|k| row[k].as_i64().unwrap());
    assert_eq!(found, [2, 200, 1]);
}

#[test]
fn a_stage_of_another_mushroom_is_refused() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"mushroom": "erinaceus"}));
    let ask = |seen: &str| json!({"log": log, "seen": seen, "photos": [], "note": ""});
    assert_eq!(yard.refused("look_add", asked(ask("cupped")))["field"], "seen");
    yard.act("look_add", ask("long_spines"));
    assert_eq!(yard.call("log_show", json!({"log": log}))["row"]["state"], "fruiting");
}

#[test]
fn what_is_not_there_or_not_understood_is_said() {
    let yard = Yard::new();
    let nobody = "01890000-0000-7000-8000-000000000000";
    assert_eq!(yard.refused("log_show", json!({"log": nobody}))["code"], "missing");
    assert_eq!(yard.refused("round_show", json!({"round": nobody}))["field"], "round");
    assert_eq!(yard.refused("log_show", json!({"log": "37"}))["code"], "invalid");
    assert_eq!(yard.refused("yard_list", json!({"search": "", "more": 1}))["code"], "invalid");
    assert_eq!(yard.refused("burn_it_down", json!({}))["field"], "command");
    let log = yard.log("1", json!({}));
    let no_request = json!({"log": log, "grams": 5, "note": "", "request": "twice"});
    assert_eq!(yard.refused("picking_add", no_request)["field"], "request");
    let unknown_photo = json!({"log": log, "seen": "pin", "photos": ["../../etc/passwd"], "note": ""});
    assert_eq!(yard.refused("look_add", asked(unknown_photo))["field"], "photos");
}

#[test]
fn two_windows_cannot_hold_one_yard() {
    let yard = Yard::new();
    let clock = shadeyard_backend::book::Clock::wall();
    let second = shadeyard_backend::commands::open(yard.folder.path(), clock);
    let reply = second.map(|_| Value::Null).unwrap_or_else(|e| e.reply());
    assert_eq!(reply["detail"]["why"], "locked");
}
