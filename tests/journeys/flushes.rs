//! Flushes: the gap that parts them is the grower's, and the list, the picture and the setting say the same.
//! Never how a picking is entered.

use super::{Yard, asked, text};
use serde_json::{Value, json};

fn pick(yard: &Yard, log: &str, day: &str, grams: Value) {
    let picking = json!({"log": log, "day": day, "grams": grams, "caps": null, "damaged_pct": null, "by": null, "note": ""});
    yard.act("picking_add", picking);
}

/// Flushes on the log's page, and the wedges of its picture with the words that tell it.
fn told(yard: &Yard, log: &str) -> (usize, usize, String) {
    let list = yard.call("flushes_show", json!({"log": log}))["flushes"].as_array().map_or(0, Vec::len);
    let grain = yard.call("log_show", json!({"log": log}))["row"]["grain"].clone();
    let shapes = grain["shapes"].as_array().unwrap();
    let wedges = shapes.iter().filter(|s| text(&s["class"]).contains("grain-wedge")).count();
    (list, wedges, text(&grain["words"]))
}

/// The picture once parted flushes by a rule of its own: 21 days apart was one there and two in the list, a soak on
/// the day of a picking parted here and not there, and what the grower said counted in the list alone.
#[test]
fn the_picture_and_the_list_part_flushes_alike() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"laid": "2023"}));
    for (day, grams) in [("2026-05-01", json!(100)), ("2026-05-21", json!(50)), ("2026-06-11", json!(null))] {
        pick(&yard, &log, day, grams);
    }
    let (list, wedges, words) = told(&yard, &log);
    assert_eq!((list, wedges), (2, 2), "20 days are one flush, 21 are two");
    assert!(words.contains("2 flushes of at least 150 g"), "{words}");
    let last = yard.call("flushes_show", json!({"log": log}))["flushes"][1]["pickings"][0]["entry"].clone();
    yard.act("flush_mark", json!({"picking": last, "how": "join"}));
    let (list, wedges, words) = told(&yard, &log);
    assert_eq!((list, wedges), (1, 1), "the grower joined them: {words}");
    yard.act("undo", json!({}));
    assert_eq!(told(&yard, &log).1, 2);
    let soak = json!({"logs": [log], "weights": [], "water_dc": 90, "ago_min": null, "day": "2026-05-21", "note": "", "sure": true});
    yard.act("soak_in", soak);
    let (list, wedges, words) = told(&yard, &log);
    assert_eq!((list, wedges), (3, 3), "soaked between, on the day of the second picking: {words}");
}

#[test]
fn a_wider_gap_joins_flushes_at_once_and_undo_parts_them_again() {
    let mut yard = Yard::new();
    let log = yard.log("1", json!({"laid": "2023"}));
    for day in ["2026-05-01", "2026-05-25", "2026-07-30"] {
        pick(&yard, &log, day, json!(60));
    }
    let shown = |yard: &Yard| yard.call("settings_show", json!({}))["flush_gap_days"].clone();
    assert_eq!((shown(&yard), told(&yard, &log).0, told(&yard, &log).1), (json!(21), 3, 3));
    let done = yard.act("flush_gap_set", json!({"days": 30}));
    assert_eq!(done["said"]["days"], 30);
    assert_eq!((shown(&yard), told(&yard, &log).0, told(&yard, &log).1), (json!(30), 2, 2));
    yard.restart();
    assert_eq!((told(&yard, &log).0, told(&yard, &log).1), (2, 2));
    yard.book().rebuild().unwrap();
    assert_eq!(told(&yard, &log).1, 2, "its acts alone give the same picture");
    yard.act("undo", json!({}));
    assert_eq!((shown(&yard), told(&yard, &log).0, told(&yard, &log).1), (json!(21), 3, 3));
    yard.act("flush_gap_set", json!({"days": 90}));
    assert_eq!(told(&yard, &log).1, 1);
    yard.act("flush_gap_set", json!({"days": null}));
    assert_eq!((shown(&yard), told(&yard, &log).1), (json!(21), 3), "empty: the usual days");
}

#[test]
fn a_gap_no_yard_can_have_is_refused_with_its_bounds() {
    let yard = Yard::new();
    for bad in [-1, 0, 4, 91, 100_000] {
        let refused = yard.refused("flush_gap_set", asked(json!({"days": bad})));
        assert_eq!(refused["field"], "flush_gap_days", "{bad}");
        assert_eq!(refused["detail"], json!({"why": "range", "min": 5, "max": 90, "unit": "days"}));
    }
    assert_eq!(yard.call("settings_show", json!({}))["flush_gap_days"], 21);
}
