//! The first logs of a yard, and an inherited one told truly.

use super::{Yard, asked, fields, text};
use serde_json::json;

#[test]
fn an_empty_yard_is_empty_and_says_so() {
    let yard = Yard::new();
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["total"], 0);
    let chores = yard.call("chores_show", json!({}));
    assert_eq!(chores["total"], 0);
    assert!(chores["last"].is_null() && chores["round"].is_null());
    assert_eq!(
        yard.call("review_ask", json!({"question": {"by": "wood", "measure": "log_year"}}))["answer"]["kind"],
        "no_logs"
    );
    assert_eq!(yard.call("log_form", json!({}))["next_tag"], "1");
}

#[test]
fn a_first_log_needs_only_a_tag_and_a_mushroom() {
    let yard = Yard::new();
    let log = yard.log("37", json!({}));
    let view = yard.call("log_show", json!({"log": log}));
    assert_eq!(view["row"]["tag"], "37");
    assert!(view["row"]["wood"].is_null() && view["row"]["strain"].is_null() && view["litres"].is_null());
    assert_eq!(view["row"]["state"], "may_fruit", "nobody knows when it was laid, so it is not called young");
}

#[test]
fn a_whole_log_is_told_whole() {
    let yard = Yard::new();
    let more = json!({"wood": "red-oak", "d_mm": [120, 110, 100], "length_mm": 1000, "felled": "2025-24",
        "strain": "Late brown", "strain_class": "cold", "spawn": "plug", "method": "drilled",
        "laid": "2026-03", "spot": "North hedge", "note": "  fell across the path \"hard\" <b>& öä 🍄 "});
    let log = yard.log("A1", more.clone());
    let view = yard.call("log_show", json!({"log": log}));
    let mut told = fields("A1", more);
    told["note"] = json!("fell across the path \"hard\" <b>& öä 🍄");
    assert_eq!(view["fields"], told);
    // Newton's formula by hand: π/4 · (0.12² + 4·0.11² + 0.10²)/6 · 1.0 m³ = 9.5295… litres.
    let litres = view["litres"].as_f64().unwrap();
    assert!((litres - 9.529_5).abs() < 0.001, "{litres}");
    assert_eq!(view["row"]["state"], "spawn_run", "a cold strain laid in March is young in October");
    let form = yard.call("log_form", json!({"log": log}));
    assert_eq!(form["fields"], view["fields"]);
    assert_eq!(form["strains"][0]["name"], "Late brown");
    assert_eq!(form["spots"][0]["name"], "North hedge");
    assert_eq!(form["next_tag"], "A2");
}

#[test]
fn the_same_strain_and_spot_are_found_again_whatever_the_case() {
    let yard = Yard::new();
    yard.log("1", json!({"strain": "Late Brown", "strain_class": "cold", "spot": "Hedge"}));
    yard.log("2", json!({"strain": "late brown", "spot": "HEDGE"}));
    let form = yard.call("log_form", json!({}));
    assert_eq!(form["strains"].as_array().unwrap().len(), 1);
    assert_eq!(form["strains"][0]["class"], "cold", "a log without a class does not unsay the strain's");
    assert_eq!(form["spots"].as_array().unwrap().len(), 1);
    assert_eq!(form["spots"][0]["logs"], 2);
}

#[test]
fn a_class_may_be_known_without_a_name() {
    let yard = Yard::new();
    let log = yard.log("1", json!({"strain_class": "warm"}));
    let view = yard.call("log_show", json!({"log": log}));
    assert!(view["row"]["strain"].is_null());
    assert_eq!(view["row"]["strain_class"], "warm");
}

#[test]
fn the_list_counts_as_people_do_and_the_search_puts_the_exact_tag_first() {
    let yard = Yard::new();
    for tag in ["10", "9", "137", "37", "A10", "A2"] {
        yard.log(tag, json!({}));
    }
    let tags = |search: &str| -> Vec<String> {
        let view = yard.call("yard_list", json!({"search": search}));
        view["logs"].as_array().unwrap().iter().map(|l| text(&l["tag"])).collect()
    };
    assert_eq!(tags(""), ["9", "10", "37", "137", "A2", "A10"]);
    assert_eq!(tags("37"), ["37", "137"]);
    assert_eq!(tags(" a "), ["A2", "A10"]);
    assert_eq!(tags("zz"), Vec::<String>::new());
}

#[test]
fn a_second_log_with_the_same_tag_is_let_in_and_said() {
    let yard = Yard::new();
    let first = yard.log("7", json!({}));
    let done = yard.act("log_add", json!({"fields": fields("7", json!({}))}));
    assert_eq!(done["said"]["same_tag"], 1);
    let view = yard.call("log_show", json!({"log": first}));
    assert_eq!(view["same_tag"], json!([done["said"]["log"]]));
}

#[test]
fn changing_a_log_changes_only_what_was_changed() {
    let yard = Yard::new();
    let log = yard.log("7", json!({"wood": "red-oak", "spot": "Hedge"}));
    let after = fields("7", json!({"wood": "white-oak", "spot": "Hedge", "note": "moss"}));
    let done = yard.act("log_edit", json!({"log": log, "fields": after}));
    assert_eq!(done["said"]["fields"], json!(["wood", "note"]));
    assert_eq!(yard.call("log_show", json!({"log": log}))["fields"], after);
    let same = yard.refused("log_edit", asked(json!({"log": log, "fields": after})));
    assert_eq!(same["detail"]["why"], "nothing_changed");
}

#[test]
fn a_double_tap_on_save_is_one_log() {
    let yard = Yard::new();
    let ask = asked(json!({"fields": fields("1", json!({})), "draft": "log:new"}));
    yard.call("draft_set", json!({"key": "log:new", "value": "{}"}));
    let first = yard.call("log_add", ask.clone());
    let second = yard.call("log_add", ask);
    assert_eq!(first["again"], false);
    assert_eq!(second["again"], true);
    assert_eq!(first["said"], second["said"]);
    assert_eq!(yard.call("yard_list", json!({"search": ""}))["total"], 1);
    assert!(
        yard.call("draft_get", json!({"key": "log:new"}))["value"].is_null(),
        "the draft went with the act"
    );
}

#[test]
fn a_draft_survives_a_restart_and_is_offered() {
    let mut yard = Yard::new();
    yard.call("draft_set", json!({"key": "look:x", "value": "{\"seen\":\"pin\"}"}));
    yard.restart();
    assert_eq!(yard.call("draft_get", json!({"key": "look:x"}))["value"], "{\"seen\":\"pin\"}");
    assert_eq!(yard.call("chores_show", json!({}))["drafts"][0]["key"], "look:x");
    yard.call("draft_set", json!({"key": "look:x", "value": null}));
    assert_eq!(yard.call("chores_show", json!({}))["drafts"], json!([]));
}

#[test]
fn a_spent_log_leaves_the_round_but_not_the_register() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    yard.log("2", json!({}));
    yard.act("log_end", json!({"log": log, "why": "spent", "note": "soft all through"}));
    let view = yard.call("log_show", json!({"log": log}));
    assert_eq!(view["row"]["state"], "spent");
    assert_eq!(view["entries"][0]["what"], json!({"kind": "ending", "why": "spent"}));
    let done = yard.act("round_start", json!({}));
    assert_eq!(done["said"]["logs"], 1);
    let again = yard.refused("log_end", asked(json!({"log": log, "why": "lost", "note": ""})));
    assert_eq!(again["detail"]["why"], "ended_already");
}
