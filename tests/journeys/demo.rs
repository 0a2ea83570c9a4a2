//! The invented yard: it holds what it promises, twice the same, and Review finds what is true in it.
//! Never a figure of the trade: `demo-data/TRUTH.md` says what the figures lean on.
//! Invariant: the yard is only looked at through the commands, as the screens do.

use super::{Yard, text};
use crate::window::children::app;
use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;
use std::sync::OnceLock;
use tempfile::TempDir;

const UNTIL: &str = "2026-11-25";

/// A built yard, opened at noon of the day its records stop before.
struct Built {
    book: Book,
    _folder: TempDir,
}

impl Built {
    fn until(day: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        // By a program of its own: one program's ids only grow, so a yard built beside one that ends later would
        // bear that one's times in its ids, and Review reads there when a log was entered.
        let built =
            Command::new(app().with_file_name("demo")).arg(folder.path()).args(["--until", day]).output();
        let built = built.expect("the demo's program runs");
        assert!(built.status.success(), "{day}: {}", String::from_utf8_lossy(&built.stderr));
        let clock = Clock::fixed(&format!("{day}T12:00:00+01:00")).expect("an instant");
        let book = commands::open(folder.path(), clock).expect("the built yard opens");
        Self { book, _folder: folder }
    }

    /// The usual one, built once for all tests that only look.
    fn usual() -> &'static Self {
        static USUAL: OnceLock<Built> = OnceLock::new();
        USUAL.get_or_init(|| Self::until(UNTIL))
    }

    fn call(&self, name: &str, request: Value) -> Value {
        commands::dispatch(&self.book, name, request, None)
            .unwrap_or_else(|e| panic!("{name}: {}", e.reply()))
    }

    fn logs(&self) -> Vec<Value> {
        list(&self.call("yard_list", json!({"search": ""}))["logs"])
    }

    /// Every log's page.
    fn pages(&self) -> Vec<Value> {
        self.logs().iter().map(|log| self.call("log_show", json!({"log": log["id"]}))).collect()
    }

    fn entries(&self) -> Vec<Value> {
        self.pages().iter().flat_map(|page| list(&page["entries"])).collect()
    }
}

fn list(value: &Value) -> Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("not a list: {value}")).clone()
}

fn words(rows: &[Value], field: &str) -> BTreeSet<String> {
    rows.iter().filter_map(|row| row[field].as_str()).map(str::to_owned).collect()
}

fn how_many(rows: &[Value], which: impl Fn(&Value) -> bool) -> usize {
    rows.iter().filter(|row| which(row)).count()
}

fn set(words: &[&str]) -> BTreeSet<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

#[test]
fn the_yard_has_all_kinds_of_logs() {
    let logs = Built::usual().logs();
    assert_eq!(logs.len(), 66);
    let woods = ["beech", "black-cherry", "red-maple", "red-oak", "sugar-maple", "white-oak"];
    assert_eq!(words(&logs, "wood"), set(&woods));
    assert!(logs.iter().any(|log| log["wood"].is_null()), "a wood nobody knows");
    assert_eq!(words(&logs, "mushroom"), set(&["erinaceus", "shiitake"]));
    assert_eq!(words(&logs, "strain_class"), set(&["cold", "warm", "wide"]));
    assert!(
        logs.iter().any(|log| log["strain"].is_null() && !log["laid"].is_null()),
        "a strain nobody knows"
    );
    assert_eq!(words(&logs, "method"), set(&["drilled", "totem"]));
    assert_eq!(words(&logs, "spot").len(), 5);
    assert!(words(&logs, "laid").contains("XXXX"), "nobody knows when");
    assert!(words(&logs, "laid").iter().any(|laid| laid == "2022"), "known to the year");
    assert!(words(&logs, "laid").iter().any(|laid| laid == "2022-21"), "known to the season");
    assert_eq!(how_many(&logs, |log| log["tag"] == "14"), 2, "one tag used twice");
    assert!(how_many(&logs, |log| log["length_mm"].is_null()) >= 3, "sizes nobody measured");
    let pages = Built::usual().pages();
    let fields: Vec<Value> = pages.iter().map(|page| page["fields"].clone()).collect();
    assert_eq!(words(&fields, "spawn"), set(&["plug", "sawdust"]));
}

