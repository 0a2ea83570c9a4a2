//! A log's life in the window: wood that waits, woods and strains of one's own, a log that leaves with its slip
//! and comes back, and what is to be expected; on the demo yard and on an empty one.
//!
//! Never here: the figures themselves. Invariant: each screen is reached by tapping from the yard.

use chrono::NaiveDate;
use serde_json::json;

use super::driver::Window;
use super::yards::Yard;

const EVENING: &str = "2026-11-25T17:30:00+01:00";

fn demo() -> Yard {
    let yard = Yard::empty();
    let until = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day");
    shadeyard_demo::build(yard.folder(), until).expect("the demo yard is laid");
    yard
}

fn yard_to(window: &Window, link: &str, heading: &str) {
    window.script("location.hash = '#/yard'", vec![]);
    window.wait_screen("Yard");
    window.click(link);
    window.wait_screen(heading);
}

#[test]
fn an_empty_yard_says_what_each_list_is_for_and_takes_the_first_of_each() {
    let yard = Yard::empty();
    let window = Window::open("life_empty", yard.folder(), EVENING);
    yard_to(&window, "#wood-waiting", "Wood waiting");
    window.wait_words("No wood waits to be laid.");
    window.picture("1-no-wood");
    window.click("#add-batch");
    window.wait_screen("Add wood to be laid");
    window.fill("#name", "pine by the lane");
    window.choose("#wood", "pine");
    window.fill("#felled-day", "20");
    window.choose("#felled-month", "11");
    window.fill("#felled-year", "2026");
    window.click("#save");
    window.wait_words("Pine is a conifer: neither shiitake nor Hericium lives on it.");
    window.picture("2-conifer");
    window.choose("#wood", "white-oak");
    window.fill("#disc_wet_g", "269");
    window.fill("#disc_dry_g", "480");
    window.click("#save");
    window.wait_words("The disc weighs as much dry as wet, or more.");
    window.fill("#disc_wet_g", "480");
    window.fill("#disc_dry_g", "269");
    window.fill("#name", "oak by the lane");
    window.click("#save");
    window.wait_screen("Wood waiting");
    window.wait_words("25 days left");
    window.wait_words("44 % water");
    window.picture("3-waiting");
    window.press("Add a log of it");
    window.wait_screen("Add a log");
    assert_eq!(window.value("#wood"), "white-oak", "the batch says what its wood is");
    window.click("#back");
    window.script("location.hash = '#/chores'", vec![]);
    window.wait_words("Lay the wood of “oak by the lane”");
    window.picture("3-due");
    window.script("location.hash = '#/wood-waiting'", vec![]);
    window.press("Add many of it");
    window.wait_screen("Add many logs");
    assert_eq!(window.value("#wood"), "white-oak");
    window.fill("#n", "3");
    window.choose("#spawn", "plug");
    window.click("[data-field=mushroom] [data-value=shiitake]");
    window.click("#save");
    window.wait_words("3 logs added, 1 to 3.");
    let waiting = window.ask("wood_waiting", json!({}))["waiting"].clone();
    assert_eq!(waiting.as_array().map(Vec::len), Some(1));
    assert_eq!(
        (&waiting[0]["name"], waiting[0]["logs"].as_array().map(Vec::len)),
        (&json!("oak by the lane"), Some(3))
    );
    yard_to(&window, "#woods", "Woods");
    window.click("#add-wood");
    window.fill("#name", "plum");
    window.click("#save");
    window.wait_screen("Woods");
    window.fill("#search", "plum");
    window.wait_words("1 wood of");
    window.picture("4-own-wood");
    yard_to(&window, "#strains", "Mushrooms and strains");
    window.wait_words("4 to 21 °C");
    window.picture("5-strains");
    window.click("#add-strain");
    window.fill("#name", "Stone Step");
    window.click("[data-field=mushroom] [data-value=shiitake]");
    window.click("[data-field=class] [data-value=cold]");
    window.fill("#from_dc", "5");
    window.fill("#to_dc", "17,5");
    window.click("#save");
    window.wait_words("5 to 17.5 °C, your own word");
    window.click("#add-lot");
    window.fill("#name", "spring bag");
    window.choose("#received-kind", "day");
    window.click("#save");
    window.wait_words("Write the year with four digits");
    window.choose("#received-kind", "unknown");
    window.click("#save");
    window.wait_words("Spawn lot spring bag added.");
}

