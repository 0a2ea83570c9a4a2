//! A log's life beyond fruiting: how it leaves and comes back, its wood, its batch and its spawn.
//! Never the state machine's corners: `lives` tries those at random.
//! Invariant: what is refused leaves nothing behind.

use super::{Yard, fields, text};
use serde_json::{Value, json};

fn wood(name: &str, more: Value) -> Value {
    let mut all = json!({"name": name, "scientific": "", "conifer": false, "shiitake": null, "hericium": null,
        "density_kg_m3": null, "moisture_pct": null, "note": ""});
    for (field, value) in more.as_object().into_iter().flatten() {
        all[field] = value.clone();
    }
    json!({"wood": null, "fields": all})
}

fn batch(name: &str, more: Value) -> Value {
    let mut all = json!({"name": name, "wood": null, "felled": null, "source": "", "disc_wet_g": null,
        "disc_dry_g": null, "doubtful": false, "note": ""});
    for (field, value) in more.as_object().into_iter().flatten() {
        all[field] = value.clone();
    }
    json!({"batch": null, "fields": all})
}

fn lot(name: &str, more: Value) -> Value {
    let mut all = json!({"name": name, "strain": null, "form": null, "source": "", "received": null, "kept": null,
        "doubtful": false, "note": ""});
    for (field, value) in more.as_object().into_iter().flatten() {
        all[field] = value.clone();
    }
    json!({"lot": null, "fields": all})
}

fn state(yard: &Yard, log: &str) -> String {
    text(&yard.call("log_show", json!({"log": log}))["row"]["state"])
}

#[test]
fn a_lent_log_comes_back_with_its_record() {
    let yard = Yard::new();
    let log = yard.log("7", json!({"laid": "2024-04-10"}));
    yard.act("picking_add", json!({"log": log, "day": "2026-06-01", "grams": 210, "note": ""}));
    for why in ["given", "sold", "lent", "stolen", "spent", "lost", "discarded"] {
        let ended = yard.act("log_end", json!({"log": log, "why": why, "note": "to the neighbours"}));
        assert_eq!(ended["said"]["why"], why);
        assert_eq!(state(&yard, &log), why);
        let again = yard.refused("log_end", super::asked(json!({"log": log, "why": "spent", "note": ""})));
        assert_eq!(again["detail"]["why"], "ended_already");
        let back = yard.act("log_unend", json!({"log": log}));
        assert_eq!((&back["said"]["tag"], &back["said"]["why"]), (&json!("7"), &json!(why)));
        assert_eq!(state(&yard, &log), "may_fruit");
    }
    let page = yard.call("log_show", json!({"log": log}));
    assert_eq!(page["entries"].as_array().map(Vec::len), Some(1), "its picking alone");
    let never = yard.refused("log_unend", super::asked(json!({"log": log})));
    assert_eq!(never["detail"]["why"], "not_ended");
}

#[test]
fn taking_an_ending_back_can_itself_be_taken_back() {
    let yard = Yard::new();
    let log = yard.log("7", json!({"laid": "2024-04-10"}));
    yard.act("log_end", json!({"log": log, "why": "lent", "note": ""}));
    yard.act("log_unend", json!({"log": log}));
    yard.act("undo", json!({"act": null}));
    assert_eq!(state(&yard, &log), "lent");
    yard.book().rebuild().unwrap();
    assert_eq!(state(&yard, &log), "lent");
}

#[test]
fn yesterdays_picking_of_a_log_given_today_is_kept() {
    let yard = Yard::new();
    let log = yard.log("7", json!({"laid": "2024-04-10"}));
    yard.act("log_end", json!({"log": log, "why": "given", "note": ""}));
    yard.act("picking_add", json!({"log": log, "day": "2026-10-02", "grams": 90, "note": ""}));
    let page = yard.call("log_show", json!({"log": log}));
    assert_eq!((&page["row"]["grams"], &page["row"]["state"]), (&json!(90), &json!("given")));
}

