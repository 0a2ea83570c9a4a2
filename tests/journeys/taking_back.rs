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
