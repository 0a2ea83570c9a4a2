//! What merging shows and asks, through the commands: the preview, twins, contradictions, losers.
//! Never the book's own functions.
//! Invariant: what the preview says is what the merge then does.

use crate::archive::finished;
use crate::journeys::{Yard, asked, fields, jpeg, text, uuid};
use serde_json::{Value, json};
use std::path::Path;

fn merge(yard: &Yard, folder: &Path) -> Value {
    finished(yard, &yard.call("merge_do", json!({"folder": folder, "request": uuid()})))
}

/// Two yards that share one log, written apart since.
fn pair() -> (Yard, Yard, String, tempfile::TempDir) {
    let (a, b) = (Yard::new(), Yard::new());
    let log = a.log("37", json!({"spot": "by the spring"}));
    let shared = tempfile::tempdir().unwrap();
    merge(&a, shared.path());
    merge(&b, shared.path());
    (a, b, log, shared)
}

fn picking(yard: &Yard, log: &str, grams: i64) -> Value {
    let ask = json!({"log": log, "day": null, "grams": grams, "caps": null, "damaged_pct": null, "by": null,
        "note": "", "draft": null});
    yard.act("picking_add", ask)
}

#[test]
fn the_preview_says_what_the_merge_then_does() {
    let (a, b, log, shared) = pair();
    let photo = a.keep_photo(jpeg(60, 40, 9)).unwrap()["hash"].clone();
    a.act("look_add", json!({"log": log, "seen": "pin", "photos": [photo], "note": "", "draft": null}));
    picking(&a, &log, 240);
    a.act("log_edit", json!({"log": log, "fields": fields("37", json!({"spot": "by the spring", "note": "a"})), "draft": null}));
    b.act(
        "log_edit",
        json!({"log": log, "fields": fields("38", json!({"spot": "by the spring"})), "draft": null}),
    );
    merge(&a, shared.path());
    let before = super::files(b.folder.path());
    let seen = b.call("merge_preview", json!({"folder": shared.path()}));
    assert_eq!(
        (&seen["new_acts"], &seen["photos_to_come"], &seen["to_send"]),
        (&json!(3), &json!(1), &json!(1))
    );
    assert_eq!(seen["by_kind"]["look"], 1);
    assert_eq!(seen["by_kind"]["picking"], 1);
    assert_eq!(seen["changed_fields"], 1, "only the note: {seen}");
    assert_eq!(super::files(b.folder.path()), before, "looking writes nothing");
    let done = merge(&b, shared.path());
    assert_eq!(done["result"], json!(r#"{"acts":3,"blobs":1,"sent":1}"#));
    assert_eq!(done["found"], json!([]));
    merge(&a, shared.path());
    assert_eq!(a.call("log_show", json!({"log": log})), b.call("log_show", json!({"log": log})));
    assert_eq!(a.call("log_show", json!({"log": log}))["entries"][1]["photos"][0]["here"], true);
    let nothing = b.call("merge_preview", json!({"folder": shared.path()}));
    assert_eq!((&nothing["new_acts"], &nothing["to_send"]), (&json!(0), &json!(0)));
}

#[test]
fn the_shared_folder_is_remembered_and_must_be_there() {
    let (a, _, _, shared) = pair();
    let refused = a.refused("merge_folder", json!({"folder": "/no/such/folder"}));
    assert_eq!((&refused["field"], &refused["detail"]["why"]), (&json!("folder"), &json!("no_folder")));
    a.call("merge_folder", json!({"folder": shared.path()}));
    assert_eq!(a.call("merge_preview", json!({"folder": null}))["new_acts"], 0);
    a.call("merge_folder", json!({"folder": null}));
    assert_eq!(a.refused("merge_preview", json!({"folder": null}))["code"], "invalid");
}

#[test]
fn a_picking_that_both_entered_is_asked_about_once() {
    let (a, b, log, shared) = pair();
    picking(&a, &log, 240);
    picking(&b, &log, 250);
    merge(&a, shared.path());
    assert_eq!(b.call("merge_preview", json!({"folder": shared.path()}))["twins"][0]["tag"], "37");
    merge(&b, shared.path());
    let twins = b.call("twins_show", json!({}));
    let entries = &twins["twins"][0]["entries"];
    assert_eq!(entries.as_array().unwrap().len(), 2);
    let ids = [text(&entries[0]["id"]), text(&entries[1]["id"])];
    let answer = json!({"entries": ids, "same": true, "keep": ids[0]});
    let done = b.act("twin_answer", answer);
    assert_eq!(done["said"]["same"], true);
    assert_eq!(b.call("twins_show", json!({}))["twins"], json!([]));
    let row = &b.call("log_show", json!({"log": log}))["row"];
    assert_eq!((&row["pickings"], &row["grams"]), (&json!(1), &entries[0]["grams"]));
    b.act("undo", json!({"act": done["act"]}));
    assert_eq!(b.call("twins_show", json!({})), twins, "taken back, it is asked again");
}

#[test]
fn two_pickings_that_are_two_are_not_asked_about_again_on_any_device() {
    let (a, b, log, shared) = pair();
    picking(&a, &log, 240);
    picking(&b, &log, 250);
    merge(&a, shared.path());
    merge(&b, shared.path());
    let entries = b.call("twins_show", json!({}))["twins"][0]["entries"].clone();
    let ids = [text(&entries[0]["id"]), text(&entries[1]["id"])];
    let refused = b.refused("twin_answer", asked(json!({"entries": ids, "same": true, "keep": null})));
    assert_eq!(refused["field"], "keep");
    b.act("twin_answer", json!({"entries": ids, "same": false, "keep": null}));
    assert_eq!(b.call("twins_show", json!({}))["twins"], json!([]));
    merge(&b, shared.path());
    merge(&a, shared.path());
    assert_eq!(a.call("twins_show", json!({}))["twins"], json!([]));
    assert_eq!(a.call("log_show", json!({"log": log}))["row"]["grams"], 490);
}

#[test]
fn what_contradicts_is_listed_and_nothing_is_forbidden() {
    let (a, b, log, shared) = pair();
    for yard in [&a, &b] {
        yard.log("L1", json!({"spot": "under the oaks", "strain": "old friend", "strain_class": "wide"}));
        yard.act("round_start", json!({}));
    }
    a.act("log_end", json!({"log": log, "why": "spent", "day": null, "note": "", "draft": null}));
    b.act("log_end", json!({"log": log, "why": "lost", "day": null, "note": "", "draft": null}));
    merge(&a, shared.path());
    let seen = b.call("merge_preview", json!({"folder": shared.path()}));
    merge(&b, shared.path());
    merge(&a, shared.path());
    let all = a.call("contradictions_show", json!({}));
    assert_eq!(all, b.call("contradictions_show", json!({})), "both see the same");
    assert_eq!(all["contradictions"], seen["contradictions"]);
    let kinds: Vec<&str> =
        all["contradictions"].as_array().unwrap().iter().map(|c| c["kind"].as_str().unwrap()).collect();
    assert_eq!(kinds, ["two_rounds", "ended_twice", "one_tag", "one_spot", "one_strain"]);
    assert_eq!(all["contradictions"][1]["words"], json!(["lost", "spent"]));
}

#[test]
fn work_on_a_log_that_another_took_out_or_ended_is_listed() {
    let (a, b, log, shared) = pair();
    let other = a.log("38", json!({}));
    merge(&a, shared.path());
    merge(&b, shared.path());
    let last = a.call("act_list", json!({"limit": 1}))["acts"][0]["act"].clone();
    a.act("undo", json!({"act": last}));
    a.act("log_end", json!({"log": log, "why": "spent", "day": null, "note": "", "draft": null}));
    b.now("2026-10-05T12:00:00+02:00");
    picking(&b, &other, 100);
    picking(&b, &log, 90);
    merge(&a, shared.path());
    merge(&b, shared.path());
    let all = b.call("contradictions_show", json!({}));
    let told: Vec<_> =
        all["contradictions"].as_array().unwrap().iter().map(|c| (&c["kind"], &c["name"])).collect();
    assert_eq!(told, [(&json!("after_ending"), &json!("37")), (&json!("removed_and_used"), &json!("38"))]);
}

#[test]
fn a_value_that_lost_is_kept_and_shown() {
    let (a, b, log, shared) = pair();
    let edit = |yard: &Yard, note: &str, spot: &str| {
        let fields = fields("37", json!({"spot": spot, "note": note}));
        yard.act("log_edit", json!({"log": log, "fields": fields, "draft": null}));
    };
    edit(&a, "bark loose", "by the wall");
    b.now("2026-10-03T19:00:00+02:00");
    edit(&b, "bark firm", "under the oaks");
    merge(&a, shared.path());
    merge(&b, shared.path());
    let fields = b.call("losers_show", json!({"log": log}))["fields"].clone();
    let told: Vec<_> = fields
        .as_array()
        .unwrap()
        .iter()
        .map(|f| (&f["name"], &f["stands"]["value"], &f["others"][0]["value"]))
        .collect();
    assert_eq!(told, [(&json!("note"), &json!("bark firm"), &json!("bark loose"))]);
    let page = b.call("log_show", json!({"log": log}));
    assert_eq!(page["row"]["spot"], "under the oaks");
    let places: Vec<_> = page["entries"].as_array().unwrap().iter().map(|e| &e["what"]["spot"]).collect();
    assert_eq!(places, ["under the oaks", "by the wall"], "neither place is lost: each is in the record");
}

#[test]
fn two_people_split_a_round_by_spots_and_the_halves_join() {
    let (a, b, first, shared) = pair();
    let second = a.log("38", json!({"spot": "by the gate"}));
    merge(&a, shared.path());
    merge(&b, shared.path());
    let spots = a.call("spot_list", json!({}))["spots"].clone();
    let half = |yard: &Yard, n: usize| {
        text(&yard.act("round_start", json!({"spots": [spots[n]["id"]]}))["said"]["round"])
    };
    let check = |yard: &Yard, round: &str, log: &str, slugs: i64, damage: &str| {
        yard.act(
            "round_check",
            json!({"round": round, "log": log, "how": "seen", "slugs": slugs, "damage": damage}),
        );
    };
    let (mine, theirs) = (half(&a, 0), half(&b, 1));
    check(&a, &mine, &first, 3, "none");
    check(&b, &theirs, &second, 2, "some");
    a.act("round_end", json!({"round": mine}));
    b.act("round_end", json!({"round": theirs}));
    for yard in [&a, &b, &a] {
        merge(yard, shared.path());
    }
    for (yard, round) in [(&a, &mine), (&b, &theirs), (&a, &theirs)] {
        let view = yard.call("round_show", json!({"round": round}));
        let sums = ["halves", "logs", "done", "left", "slugs", "damaged"]
            .map(|k| view["round"][k].as_i64().unwrap());
        assert_eq!(sums, [1, 2, 2, 0, 5, 1], "{view}");
    }
    assert_eq!(
        a.call("contradictions_show", json!({}))["contradictions"],
        json!([]),
        "two halves do not contradict"
    );
}

#[test]
fn of_two_rounds_over_the_whole_yard_only_what_neither_reached_is_left() {
    let (a, b, first, shared) = pair();
    let second = a.log("38", json!({"spot": "by the gate"}));
    a.log("39", json!({"spot": "by the gate"}));
    merge(&a, shared.path());
    merge(&b, shared.path());
    let whole = |yard: &Yard, log: &str| {
        let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
        yard.act(
            "round_check",
            json!({"round": round, "log": log, "how": "seen", "slugs": 1, "damage": "none"}),
        );
        yard.act("round_end", json!({"round": round}));
        round
    };
    let (mine, _) = (whole(&a, &first), whole(&b, &second));
    for yard in [&a, &b, &a] {
        merge(yard, shared.path());
    }
    let view = a.call("round_show", json!({"round": mine}));
    let sums = ["logs", "done", "left"].map(|k| view["round"][k].as_i64().unwrap());
    assert_eq!(sums, [3, 2, 1], "{view}");
}

#[test]
fn one_round_open_on_two_devices_keeps_both_counts_of_a_log() {
    let (a, b, log, shared) = pair();
    let round = text(&a.act("round_start", json!({}))["said"]["round"]);
    merge(&a, shared.path());
    merge(&b, shared.path());
    for (yard, slugs) in [(&a, 3), (&b, 4)] {
        yard.act(
            "round_check",
            json!({"round": round, "log": log, "how": "seen", "slugs": slugs, "damage": "none"}),
        );
    }
    for yard in [&a, &b, &a] {
        merge(yard, shared.path());
    }
    let sums = |yard: &Yard| yard.call("round_show", json!({"round": round}))["round"].clone();
    assert_eq!(sums(&a)["slugs"], 7, "two people took off seven");
    assert_eq!(sums(&a), sums(&b));
    a.act("round_check", json!({"round": round, "log": log, "how": "seen", "slugs": 5, "damage": "none"}));
    assert_eq!(sums(&a)["slugs"], 5, "who then counts again replaces both");
}

#[test]
fn a_basket_that_both_weighed_is_asked_about_and_not_summed() {
    let (a, b, log, shared) = pair();
    let round = text(&a.act("round_start", json!({"kind": "picking"}))["said"]["round"]);
    a.act(
        "pick_take",
        json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": true, "caps": 4,
        "damaged_pct": null, "by": null, "quality": null, "photos": []}),
    );
    merge(&a, shared.path());
    merge(&b, shared.path());
    let basket = text(&a.call("rounds_show", json!({}))["baskets"][0]["id"]);
    for (yard, grams) in [(&a, 300), (&b, 310)] {
        yard.act("basket_weigh", json!({"basket": basket, "grams": grams, "each": []}));
    }
    for yard in [&a, &b, &a] {
        merge(yard, shared.path());
    }
    let asked_about = a.call("rounds_show", json!({}))["baskets"].clone();
    let twice = asked_about[0]["twice"].as_array().unwrap();
    let weights: Vec<i64> = twice.iter().map(|w| w["grams"].as_i64().unwrap()).collect();
    assert_eq!(weights, [300, 310], "one or two? {asked_about}");
    a.act("basket_answer", json!({"basket": basket, "keep": twice[0]["act"]}));
    assert_eq!(a.call("log_show", json!({"log": log}))["row"]["grams"], 300);
    assert_eq!(a.call("rounds_show", json!({}))["baskets"], json!([]));
    a.act("undo", json!({}));
    a.act("basket_answer", json!({"basket": basket, "keep": null}));
    assert_eq!(a.call("log_show", json!({"log": log}))["row"]["grams"], 610);
    assert_eq!(
        a.call("twins_show", json!({}))["twins"],
        json!([]),
        "answered for the whole basket, not once a log"
    );
}