#[test]
fn logs_stand_in_every_state_that_a_yard_has() {
    let logs = Built::usual().logs();
    let in_state = |state: &str| how_many(&logs, |log| log["state"] == state);
    assert_eq!(in_state("waiting"), 4);
    assert_eq!((in_state("spent"), in_state("lost"), in_state("discarded")), (5, 1, 2));
    assert!(in_state("spawn_run") >= 1, "too young to fruit");
    assert!(in_state("pins") + in_state("fruiting") >= 3, "something to see today");
    let barren = |log: &Value| log["pickings"] == 0 && !log["laid"].is_null() && log["last_seen"] != "pin";
    assert!(how_many(&logs, barren) >= 5, "not yet fruited");
    let chores = Built::usual().call("chores_show", json!({}));
    assert!(list(&chores["caps_out"]).len() >= 3);
    assert_eq!(chores["round"], Value::Null, "no round is left open");
    assert_eq!(chores["tonight"]["place"], "Nowhere Hollow");
}

#[test]
fn four_seasons_of_entries_end_the_day_before() {
    let entries = Built::usual().entries();
    assert!(entries.len() >= 1500, "{}", entries.len());
    let days = words(&entries, "day");
    assert!(days.iter().all(|day| day.as_str() < UNTIL), "nothing on the day itself or later");
    let years: BTreeSet<&str> = days.iter().map(|day| &day[..4]).collect();
    assert_eq!(years, BTreeSet::from(["2023", "2024", "2025", "2026"]));
    let kind = |entry: &Value| text(&entry["what"]["kind"]);
    let kinds: BTreeSet<String> = entries.iter().map(kind).collect();
    assert_eq!(
        kinds,
        set(&[
            "check",
            "condition",
            "ending",
            "look",
            "move",
            "picking",
            "sighting",
            "soak",
            "tending",
            "watering",
            "weighing"
        ])
    );
    let what: Vec<Value> = entries.iter().map(|entry| entry["what"].clone()).collect();
    let shiitake = ["nothing", "pin", "button", "cupped", "opening", "flat", "upturned"];
    let hericium = ["knob", "short_spines", "long_spines", "yellowing"];
    assert_eq!(words(&what, "seen"), set(&[&shiitake[..], &hericium[..]].concat()));
    assert_eq!(words(&what, "damage"), set(&["none", "some", "much"]));
    assert!(how_many(&what, |w| w["slugs"].as_i64() > Some(0)) >= 100, "slugs on the rounds");
    let picked: Vec<Value> = what.into_iter().filter(|w| w["kind"] == "picking").collect();
    let unweighed = how_many(&picked, |p| p["grams"].is_null());
    assert!(picked.len() >= 200 && unweighed >= 10 && unweighed * 4 < picked.len(), "some weights missing");
}

#[test]
fn picking_rounds_with_baskets_were_walked_and_findings_say_more() {
    let rounds = Built::usual().call("rounds_show", json!({}));
    assert_eq!(rounds["baskets"], json!([]), "each basket was weighed");
    let walked = list(&rounds["rounds"]);
    assert!(
        walked.iter().any(|round| round["kind"] == "picking" && round["done"].as_i64() >= Some(3)),
        "{walked:?}"
    );
    let costs = Built::usual().call("costs_show", json!({}));
    assert!(list(&costs["by_control"]).iter().any(|group| group["key"] == "iron_phosphate"), "{costs}");
    assert!(costs["forecasts"]["n"].as_i64() > Some(20), "forecasts came due: {}", costs["forecasts"]);
    assert!(words(&list(&costs["sightings"]), "what").contains("trichoderma"));
}

