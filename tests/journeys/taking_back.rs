//! Undo: the last act, any act, after a restart, and twice.

use super::{Yard, asked, fields, text};
use serde_json::{Value, json};

fn entries(yard: &Yard, log: &str) -> Vec<Value> {
    yard.call("log_show", json!({"log": log}))["entries"].as_array().unwrap().clone()
}

#[test]
fn the_last_act_is_taken_back_also_after_a_restart() {
    let mut yard = Yard::new();
    let log = yard.log("37", json!({}));
    yard.act("picking_add", json!({"log": log, "grams": 420, "caps": 12, "note": ""}));
    yard.restart();
    let done = yard.act("undo", json!({}));
    assert_eq!(done["said"]["undone"]["name"], "picking_add");
    assert_eq!(done["said"]["undone"]["said"]["grams"], 420);
    assert!(entries(&yard, &log).is_empty());
    assert_eq!(yard.call("log_show", json!({"log": log}))["row"]["grams"], 0);
    yard.act("undo", json!({}));
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["total"], 0, "then the log itself");
    assert_eq!(
        yard.refused("undo", asked(json!({})))["code"],
        "missing",
        "then nothing is left to take back"
    );
}

#[test]
fn undoing_an_undo_does_the_act_again() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"strain": "Late brown", "strain_class": "cold", "spot": "Hedge"}));
    let before = yard.call("log_show", json!({"log": log}));
    let undo = yard.act("undo", json!({}));
    assert_eq!(yard.refused("log_show", json!({"log": log}))["code"], "missing");
    yard.act("undo", json!({"act": undo["act"]}));
    assert_eq!(yard.call("log_show", json!({"log": log})), before);
}

#[test]
fn a_double_tap_on_undo_takes_back_one_act() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    yard.act("picking_add", json!({"log": log, "grams": 1, "note": ""}));
    yard.act("picking_add", json!({"log": log, "grams": 2, "note": ""}));
    let ask = asked(json!({}));
    let first = yard.call("undo", ask.clone());
    let second = yard.call("undo", ask);
    assert_eq!(first["said"], second["said"]);
    assert_eq!(second["again"], true);
    assert_eq!(entries(&yard, &log).len(), 1);
}

#[test]
fn an_older_act_is_taken_back_but_a_field_changed_since_is_left_and_said() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    let edit = |more: Value| yard.act("log_edit", json!({"log": log, "fields": fields("1", more)}));
    let first = edit(json!({"note": "by the well", "wood": "red-oak"}));
    edit(json!({"note": "by the gate", "wood": "red-oak"}));
    let done = yard.act("undo", json!({"act": first["act"]}));
    assert_eq!(done["said"]["kept"], json!(["note"]));
    let now = &yard.call("log_show", json!({"log": log}))["fields"];
    assert_eq!(now["note"], "by the gate");
    assert!(now["wood"].is_null());
    let twice = yard.refused("undo", asked(json!({"act": first["act"]})));
    assert_eq!(twice["detail"]["why"], "undone_already");
}

#[test]
fn taking_a_log_back_leaves_its_spot_to_the_logs_that_came_later() {
    // Undo of the log that first named a spot once took the spot's name from all others.
    let yard = Yard::new();
    let first = yard.act("log_add", json!({"fields": fields("1", json!({"spot": "Hedge"}))}));
    let second = yard.log("2", json!({"spot": "Hedge"}));
    yard.act("undo", json!({"act": first["act"]}));
    assert_eq!(yard.call("log_show", json!({"log": second}))["row"]["spot"], "Hedge");
    assert_eq!(yard.call("spot_list", json!({}))["spots"][0]["name"], "Hedge");
    let third = yard.log("3", json!({"spot": "hedge"}));
    let spot = |log: &str| text(&yard.call("log_show", json!({"log": log}))["row"]["spot_id"]);
    assert_eq!(spot(&second), spot(&third));
}

