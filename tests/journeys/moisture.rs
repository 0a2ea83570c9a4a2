//! Weighing, watering and weather, and what they make due.
//! Never a published figure by itself: `tests/outside` has those.
//! Invariant: nothing is said to be dry that nobody measured.

use super::{Yard, asked, text};
use chrono::{Days, NaiveDate};
use serde_json::{Value, json};

const NOON: &str = "2026-07-20T12:00:00+02:00";

fn weigh(yard: &Yard, log: &str, grams: i64, day: &str) -> Value {
    yard.act("weigh_add", json!({"weights": [{"log": log, "grams": grams}], "day": day, "note": "", "sure": false, "draft": null}))
}

/// Dry days up to today with this warmest hour, tenths of °C.
fn dry_days(yard: &Yard, days: u64, max_dc: i64) {
    let today: NaiveDate = "2026-07-20".parse().expect("a day");
    for n in 0..days {
        let day = today - Days::new(n);
        yard.act("weather_set", json!({"day": day, "min_dc": 120, "max_dc": max_dc, "rain_tenths": 0, "wind_tenths": null, "draft": null}));
    }
}

fn dues(yard: &Yard) -> Vec<Value> {
    yard.call("chores_show", json!({}))["due"].as_array().expect("a list").clone()
}

fn one(yard: &Yard, what: &str) -> Option<Value> {
    dues(yard).into_iter().find(|due| due["what"] == what)
}

#[test]
fn a_log_ten_per_cent_lighter_wants_water_until_it_is_watered() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2026-04-01", "wood": "white-oak"}));
    weigh(&yard, &log, 15_876, "2026-04-02");
    weigh(&yard, &log, 14_300, "2026-07-19");
    let view = yard.call("moisture_show", json!({"log": log}));
    assert_eq!(
        (&view["moisture"]["line_g"], &view["moisture"]["water"]),
        (&json!(14_288), &json!(false)),
        "31.5 lb of 35 lb"
    );
    // An older weighing typed later changes nothing about today.
    weigh(&yard, &log, 15_000, "2026-05-01");
    assert_eq!(
        yard.call("moisture_show", json!({"log": log}))["weighings"].as_array().map(Vec::len),
        Some(3)
    );
    weigh(&yard, &log, 14_200, "2026-07-20");
    let due = one(&yard, "water").expect("lighter than the line");
    assert_eq!((&due["why"]["weighed"], &due["urgency"]), (&json!(true), &json!("today")));
    let mut tap = due["tap"]["request"].clone();
    tap["request"] = asked(json!({}))["request"].clone();
    yard.call(&text(&due["tap"]["command"]), tap);
    assert_eq!(one(&yard, "water"), None);
}

#[test]
fn a_sample_disc_makes_the_figure_firm_and_cannot_be_heavier_dry() {
    let yard = Yard::at(NOON);
    let batch = json!({"name": "By the gate", "wood": "white-oak", "felled": "2026-03", "source": "", "disc_wet_g": null,
        "disc_dry_g": null, "doubtful": false, "note": ""});
    let batch =
        text(&yard.act("batch_set", json!({"batch": null, "fields": batch, "draft": null}))["said"]["batch"]);
    let refused = yard.refused("disc_set", asked(json!({"batch": batch, "wet_g": 268, "dry_g": 480})));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("dry_g"), &json!("dry_heavier")));
    yard.act("disc_set", json!({"batch": batch, "wet_g": 480, "dry_g": 269}));
    let log = yard.log("1", json!({"laid": "2026-04-01", "wood": "white-oak", "batch": batch}));
    weigh(&yard, &log, 20_000, "2026-04-01");
    weigh(&yard, &log, 14_500, "2026-07-20");
    let wet = yard.call("moisture_show", json!({"log": log}))["moisture"].clone();
    assert_eq!((&wet["basis"], &wet["band"], &wet["water"]), (&json!("disc"), &json!("dies"), &json!(true)));
    assert_eq!(wet["dies_g"], 14_556, "20 kg of which 269/480 are dry, over 0.77");
    assert_eq!(one(&yard, "water").expect("spawn dies")["urgency"], "now");
    let said = yard.act("undo", json!({"act": null}));
    assert_eq!(said["said"]["undone"]["name"], "weigh_add");
}