#[test]
fn slips_were_taken_back() {
    // The list goes no further back than a thousand acts.
    let acts = list(&Built::usual().call("act_list", json!({"limit": 1000}))["acts"]);
    let undone: Vec<&Value> = acts.iter().filter(|act| act["undone"] == true).collect();
    assert!(!undone.is_empty());
    assert!(undone.iter().all(|act| act["name"] == "picking_add"), "{undone:?}");
}

#[test]
fn the_pictures_are_thirty_or_more_different_drawings() {
    let photos: Vec<Value> =
        Built::usual().entries().iter().flat_map(|entry| list(&entry["photos"])).collect();
    let hashes = words(&photos, "hash");
    assert!((30..=50).contains(&hashes.len()), "{}", hashes.len());
    assert_eq!(hashes.len(), photos.len(), "no drawing is shown twice");
    for photo in &photos {
        assert_eq!(
            (&photo["here"], &photo["width"], &photo["height"]),
            (&json!(true), &json!(1200), &json!(900))
        );
        assert!(photo["taken"].is_string(), "it says when: {photo}");
    }
}

#[test]
fn two_builds_are_the_same_yard() {
    let again = Built::until(UNTIL);
    let (one, two) = (everything(Built::usual()), everything(&again));
    assert_eq!(one.len(), two.len());
    let lines = |view: &Value| serde_json::to_string_pretty(view).expect("a view is JSON");
    for (a, b) in one.iter().zip(&two) {
        let (a, b) = (lines(a), lines(b));
        let apart = a.lines().zip(b.lines()).find(|(a, b)| a != b);
        assert!(a == b, "{apart:?} in {}", a.chars().take(200).collect::<String>());
    }
}

/// Every view of the yard; ids are replaced by the order in which they first turn up.
fn everything(yard: &Built) -> Vec<Value> {
    let mut views = vec![yard.call("yard_list", json!({"search": ""}))];
    views.extend(yard.pages());
    let rounds: BTreeSet<String> =
        yard.entries().iter().filter_map(|e| e["what"]["round"].as_str()).map(str::to_owned).collect();
    assert!(rounds.len() >= 20, "rounds were walked");
    views.extend(rounds.iter().map(|round| yard.call("round_show", json!({"round": round}))));
    for (name, request) in [
        ("chores_show", json!({})),
        ("spot_list", json!({})),
        ("log_form", json!({"log": null})),
        ("review_ask", json!({"question": {"by": "wood", "measure": "log_year"}})),
        ("act_list", json!({"limit": 1000})),
        ("settings_show", json!({})),
    ] {
        views.push(yard.call(name, request));
    }
    let mut seen = BTreeMap::new();
    views.into_iter().map(|view| without_ids(view, &mut seen)).collect()
}

fn without_ids(view: Value, seen: &mut BTreeMap<String, usize>) -> Value {
    match view {
        // An act is named by its device and a number.
        Value::String(text) if text.get(..36).is_some_and(is_id) => {
            let (id, rest) = text.split_at(36);
            let next = seen.len();
            json!(format!("id {}{rest}", seen.entry(id.to_owned()).or_insert(next)))
        }
        Value::Array(all) => all.into_iter().map(|one| without_ids(one, seen)).collect(),
        Value::Object(all) => all
            .into_iter()
            // How SQLite lays out its pages is no record; a device is named by the start of its id.
            .filter(|(name, _)| name != "register_bytes" && name != "device")
            // A log's edge is drawn from its id.
            .filter(|(name, _)| name != "shapes")
            .map(|(name, one)| (name, without_ids(one, seen)))
            .collect(),
        other => other,
    }
}

fn is_id(text: &str) -> bool {
    text.len() == 36 && text.bytes().enumerate().all(|(n, b)| (b == b'-') == [8, 13, 18, 23].contains(&n))
}

