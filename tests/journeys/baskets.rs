//! Baskets and picking rounds when something goes wrong in the middle: a log ends, a picking is taken back, nothing lies in it.
//! Never two devices: `merge` has those.

use super::{Yard, asked, text};
use serde_json::{Value, json};

/// Four logs with cupped caps, and a picking round over them.
fn yard() -> (Yard, Vec<String>, String) {
    let yard = Yard::at("2026-10-03T10:00:00+02:00");
    let logs: Vec<String> = (1..=4).map(|n| yard.log(&n.to_string(), json!({"spot": "Hedge"}))).collect();
    for log in &logs {
        yard.act("look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": ""}));
    }
    let round = text(&yard.act("round_start", json!({"kind": "picking"}))["said"]["round"]);
    (yard, logs, round)
}

fn take(round: &str, log: &str, caps: i64) -> Value {
    asked(
        json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": true, "caps": caps, "damaged_pct": null,
        "by": null, "quality": null, "photos": []}),
    )
}

fn baskets(yard: &Yard) -> Vec<Value> {
    yard.call("rounds_show", json!({}))["baskets"].as_array().unwrap().clone()
}

fn grams(yard: &Yard, log: &str) -> Value {
    yard.call("log_show", json!({"log": log}))["row"]["grams"].clone()
}

#[test]
fn a_log_that_ends_in_the_middle_of_a_picking_round_leaves_its_stops_and_keeps_its_picking() {
    let (yard, logs, round) = yard();
    let tags = || -> Vec<String> {
        let view = yard.call("pick_round_show", json!({"round": round}));
        view["stops"].as_array().unwrap().iter().map(|s| text(&s["log"]["tag"])).collect()
    };
    yard.call("pick_take", take(&round, &logs[0], 3));
    yard.act("log_end", json!({"log": logs[0], "why": "discarded", "note": ""}));
    yard.act("log_end", json!({"log": logs[1], "why": "spent", "note": ""}));
    assert_eq!(
        tags(),
        ["3", "4", "1"],
        "the picked one stays in the round, behind those left; the spent one is passed over"
    );
    yard.call("pick_take", take(&round, &logs[2], 1));
    let done = yard.act("round_end", json!({"round": round}));
    assert_eq!(
        (&done["said"]["done"], &done["said"]["left"]),
        (&json!(2), &json!(1)),
        "log 4 was not reached"
    );
    let basket = baskets(&yard)[0]["id"].clone();
    yard.act("basket_weigh", json!({"basket": basket, "grams": 400, "each": []}));
    assert_eq!(
        (grams(&yard, &logs[0]), grams(&yard, &logs[2])),
        (json!(300), json!(100)),
        "the discarded log keeps its share"
    );
}

/// The first picking begins the basket. Taken back after a second one, it once took the basket with it, and what lay in
/// it could never be weighed.
#[test]
fn taking_back_the_picking_that_began_a_basket_leaves_the_basket_to_the_others() {
    let (mut yard, logs, round) = yard();
    let first = text(&yard.call("pick_take", take(&round, &logs[0], 3))["act"]);
    yard.call("pick_take", take(&round, &logs[1], 2));
    yard.act("undo", json!({"act": first}));
    yard.restart();
    let open = baskets(&yard);
    assert_eq!(open.len(), 1, "{open:?}");
    let lies = open[0]["pickings"].as_array().unwrap();
    assert_eq!((lies.len(), &lies[0]["tag"]), (1, &json!("2")));
    yard.call("pick_take", take(&round, &logs[2], 2));
    assert_eq!(baskets(&yard).len(), 1, "the next picking goes into the same one");
    yard.act("basket_weigh", json!({"basket": open[0]["id"], "grams": 200, "each": []}));
    assert_eq!(
        (grams(&yard, &logs[1]), grams(&yard, &logs[2]), grams(&yard, &logs[0])),
        (json!(100), json!(100), json!(0))
    );
    assert_eq!(baskets(&yard), Vec::<Value>::new());
}

#[test]
fn a_weight_for_a_basket_in_which_no_log_lies_is_refused_and_what_was_picked_stays_unweighed() {
    let (yard, logs, round) = yard();
    let basket = text(&yard.call("pick_take", take(&round, &logs[0], 3))["said"]["basket"]);
    let each = json!({"basket": basket, "grams": null, "each": [{"entry": round, "grams": 100}]});
    assert_eq!(
        yard.refused("basket_weigh", asked(each))["field"],
        "grams",
        "log by log, but not the log that lies in it"
    );
    for bad in [0, -5, 2_000_000] {
        let refused =
            yard.refused("basket_weigh", asked(json!({"basket": basket, "grams": bad, "each": []})));
        assert_eq!(
            (&refused["field"], &refused["detail"]["why"]),
            (&json!("grams"), &json!("range")),
            "{bad}"
        );
    }
    yard.act("undo", json!({}));
    let empty = yard.refused("basket_weigh", asked(json!({"basket": basket, "grams": 300, "each": []})));
    assert_eq!(empty["code"], "missing", "the basket went with the only picking in it: {empty}");
    assert_eq!((grams(&yard, &logs[0]), baskets(&yard).len()), (json!(0), 0));
}

/// Two halves of an hour twice over: what is entered in it is neither doubled nor lost, and a fruiting's days go by the
/// instant, not by the clock on the wall.
#[test]
fn a_picking_round_over_the_hour_that_comes_twice_counts_each_log_once() {
    let yard = Yard::at("2026-10-24T20:00:00+02:00");
    let logs: Vec<String> = (1..=2).map(|n| yard.log(&n.to_string(), json!({}))).collect();
    for log in &logs {
        yard.act("look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": ""}));
    }
    yard.now("2026-10-25T02:40:00+02:00");
    let round = text(&yard.act("round_start", json!({"kind": "picking"}))["said"]["round"]);
    yard.call("pick_take", take(&round, &logs[0], 3));
    yard.now("2026-10-25T02:20:00+01:00");
    yard.call("pick_take", take(&round, &logs[1], 1));
    let view = yard.call("pick_round_show", json!({"round": round}));
    assert_eq!(
        (&view["round"]["day"], &view["round"]["done"], &view["baskets"][0]["pickings"][1]["tag"]),
        (&json!("2026-10-25"), &json!(2), &json!("2"))
    );
    assert_eq!(view["baskets"].as_array().unwrap().len(), 1);
}
