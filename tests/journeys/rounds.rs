//! Rounds beyond the plain night round: picking with a basket, halves, a child's, last night's, a printed sheet,
//! sightings, flushes, the calendar's file and what it all cost.

use super::{Yard, asked, text};
use serde_json::{Value, json};

/// Six logs on two spots; 1, 2 and 4 with caps.
fn yard() -> (Yard, Vec<String>) {
    let yard = Yard::at("2026-10-03T10:00:00+02:00");
    let spots = ["Hedge", "Hedge", "Hedge", "Well", "Well", "Well"];
    let logs: Vec<String> = spots
        .iter()
        .enumerate()
        .map(|(n, spot)| yard.log(&(n + 1).to_string(), json!({"spot": spot})))
        .collect();
    for (log, seen) in [(0, "pin"), (1, "cupped"), (3, "opening")] {
        yard.act("look_add", json!({"log": logs[log], "seen": seen, "photos": [], "note": ""}));
    }
    (yard, logs)
}

fn start(yard: &Yard, more: Value) -> String {
    text(&yard.act("round_start", more)["said"]["round"])
}

fn take(yard: &Yard, round: &str, log: &str, more: Value) -> Value {
    let mut ask = json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": false, "caps": null,
        "damaged_pct": null, "by": null, "quality": null, "photos": []});
    for (name, value) in more.as_object().unwrap() {
        ask[name] = value.clone();
    }
    yard.act("pick_take", ask)
}

fn tags(view: &Value) -> Vec<String> {
    view["stops"].as_array().unwrap().iter().map(|s| text(&s["log"]["tag"])).collect()
}

#[test]
fn a_picking_round_goes_to_the_most_urgent_first_and_its_basket_stays_open_until_it_is_weighed() {
    let (mut yard, logs) = yard();
    yard.now("2026-10-03T11:00:00+02:00");
    let round = start(&yard, json!({"kind": "picking"}));
    let show = |yard: &Yard| yard.call("pick_round_show", json!({"round": round}));
    let view = show(&yard);
    assert_eq!(tags(&view)[..3], ["4", "2", "1"], "opening, cupped, pins");
    assert_eq!((&view["asked"], &view["next"]), (&json!(3), &json!(0)));
    assert!(view["stops"][2]["forecast"]["from"].as_str() < view["stops"][2]["forecast"]["to"].as_str());
    take(
        &yard,
        &round,
        &logs[3],
        json!({"seen": "opening", "basket": true, "caps": 5, "damaged_pct": 10, "by": "slugs"}),
    );
    take(&yard, &round, &logs[1], json!({"basket": true, "caps": 3, "quality": "best"}));
    let done = yard.act(
        "pick_look",
        json!({"round": round, "log": logs[0], "seen": "button", "again": null, "photos": []}),
    );
    assert!(done["said"]["again"].as_str() > Some("2026-10-03"), "the forecast names the day to look again");
    yard.restart();
    let view = show(&yard);
    assert_eq!(view["next"], Value::Null);
    assert_eq!(tags(&view)[..3], ["4", "2", "1"], "what is entered does not move the stops");
    let done = yard.act("round_end", json!({"round": round}));
    assert_eq!((&done["said"]["done"], &done["said"]["left"]), (&json!(3), &json!(0)));
    let waiting = yard.call("rounds_show", json!({}))["baskets"].clone();
    let basket = text(&waiting[0]["id"]);
    assert_eq!(waiting[0]["pickings"].as_array().unwrap().len(), 2);
    let page = yard.call("log_show", json!({"log": logs[3]}));
    assert_eq!((&page["row"]["unweighed"], &page["row"]["grams"]), (&json!(1), &json!(0)));
    let weighed = yard.act("basket_weigh", json!({"basket": basket, "grams": 641, "each": []}));
    assert_eq!((&weighed["said"]["grams"], &weighed["said"]["logs"]), (&json!(641), &json!(2)));
    let grams = |log: &str| yard.call("log_show", json!({"log": log}))["row"]["grams"].as_i64().unwrap();
    assert_eq!((grams(&logs[3]), grams(&logs[1])), (401, 240), "5 : 3, to the gram");
    assert_eq!(yard.call("rounds_show", json!({}))["baskets"], json!([]));
    yard.act("undo", json!({}));
    assert_eq!(yard.call("rounds_show", json!({}))["baskets"][0]["id"], json!(basket), "undo opens it again");
    let entries = waiting[0]["pickings"].as_array().unwrap();
    let each: Vec<Value> =
        entries.iter().enumerate().map(|(n, p)| json!({"entry": p["entry"], "grams": 100 + n})).collect();
    yard.act("basket_weigh", json!({"basket": basket, "grams": null, "each": each}));
    assert_eq!(grams(&logs[3]) + grams(&logs[1]), 201, "log by log");
    let entry = &yard.call("log_show", json!({"log": logs[3]}))["entries"][0]["what"];
    assert_eq!(
        (&entry["caps"], &entry["damaged_pct"], &entry["by"]),
        (&json!(5), &json!(10), &json!("slugs"))
    );
}