#[test]
fn an_own_wood_is_chosen_taken_in_from_a_sheet_and_kept_while_logs_are_of_it() {
    let yard = Yard::new();
    let done =
        yard.act("wood_set", wood("Plum", json!({"shiitake": 2, "density_kg_m3": 950, "moisture_pct": 40})));
    let id = text(&done["said"]["wood"]);
    let form = yard.call("log_form", json!({}));
    let choice =
        form["woods"].as_array().unwrap().iter().find(|w| w["id"] == id.as_str()).expect("it is offered");
    assert_eq!(
        (&choice["name"], &choice["shiitake"], &choice["own"]),
        (&json!("Plum"), &json!(2), &json!(true))
    );
    let log = yard.log("7", json!({"wood": id}));
    assert_eq!(yard.call("log_show", json!({"log": log}))["row"]["wood_name"], "Plum");
    let sheet = json!({"text": "tag,wood\n8,plum\n", "what": "logs", "columns": {"tag": 0, "wood": 1}, "dates": "ymd",
        "lengths": "mm", "weights": "g", "mushroom": "shiitake"});
    yard.act("csv_take", sheet);
    let woods = yard.call("woods_show", json!({}));
    let line = woods["woods"].as_array().unwrap().iter().find(|w| w["id"] == id.as_str()).unwrap();
    assert_eq!((&line["logs"], &line["mark"]), (&json!(2), &json!("own")));
    let out = yard.refused("wood_out", super::asked(json!({"wood": id})));
    assert_eq!((&out["detail"]["why"], &out["detail"]["logs"]), (&json!("in_use"), &json!(2)));
    let twice = yard.refused("wood_set", super::asked(wood("plum", json!({}))));
    assert_eq!(twice["detail"]["why"], "known_wood");
    let known = yard.refused("wood_set", super::asked(wood("Red oak", json!({}))));
    assert_eq!(known["detail"]["why"], "known_wood");
    let other = text(&yard.act("wood_set", wood("Pear", json!({})))["said"]["wood"]);
    yard.act("wood_out", json!({"wood": other}));
    let left = yard.call("woods_show", json!({}));
    assert!(left["woods"].as_array().unwrap().iter().all(|w| w["id"] != other.as_str()));
}

