//! The night round: started, put down, taken up, ended; and its time from the sun.

use super::{Yard, asked, text};
use serde_json::{Value, json};

fn yard() -> (Yard, Vec<String>) {
    let yard = Yard::new();
    let spots = ["Hedge", "Hedge", "Well", "Well", "Well"];
    let logs =
        spots.iter().enumerate().map(|(n, spot)| yard.log(&(n + 1).to_string(), json!({"spot": spot})));
    let logs = logs.collect();
    (yard, logs)
}

fn tags(view: &Value) -> Vec<String> {
    view["stops"].as_array().unwrap().iter().map(|s| text(&s["log"]["tag"])).collect()
}

#[test]
fn a_round_is_walked_put_down_taken_up_and_summed_up() {
    let (mut yard, logs) = yard();
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let check = |yard: &Yard, log: &str, how: &str, slugs: i64, damage: &str| {
        yard.act(
            "round_check",
            json!({"round": round, "log": log, "how": how, "slugs": slugs, "damage": damage}),
        )
    };
    check(&yard, &logs[0], "seen", 3, "some");
    check(&yard, &logs[1], "skipped", 0, "none");
    yard.restart();
    let view = yard.call("round_show", json!({"round": round}));
    assert_eq!(view["next"], 2, "it is taken up at the first log without a check");
    assert_eq!(yard.call("chores_show", json!({}))["round"]["left"], 3);
    check(&yard, &logs[3], "seen", 2, "much");
    let well = view["stops"][2]["log"]["spot_id"].clone();
    let done = yard.act("round_spot_clean", json!({"round": round, "spot_id": well}));
    assert_eq!(done["said"]["n"], 2);
    assert_eq!(done["said"]["spot"], "Well");
    let done = yard.act("round_end", json!({"round": round}));
    assert_eq!(done["said"]["slugs"], 5);
    let view = yard.call("round_show", json!({"round": round}));
    let sums = &view["round"];
    let found = ["logs", "done", "skipped", "left", "slugs", "damaged"].map(|k| sums[k].as_i64().unwrap());
    assert_eq!(found, [5, 4, 1, 0, 5, 2]);
    assert_eq!(
        view["spots"][1],
        json!({"spot": "Well", "spot_id": well, "logs": 3, "left": 0, "slugs": 2, "damaged": 1})
    );
    assert!(yard.call("chores_show", json!({}))["round"].is_null());
}

#[test]
fn the_round_starts_where_the_walk_starts_and_goes_to_logs_at_risk_first() {
    let (yard, logs) = yard();
    yard.act("look_add", json!({"log": logs[4], "seen": "cupped", "photos": [], "note": ""}));
    let first = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let view = yard.call("round_show", json!({"round": first}));
    assert_eq!(tags(&view), ["1", "2", "5", "3", "4"]);
    assert_eq!(view["stops"][2]["risk"], "caps");
    yard.act(
        "round_check",
        json!({"round": first, "log": logs[3], "how": "seen", "slugs": 0, "damage": "much"}),
    );
    let view = yard.call("round_show", json!({"round": first}));
    assert_eq!(tags(&view), ["1", "2", "5", "3", "4"], "tonight's finds do not move the stops");
    yard.act("round_end", json!({"round": first}));
    yard.now("2026-10-04T21:00:00+02:00");
    let second = text(&yard.act("round_start", json!({}))["said"]["round"]);
    assert_eq!(tags(&yard.call("round_show", json!({"round": second}))), ["1", "2", "5", "4", "3"]);
    let spots: Vec<Value> = yard.call("spot_list", json!({}))["spots"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["id"].clone())
        .collect();
    yard.act("spot_order", json!({"spots": [spots[1], spots[0]]}));
    assert_eq!(tags(&yard.call("round_show", json!({"round": second}))), ["5", "4", "3", "1", "2"]);
}