#[test]
fn the_yard_can_end_on_any_day_of_the_year() {
    let day = "2024-02-29";
    let yard = Built::until(day);
    assert_eq!(yard.logs().len(), 66);
    let out = list(&yard.call("chores_show", json!({}))["caps_out"]);
    assert!(out.len() >= 3, "something to see in winter");
    let days = words(&yard.entries(), "day");
    assert_eq!(days.first().map(|first| &first[..4]), Some("2020"), "four seasons before a spring");
    assert!(days.iter().all(|entered| entered.as_str() < day));
}

#[test]
fn review_orders_the_woods_as_they_truly_are_where_it_can_tell() {
    let mut told = 0;
    for mushroom in ["shiitake", "erinaceus"] {
        let question = json!({"by": "wood", "measure": "log_year", "mushroom": mushroom});
        let review = Built::usual().call("review_ask", json!({"question": question}));
        let rows: Vec<Value> = list(&review["rows"]).into_iter().filter(|row| row["tell"] == true).collect();
        for (n, better) in rows.iter().enumerate() {
            for worse in rows.iter().skip(n + 1) {
                if better["low"].as_f64() > worse["high"].as_f64() {
                    told += 1;
                    let (a, b) = (text(&better["key"]), text(&worse["key"]));
                    assert!(true_life(&a, mushroom) > true_life(&b, mushroom), "{mushroom}: {a} over {b}");
                }
            }
        }
    }
    assert!(told >= 3, "{told} pairs of woods lie apart");
}

#[test]
fn the_truly_best_wood_is_in_front_or_named_beside_it() {
    for (mushroom, best) in [("shiitake", "sugar-maple"), ("erinaceus", "beech")] {
        let richest = shadeyard_demo::woods().expect("the true woods").into_iter();
        let richest =
            richest.filter(|wood| wood.mushroom == mushroom).max_by(|a, b| a.life_g.total_cmp(&b.life_g));
        assert_eq!(richest.expect("a wood").wood, best);
        let question = json!({"by": "wood", "measure": "log_year", "mushroom": mushroom});
        let answer = &Built::usual().call("review_ask", json!({"question": question}))["answer"];
        let close = list(&answer["close"]).contains(&json!(best.replace('-', " ")));
        assert!(answer["key"] == best || close, "{mushroom}: {answer}");
    }
}

/// The share of what grew that was picked: the notes lose about one flush in ten.
const PICKED: f64 = 0.9;

/// Woods whose logs the notes let bear for three years, not four: Review takes all woods to age alike, so it thinks
/// more is to come of them and sets their whole life too high. That is open, and held to no more than twice.
const SOON_SPENT: [&str; 2] = ["red-maple", "black-cherry"];

#[test]
fn reviews_intervals_hold_what_the_notes_say_is_true() {
    let (mut held, mut all) = (0, 0);
    for mushroom in ["shiitake", "erinaceus"] {
        let question = json!({"by": "wood", "measure": "life", "mushroom": mushroom});
        let review = Built::usual().call("review_ask", json!({"question": question}));
        // The notes speak of logs of 14 litres, and yield goes with litres to the power 0.7.
        let size = (review["litres"].as_f64().expect("litres") / 14.0).powf(0.7);
        for row in list(&review["rows"]).iter().filter(|row| row["tell"] == true) {
            let truth = true_life(&text(&row["key"]), mushroom) * size * PICKED;
            let [low, mean, high] = ["low", "mean", "high"].map(|end| row[end].as_f64().expect("an end"));
            println!("{mushroom} {}: {mean:.0} ({low:.0}–{high:.0}), true {truth:.0}", row["key"]);
            if SOON_SPENT.contains(&row["key"].as_str().unwrap_or_default()) {
                assert!(mean < 2.0 * truth && low < high, "{mushroom} {}: far too high", row["key"]);
                continue;
            }
            all += 1;
            held += i32::from(low <= truth && truth <= high);
        }
    }
    assert!(all == 5 && held == 5, "{held} of {all}");
}

