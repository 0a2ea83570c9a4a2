//! What is due on the invented yard on three fixed days, line by line, with the reasons worked out by hand; putting
//! off; the order; and words for an empty list.
//! Never a rule by itself: each room's journeys have those.
//! Invariant: the lines are those that the records give by pencil and paper.

use super::{Yard, asked, text};
use chrono::NaiveDate;
use serde_json::{Value, json};
use shadeyard_backend::book::Clock;
use shadeyard_backend::commands;

/// The invented yard at noon of a day: what is due, as (what, urgency, tags).
fn due_on(day: &str) -> Vec<(String, String, Vec<String>)> {
    let folder = tempfile::tempdir().expect("a folder");
    let until: NaiveDate = day.parse().expect("a day");
    shadeyard_demo::build(folder.path(), until).unwrap_or_else(|e| panic!("{day}: {e}"));
    let clock = Clock::fixed(&format!("{day}T12:00:00+01:00")).expect("an instant");
    let book = commands::open(folder.path(), clock).expect("the built yard opens");
    let view = commands::dispatch(&book, "chores_show", json!({}), None).expect("chores");
    let due = view["due"].as_array().expect("a list");
    due.iter().map(|due| (text(&due["what"]), text(&due["urgency"]), tags(due))).collect()
}

fn tags(due: &Value) -> Vec<String> {
    due["logs"].as_array().expect("logs").iter().map(|log| text(&log["tag"])).collect()
}

fn kinds(due: &[(String, String, Vec<String>)]) -> Vec<(&str, &str)> {
    due.iter().map(|(what, urgency, _)| (what.as_str(), urgency.as_str())).collect()
}

fn of<'a>(due: &'a [(String, String, Vec<String>)], what: &str) -> Vec<&'a [String]> {
    due.iter().filter(|(kind, ..)| kind == what).map(|(_, _, tags)| tags.as_slice()).collect()
}

#[test]
fn what_can_be_put_off_comes_back_on_its_day_and_something_new_is_not_hidden() {
    let yard = Yard::at("2026-10-03T18:30:00+02:00");
    let one = yard.log("1", json!({"laid": "2023-04-01"}));
    let look = |log: &str| {
        yard.act("look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": "", "draft": null}))
    };
    look(&one);
    let shown = || yard.call("chores_show", json!({}));
    let key = |view: &Value| {
        text(
            &view["due"].as_array().expect("a list").iter().find(|d| d["what"] == "pick").expect("ripe")["key"],
        )
    };
    let pick = key(&shown());
    yard.act("chore_put_off", json!({"key": pick, "until": "2026-10-05"}));
    let view = shown();
    assert!(view["due"].as_array().expect("a list").iter().all(|due| due["what"] != "pick"));
    assert_eq!(
        (&view["put_off"][0]["until"], view["put_off"].as_array().map(Vec::len)),
        (&json!("2026-10-05"), Some(1))
    );
    yard.now("2026-10-04T08:00:00+02:00");
    let two = yard.log("2", json!({"laid": "2023-04-01"}));
    look(&two);
    assert_ne!(key(&shown()), pick, "a newer sight is another chore");
    yard.now("2026-10-05T08:00:00+02:00");
    assert_eq!(shown()["put_off"], json!([]), "it is back");
    let refused = yard.refused("chore_put_off", asked(json!({"key": pick, "until": "2026-10-05"})));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("until"), &json!("range")));
}

#[test]
fn the_order_is_by_urgency_and_then_by_kind_and_is_the_same_each_time() {
    let yard = Yard::at("2026-07-20T12:00:00+02:00");
    yard.log("wood", json!({"laid": null, "felled": "2026-05-01"}));
    let log = yard.log("1", json!({"laid": "2023-04-01"}));
    let pins = yard.log("2", json!({"laid": "2023-04-01"}));
    yard.now("2026-07-17T12:00:00+02:00");
    for (log, seen) in [(&log, "flat"), (&pins, "pin")] {
        yard.act("look_add", json!({"log": log, "seen": seen, "photos": [], "note": "", "draft": null}));
    }
    yard.now("2026-07-20T12:00:00+02:00");
    let soaked = yard.log("3", json!({"laid": "2023-04-01"}));
    yard.act("soak_in", json!({"logs": [soaked], "weights": [], "water_dc": null, "ago_min": 1800, "day": null, "note": "", "sure": true, "draft": null}));
    let due = |yard: &Yard| yard.call("chores_show", json!({}))["due"].as_array().expect("a list").clone();
    let first = due(&yard);
    let lines: Vec<(&str, &str)> = first
        .iter()
        .map(|d| (d["what"].as_str().unwrap_or(""), d["urgency"].as_str().unwrap_or("")))
        .collect();
    assert_eq!(
        lines,
        [
            ("lift", "now"),
            ("pick", "now"),
            ("lay", "now"),
            ("round", "today"),
            ("look_again", "today"),
            ("overdue", "can")
        ]
    );
    assert_eq!(due(&yard), first);
    for one in &first {
        assert!(one["from"]["how"].is_string() && one["from"]["mark"].is_string(), "{one}");
        assert!(one["tap"]["screen"].is_string() || one["tap"]["command"].is_string(), "{one}");
    }
}