#[test]
fn past_midnight_it_is_still_the_evenings_round() {
    let (yard, logs) = yard();
    yard.now("2026-10-04T00:40:00+02:00");
    let done = yard.act("round_start", json!({}));
    assert_eq!(done["said"]["day"], "2026-10-03");
    let round = text(&done["said"]["round"]);
    yard.act(
        "round_check",
        json!({"round": round, "log": logs[0], "how": "seen", "slugs": 1, "damage": "none"}),
    );
    let entry = &yard.call("log_show", json!({"log": logs[0]}))["entries"][0];
    assert_eq!(entry["day"], "2026-10-03");
    assert_eq!(entry["at"], "2026-10-04T00:40:00+02:00");
}

#[test]
fn a_second_check_of_a_log_replaces_the_first() {
    let (yard, logs) = yard();
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let ask =
        |slugs| json!({"round": round, "log": logs[0], "how": "seen", "slugs": slugs, "damage": "none"});
    yard.act("round_check", ask(4));
    yard.act("round_check", ask(1));
    let view = yard.call("round_show", json!({"round": round}));
    assert_eq!(view["round"]["slugs"], 1);
    assert_eq!(view["round"]["done"], 1);
    assert_eq!(yard.call("log_show", json!({"log": logs[0]}))["entries"].as_array().unwrap().len(), 1);
    yard.act("undo", json!({}));
    assert_eq!(
        yard.call("round_show", json!({"round": round}))["round"]["slugs"],
        4,
        "undo brings the first back"
    );
}

#[test]
fn one_round_an_evening_and_yesterdays_is_ended_by_tonights() {
    let (yard, _) = yard();
    let first = text(&yard.act("round_start", json!({}))["said"]["round"]);
    let twice = yard.refused("round_start", asked(json!({})));
    assert_eq!(twice["detail"], json!({"why": "round_open", "round": first}));
    yard.now("2026-10-04T21:00:00+02:00");
    let second = text(&yard.act("round_start", json!({}))["said"]["round"]);
    assert!(!yard.call("round_show", json!({"round": first}))["round"]["ended"].is_null());
    assert_eq!(yard.call("round_show", json!({"round": first}))["round"]["left"], 5);
    let late =
        json!({"round": first, "log": yard.log("9", json!({})), "how": "seen", "slugs": 0, "damage": "none"});
    assert_eq!(yard.refused("round_check", asked(late))["detail"]["why"], "round_ended");
    assert_eq!(yard.call("chores_show", json!({}))["round"]["id"], json!(second));
}

#[test]
fn a_log_spent_in_mid_round_is_passed_over() {
    let (yard, logs) = yard();
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    yard.act("log_end", json!({"log": logs[1], "why": "lost", "note": ""}));
    assert_eq!(tags(&yard.call("round_show", json!({"round": round}))), ["1", "3", "4", "5"]);
}

#[test]
fn a_round_without_logs_is_refused() {
    let yard = Yard::new();
    assert_eq!(yard.refused("round_start", asked(json!({})))["field"], "round");
    yard.log("1", json!({"laid": null}));
    assert_eq!(yard.refused("round_start", asked(json!({})))["field"], "round", "waiting wood has no caps");
}

#[test]
fn tonights_time_comes_from_the_sun_at_the_yards_place() {
    let (yard, _) = yard();
    assert_eq!(yard.call("chores_show", json!({}))["tonight"]["why"], "no_place");
    yard.act("settings_set", json!({"place": "the yard", "lat": 46.0, "lon": 10.0, "night_after_min": 90}));
    let view = yard.call("chores_show", json!({}));
    let tonight = &view["tonight"];
    let at = |k: &str| chrono::DateTime::parse_from_rfc3339(tonight[k].as_str().unwrap()).unwrap();
    assert!(at("sunset") < at("dark"));
    assert_eq!((at("go") - at("dark")).num_minutes(), 90);
    assert_eq!(at("sunset").format("%Y-%m-%d %H").to_string(), "2026-10-03 18");
    yard.now("2026-10-04T01:00:00+02:00");
    assert_eq!(
        yard.call("chores_show", json!({}))["tonight"],
        *tonight,
        "after midnight it is still that evening"
    );
}