#[test]
fn what_was_done_is_listed_in_order_with_what_can_be_taken_back() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    yard.act("look_add", json!({"log": log, "seen": "pin", "photos": [], "note": ""}));
    yard.act("undo", json!({}));
    let acts = yard.call("act_list", json!({"limit": 10}));
    let told: Vec<(String, bool)> = acts["acts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|a| (text(&a["name"]), a["undone"].as_bool().unwrap()))
        .collect();
    let expected = [("undo", false), ("look_add", true), ("log_add", false)];
    assert_eq!(told, expected.map(|(name, undone)| (name.to_owned(), undone)));
    assert_eq!(yard.call("chores_show", json!({}))["last"]["name"], "log_add");
}

#[test]
fn rebuilding_from_the_acts_gives_the_same_yard() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"spot": "Hedge", "strain_class": "warm"}));
    yard.act("look_add", json!({"log": log, "seen": "flat", "photos": [], "note": "late"}));
    yard.act("picking_add", json!({"log": log, "grams": 300, "note": ""}));
    yard.act("undo", json!({}));
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    yard.act("round_check", json!({"round": round, "log": log, "how": "seen", "slugs": 2, "damage": "some"}));
    let views = || {
        let show = yard.call("log_show", json!({"log": log}));
        (show, yard.call("round_show", json!({"round": round})), yard.call("act_list", json!({"limit": 99})))
    };
    let before = views();
    yard.book().rebuild().unwrap();
    assert_eq!(views(), before);
}

/// What is named by what it is (a setting, a day, a chore, a picking's flush) once stayed out when it was taken back and then
/// set again: the words said it was kept, and nothing showed it.
#[test]
fn what_was_taken_back_and_is_set_again_counts() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    let twice = |name: &str, ask: Value| {
        yard.act(name, ask.clone());
        yard.act("undo", json!({}));
        yard.act(name, ask);
    };
    twice("settings_set", json!({"place": "the yard", "lat": 46.0, "lon": 10.0, "night_after_min": 90}));
    let settings = yard.call("settings_show", json!({}));
    assert_eq!((&settings["place"], &settings["night_after_min"]), (&json!("the yard"), &json!(90)));
    twice("ways_set", json!({"units": "us", "forcing": "quick", "season_first": null}));
    twice("flush_gap_set", json!({"days": 40}));
    let settings = yard.call("settings_show", json!({}));
    assert_eq!((&settings["units"], &settings["flush_gap_days"]), (&json!("us"), &json!(40)));
    twice(
        "weather_set",
        json!({"day": "2026-10-03", "min_dc": 90, "max_dc": 150, "rain_tenths": 80, "wind_tenths": 20, "draft": null}),
    );
    assert_eq!(yard.call("rounds_show", json!({}))["weather"]["suits"], "well");
    for day in ["2026-05-01", "2026-05-03"] {
        yard.act("picking_add", json!({"log": log, "day": day, "grams": 90, "caps": null, "damaged_pct": null, "by": null, "note": ""}));
    }
    let flushes = || yard.call("flushes_show", json!({"log": log}))["flushes"].clone();
    twice("flush_mark", json!({"picking": flushes()[0]["pickings"][1]["entry"], "how": "split"}));
    assert_eq!(flushes().as_array().unwrap().len(), 2);
    let seen = json!({"log": log, "spot": null, "what": "trametes", "when": "now", "n": null, "extent": null, "hid": [], "did": [],
        "photos": [], "note": ""});
    yard.act("sighting_add", seen);
    let key = "fungus_watch:2026-10-03";
    let is_due =
        || yard.call("chores_show", json!({}))["due"].as_array().unwrap().iter().any(|d| d["key"] == key);
    assert!(is_due());
    twice("chore_put_off", json!({"key": key, "until": "2026-10-10"}));
    assert!(!is_due());
    yard.book().rebuild().unwrap();
    assert!(!is_due() && flushes().as_array().unwrap().len() == 2, "its acts alone give the same");
}