#[test]
fn wood_felled_dry_raises_no_alarm_by_itself() {
    let yard = Yard::at(NOON);
    let oak = yard.log("oak", json!({"laid": "2026-04-01", "wood": "white-oak"}));
    let cherry = yard.log("cherry", json!({"laid": "2026-04-01", "wood": "black-cherry"}));
    for log in [&oak, &cherry] {
        weigh(&yard, log, 10_000, "2026-07-18");
    }
    let show = |log: &str| yard.call("moisture_show", json!({"log": log}))["moisture"].clone();
    assert_eq!((&show(&oak)["felled_dry"], &show(&oak)["basis"]), (&json!(false), &json!("published")));
    let cherry = show(&cherry);
    assert!(cherry["pct"].as_f64().expect("known") < 40.0, "{cherry}");
    assert_eq!(cherry["water"], false);
    assert_eq!(one(&yard, "water"), None);
}

#[test]
fn a_weight_that_its_wood_cannot_have_is_asked_about() {
    let yard = Yard::at(NOON);
    let log =
        yard.log("1", json!({"laid": "2026-04-01", "wood": "white-oak", "d_mm": [100], "length_mm": 1000}));
    let request = |grams: i64, sure: bool| json!({"weights": [{"log": log, "grams": grams}], "day": null, "note": "", "sure": sure, "draft": null});
    let ask = |grams| yard.act("weigh_add", request(grams, false))["asks"][0]["why"].clone();
    assert_eq!(ask(80_000), "too_heavy", "7.85 l of oak");
    assert_eq!(ask(800), "too_light", "a comma in the wrong place");
    assert_eq!(ask(8_000), Value::Null);
    assert_eq!(yard.act("weigh_add", request(80_000, true))["done"]["said"]["grams"], 80_000);
    let later = yard.refused(
        "weigh_add",
        asked(json!({"weights": [{"log": log, "grams": 8000}], "day": "2026-07-21", "note": "",
        "sure": false, "draft": null})),
    );
    assert_eq!(later["detail"]["why"], "future");
}

#[test]
fn after_the_spawn_run_a_log_is_held_against_its_last_soak() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2024-04-01", "wood": "white-oak"}));
    weigh(&yard, &log, 12_000, "2024-04-02");
    let soak = |part: &str, day: &str, grams: Option<i64>| {
        let weights: Vec<Value> = grams.map(|g| json!({"log": log, "grams": g})).into_iter().collect();
        let mut request = json!({"logs": [log], "weights": weights, "ago_min": null, "day": day, "note": "", "sure": true, "draft": null});
        if part == "soak_in" {
            request["water_dc"] = Value::Null;
        }
        yard.act(part, request);
    };
    soak("soak_in", "2026-05-01", None);
    soak("soak_out", "2026-05-02", Some(10_000));
    weigh(&yard, &log, 8_500, "2026-07-20");
    let view = yard.call("moisture_show", json!({"log": log}));
    assert_eq!((&view["moisture"], &view["below_soaked_pct"]), (&Value::Null, &json!(15.0)));
    assert_eq!(one(&yard, "water"), None, "no alarm from a dry mass that is no longer there");
}

#[test]
fn eight_dry_days_ask_for_water_by_spot_and_the_spawn_run_gets_it_first() {
    let yard = Yard::at(NOON);
    let old = yard.log("1", json!({"laid": "2023-04-01", "spot": "Gate"}));
    yard.log("2", json!({"laid": "2026-04-01", "spot": "Gate"}));
    yard.log("3", json!({"laid": "2026-04-01", "spot": "Gate"}));
    yard.act("look_add", json!({"log": old, "seen": "pin", "photos": [], "note": "", "draft": null}));
    assert_eq!(one(&yard, "water"), None, "without weather nothing is said to be dry");
    dry_days(&yard, 7, 220);
    assert_eq!(one(&yard, "water"), None, "seven days are not more than seven");
    dry_days(&yard, 9, 250);
    let due = one(&yard, "water").expect("nine dry days");
    let tags: Vec<&Value> = due["logs"].as_array().expect("logs").iter().map(|l| &l["tag"]).collect();
    assert_eq!(tags, [&json!("2"), &json!("3"), &json!("1")], "spawn run, then pins");
    assert_eq!(
        (&due["spot"], &due["urgency"], &due["why"]["hot"]),
        (&json!("Gate"), &json!("today"), &json!(true))
    );
    let list = yard.call("moisture_list", json!({}));
    assert_eq!(list["logs"][0]["tag"], "2");
    let spot = yard.call("spot_list", json!({}))["spots"][0]["id"].clone();
    let done = yard.act(
        "water_add",
        json!({"logs": [], "spot": spot, "litres_tenths": 20, "day": null, "note": "", "draft": null}),
    );
    assert_eq!((&done["said"]["n"], &done["said"]["spot"]), (&json!(3), &json!("Gate")));
    assert_eq!(one(&yard, "water"), None);
}

