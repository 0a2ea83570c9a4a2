//! The season's page: whose days it counts, whose flushes, how the forecasts came out, the logs it shows.
//! Never how a wood's figure is worked out: `outside` holds those.
//! Invariant: what this page says, the page the record was entered on says too.

use super::{Yard, jpeg, text};
use base64::Engine as _;
use serde_json::{Value, json};

fn laid(yard: &Yard, tag: &str) -> String {
    yard.log(tag, json!({"wood": "red-oak", "laid": "2024-03-20", "d_mm": [120], "length_mm": 1000}))
}

fn pick(yard: &Yard, log: &str, day: &str, grams: i64) {
    yard.act(
        "picking_add",
        json!({"log": log, "day": day, "grams": grams, "caps": null, "damaged_pct": null, "by": null,
        "note": "", "draft": null}),
    );
}

fn season(yard: &Yard, year: Value) -> Value {
    yard.call("season_show", json!({"year": year}))["season"].clone()
}

/// What a heap of this name came to; 0 where there is none.
fn grams(heaps: &Value, of: &str) -> i64 {
    let heap = heaps.as_array().unwrap().iter().find(|h| h["of"] == of);
    heap.map_or(0, |h| h["grams"].as_i64().unwrap())
}

/// The first day of the season could be set and was never read: the page went by calendar years.
#[test]
fn a_season_begins_on_the_day_that_is_set_and_bears_the_year_of_that_day() {
    let yard = Yard::at("2026-02-10T12:00:00+01:00");
    let log = laid(&yard, "1");
    for (day, grams) in [("2025-02-20", 1), ("2025-03-10", 20), ("2025-11-01", 300), ("2026-02-09", 4000)] {
        pick(&yard, &log, day, grams);
    }
    let usual = season(&yard, Value::Null);
    assert_eq!(
        (&usual["year"], &usual["first"], &usual["last"]),
        (&json!(2026), &json!("2026-01-01"), &json!("2026-12-31"))
    );
    assert_eq!((grams(&usual["years"], "2025"), grams(&usual["years"], "2026")), (321, 4000));
    yard.act("ways_set", json!({"units": "metric", "forcing": "careful", "season_first": "03-05"}));
    let set = season(&yard, Value::Null);
    assert_eq!(
        (&set["year"], &set["first"], &set["last"]),
        (&json!(2025), &json!("2025-03-05"), &json!("2026-03-04"))
    );
    assert_eq!((grams(&set["years"], "2024"), grams(&set["years"], "2025")), (1, 4320));
    let months = set["months"].as_array().unwrap();
    assert_eq!(
        (months.len(), &months[0]["of"], &months[12]["of"]),
        (13, &json!("2025-03"), &json!("2026-03"))
    );
    assert_eq!(grams(&set["months"], "2026-02"), 4000);
    let all =
        |of: &str| set[of].as_array().unwrap().iter().map(|h| h["grams"].as_i64().unwrap()).sum::<i64>();
    assert_eq!((all("months"), all("weeks"), all("seasons"), all("classes")), (4320, 4320, 4320, 4320));
    assert_eq!(season(&yard, json!(2024))["flushes"], 1);
}

#[test]
fn in_the_south_a_season_runs_from_winter_to_winter() {
    let yard = Yard::at("2026-02-10T12:00:00+11:00");
    yard.act("settings_set", json!({"place": "", "lat": -42.0, "lon": 147.0, "night_after_min": 120}));
    let log = laid(&yard, "1");
    pick(&yard, &log, "2025-11-01", 300);
    pick(&yard, &log, "2026-01-20", 500);
    let shown = season(&yard, Value::Null);
    assert_eq!((&shown["year"], &shown["first"]), (&json!(2025), &json!("2025-07-01")));
    assert_eq!((grams(&shown["years"], "2025"), grams(&shown["seasons"], "summer")), (800, 500));
}