#[test]
fn a_log_leaves_with_its_slip_and_comes_back() {
    let yard = demo();
    let window = Window::open("life_leaving", yard.folder(), EVENING);
    window.open_log("18");
    window.wait_words("What to expect");
    window.picture("1-log");
    window.click("#end");
    window.wait_screen("End log 18");
    window.click("[data-field=why] [data-value=lent]");
    window.wait_words("Its care slip comes next");
    window.picture("2-lent");
    window.click("#save");
    window.wait_screen("Care slip");
    window.wait_words("What it needs");
    window.picture("3-slip");
    let down = window.script("const real = URL.createObjectURL; window.handed = []; \
        URL.createObjectURL = (blob) => { window.handed.push([blob.type, blob.size]); return real.call(URL, blob); }; return true", vec![]);
    assert_eq!(down, json!(true));
    window.click("#print");
    window.wait_until("a PDF of some kilobytes", "return window.handed?.[0]?.[1] > 1000");
    window.click("#back");
    window.open_log("18");
    window.wait_words("It is lent.");
    window.click("#unend");
    window.wait_words("Log 18 is in the yard again");
    window.wait_for("#end");
    window.open_log("62");
    window.wait_words("Given away");
    window.picture("4-given");
}

#[test]
fn the_demo_yard_shows_its_wood_strains_and_what_to_expect() {
    let yard = demo();
    let window = Window::open("life_demo", yard.folder(), EVENING);
    yard_to(&window, "#wood-waiting", "Wood waiting");
    window.wait_words("Oak by the gate");
    window.picture("1-waiting");
    yard_to(&window, "#strains", "Mushrooms and strains");
    window.wait_words("Two Ladders, swapped");
    window.wait_words("strain doubtful");
    window.picture("2-strains");
    yard_to(&window, "#woods", "Woods");
    window.click("[data-wood=beech] summary");
    window.wait_words("Sources disagree widely on it.");
    window.picture("3-woods");
    window.open_log("59");
    window.wait_words("First fruit between");
    window.click("#first-fruit summary");
    window.wait_words("First fruits of your own");
    window.picture("4-first-fruit");
    window.open_log("34");
    window.wait_words("doubtful: left out of comparisons of strains");
    let row = window.ask("yard_list", json!({"search": "34"}))["logs"][0].clone();
    assert_eq!(row["doubtful"], true);
    let cold = window.ask("yard_list", json!({"search": "22"}))["logs"][0]["strain_class"].clone();
    assert_eq!(cold, "cold");
}

#[test]
fn a_cold_strain_fruiting_in_july_asks_whether_the_tag_is_right() {
    let yard = Yard::of_seven();
    yard.at("2026-07-01T12:00:00+02:00", |book| {
        let fields = json!({"tag": "9", "wood": "red-oak", "d_mm": [], "length_mm": null, "felled": null,
            "mushroom": "shiitake", "strain": "Stone Step", "strain_class": "cold", "spawn": null, "method": null,
            "laid": "2024-04-02", "spot": null, "note": ""});
        super::yards::ask(book, "log_add", json!({"fields": fields, "request": super::yards::request(), "draft": null}));
    });
    let window = Window::open("life_season", yard.folder(), "2026-07-15T18:00:00+02:00");
    window.open_log("9");
    window.click("#look");
    assert_eq!(window.count("#tag-right"), 0, "nothing seen yet");
    window.click(".chip[data-value=pin]");
    window.wait_words("Cold strains fruit in the cool months");
    window.wait_words("Is it log 9?");
    window.picture("1-asked");
    window.press("Yes, it is log 9: save");
    window.wait_screen("Log 9");
    window.click("#pick");
    window.wait_screen("Picking of log 9");
    assert_eq!(window.count("#tag-right"), 0, "it was answered");
}
