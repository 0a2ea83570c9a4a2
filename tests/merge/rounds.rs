//! Rounds and baskets of two people who meet: what both entered is asked about once, and halves join.
//! Never the book's own functions.
//! Invariant: both devices show the same, and an answer on one is an answer on both.

use crate::archive::finished;
use crate::journeys::{Yard, asked, text, uuid};
use serde_json::{Value, json};
use std::path::Path;

fn merge(yard: &Yard, folder: &Path) {
    finished(yard, &yard.call("merge_do", json!({"folder": folder, "request": uuid()})));
}

/// Both ways, so that both have all.
fn meet(a: &Yard, b: &Yard, folder: &Path) {
    for yard in [a, b, a] {
        merge(yard, folder);
    }
}

/// Two yards with the same five logs at two spots, all with cupped caps.
fn pair() -> (Yard, Yard, Vec<String>, tempfile::TempDir) {
    let (a, b) = (Yard::at("2026-10-03T15:00:00+02:00"), Yard::at("2026-10-03T15:00:30+02:00"));
    let spots = ["Hedge", "Hedge", "Hedge", "Well", "Well"];
    let logs: Vec<String> = spots
        .iter()
        .enumerate()
        .map(|(n, spot)| a.log(&(n + 1).to_string(), json!({"spot": spot})))
        .collect();
    for log in &logs {
        a.act("look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": ""}));
    }
    let shared = tempfile::tempdir().unwrap();
    meet(&a, &b, shared.path());
    (a, b, logs, shared)
}

fn picking_round(yard: &Yard) -> String {
    text(&yard.act("round_start", json!({"kind": "picking"}))["said"]["round"])
}

/// Into the basket; the basket's id.
fn into_basket(yard: &Yard, round: &str, log: &str, caps: i64) -> String {
    let take = json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": true, "caps": caps,
        "damaged_pct": null, "by": null, "quality": null, "photos": []});
    text(&yard.act("pick_take", take)["said"]["basket"])
}

fn rounds(yard: &Yard) -> Value {
    yard.call("rounds_show", json!({}))
}

fn log(yard: &Yard, log: &str) -> (Value, Value) {
    let row = yard.call("log_show", json!({"log": log}))["row"].clone();
    (row["grams"].clone(), row["pickings"].clone())
}

/// Two people write down one basket, each on their own device: three logs once asked three questions.
fn both_fill_one(a: &Yard, b: &Yard, logs: &[String], shared: &Path) -> (String, String) {
    let (mine, theirs) = (picking_round(a), picking_round(b));
    let (mut one, mut other) = (String::new(), String::new());
    for (n, log) in logs[..3].iter().enumerate() {
        one = into_basket(a, &mine, log, 2 + n as i64);
        other = into_basket(b, &theirs, log, 2 + n as i64);
    }
    into_basket(b, &theirs, &logs[3], 1);
    meet(a, b, shared);
    (one, other)
}

#[test]
fn two_baskets_with_the_same_logs_are_one_question_and_not_one_a_log() {
    let (a, b, logs, shared) = pair();
    let (one, other) = both_fill_one(&a, &b, &logs, shared.path());
    for yard in [&a, &b] {
        let pairs = rounds(yard)["pairs"].clone();
        assert_eq!(pairs.as_array().unwrap().len(), 1, "{pairs}");
        assert_eq!(pairs[0]["tags"], json!(["1", "2", "3"]));
        assert_eq!(
            yard.call("twins_show", json!({}))["twins"],
            json!([]),
            "no question log by log beside it"
        );
        let mut ids = [text(&pairs[0]["one"]["id"]), text(&pairs[0]["other"]["id"])];
        ids.sort();
        let mut both = [one.clone(), other.clone()];
        both.sort();
        assert_eq!(ids, both);
    }
    let nonsense = json!({"one": one, "other": other, "keep": logs[0]});
    assert_eq!(a.refused("basket_pair_answer", asked(nonsense))["field"], "keep");
    a.act("basket_pair_answer", json!({"one": other, "other": one, "keep": one}));
    meet(&a, &b, shared.path());
    for yard in [&a, &b] {
        let view = rounds(yard);
        assert_eq!(view["pairs"], json!([]), "answered on one, answered on both");
        let baskets = view["baskets"].as_array().unwrap();
        let lies = |id: &str| -> Vec<String> {
            let basket = baskets.iter().find(|b| b["id"] == id).expect("it waits to be weighed");
            basket["pickings"].as_array().unwrap().iter().map(|p| text(&p["tag"])).collect()
        };
        assert_eq!(lies(&one), ["1", "2", "3"]);
        assert_eq!(lies(&other), ["4"], "what lay in the other alone was picked by somebody");
    }
    a.act("basket_weigh", json!({"basket": one, "grams": 900, "each": []}));
    let sums: Vec<Value> = logs[..3].iter().map(|id| log(&a, id).0).collect();
    assert_eq!(sums, [200, 300, 400].map(|g| json!(g)), "2 : 3 : 4 caps, each log once");
    let again = asked(json!({"one": one, "other": other, "keep": null}));
    assert_eq!(b.refused("basket_pair_answer", again)["detail"]["why"], "answered");
}