#[test]
fn wood_waits_in_order_of_its_days_and_a_conifer_is_not_planned_for() {
    let yard = Yard::new();
    let refused = yard
        .refused("batch_set", super::asked(batch("ridge", json!({"wood": "pine", "felled": "2026-09-30"}))));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("wood"), &json!("conifer")));
    let waits = fields("p", json!({"wood": "pine", "laid": null, "felled": "2026-09-30"}));
    let refused = yard.refused("log_add", super::asked(json!({"fields": waits})));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("wood"), &json!("conifer")));
    let many = json!({"fields": waits, "sizes": [{"d_mm": [], "length_mm": null}]});
    assert_eq!(yard.refused("logs_add", super::asked(many))["field"], "wood");
    let laid = fields("p", json!({"wood": "pine", "laid": "2025-04-01"}));
    let log = yard.act("log_add", json!({"fields": laid}));
    assert_eq!(log["said"]["conifer"], true, "a log that exists is told as it is");
    let oak = yard.log("9", json!({"laid": null, "wood": "red-oak", "felled": "2026-09-30"}));
    let to_pine = fields("9", json!({"wood": "pine", "laid": null, "felled": "2026-09-30"}));
    let refused = yard.refused("log_edit", super::asked(json!({"log": oak, "fields": to_pine})));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("wood"), &json!("conifer")));
    yard.act("undo", json!({"act": null}));

    let late =
        yard.act("batch_set", batch("oak by the gate", json!({"wood": "white-oak", "felled": "2026-08-20"})));
    let fresh = yard.act(
        "batch_set",
        batch(
            "beech",
            json!({"wood": "beech", "felled": "2026-09-28", "disc_wet_g": 480,
        "disc_dry_g": 269}),
        ),
    );
    let (late, fresh) = (text(&late["said"]["batch"]), text(&fresh["said"]["batch"]));
    let lay = |yard: &Yard| -> Vec<(Value, Value, Value)> {
        let due = yard.call("chores_show", json!({}))["due"].clone();
        let lay = due.as_array().unwrap().iter().filter(|d| d["what"] == "lay");
        lay.map(|d| (d["urgency"].clone(), d["why"]["name"].clone(), d["why"]["left"].clone())).collect()
    };
    let wood = |urgency: &str, name: &str, left: i64| (json!(urgency), json!(name), json!(left));
    // Felled on 20 August: too old to drill on 3 October, but totems are still laid for three months.
    assert_eq!(
        lay(&yard),
        [wood("soon", "oak by the gate", 46), wood("soon", "beech", 25)],
        "wood of which no log is in the register yet is due to be laid all the same"
    );
    let waiting = yard.log("1", json!({"laid": null, "batch": late, "wood": "white-oak"}));
    assert_eq!(lay(&yard), [(json!("now"), Value::Null, json!(-14)), wood("soon", "beech", 25)]);
    yard.log("2", json!({"laid": null, "wood": "red-oak"}));
    let view = yard.call("wood_waiting", json!({}));
    let rows = view["waiting"].as_array().unwrap();
    let names: Vec<&Value> = rows.iter().map(|row| &row["name"]).collect();
    assert_eq!(names, [&json!("oak by the gate"), &json!("beech"), &Value::Null], "unknown days last");
    assert_eq!(rows[0]["days"], json!([44, 44]));
    assert_eq!((&rows[0]["fresh"][0]["stale"], &rows[0]["fresh"][0]["left"]), (&json!(true), &json!(-14)));
    assert_eq!((&rows[0]["fresh"][1]["totem"], &rows[0]["fresh"][1]["left"]), (&json!(true), &json!(47)));
    assert_eq!(rows[0]["logs"][0][1], "1");
    assert!((rows[1]["moisture_pct"].as_f64().unwrap() - 43.96).abs() < 0.01);
    assert!(rows[2]["fresh"].as_array().unwrap().is_empty(), "nobody knows when it was felled");

    let out = yard.refused("batch_out", super::asked(json!({"batch": late})));
    assert_eq!(out["detail"]["why"], "in_use");
    yard.act("batch_out", json!({"batch": fresh}));
    yard.act(
        "log_edit",
        json!({"log": waiting, "fields": fields("1", json!({"laid": "2026-10-02", "batch": late,
        "wood": "white-oak"}))}),
    );
    let view = yard.call("wood_waiting", json!({}));
    assert_eq!(view["laid"][0]["fields"]["name"], "oak by the gate");
    assert_eq!(view["waiting"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_disc_that_is_heavier_dry_is_refused_and_nothing_is_written() {
    let yard = Yard::new();
    let swapped = batch("oak", json!({"disc_wet_g": 269, "disc_dry_g": 480}));
    let refused = yard.refused("batch_set", super::asked(swapped));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("disc_dry_g"), &json!("dry_heavier")));
    let view = yard.call("wood_waiting", json!({}));
    assert!(view["waiting"].as_array().unwrap().is_empty() && view["laid"].as_array().unwrap().is_empty());
    for (more, field) in [
        (json!({"wood": "plastic"}), "wood"),
        (json!({"felled": "2026-02-30"}), "felled"),
        (json!({"felled": "2026-12-24"}), "felled"),
        (json!({"disc_dry_g": 12}), "disc_wet_g"),
    ] {
        assert_eq!(yard.refused("batch_set", super::asked(batch("oak", more)))["field"], field);
    }
}

#[test]
fn a_doubtful_lot_marks_its_logs_and_only_those() {
    let yard = Yard::new();
    let strain = yard.act(
        "strain_set",
        json!({"strain": null, "fields": {"name": "Grey Door", "mushroom": "shiitake",
        "class": "cold", "from_dc": 60, "to_dc": 180, "note": ""}}),
    );
    let strain = text(&strain["said"]["strain"]);
    let made = yard.act(
        "lot_set",
        lot(
            "spring bag",
            json!({"strain": strain, "form": "sawdust", "received": "2026-03",
        "kept": "cold"}),
        ),
    );
    let id = text(&made["said"]["lot"]);
    let of_it = yard.log("1", json!({"strain": "grey door", "lot": id}));
    let other = yard.log("2", json!({"strain": "Grey Door"}));
    let doubtful = |log: &str| yard.call("log_show", json!({"log": log}))["row"]["doubtful"].clone();
    assert_eq!((doubtful(&of_it), doubtful(&other)), (json!(false), json!(false)));
    let mut marked = lot(
        "spring bag",
        json!({"strain": strain, "form": "sawdust", "received": "2026-03",
        "kept": "cold", "doubtful": true}),
    );
    marked["lot"] = json!(id);
    let said = yard.act("lot_set", marked)["said"].clone();
    assert_eq!((&said["logs"], &said["doubtful"]), (&json!(1), &json!(true)));
    assert_eq!((doubtful(&of_it), doubtful(&other)), (json!(true), json!(false)));
    yard.act("undo", json!({"act": null}));
    assert_eq!(doubtful(&of_it), json!(false));

    let view = yard.call("strains_show", json!({}));
    let row = &view["strains"][0];
    assert_eq!((&row["logs"], &row["from_dc"], &view["lots"][0]["logs"]), (&json!(2), &json!(60), &json!(1)));
    for (name, key, id) in [("strain_out", "strain", &strain), ("lot_out", "lot", &id)] {
        let mut ask = json!({});
        ask[key] = json!(id);
        assert_eq!(yard.refused(name, super::asked(ask))["detail"]["why"], "in_use");
    }
    let twice = json!({"strain": null, "fields": {"name": "GREY DOOR", "mushroom": "shiitake", "class": null,
        "from_dc": null, "to_dc": null, "note": ""}});
    assert_eq!(yard.refused("strain_set", super::asked(twice))["detail"]["why"], "known_strain");
}

