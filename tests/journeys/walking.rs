//! The walking order of a night round: what a slug night makes of it, and that it stands still under the thumb.
//! Never the weather's own rule.

use super::{Yard, text};
use serde_json::{Value, json};

/// Five logs at one spot, on the evening after a round that found slugs on 4 and damage on 5.
fn yard() -> (Yard, Vec<String>) {
    let yard = Yard::at("2026-10-02T21:00:00+02:00");
    let logs: Vec<String> = (1..=5).map(|n| yard.log(&n.to_string(), json!({"spot": "Well"}))).collect();
    let round = start(&yard);
    check(&yard, &round, &logs[3], 3, "none");
    check(&yard, &round, &logs[4], 0, "some");
    yard.act("round_end", json!({"round": round}));
    yard.now("2026-10-03T17:00:00+02:00");
    yard.act("water_add", json!({"logs": [logs[2]], "spot": null, "litres_tenths": null, "day": null, "note": "", "draft": null}));
    yard.now("2026-10-03T21:00:00+02:00");
    (yard, logs)
}

fn start(yard: &Yard) -> String {
    text(&yard.act("round_start", json!({}))["said"]["round"])
}

fn check(yard: &Yard, round: &str, log: &str, slugs: i64, damage: &str) {
    yard.act(
        "round_check",
        json!({"round": round, "log": log, "how": "seen", "slugs": slugs, "damage": damage}),
    );
}

fn weather(yard: &Yard, day: &str, min_dc: i64, rain_tenths: i64) {
    let day = json!({"day": day, "min_dc": min_dc, "max_dc": min_dc + 60, "rain_tenths": rain_tenths, "wind_tenths": 20, "draft": null});
    yard.act("weather_set", day);
}

/// Tags in walking order, each with why it comes where it does.
fn order(view: &Value) -> Vec<(String, Option<String>)> {
    let stops = view["stops"].as_array().unwrap();
    stops.iter().map(|s| (text(&s["log"]["tag"]), s["risk"].as_str().map(str::to_owned))).collect()
}

fn lines(wanted: &[(&str, Option<&str>)]) -> Vec<(String, Option<String>)> {
    wanted.iter().map(|(tag, risk)| ((*tag).to_owned(), risk.map(str::to_owned))).collect()
}

#[test]
fn a_slug_night_sends_the_walker_to_slimed_and_wet_logs_first_and_says_so() {
    let (yard, logs) = yard();
    yard.act("look_add", json!({"log": logs[1], "seen": "button", "photos": [], "note": ""}));
    weather(&yard, "2026-10-03", 90, 80);
    let round = start(&yard);
    let found = order(&yard.call("round_show", json!({"round": round})));
    let wanted =
        [("2", Some("caps")), ("5", Some("damage")), ("4", Some("slugs")), ("3", Some("wet")), ("1", None)];
    assert_eq!(found, lines(&wanted));
    let sheet = yard.call("sheet_show", json!({}));
    assert_eq!(
        order(&sheet).iter().map(|(tag, _)| tag.as_str()).collect::<Vec<_>>(),
        ["2", "5", "4", "3", "1"],
        "so does the paper"
    );
}

#[test]
fn a_quiet_night_and_one_without_weather_go_by_caps_and_damage_alone() {
    let plain = lines(&[("5", Some("damage")), ("1", None), ("2", None), ("3", None), ("4", None)]);
    for frost in [false, true] {
        let (yard, _) = yard();
        if frost {
            weather(&yard, "2026-10-03", -20, 80);
        }
        let round = start(&yard);
        assert_eq!(order(&yard.call("round_show", json!({"round": round}))), plain, "frost: {frost}");
    }
}

#[test]
fn nothing_entered_in_the_night_moves_the_stops() {
    let (mut yard, logs) = yard();
    weather(&yard, "2026-10-03", 90, 80);
    let round = start(&yard);
    let shown = |yard: &Yard| order(&yard.call("round_show", json!({"round": round})));
    let first = shown(&yard);
    check(&yard, &round, &logs[0], 9, "much");
    yard.now("2026-10-03T21:20:00+02:00");
    weather(&yard, "2026-10-03", -40, 0);
    yard.act("water_add", json!({"logs": [logs[0]], "spot": null, "litres_tenths": null, "day": null, "note": "", "draft": null}));
    let slugs = json!({"log": logs[1], "spot": null, "what": "slugs", "when": "now", "n": 4, "extent": null, "hid": [], "did": [],
        "photos": [], "note": ""});
    yard.act("sighting_add", slugs);
    assert_eq!(shown(&yard), first, "weather, water and sightings of this very hour");
    yard.now("2026-10-04T00:30:00+02:00");
    yard.restart();
    assert_eq!(shown(&yard), first, "past midnight, after a restart");
    yard.act("round_end", json!({"round": round}));
    yard.now("2026-10-04T21:00:00+02:00");
    weather(&yard, "2026-10-04", 90, 80);
    let next = start(&yard);
    let found = order(&yard.call("round_show", json!({"round": next})));
    let wanted = [
        ("1", Some("damage")),
        ("5", Some("damage")),
        ("2", Some("slugs")),
        ("4", Some("slugs")),
        ("3", Some("wet")),
    ];
    assert_eq!(found, lines(&wanted), "the next evening knows it all");
}

/// The night in spring when an hour is left out: the round stays one, and no check of it is lost or twice.
#[test]
fn the_night_that_lacks_an_hour_is_one_evening() {
    let yard = Yard::at("2026-03-28T22:00:00+01:00");
    let logs: Vec<String> = (1..=3).map(|n| yard.log(&n.to_string(), json!({"spot": "Well"}))).collect();
    let round = start(&yard);
    check(&yard, &round, &logs[0], 1, "none");
    yard.now("2026-03-29T01:59:00+01:00");
    check(&yard, &round, &logs[1], 2, "none");
    yard.now("2026-03-29T03:01:00+02:00");
    check(&yard, &round, &logs[2], 4, "none");
    let view = yard.call("round_show", json!({"round": round}));
    assert_eq!(
        (&view["round"]["day"], &view["round"]["slugs"], &view["round"]["left"]),
        (&json!("2026-03-28"), &json!(7), &json!(0))
    );
    yard.act("round_end", json!({"round": round}));
    yard.now("2026-03-29T21:00:00+02:00");
    assert_ne!(start(&yard), round, "the next evening's is another");
}
