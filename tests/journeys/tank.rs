//! The tank: loads in and out, what is asked first, when to lift, the rest that follows.
//! Never a figure without its source: `tests/outside` has those.
//! Invariant: a load is one act, and what is true can be written.

use super::{Yard, asked, text};
use serde_json::{Value, json};

const NOON: &str = "2026-06-01T12:00:00+02:00";

fn load(logs: &[&str], sure: bool) -> Value {
    json!({"logs": logs, "weights": [], "water_dc": 90, "ago_min": 0, "day": null, "note": "", "sure": sure, "draft": null})
}

fn out(logs: &[&str]) -> Value {
    json!({"logs": logs, "weights": [], "ago_min": 0, "day": null, "note": "", "sure": false, "draft": null})
}

fn due(yard: &Yard, what: &str) -> Option<Value> {
    let view = yard.call("chores_show", json!({}));
    view["due"].as_array().expect("a list").iter().find(|due| due["what"] == what).cloned()
}

fn tags(due: &Value) -> Vec<String> {
    due["logs"].as_array().expect("logs").iter().map(|log| text(&log["tag"])).collect()
}

#[test]
fn a_load_goes_in_is_lifted_and_rests() {
    let yard = Yard::at(NOON);
    let (a, b) = (yard.log("1", json!({"laid": "2024-04-01"})), yard.log("2", json!({"laid": "2024-04-01"})));
    let done = yard.act("soak_in", load(&[&a, &b], false));
    assert_eq!((done["asks"].as_array().map(Vec::len), &done["done"]["said"]["n"]), (Some(0), &json!(2)));
    assert_eq!(due(&yard, "lift"), None, "not yet eight hours");
    yard.now("2026-06-01T21:00:00+02:00");
    let lift = due(&yard, "lift").expect("nine hours");
    assert_eq!(
        (&lift["urgency"], &lift["why"]["hours"], tags(&lift)),
        (&json!("today"), &json!(9), vec!["1".into(), "2".into()])
    );
    yard.now("2026-06-02T13:00:00+02:00");
    let lift = due(&yard, "lift").expect("25 hours");
    assert_eq!((&lift["urgency"], &lift["why"]["stage"]), (&json!("now"), &json!("lift_now")));
    let mut tap = lift["tap"]["request"].clone();
    tap["request"] = asked(json!({}))["request"].clone();
    assert_eq!(yard.call(&text(&lift["tap"]["command"]), tap)["done"]["said"]["n"], 2, "the one tap does it");
    let tank = yard.call("tank_show", json!({}));
    assert_eq!(tank["tank"], json!([]));
    assert_eq!(tank["logs"][0]["asks"], json!(["still_resting"]));
    assert_eq!(tank["logs"][0]["rest_until"], "2026-07-21", "49 days: the shorter end of 7–10 weeks");
    yard.now("2026-06-05T12:00:00+02:00");
    assert_eq!(tags(&due(&yard, "look_pins").expect("three days after")), ["1", "2"]);
    yard.now("2026-07-21T12:00:00+02:00");
    assert_eq!(tags(&due(&yard, "rest_over").expect("rested")), ["1", "2"]);
}

#[test]
fn what_is_unusual_is_asked_once_for_the_whole_load_and_never_refused() {
    let yard = Yard::at(NOON);
    let young = yard.log("young", json!({"laid": "2025-12-01"}));
    let cold = yard.log("cold", json!({"laid": "2023-04-01", "strain": "Grey Door", "strain_class": "cold"}));
    let totem = yard.log("totem", json!({"laid": "2023-04-01", "mushroom": "erinaceus", "method": "totem"}));
    let drilled =
        yard.log("mane", json!({"laid": "2023-04-01", "mushroom": "erinaceus", "method": "drilled"}));
    let tired = yard.log("tired", json!({"laid": "2023-04-01"}));
    yard.act(
        "picking_add",
        json!({"log": tired, "day": "2026-05-20", "grams": 300, "caps": null, "damaged_pct": null, "by": null,
        "note": "", "draft": null}),
    );
    let fit = yard.log("fit", json!({"laid": "2023-04-01"}));
    let all = [young.as_str(), &cold, &totem, &drilled, &tired, &fit];
    let mut request = asked(load(&all, false));
    let reply = yard.call("soak_in", request.clone());
    let asks: Vec<(String, String)> =
        reply["asks"].as_array().expect("asks").iter().map(|a| (text(&a["tag"]), text(&a["why"]))).collect();
    let wanted = [
        ("young", "too_young"),
        ("cold", "cold_strain"),
        ("totem", "totem"),
        ("mane", "hericium"),
        ("tired", "still_resting"),
    ];
    assert_eq!(asks, wanted.map(|(tag, why)| (tag.to_owned(), why.to_owned())));
    assert_eq!(reply["done"], Value::Null);
    assert_eq!(yard.call("tank_show", json!({}))["tank"], json!([]), "nothing is written before the answer");
    request["sure"] = json!(true);
    let reply = yard.call("soak_in", request.clone());
    assert_eq!(reply["done"]["said"]["n"], 6);
    assert_eq!(yard.call("soak_in", request)["done"]["again"], true, "a double tap is one load");
    assert_eq!(yard.call("tank_show", json!({}))["tank"].as_array().map(Vec::len), Some(6));
}