#[test]
fn reviews_order_is_the_true_one_and_the_notes_give_its_figures() {
    let notes = include_str!("../../demo-data/TRUTH.md").split_whitespace().collect::<Vec<_>>().join(" ");
    let question = json!({"by": "wood", "measure": "log_year", "mushroom": "shiitake"});
    let review = Built::usual().call("review_ask", json!({"question": question}));
    let told: Vec<Value> = list(&review["rows"]).into_iter().filter(|row| row["tell"] == true).collect();
    let lives: Vec<f64> = told.iter().map(|row| true_life(&text(&row["key"]), "shiitake")).collect();
    assert!(lives.len() == 5 && lives.windows(2).all(|w| w[0] > w[1]), "best first: {lives:?}");
    for row in &told {
        let [mean, low, high] = ["mean", "low", "high"].map(|end| row[end].as_f64().expect("an end"));
        let said = format!("{} {mean:.0} ({low:.0}–{high:.0})", text(&row["name"]));
        assert!(notes.contains(&said), "the notes are to say: {said}");
    }
    let sure = format!("{:.0} % sure", review["answer"]["chance"].as_f64().expect("a chance") * 100.0);
    assert!(notes.contains(&sure), "the notes are to say: {sure}");
}

fn true_life(wood: &str, mushroom: &str) -> f64 {
    let woods = shadeyard_demo::woods().expect("the true woods");
    woods.iter().find(|w| w.wood == wood && w.mushroom == mushroom).expect("a wood with a truth").life_g
}

#[test]
fn the_truth_notes_say_what_the_yard_was_built_with() {
    let notes = include_str!("../../demo-data/TRUTH.md");
    for wood in shadeyard_demo::woods().expect("the true woods") {
        let line = format!("| {} | {} | {} | {} |", wood.wood, wood.mushroom, wood.life_g, wood.shares);
        assert!(notes.contains(&line), "{line}");
    }
}

#[test]
fn a_drawing_is_the_same_for_its_seed_and_another_for_each_stage() {
    let stages = ["nothing", "pin", "button", "cupped", "opening", "flat", "upturned", "knob", "long_spines"];
    let drawn: BTreeSet<Vec<u8>> = stages.iter().map(|stage| shadeyard_demo::drawn_photo(stage, 1)).collect();
    assert_eq!(drawn.len(), stages.len());
    assert!(drawn.contains(&shadeyard_demo::drawn_photo("cupped", 1)), "the same again");
    assert!(!drawn.contains(&shadeyard_demo::drawn_photo("cupped", 2)), "another log");
}

#[test]
fn a_drawing_says_that_it_is_drawn() {
    let picture =
        image::load_from_memory(&shadeyard_demo::drawn_photo("flat", 3)).expect("a JPEG").to_luma8();
    assert_eq!(picture.dimensions(), (1200, 900));
    // The plate in the lower left corner: dark ground, and pale dots of the letters on it.
    let plate = |x: u32, y: u32| picture.get_pixel(36 + x, 824 + y).0[0];
    let all: Vec<u8> = (0..36).flat_map(|y| (0..430).map(move |x| plate(x, y))).collect();
    let pale = all.iter().filter(|dot| **dot > 150).count();
    let dark = all.iter().filter(|dot| **dot < 80).count();
    assert!(pale > all.len() / 10 && dark > all.len() / 2, "{pale} pale and {dark} dark of {}", all.len());
}

#[test]
fn a_drawing_can_carry_the_time_and_the_turn_of_a_camera() {
    let drawn = shadeyard_demo::drawn_photo("pin", 4);
    let turned = shadeyard_demo::with_exif(&drawn, "2026:10:03 17:45:00", 6);
    let yard = Yard::new();
    let plain = yard.keep_photo(drawn).expect("a drawing is kept");
    let kept = yard.keep_photo(turned).expect("a turned drawing is kept");
    assert_eq!(plain["taken"], Value::Null);
    assert!(text(&kept["taken"]).starts_with("2026-10-03T17:45:00"), "{kept}");
    assert_ne!(plain["hash"], kept["hash"]);
}