#[test]
fn two_baskets_that_are_two_both_stay_and_are_not_asked_about_again() {
    let (a, b, logs, shared) = pair();
    let (one, other) = both_fill_one(&a, &b, &logs, shared.path());
    for (yard, basket, grams) in [(&a, &one, 900), (&b, &other, 1000)] {
        yard.act("basket_weigh", json!({"basket": basket, "grams": grams, "each": []}));
    }
    meet(&a, &b, shared.path());
    assert_eq!(rounds(&a)["pairs"].as_array().unwrap().len(), 1, "weighed, it is asked about all the same");
    assert_eq!(rounds(&a)["baskets"], json!([]), "neither waits for a weight");
    let done = b.act("basket_pair_answer", json!({"one": one, "other": other, "keep": null}));
    meet(&a, &b, shared.path());
    for yard in [&a, &b] {
        assert_eq!(rounds(yard)["pairs"], json!([]));
        assert_eq!(yard.call("twins_show", json!({}))["twins"], json!([]));
        let sum: i64 = logs.iter().map(|id| log(yard, id).0.as_i64().unwrap()).sum();
        assert_eq!((sum, log(yard, &logs[0]).1), (1900, json!(2)));
    }
    b.act("undo", json!({"act": done["act"]}));
    assert_eq!(rounds(&b)["pairs"].as_array().unwrap().len(), 1, "taken back, it is asked again");
}

#[test]
fn keeping_one_of_two_weighed_baskets_takes_the_other_weight_out() {
    let (a, b, logs, shared) = pair();
    let (one, other) = both_fill_one(&a, &b, &logs, shared.path());
    a.act("basket_weigh", json!({"basket": one, "grams": 900, "each": []}));
    b.act("basket_weigh", json!({"basket": other, "grams": 1000, "each": []}));
    meet(&a, &b, shared.path());
    a.act("basket_pair_answer", json!({"one": one, "other": other, "keep": one}));
    assert_eq!(log(&a, &logs[0]), (json!(200), json!(1)));
    let four = log(&a, &logs[3]).0;
    assert_eq!(four, json!(100), "1 of 10 caps of the other's 1000 g");
    assert_eq!(
        a.call("basket_show", json!({"basket": other}))["grams"],
        four,
        "the other keeps what is left in it"
    );
}

#[test]
fn baskets_of_two_halves_that_share_no_log_are_not_asked_about() {
    let (a, b, logs, shared) = pair();
    let (mine, theirs) = (picking_round(&a), picking_round(&b));
    into_basket(&a, &mine, &logs[0], 2);
    into_basket(&b, &theirs, &logs[4], 2);
    meet(&a, &b, shared.path());
    assert_eq!(
        (rounds(&a)["pairs"].clone(), rounds(&a)["baskets"].as_array().unwrap().len()),
        (json!([]), 2)
    );
    let view = a.call("pick_round_show", json!({"round": mine}));
    assert_eq!(
        (&view["round"]["done"], &view["round"]["halves"]),
        (&json!(2), &json!(1)),
        "the halves are one round"
    );
}

/// One device takes the other's basket over: pickings of one log that both put into it are asked about by their log.
#[test]
fn one_log_put_twice_into_one_basket_is_still_asked_about() {
    let (a, b, logs, shared) = pair();
    let round = picking_round(&a);
    into_basket(&a, &round, &logs[0], 2);
    meet(&a, &b, shared.path());
    for yard in [&a, &b] {
        into_basket(yard, &round, &logs[1], 3);
    }
    meet(&a, &b, shared.path());
    let twins = b.call("twins_show", json!({}))["twins"].clone();
    assert_eq!((twins.as_array().unwrap().len(), &twins[0]["tag"]), (1, &json!("2")), "{twins}");
    let keep = twins[0]["entries"][0]["id"].clone();
    b.act(
        "twin_answer",
        json!({"entries": [keep, twins[0]["entries"][1]["id"]], "same": true, "keep": keep}),
    );
    assert_eq!(rounds(&b)["baskets"][0]["pickings"].as_array().unwrap().len(), 2);
}

/// A round is open on both; one ends it while the other still walks, out of reach.
#[test]
fn a_round_ended_on_one_device_loses_nothing_that_the_other_still_enters() {
    let (a, b, logs, shared) = pair();
    let round = text(&a.act("round_start", json!({}))["said"]["round"]);
    meet(&a, &b, shared.path());
    let check = |log: &str, slugs: i64| json!({"round": round, "log": log, "how": "seen", "slugs": slugs, "damage": "none"});
    a.act("round_check", check(&logs[0], 1));
    a.act("round_end", json!({"round": round}));
    b.act("round_check", check(&logs[1], 2));
    b.act("round_check", check(&logs[0], 4));
    meet(&a, &b, shared.path());
    for yard in [&a, &b] {
        let view = yard.call("round_show", json!({"round": round}));
        let sums = ["done", "slugs"].map(|k| view["round"][k].as_i64().unwrap());
        assert_eq!(
            sums,
            [2, 7],
            "two logs seen; of the one both checked the tallies are added: {}",
            view["round"]
        );
    }
    let late = b.refused("round_check", asked(check(&logs[2], 1)));
    assert_eq!(late["detail"]["why"], "round_ended", "from then on it says that it has ended");
    assert_ne!(text(&b.act("round_start", json!({}))["said"]["round"]), round, "and a new one can be begun");
}