#[test]
fn frost_is_said_only_when_something_would_freeze() {
    let yard = Yard::at("2026-10-20T15:00:00+02:00");
    let log = yard.log("1", json!({"laid": "2023-04-01"}));
    yard.act("weather_set", json!({"day": "2026-10-21", "min_dc": -15, "max_dc": null, "rain_tenths": null, "wind_tenths": null, "draft": null}));
    let frost = || {
        let view = yard.call("chores_show", json!({}));
        view["due"].as_array().expect("a list").iter().find(|due| due["what"] == "frost").cloned()
    };
    assert_eq!(frost(), None, "bare bark in the cold is no chore");
    yard.act("soak_in", json!({"logs": [log], "weights": [], "water_dc": null, "ago_min": 60, "day": null, "note": "", "sure": true, "draft": null}));
    let due = frost().expect("a tank that would freeze");
    assert_eq!(
        (&due["urgency"], &due["why"]["low_dc"], &due["why"]["tank"]),
        (&json!("now"), &json!(-15), &json!(1))
    );
}

#[test]
fn a_young_yard_asks_for_nothing() {
    let yard = Yard::at("2026-10-03T18:30:00+02:00");
    yard.log("1", json!({"laid": "2026-04-01"}));
    let view = yard.call("chores_show", json!({}));
    assert_eq!((&view["due"], &view["put_off"]), (&json!([]), &json!([])));
}

#[test]
fn at_seventy_degrees_north_in_midsummer_no_time_is_given_and_it_is_said_why() {
    let yard = Yard::at("2026-06-21T18:00:00+02:00");
    yard.log("1", json!({"laid": "2023-04-01"}));
    yard.act("settings_set", json!({"place": "far north", "lat": 70.0, "lon": 25.0, "night_after_min": 120}));
    let tonight = yard.call("chores_show", json!({}))["tonight"].clone();
    assert_eq!(
        (&tonight["why"], &tonight["go"], &tonight["sunset"]),
        (&json!("sun_never_sets"), &Value::Null, &Value::Null)
    );
}

#[test]
fn settings_of_ways_are_kept_and_nonsense_is_refused() {
    let yard = Yard::new();
    let shown = |field: &str| yard.call("settings_show", json!({}))[field].clone();
    assert_eq!(
        (shown("units"), shown("forcing"), shown("usual_first")),
        (json!("metric"), json!("careful"), json!("01-01"))
    );
    yard.act("ways_set", json!({"units": "us", "forcing": "quick", "season_first": "03-01"}));
    assert_eq!(
        (shown("units"), shown("forcing"), shown("season_first")),
        (json!("us"), json!("quick"), json!("03-01"))
    );
    for bad in ["02-29", "13-01", "3-1", "spring"] {
        let refused =
            yard.refused("ways_set", asked(json!({"units": "us", "forcing": "quick", "season_first": bad})));
        assert_eq!(refused["field"], "season_first", "{bad}");
    }
    yard.act("settings_set", json!({"place": "", "lat": -40.0, "lon": 170.0, "night_after_min": 120}));
    assert_eq!(shown("usual_first"), "07-01", "half a year apart in the south");
}