#[test]
fn a_cold_strain_that_fruits_in_july_asks_once_whether_the_tag_is_right() {
    let yard = Yard::at("2026-07-15T09:00:00+02:00");
    let log = yard.log("1", json!({"laid": "2024-04-10", "strain_class": "cold"}));
    let warm = yard.log("2", json!({"laid": "2024-04-10", "strain_class": "warm"}));
    let form = |log: &str| yard.call("look_form", json!({"log": log}));
    let asked = form(&log)["season"].clone();
    assert_eq!(
        (&asked["class"], &asked["months"], &asked["from"]["mark"]),
        (&json!("cold"), &json!([9, 5]), &json!("common"))
    );
    assert_eq!(form(&warm)["season"], Value::Null);
    assert!(yard.call("picking_form", json!({"log": log}))["season"].is_object());
    yard.act("look_add", json!({"log": log, "seen": "pin", "photos": [], "note": ""}));
    assert_eq!(form(&log)["season"], Value::Null, "it was answered");
    assert_eq!(yard.call("picking_form", json!({"log": log}))["season"], Value::Null);
    let young = yard.log("3", json!({"laid": "2026-06-20"}));
    assert_eq!(form(&young)["asks"], json!(["too_young"]));
    yard.act("log_end", json!({"log": warm, "why": "sold", "note": ""}));
    assert_eq!(form(&warm)["asks"], json!(["away"]));
}

#[test]
fn first_fruit_is_expected_by_the_published_range_until_the_yard_knows_better() {
    let yard = Yard::at("2026-07-15T09:00:00+02:00");
    let log = yard.log("new", json!({"laid": "2026-04-10"}));
    let window = |log: &str| yard.call("log_show", json!({"log": log}))["first_fruit"].clone();
    let first = window(&log);
    assert_eq!((&first["from"], &first["to"]), (&json!("2026-10-10"), &json!("2027-10-10")));
    assert_eq!(first["source"]["mark"], "published");
    for (tag, day) in [
        ("1", "2025-01-10"),
        ("2", "2025-01-12"),
        ("3", "2025-02-01"),
        ("4", "2025-02-10"),
        ("5", "2025-03-01"),
    ] {
        let old = yard.log(tag, json!({"laid": "2024-04-10"}));
        yard.act("picking_add", json!({"log": old, "day": day, "grams": 100, "note": ""}));
        assert_eq!(window(&old), Value::Null, "it has fruited");
    }
    let own = window(&log);
    assert_eq!((&own["source"]["mark"], &own["source"]["logs"]), (&json!("own"), &json!(5)));
    assert!(text(&own["from"]) > text(&first["from"]) && text(&own["to"]) < text(&first["to"]), "{own}");
    let unknown = yard.log("x", json!({"laid": "XXXX"}));
    assert_eq!(window(&unknown), Value::Null);
}

#[test]
fn a_log_bears_for_about_a_year_an_inch() {
    let yard = Yard::new();
    let thick = yard.log("1", json!({"wood": "white-oak", "d_mm": [150, 154]}));
    let bare = yard.log("2", json!({"wood": "sweetgum"}));
    let life = |log: &str| yard.call("log_show", json!({"log": log}))["life"].clone();
    assert_eq!(
        (&life(&thick)["years"], &life(&thick)["from"]["mark"]),
        (&json!({"from": 5, "to": 7}), &json!("common"))
    );
    assert_eq!(
        (&life(&bare)["years"], &life(&bare)["from"]["mark"]),
        (&json!({"from": 3, "to": 4}), &json!("published"))
    );
}