#[test]
fn a_weight_without_a_log_and_a_basket_without_a_weight_are_refused() {
    let (yard, logs) = yard();
    let round = start(&yard, json!({"kind": "picking"}));
    take(&yard, &round, &logs[1], json!({"basket": true}));
    let basket = yard.call("rounds_show", json!({}))["baskets"][0]["id"].clone();
    let none = yard.refused("basket_weigh", asked(json!({"basket": basket, "grams": null, "each": []})));
    assert_eq!((&none["field"], &none["detail"]["why"]), (&json!("grams"), &json!("empty")));
    yard.act("undo", json!({}));
    let empty = yard.refused("basket_weigh", asked(json!({"basket": basket, "grams": 300, "each": []})));
    assert_eq!(empty["code"], "missing", "the basket went with the only picking in it: {empty}");
}

#[test]
fn the_same_request_is_one_picking_however_often_it_is_tapped() {
    let (yard, logs) = yard();
    let round = start(&yard, json!({"kind": "picking"}));
    let ask = asked(
        json!({"round": round, "log": logs[1], "seen": "cupped", "grams": 120, "basket": false, "caps": 2,
        "damaged_pct": null, "by": null, "quality": null, "photos": []}),
    );
    yard.call("pick_take", ask.clone());
    assert_eq!(yard.call("pick_take", ask)["again"], true);
    assert_eq!(yard.call("log_show", json!({"log": logs[1]}))["row"]["pickings"], 1);
}

#[test]
fn a_half_takes_its_spots_a_child_only_counts_and_last_night_belongs_to_yesterday() {
    let (yard, logs) = yard();
    yard.now("2026-10-04T08:00:00+02:00");
    let spots = yard.call("spot_list", json!({}))["spots"].clone();
    let round = start(&yard, json!({"when": "last_night", "spots": [spots[1]["id"]], "child": true}));
    let view = yard.call("round_show", json!({"round": round}));
    assert_eq!((&view["round"]["day"], &view["round"]["later"]), (&json!("2026-10-03"), &json!(true)));
    assert_eq!(tags(&view), ["4", "5", "6"]);
    yard.act(
        "round_check",
        json!({"round": round, "log": logs[4], "how": "seen", "slugs": 4, "damage": "none"}),
    );
    let check = &yard.call("round_show", json!({"round": round}))["stops"][1]["check"];
    assert_eq!((&check["how"], &check["slugs"]), (&json!("tallied"), &json!(4)));
    let costs = yard.call("costs_show", json!({}));
    assert_eq!((&costs["by_spot"][0]["stops"], &costs["by_spot"][0]["slugs"]), (&json!(0), &json!(4)));
    assert_eq!(costs["by_hours"], json!([]), "typed in afterwards: the hour is not known");
}

#[test]
fn a_finding_says_where_slugs_hid_and_what_was_done() {
    let (yard, logs) = yard();
    yard.now("2026-10-03T21:00:00+02:00");
    let round = start(&yard, json!({}));
    yard.act(
        "round_check",
        json!({"round": round, "log": logs[0], "how": "seen", "slugs": 3, "damage": "some", "others": ["mice", "beetles"],
            "hid": ["under"], "did": ["hand_picked", "iron_phosphate"]}),
    );
    let check = &yard.call("round_show", json!({"round": round}))["stops"][0]["check"];
    assert_eq!(check["others"], json!(["beetles", "mice"]));
    assert_eq!(
        (&check["hid"], &check["did"]),
        (&json!(["under"]), &json!(["hand_picked", "iron_phosphate"]))
    );
    yard.act("round_end", json!({"round": round}));
    yard.now("2026-10-05T21:00:00+02:00");
    let second = start(&yard, json!({}));
    yard.act(
        "round_check",
        json!({"round": second, "log": logs[1], "how": "seen", "slugs": 1, "damage": "none"}),
    );
    let control = yard.call("costs_show", json!({}))["by_control"].clone();
    let keys: Vec<&str> = control.as_array().unwrap().iter().map(|g| g["key"].as_str().unwrap()).collect();
    assert_eq!(keys, ["", "iron_phosphate"], "what was done on the first evening speaks for the second");
}