/// 30 May 2026. Ripe on the last evening's looks: 17, 26, 31. Of the logs with another fungus 6 and 16 have ended; 33 has a patch of
/// brackets since June, 38 spots of grey fans since May. The wood of 8 November 2025 was to be laid by 8 December,
/// 173 days ago. Nine logs show pins or caps, so slugs are due. The sample logs were weighed last on 31 October; of the week's
/// 41.3 mm of rain half reaches 59 at Brook bank, under 25 mm, and all of it 60 at Old pear. No backup was ever made of the built yard. The rest may fruit in a week's mean of 12.9 °C.
#[test]
fn on_30_may_the_invented_yard_asks_for_seven_things() {
    let due = due_on("2026-05-30");
    let lines = [
        ("pick", "now"),
        ("lay", "now"),
        ("round", "today"),
        ("weigh", "soon"),
        ("backup", "soon"),
        ("look_season", "can"),
        ("fungus", "can"),
    ];
    assert_eq!(kinds(&due), lines);
    assert_eq!(of(&due, "fungus"), [["33", "38"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "pick"), [["17", "26", "31"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "lay"), [["63", "64", "65", "66"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "weigh"), [["59"].map(str::to_owned).as_slice()]);
}

/// 14 August 2026. Ripe on the last evening's looks: 19 and 36 cupped, 54 flat; 3 shows pins and 11 buttons, so slugs are due for
/// five. Log 59 was weighed on the 8th and is due on the 15th only; it rained on the 10th, so nothing dries out. Wood was laid in
/// April, and the next is felled in autumn. 11, 18 and 23 came out of the tank on 29 May, 49 days before 17 July: 11 has caps
/// now, 18 was picked on 15 June and rests until 3 August, so both 18 and 23 may go in again; 13, 29 and 34 came out on
/// 3 July and rest until the 21st. The week's mean is 20.5 °C (four days of 18.8, two of 24): within every class's range, so every log that may fruit,
/// rests no more and was not looked at since July is to be looked at.
/// The fungi on 33 and 38 are those of May and June.
#[test]
fn on_14_august_the_invented_yard_asks_for_six_things() {
    let due = due_on("2026-08-14");
    let lines = [
        ("pick", "now"),
        ("round", "today"),
        ("backup", "soon"),
        ("look_season", "can"),
        ("rest_over", "can"),
        ("fungus", "can"),
    ];
    assert_eq!(kinds(&due), lines);
    assert_eq!(of(&due, "pick"), [["19", "36", "54"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "round"), [["3", "11", "19", "36", "54"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "fungus"), [["33", "38"].map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "rest_over"), [["18", "23"].map(str::to_owned).as_slice()]);
    let look = [
        "1", "2", "4", "5", "10", "12", "17", "18", "20", "22", "23", "25", "26", "27", "28", "33", "35",
        "43", "44", "45", "46", "48", "49", "52", "53", "55", "56",
    ];
    assert_eq!(of(&due, "look_season"), [look.map(str::to_owned).as_slice()]);
}

/// 10 October 2026. Ripe: 4 upturned, 22 cupped; eight more show pins, buttons or short spines. The sample logs were weighed a week
/// ago: of 40.2 mm of rain since, half reaches 59 at Brook bank, under 25 mm, and all of it 60 at Old pear. Of the soaked
/// logs 13, 18, 29 and 34 were picked less than 49 days ago, 23 has buttons, and the rest of 11 ended more than ten weeks
/// ago. Log 50, laid on 22 March 2025, has not fruited, and is late only after 24 months. At 14.3 °C the logs to look at are those
/// whose rest is over and that nobody looked at since 26 September. The fungi on 33 and 38 are
/// still there.
#[test]
fn on_10_october_the_invented_yard_asks_for_six_things() {
    let due = due_on("2026-10-10");
    let lines = [
        ("pick", "now"),
        ("round", "today"),
        ("weigh", "soon"),
        ("backup", "soon"),
        ("look_season", "can"),
        ("fungus", "can"),
    ];
    assert_eq!(kinds(&due), lines);
    assert_eq!(of(&due, "pick"), [["4", "22"].map(str::to_owned).as_slice()]);
    let caps = ["3", "4", "7", "22", "23", "31", "35", "37", "39", "55"];
    assert_eq!(of(&due, "round"), [caps.map(str::to_owned).as_slice()]);
    assert_eq!(of(&due, "weigh"), [["59"].map(str::to_owned).as_slice()]);
    let look = ["9", "14", "19", "24", "28", "32", "36", "38", "40", "43", "45"];
    assert_eq!(of(&due, "look_season"), [look.map(str::to_owned).as_slice()]);
}