/// The page had a rule of its own for flushes, and a grower who split or joined one saw another number here.
#[test]
fn flushes_are_counted_as_the_grower_parted_and_joined_them() {
    let yard = Yard::new();
    let (log, other) = (laid(&yard, "1"), laid(&yard, "2"));
    for day in ["2026-04-01", "2026-04-06", "2026-06-20", "2026-09-01"] {
        pick(&yard, &log, day, 100);
    }
    pick(&yard, &other, "2026-05-01", 100);
    let both = |yard: &Yard| {
        let flushes = |log: &str| yard.call("flushes_show", json!({"log": log}))["flushes"].clone();
        let sum: usize = [&log, &other].iter().map(|l| flushes(l).as_array().unwrap().len()).sum();
        let shown = season(yard, Value::Null);
        assert_eq!(shown["logs"], 2);
        (sum as i64, shown["flushes"].as_i64().unwrap())
    };
    assert_eq!(both(&yard), (4, 4));
    let picking = |n: usize| {
        let flushes = yard.call("flushes_show", json!({"log": log}))["flushes"].clone();
        let pickings: Vec<Value> = flushes
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|f| f["pickings"].as_array().unwrap().clone())
            .collect();
        pickings[n]["entry"].clone()
    };
    yard.act("flush_mark", json!({"picking": picking(1), "how": "split"}));
    assert_eq!(both(&yard), (5, 5));
    yard.act("flush_mark", json!({"picking": picking(3), "how": "join"}));
    assert_eq!(both(&yard), (4, 4));
    yard.act("flush_mark", json!({"picking": picking(1), "how": null}));
    assert_eq!(both(&yard), (3, 3));
}

/// Review asked for columns that forecasts do not have, and always said nothing.
#[test]
fn forecasts_are_scored_here_as_on_what_it_costs_and_only_the_seasons_own() {
    let yard = Yard::new();
    let log = laid(&yard, "1");
    yard.act("look_add", json!({"log": log, "seen": "pin", "photos": [], "note": ""}));
    yard.now("2026-10-09T10:00:00+02:00");
    yard.act("look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": ""}));
    let view = yard.call("season_show", json!({"year": 2026}));
    assert_eq!(
        (&view["forecasts"]["n"], &view["forecasts"]["hits"]),
        (&json!(1), &json!(1)),
        "{}",
        view["forecasts"]
    );
    assert_eq!(view["forecasts"]["hit_pct"].as_f64(), Some(100.0));
    assert!(view["forecasts"]["miss_days"].as_f64().is_some_and(|d| d < 3.0));
    assert_eq!(view["forecasts"], yard.call("costs_show", json!({}))["forecasts"]);
    let before = yard.call("season_show", json!({"year": 2025}));
    assert_eq!((&before["forecasts"]["n"], &before["forecasts"]["hit_pct"]), (&json!(0), &Value::Null));
}

#[test]
fn the_logs_that_gave_most_and_those_that_fruit_now_are_shown_and_printed_with_their_pictures() {
    let yard = Yard::new();
    let logs: Vec<String> = ["1", "2", "3", "4", "5"].iter().map(|tag| laid(&yard, tag)).collect();
    for (n, log) in logs.iter().enumerate().take(4) {
        pick(&yard, log, "2026-05-01", 100 * (n as i64 + 1));
    }
    pick(&yard, &logs[0], "2025-05-01", 9000);
    let photo = text(&yard.keep_photo(jpeg(900, 600, 40)).expect("kept")["hash"]);
    yard.act("look_add", json!({"log": logs[4], "seen": "pin", "photos": [photo], "note": ""}));
    let view = yard.call("season_show", json!({"year": 2026}));
    let shown = |of: &str| -> Vec<(Value, Value)> {
        view[of].as_array().unwrap().iter().map(|l| (l["log"]["tag"].clone(), l["grams"].clone())).collect()
    };
    let most = [("4", 400), ("3", 300), ("2", 200)].map(|(tag, grams)| (json!(tag), json!(grams)));
    assert_eq!(shown("most"), most, "the season's own, not last year's nine kilograms");
    assert_eq!(shown("out"), [(json!("5"), json!(0))]);
    assert_eq!(view["out"][0]["photo"], photo);
    let past = yard.call("season_show", json!({"year": 2025}));
    assert_eq!((&past["out"], &past["most"][0]["log"]["tag"]), (&json!([]), &json!("1")));
    assert!(past["most"][0]["photo"].is_null());
    let print = |logs: Value| {
        let ask = json!({"name": "season-2026", "parts": [{"part": "logs", "logs": logs}]});
        let file = yard.call("pdf_make", ask);
        base64::engine::general_purpose::STANDARD.decode(file["base64"].as_str().unwrap()).unwrap()
    };
    let with = print(json!([{"log": logs[4], "photo": photo, "words": ["Log 5", "Pins out"]}]));
    let has = |file: &[u8], what: &[u8]| file.windows(what.len()).any(|w| w == what);
    assert!(
        has(&with, b"/DCTDecode") && has(&with, b"(Log 5)") && has(&with, b" c "),
        "photo, words, curves"
    );
    let without = print(json!([{"log": logs[4], "photo": "0".repeat(64), "words": ["Log 5"]}]));
    assert!(
        !has(&without, b"/DCTDecode") && has(&without, b"(Log 5)"),
        "a photo that is nowhere is left out"
    );
}