#[test]
fn a_printed_sheet_is_typed_in_as_one_act_and_taken_back_as_one() {
    let (yard, logs) = yard();
    yard.now("2026-10-04T09:00:00+02:00");
    let sheet = yard.call("sheet_show", json!({}));
    assert_eq!((&sheet["evening"], sheet["stops"].as_array().unwrap().len()), (&json!("2026-10-03"), 6));
    let line = |log: &str, slugs: i64, damage: &str| json!({"log": log, "how": "seen", "slugs": slugs, "damage": damage});
    let lines = json!([line(&logs[0], 2, "none"), line(&logs[4], 5, "much")]);
    let done = yard.act("round_sheet", json!({"day": "2026-10-03", "lines": lines}));
    let view = yard.call("round_show", json!({"round": done["said"]["round"]}));
    let sums = ["done", "left", "slugs", "damaged"].map(|k| view["round"][k].as_i64().unwrap());
    assert_eq!(sums, [2, 4, 7, 1]);
    let twice = yard.refused(
        "round_sheet",
        asked(json!({"day": "2026-10-03", "lines": [line(&logs[0], 1, "none"), line(&logs[0], 2, "none")]})),
    );
    assert_eq!(twice["field"], "lines");
    let none = yard.refused("round_sheet", asked(json!({"day": "2026-10-03", "lines": []})));
    assert_eq!(none["field"], "lines");
    let future = yard.refused("round_sheet", asked(json!({"day": "2026-10-05", "lines": lines})));
    assert_eq!(future["detail"]["why"], "future");
    yard.act("undo", json!({}));
    assert_eq!(yard.call("rounds_show", json!({}))["rounds"], json!([]));
}

#[test]
fn a_sighting_stands_in_the_record_and_a_competitor_raises_the_logs_risk() {
    let (yard, logs) = yard();
    let add = |what: &str, more: Value| {
        let mut ask = json!({"log": logs[2], "spot": null, "what": what, "when": "now", "n": null, "extent": null,
            "hid": [], "did": [], "photos": [], "note": ""});
        for (name, value) in more.as_object().unwrap() {
            ask[name] = value.clone();
        }
        asked(ask)
    };
    yard.call("sighting_add", add("squirrels", json!({"n": 2})));
    let shown = || yard.call("flushes_show", json!({"log": logs[2]}));
    assert_eq!(shown()["risk"], Value::Null);
    let photo = yard.keep_photo(super::jpeg(60, 40, 3)).unwrap()["hash"].clone();
    yard.call("sighting_add", add("trametes", json!({"extent": "spot", "photos": [photo]})));
    let risk = shown()["risk"].clone();
    assert_eq!(
        (&risk["risk"], &risk["why"], &risk["what"]),
        (&json!("watch"), &json!("seen"), &json!("trametes"))
    );
    assert_eq!(shown()["sightings"][0]["photos"].as_array().unwrap().len(), 1);
    yard.now("2026-10-20T10:00:00+02:00");
    yard.call("sighting_add", add("trametes", json!({"when": "last_night"})));
    let risk = shown()["risk"].clone();
    assert_eq!((&risk["risk"], &risk["why"], &risk["days"]), (&json!("high"), &json!("again"), &json!(2)));
    assert_eq!(shown()["sightings"][0]["day"], "2026-10-19");
    assert_eq!(yard.call("log_show", json!({"log": logs[2]}))["entries"][0]["what"]["what"], "trametes");
    let nowhere = yard.refused("sighting_add", add("trichoderma", json!({"log": null})));
    assert_eq!(nowhere["field"], "log", "a fungus sits on a log");
    yard.call("sighting_add", add("deer", json!({"log": null})));
}