#[test]
fn rain_enough_for_a_week_ends_the_drought() {
    let yard = Yard::at(NOON);
    yard.log("1", json!({"laid": "2026-04-01", "spot": "Gate"}));
    dry_days(&yard, 12, 250);
    assert!(one(&yard, "water").is_some());
    yard.act("weather_set", json!({"day": "2026-07-18", "min_dc": 120, "max_dc": 200, "rain_tenths": 510, "wind_tenths": null, "draft": null}));
    assert_eq!(one(&yard, "water"), None, "51 mm, half of it through the leaves");
}

#[test]
fn a_stations_file_is_tried_and_then_taken_in_one_act() {
    let yard = Yard::at("2026-03-01T12:00:00+01:00");
    yard.act("weather_set", json!({"day": "2026-02-03", "min_dc": -10, "max_dc": 50, "rain_tenths": 100, "wind_tenths": null, "draft": null}));
    let text = include_str!("../outside/reference/invented.dly");
    let tried = yard.call("weather_try", json!({"text": text, "units": null, "from": null}));
    let counts: Vec<&Value> =
        ["take", "typed", "same", "flagged", "left_out"].iter().map(|name| &tried[*name]).collect();
    assert_eq!(counts, [&json!(28), &json!(1), &json!(0), &json!(1), &json!(0)]);
    assert_eq!(tried["ask_units"], false);
    let take = json!({"text": text, "units": "tenths", "from": null, "over_typed": false});
    assert_eq!(yard.act("weather_take", take.clone())["said"]["n"], 27, "what was typed stays");
    let show = yard.call("weather_show", json!({}));
    assert_eq!(show["total"], 28);
    let typed = show["days"]
        .as_array()
        .expect("days")
        .iter()
        .find(|d| d["day"] == "2026-02-03")
        .expect("the typed day")
        .clone();
    assert_eq!((&typed["rain_tenths"], &typed["source"]), (&json!(100), &json!("typed")));
    assert_eq!(yard.refused("weather_take", asked(take))["detail"]["why"], "nothing_new");
    let hot = "XX000INVENT,20260228,TMAX,310,,,Z,\nXX000INVENT,20260228,TMIN,190,,,Z,\n";
    let tried = yard.call("weather_try", json!({"text": hot, "units": "metric", "from": null}));
    assert_eq!((&tried["ask_units"], &tried["impossible"]), (&json!(true), &json!(["2026-02-28"])), "310 °C");
    let refused = yard.refused(
        "weather_take",
        asked(json!({"text": hot, "units": "metric", "from": null, "over_typed": false})),
    );
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("units"), &json!("impossible")));
    assert_eq!(
        yard.refused("weather_try", json!({"text": "a letter", "units": null, "from": null}))["detail"]["why"],
        "no_weather"
    );
}

#[test]
fn weather_that_cannot_be_is_refused() {
    let yard = Yard::at(NOON);
    let refused = |day: &str, min: Value, max: Value, rain: Value| {
        let request = asked(
            json!({"day": day, "min_dc": min, "max_dc": max, "rain_tenths": rain, "wind_tenths": null, "draft": null}),
        );
        let reply = yard.refused("weather_set", request);
        (text(&reply["field"]), text(&reply["detail"]["why"]))
    };
    let none = Value::Null;
    assert_eq!(
        refused("2026-07-20", json!(300), json!(100), none.clone()),
        ("max_dc".into(), "order".into())
    );
    assert_eq!(
        refused("2026-07-20", json!(700), none.clone(), none.clone()),
        ("min_dc".into(), "range".into())
    );
    assert_eq!(
        refused("2026-07-20", none.clone(), none.clone(), json!(-1)),
        ("rain_tenths".into(), "range".into())
    );
    assert_eq!(refused("2026-07-28", none.clone(), none.clone(), json!(0)), ("day".into(), "too_far".into()));
    assert_eq!(refused("2026-07-20", none.clone(), none.clone(), none), ("weather".into(), "empty".into()));
    assert_eq!(
        yard.refused("weather_set", asked(json!({"day": "2026-02-30", "request": ""})))["field"],
        "request"
    );
}

#[test]
fn sample_logs_are_weighed_weekly_in_dry_weather() {
    let yard = Yard::at(NOON);
    let log = yard.log("1", json!({"laid": "2026-04-01", "wood": "white-oak"}));
    yard.log("never weighed", json!({"laid": "2026-04-01"}));
    weigh(&yard, &log, 10_000, "2026-07-13");
    assert_eq!(one(&yard, "weigh"), None, "nobody knows whether it is dry");
    dry_days(&yard, 6, 220);
    let due = one(&yard, "weigh").expect("a week, and dry");
    assert_eq!(due["logs"].as_array().map(Vec::len), Some(1));
    weigh(&yard, &log, 9_900, "2026-07-20");
    assert_eq!(one(&yard, "weigh"), None);
}
