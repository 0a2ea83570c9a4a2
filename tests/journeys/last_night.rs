//! "Now" or "last night": a look, a picking and a check that are typed in on the morning after.
//! Never a round as a whole: starting one of last night is with the rounds.

use super::{Yard, asked, text};
use serde_json::{Value, json};

fn newest(yard: &Yard, log: &str) -> Value {
    yard.call("log_show", json!({"log": log}))["entries"][0].clone()
}

#[test]
fn a_look_of_last_night_belongs_to_the_evening_and_forecasts_nothing() {
    let yard = Yard::at("2026-10-04T08:00:00+02:00");
    let log = yard.log("1", json!({}));
    let look = |when: Value| json!({"log": log, "seen": "pin", "photos": [], "note": "", "when": when});
    let done = yard.act("look_add", look(json!("last_night")));
    assert_eq!(done["said"]["when"], "last_night");
    let entry = newest(&yard, &log);
    assert_eq!((&entry["day"], &entry["at"]), (&json!("2026-10-03"), &json!("2026-10-04T08:00:00+02:00")));
    let open = || yard.call("costs_show", json!({}))["forecasts"]["open"].clone();
    assert_eq!(open(), 0, "it would forecast the past");
    yard.act("look_add", look(json!("now")));
    assert_eq!((&newest(&yard, &log)["day"], open()), (&json!("2026-10-04"), json!(1)));
    yard.act("look_add", look(Value::Null));
    assert_eq!(newest(&yard, &log)["day"], "2026-10-04", "nothing said is now");
    yard.now("2026-10-05T00:30:00+02:00");
    yard.act("look_add", look(json!("last_night")));
    assert_eq!(
        newest(&yard, &log)["day"],
        "2026-10-04",
        "past midnight, last night is the evening that has passed"
    );
    let unknown = yard.attempt("look_add", asked(look(json!("yesterday"))));
    assert!(unknown.is_err(), "no other word is known");
}

#[test]
fn a_picking_of_last_night_belongs_to_the_evening_unless_a_day_is_said() {
    let yard = Yard::at("2026-10-04T08:00:00+02:00");
    let log = yard.log("1", json!({}));
    let picking = |day: Value, when: &str| {
        let ask = json!({"log": log, "day": day, "when": when, "grams": 100, "caps": null, "damaged_pct": null, "by": null, "note": ""});
        text(&yard.act("picking_add", ask)["said"]["day"])
    };
    assert_eq!(picking(Value::Null, "last_night"), "2026-10-03");
    assert_eq!(newest(&yard, &log)["day"], "2026-10-03");
    assert_eq!(picking(Value::Null, "now"), "2026-10-04");
    assert_eq!(picking(json!("2026-09-30"), "last_night"), "2026-09-30");
}

/// A round put down in the night and ended over breakfast once said that its last slugs came thirteen hours after dark.
#[test]
fn a_check_typed_in_over_breakfast_has_no_hour() {
    let yard = Yard::at("2026-10-03T21:30:00+02:00");
    yard.act("settings_set", json!({"place": "the yard", "lat": 46.0, "lon": 10.0, "night_after_min": 120}));
    let logs: Vec<String> = ["1", "2", "3", "4"].map(|tag| yard.log(tag, json!({"spot": "Well"}))).to_vec();
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let check = |log: &str, when: Value| json!({"round": round, "log": log, "how": "seen", "slugs": 2, "damage": "some", "when": when});
    yard.act("round_check", check(&logs[0], Value::Null));
    let shown = || yard.call("round_show", json!({"round": round}));
    assert_eq!(shown()["afterwards"], false, "the night still runs");
    yard.now("2026-10-04T08:00:00+02:00");
    assert_eq!(shown()["afterwards"], true);
    yard.act("round_check", check(&logs[1], json!("last_night")));
    let spot = shown()["spots"][0]["spot_id"].clone();
    yard.act("round_spot_clean", json!({"round": round, "spot_id": spot, "when": "last_night"}));
    assert_eq!(newest(&yard, &logs[1])["day"], "2026-10-03");
    assert_eq!(shown()["round"]["slugs"], 4);
    let costs = yard.call("costs_show", json!({}));
    let hours: Vec<(String, i64)> = costs["by_hours"]
        .as_array()
        .unwrap()
        .iter()
        .map(|g| (text(&g["key"]), g["stops"].as_i64().unwrap()))
        .collect();
    assert_eq!(
        hours.iter().map(|(_, n)| n).sum::<i64>(),
        1,
        "only the check of the night has an hour: {hours:?}"
    );
    assert_eq!(costs["by_spot"][0]["stops"], 4, "damage counts all the same");
}

#[test]
fn last_night_is_refused_on_the_round_of_another_evening() {
    let yard = Yard::at("2026-10-03T21:30:00+02:00");
    let log = yard.log("1", json!({}));
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let check = json!({"round": round, "log": log, "how": "seen", "slugs": 2, "damage": "none", "when": "last_night"});
    let refused = yard.refused("round_check", asked(check.clone()));
    assert_eq!(
        (&refused["field"], &refused["detail"]["why"]),
        (&json!("when"), &json!("other_evening")),
        "it is tonight's"
    );
    yard.now("2026-10-05T08:00:00+02:00");
    assert_eq!(yard.refused("round_check", asked(check))["field"], "when", "two nights ago");
}