#[test]
fn pickings_become_flushes_and_the_grower_has_the_last_word() {
    let (yard, logs) = yard();
    for (day, grams) in [("2026-05-01", 100), ("2026-05-10", 50), ("2026-06-20", 70)] {
        yard.act(
            "picking_add",
            json!({"log": logs[5], "day": day, "grams": grams, "caps": null, "damaged_pct": null,
            "by": null, "note": ""}),
        );
    }
    let sums = |yard: &Yard| -> Vec<i64> {
        let view = yard.call("flushes_show", json!({"log": logs[5]}));
        view["flushes"].as_array().unwrap().iter().map(|f| f["grams"].as_i64().unwrap()).collect()
    };
    assert_eq!(sums(&yard), [150, 70]);
    let entry = |n: usize| {
        let view = yard.call("flushes_show", json!({"log": logs[5]}));
        let all: Vec<Value> = view["flushes"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|f| f["pickings"].as_array().unwrap().clone())
            .collect();
        all[n]["entry"].clone()
    };
    yard.act("flush_mark", json!({"picking": entry(1), "how": "split"}));
    assert_eq!(sums(&yard), [100, 50, 70]);
    yard.act("flush_mark", json!({"picking": entry(2), "how": "join"}));
    assert_eq!(sums(&yard), [100, 120]);
    yard.act("flush_mark", json!({"picking": entry(1), "how": null}));
    assert_eq!(sums(&yard), [220], "joined by the grower, and by the gap");
}

#[test]
fn a_forecast_is_kept_with_its_look_and_scored_by_what_happened() {
    let (yard, logs) = yard();
    let open = yard.call("costs_show", json!({}))["forecasts"].clone();
    assert_eq!((&open["n"], &open["open"]), (&json!(0), &json!(1)), "pins have a forecast, ripe caps none");
    yard.now("2026-10-09T10:00:00+02:00");
    yard.act("look_add", json!({"log": logs[0], "seen": "cupped", "photos": [], "note": ""}));
    let scored = yard.call("costs_show", json!({}))["forecasts"].clone();
    assert_eq!((&scored["n"], &scored["hits"], &scored["miss_days"]), (&json!(1), &json!(1), &json!(0.0)));
    assert_eq!(scored["few"], true);
}

#[test]
fn tonights_round_goes_into_a_calendar_when_the_place_is_known() {
    let (yard, _) = yard();
    assert_eq!(yard.refused("calendar_file", json!({}))["detail"]["why"], "no_hour");
    yard.act(
        "settings_set",
        json!({"place": "Hedge, well", "lat": 46.0, "lon": 10.0, "night_after_min": 120}),
    );
    assert_eq!(
        yard.call("calendar_file", json!({}))["name"],
        "night-round-2026-10-03.ics",
        "in the morning, tonight"
    );
    yard.now("2026-10-03T18:00:00+02:00");
    let file = yard.call("calendar_file", json!({}));
    assert_eq!(file["name"], "night-round-2026-10-03.ics");
    let written = file["text"].as_str().unwrap();
    assert!(
        written.contains("LOCATION:Hedge\\, well\r\n") && written.contains("Logs with pins or caps: 3."),
        "{written}"
    );
    let go = yard.call("chores_show", json!({}))["tonight"]["go"].clone();
    let go = chrono::DateTime::parse_from_rfc3339(go.as_str().unwrap()).unwrap().to_utc();
    assert!(
        written.contains(&format!("DTSTART:{}\r\n", go.format("%Y%m%dT%H%M%SZ"))),
        "the hour of Chores: {written}"
    );
}

#[test]
fn a_night_in_which_the_clocks_change_is_one_evening() {
    let (yard, logs) = yard();
    yard.now("2026-10-25T00:30:00+02:00");
    let round = start(&yard, json!({}));
    let check = |log: &str| {
        yard.act(
            "round_check",
            json!({"round": round, "log": log, "how": "seen", "slugs": 1, "damage": "none"}),
        );
    };
    yard.now("2026-10-25T02:50:00+02:00");
    check(&logs[0]);
    yard.now("2026-10-25T02:10:00+01:00");
    check(&logs[1]);
    check(&logs[0]);
    let view = yard.call("round_show", json!({"round": round}));
    assert_eq!((&view["round"]["day"], &view["round"]["slugs"]), (&json!("2026-10-24"), &json!(2)));
}
