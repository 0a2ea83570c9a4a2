//! Competitors: what a sighting or a look at the wood makes of a log's risk, on its page and in Chores.
//! Never a cure.

use super::{Yard, text};
use serde_json::{Value, json};

fn sighting(yard: &Yard, log: &str, what: &str, extent: Value) {
    let seen = json!({"log": log, "spot": null, "what": what, "when": "now", "n": null, "extent": extent, "hid": [], "did": [],
        "photos": [], "note": ""});
    yard.act("sighting_add", seen);
}

/// The fungus chores: their urgency, tags, and why.
fn fungi(yard: &Yard) -> Vec<(String, Vec<String>, Value)> {
    let due = yard.call("chores_show", json!({}))["due"].clone();
    let of = due.as_array().unwrap().iter().filter(|d| d["what"] == "fungus");
    let tags = |d: &Value| d["logs"].as_array().unwrap().iter().map(|l| text(&l["tag"])).collect();
    of.map(|d| (text(&d["urgency"]), tags(d), d["why"].clone())).collect()
}

#[test]
fn a_competitor_puts_its_log_into_chores_with_the_reason_of_its_page() {
    let yard = Yard::new();
    let logs: Vec<String> = ["1", "2", "3"].map(|tag| yard.log(tag, json!({}))).to_vec();
    sighting(&yard, &logs[0], "squirrels", Value::Null);
    assert_eq!(fungi(&yard), [], "an animal is no fungus");
    sighting(&yard, &logs[0], "trichoderma", json!("spot"));
    let why = json!({"risk": "watch", "why": "seen", "what": "trichoderma", "tells": "too_wet", "day": "2026-10-03"});
    assert_eq!(fungi(&yard), [("can".to_owned(), vec!["1".to_owned()], why)]);
    sighting(&yard, &logs[1], "stereum", json!("most"));
    let due = fungi(&yard);
    assert_eq!((due.len(), &due[0].0, &due[0].1), (2, &"soon".to_owned(), &vec!["2".to_owned()]));
    assert_eq!((&due[0].2["why"], &due[0].2["tells"]), (&json!("half"), &json!("may_be_lost")));
    let page = yard.call("flushes_show", json!({"log": logs[1]}))["risk"].clone();
    for word in ["risk", "why", "what", "tells", "day"] {
        assert_eq!(page[word], due[0].2[word], "the page and Chores say the same: {word}");
    }
    yard.act("log_end", json!({"log": logs[1], "why": "lost", "note": ""}));
    assert_eq!(fungi(&yard).len(), 1, "an ended log asks for nothing");
    yard.act("chore_put_off", json!({"key": "fungus_watch:2026-10-03", "until": "2026-10-10"}));
    assert_eq!(fungi(&yard), []);
    yard.now("2026-10-05T18:30:00+02:00");
    sighting(&yard, &logs[2], "crusts", Value::Null);
    assert_eq!(fungi(&yard)[0].1, ["1", "3"], "put off, it comes back with what is new");
}

/// A look at the wood has words of its own for the same fungi; its half of a log was once read as not said, and two
/// days of brackets as an unknown fungus, so that a log likely lost stood as one to watch.
#[test]
fn a_look_at_the_wood_counts_as_a_sighting_does() {
    let mut yard = Yard::new();
    let (half, twice) = (yard.log("1", json!({})), yard.log("2", json!({})));
    let wood = |yard: &Yard, log: &str, competitor: &str, extent: Value| {
        let look = json!({"log": log, "bark": null, "cracks": null, "wax": null, "pecked": null, "competitor": competitor,
            "extent": extent, "day": null, "photos": [], "note": ""});
        yard.act("condition_add", look);
    };
    let risk = |yard: &Yard, log: &str| {
        let risk = yard.call("flushes_show", json!({"log": log}))["risk"].clone();
        (risk["risk"].clone(), risk["why"].clone(), risk["what"].clone())
    };
    wood(&yard, &half, "green_mould", json!("half"));
    assert_eq!(risk(&yard, &half), (json!("high"), json!("half"), json!("trichoderma")));
    wood(&yard, &twice, "none", Value::Null);
    assert_eq!(risk(&yard, &twice), (Value::Null, Value::Null, Value::Null), "looked at, and nothing there");
    wood(&yard, &twice, "bracket", json!("spots"));
    yard.now("2026-10-20T10:00:00+02:00");
    sighting(&yard, &twice, "trametes", Value::Null);
    assert_eq!(risk(&yard, &twice), (json!("high"), json!("again"), json!("trametes")));
    let before = fungi(&yard);
    yard.restart();
    yard.book().rebuild().unwrap();
    assert_eq!(fungi(&yard), before, "its acts alone give the same");
    yard.act("undo", json!({}));
    assert_eq!(risk(&yard, &twice).0, json!("watch"));
}