#[test]
fn the_quick_way_asks_later_for_wide_range_only() {
    let yard = Yard::at(NOON);
    let wide =
        yard.log("wide", json!({"laid": "2025-09-01", "strain": "Plain Bread", "strain_class": "wide"}));
    let warm = yard.log("warm", json!({"laid": "2025-09-01", "strain": "Hay Week", "strain_class": "warm"}));
    let why = |log: &str| yard.call("soak_in", asked(load(&[log], false)))["asks"].clone();
    assert_eq!(why(&wide)[0]["why"], "too_young", "careful: a full year");
    yard.act("ways_set", json!({"units": "metric", "forcing": "quick", "season_first": null}));
    assert_eq!(why(&warm)[0]["why"], "too_young");
    assert_eq!(why(&wide), json!([]), "nine months are enough");
}

#[test]
fn a_load_can_be_typed_late_and_taken_back() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2024-04-01"}));
    let mut late = load(&[&log], false);
    late["day"] = json!("2026-05-31");
    late["ago_min"] = Value::Null;
    let done = yard.act("soak_in", late);
    let tank = yard.call("tank_show", json!({}));
    assert_eq!(
        (&tank["tank"][0]["day"], &tank["tank"][0]["at"], &tank["tank"][0]["hours"]),
        (&json!("2026-05-31"), &Value::Null, &json!(24))
    );
    yard.act("undo", json!({"act": done["done"]["act"]}));
    assert_eq!(yard.call("tank_show", json!({}))["tank"], json!([]));
    let mut hours = load(&[&log], false);
    hours["ago_min"] = json!(150);
    yard.act("soak_in", hours);
    assert_eq!(yard.call("tank_show", json!({}))["tank"][0]["at"], "2026-06-01T09:30:00+02:00");
    let twice = yard.refused("soak_in", asked(load(&[&log], true)));
    assert_eq!((&twice["code"], &twice["detail"]["why"]), (&json!("conflict"), &json!("in_tank")));
    yard.act("soak_out", out(&[&log]));
    assert_eq!(yard.refused("soak_out", asked(out(&[&log])))["detail"]["why"], "not_in_tank");
    let page = yard.call("log_show", json!({"log": log}));
    let kinds: Vec<&Value> =
        page["entries"].as_array().expect("entries").iter().map(|e| &e["what"]["part"]).collect();
    assert_eq!(kinds, [&json!("out"), &json!("in")]);
}

#[test]
fn nonsense_is_refused_at_its_field() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2024-04-01"}));
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut request = asked(load(&[&log], true));
        change(&mut request);
        let reply = yard.refused("soak_in", request);
        (text(&reply["field"]), text(&reply["detail"]["why"]))
    };
    assert_eq!(refused(&|r| r["logs"] = json!([])), ("logs".into(), "empty".into()));
    assert_eq!(refused(&|r| r["logs"] = json!([log, log])), ("logs".into(), "twice".into()));
    assert_eq!(refused(&|r| r["water_dc"] = json!(900)), ("water_dc".into(), "range".into()));
    assert_eq!(refused(&|r| r["day"] = json!("2026-06-02")), ("day".into(), "future".into()));
    assert_eq!(
        refused(&|r| r["weights"] = json!([{"log": log, "grams": 0}])),
        ("weights".into(), "range".into())
    );
}

#[test]
fn warm_water_is_minded_when_the_air_is_known() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2024-04-01"}));
    yard.act("weather_set", json!({"day": "2026-06-01", "min_dc": 80, "max_dc": 140, "rain_tenths": null, "wind_tenths": null, "draft": null}));
    let said = yard.act("soak_in", load(&[&log], false))["done"]["said"].clone();
    assert_eq!(
        (&said["air_dc"], &said["cooler"]),
        (&json!(140), &json!(false)),
        "9 °C under 14 °C is 5 cooler"
    );
}
