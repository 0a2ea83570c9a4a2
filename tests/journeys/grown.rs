//! Growth measured in photos tells the forecast: it moves the range, narrows it, and says so.
//! Never how a width is measured: the photos have that. The scenes are drawn, and no log of them is real.

use super::{Yard, text};
use serde_json::{Value, json};
use shadeyard_demo::{Cap, Scene};

/// A photo of the log's tag with a cap of this width beside it, kept, tied and measured.
fn measured(yard: &Yard, log: &str, width: f64, seed: u64) {
    let scene = Scene {
        size: [1600, 1200],
        off: [0.0, -0.15],
        tilt: [20.0, 70.0],
        cap: Some(Cap { at: [10.0, 50.0], width, proud: 0.0 }),
        seed,
        ..Scene::of(log)
    };
    let hash = text(&yard.keep_photo(scene.jpeg(90)).unwrap()["hash"]);
    yard.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
    let [a, b] = scene.cap_sides().unwrap();
    let measured = json!({"log": log, "hash": hash, "a": a, "b": b, "tap_px": 1.5, "proud_mm": 0});
    yard.act("cap_add", json!({"measured": measured, "cap": 1}));
}

fn days(forecast: &Value) -> [i64; 3] {
    let look: chrono::NaiveDate = "2026-10-03".parse().unwrap();
    ["from", "mid", "to"]
        .map(|k| (text(&forecast[k]).parse::<chrono::NaiveDate>().unwrap() - look).num_days())
}

/// Buttons on 3 October at 10:00, about 20 mm wide; two days later about 30 mm: 5 mm a day, 30 mm to go to the usual
/// 60 mm, so 6 days from 5 October 10:00, which is 7.9 from the look (counted from its noon). Common practice says 3. By
/// how sure each is (weights about 4.2 and 10) that makes about 6 days from the look, and a range of about 4 to 9 where it was 1 to 7.
#[test]
fn a_flush_measured_twice_moves_and_narrows_its_forecast() {
    let yard = Yard::at("2026-10-03T10:00:00+02:00");
    let log = yard.log("1", json!({}));
    measured(&yard, &log, 20.0, 3);
    yard.act("look_add", json!({"log": log, "seen": "button", "photos": [], "note": ""}));
    let round = text(&yard.act("round_start", json!({"kind": "picking"}))["said"]["round"]);
    let forecast = || yard.call("pick_round_show", json!({"round": round}))["stops"][0]["forecast"].clone();
    let before = forecast();
    // The look is the round's own yardstick: it was there before the round.
    assert_eq!(
        (days(&before), &before["grown_mm_a_day"]),
        ([1, 3, 7], &Value::Null),
        "one measure is no growth"
    );
    assert_eq!(before["from_what"]["mark"], "common");
    yard.now("2026-10-05T10:00:00+02:00");
    measured(&yard, &log, 30.0, 4);
    let after = forecast();
    let growth =
        yard.call("log_show", json!({"log": log}))["growth"]["tenths_a_day"].as_f64().unwrap() / 10.0;
    assert!((growth - 5.0).abs() < 0.5, "{growth}");
    assert_eq!(after["grown_mm_a_day"].as_f64(), Some(growth), "{after}");
    let ([low, mid, high], [was_low, _, was_high]) = (days(&after), days(&before));
    assert!((3..=5).contains(&low) && (5..=7).contains(&mid) && (8..=10).contains(&high), "{after}");
    assert!(high * was_low < was_high * low, "narrower: {after} {before}");
    let from = &after["from_what"];
    assert_eq!(from["mark"], "own");
    let inputs: Vec<String> = from["inputs"].as_array().unwrap().iter().map(|i| text(&i["name"])).collect();
    assert_eq!(inputs, ["stage", "growth_mm_a_day", "to_go_mm"]);
    // The yard's own cupped caps say how wide a cap is when it is to be picked: one of 24 mm beside the usual 60 mm, which
    // weighs as much as five, makes it 54.
    let to_go = |forecast: &Value| forecast["from_what"]["inputs"][2]["value"].as_f64().unwrap();
    assert!((to_go(&after) - 30.0).abs() < 1.0, "{after}");
    let other = yard.log("2", json!({}));
    measured(&yard, &other, 24.0, 5);
    yard.act("look_add", json!({"log": other, "seen": "cupped", "photos": [], "note": ""}));
    let of_one = yard.call("pick_round_show", json!({"round": round}))["stops"].clone();
    let of_one =
        of_one.as_array().unwrap().iter().find(|s| s["log"]["tag"] == "1").unwrap()["forecast"].clone();
    assert!((to_go(&of_one) - to_go(&after) + 6.0).abs() < 0.3, "{of_one} {after}");
    // Picked: what was measured is another flush's.
    yard.act(
        "picking_add",
        json!({"log": log, "day": null, "grams": 90, "caps": 3, "damaged_pct": null, "by": null, "note": ""}),
    );
    yard.act("look_add", json!({"log": log, "seen": "button", "photos": [], "note": ""}));
    yard.act("round_end", json!({"round": round}));
    yard.now("2026-10-06T10:00:00+02:00");
    let next = text(&yard.act("round_start", json!({"kind": "picking"}))["said"]["round"]);
    let stops = yard.call("pick_round_show", json!({"round": next}))["stops"].clone();
    let anew = stops.as_array().unwrap().iter().find(|s| s["log"]["tag"] == "1").unwrap()["forecast"].clone();
    assert!(anew["from"].is_string(), "{anew}");
    assert_eq!(anew["grown_mm_a_day"], Value::Null, "{anew}");
}
