//! The night round: card by card, through a dead battery, to the summary.
//!
//! Never here: how red it is (that is Lamp's). Invariant: after a kill the round goes on at the very card, with
//! the very tally.

use std::time::Duration;

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::typed::kept;
use super::yards::{EVENING, Yard, ask, request};

/// Longer than the card ignores taps that were meant for the one before.
const SETTLED: Duration = Duration::from_millis(400);

#[test]
fn a_round_cut_off_by_a_dead_battery_goes_on_at_the_very_card_and_tally() {
    let yard = Yard::of_seven();
    let mut window = Window::open("night_round", yard.folder(), EVENING);
    window.picture("1-chores");
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    count(&window, 2);
    window.click(".chips-damage .chip[data-value=some]");
    window.picture("2-card");
    window.click("#tick");
    card(&window, "2", "2 of 7");
    count(&window, 3);
    window.click(".chips-damage .chip[data-value=much]");
    let round = window.script("return location.hash.split('/')[2]", vec![]);
    kept(&window, &format!("check:{}", round.as_str().unwrap_or_default()), "much");
    window.pull_the_battery();
    window.wait_words("Go on with the night round · 1 of 7");
    window.click("#night-round");
    card(&window, "2", "2 of 7");
    assert_eq!(window.value("#slugs"), "3");
    assert_eq!(window.script("return document.querySelector('[name=damage]:checked').value", vec![]), "much");
    window.picture("3-resumed");
    window.click("#tick");
    card(&window, "3", "3 of 7");
    window.click("#skip");
    card(&window, "4", "4 of 7");
    window.wait_words("Rest of Under the hemlocks is clean · 3");
    window.click("#spot-clean");
    card(&window, "7", "7 of 7");
    reach(&window, "1");
    card(&window, "1", "1 of 7");
    window.wait_words("Tonight: 2 slugs, some damage");
    reach(&window, "7");
    card(&window, "7", "7 of 7");
    window.fill("#slugs", "12");
    window.click("#tick");
    window.click("#end-round");
    window.wait_screen("Night round of 3 October 2026");
    window.picture("4-summary");
    axe(&window, "the summary of a round");
    assert_eq!(window.text("#sum-slugs"), "17", "2 and 3 and 12");
    assert_eq!(window.text("#sum-done"), "6 of 7", "the skipped log was not seen");
    let log = window.ask("yard_list", json!({"search": "5"}))["logs"][0]["id"].clone();
    let entries = window.ask("log_show", json!({"log": log}));
    assert_eq!(entries["entries"][0]["what"]["how"], "clean", "{entries}");
}

#[test]
fn a_tick_by_mistake_is_taken_back_with_its_tally() {
    let yard = Yard::of_seven();
    let window = Window::open("round_undo", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    count(&window, 4);
    window.click("#tick");
    card(&window, "2", "2 of 7");
    window.click("#undo");
    card(&window, "1", "1 of 7");
    assert_eq!(window.value("#slugs"), "4");
    window.click("#slugs-minus");
    window.click("#tick");
    card(&window, "2", "2 of 7");
    let round = window.script("return location.hash.split('/')[2]", vec![]);
    let shown = window.ask("round_show", json!({"round": round}));
    assert_eq!((&shown["round"]["slugs"], &shown["round"]["done"]), (&json!(3), &json!(1)), "{shown}");
}

#[test]
fn a_second_tap_meant_for_the_card_before_does_not_tick_the_next() {
    let yard = Yard::of_seven();
    let window = Window::open("ghost_tap", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    let taps = "const done = arguments[arguments.length - 1]; const tick = () => document.querySelector('#tick')?.click();
        tick(); tick(); const again = setInterval(tick, 25);
        setTimeout(() => { clearInterval(again); done(true); }, 200);";
    window.script_later(taps, vec![]);
    card(&window, "2", "2 of 7");
    let round = window.script("return location.hash.split('/')[2]", vec![]);
    assert_eq!(window.ask("round_show", json!({"round": round}))["round"]["done"], 1);
}

#[test]
fn a_round_after_midnight_belongs_to_the_evening_before() {
    let yard = Yard::of_seven();
    let window = Window::open("after_midnight", yard.folder(), "2026-10-04T00:40:00+02:00");
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    window.click("#tick");
    card(&window, "2", "2 of 7");
    window.click("#put-down");
    window.wait_screen("Chores");
    window.wait_words("Go on with the night round · 1 of 7");
    let log = window.ask("yard_list", json!({"search": "1"}))["logs"][0]["id"].clone();
    assert_eq!(window.ask("log_show", json!({"log": log}))["entries"][0]["day"], "2026-10-03");
}

#[test]
fn a_round_goes_by_keyboard_alone() {
    const ENTER: &str = "\u{e007}";
    let yard = Yard::of_seven();
    let window = Window::open("round_keys", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    window.keys("++");
    window.keys(ENTER);
    card(&window, "2", "2 of 7");
    window.keys("s");
    card(&window, "3", "3 of 7");
    window.keys("6");
    window.wait_for("[data-reach='6']");
    let round = window.script("return location.hash.split('/')[2]", vec![]);
    let shown = window.ask("round_show", json!({"round": round}));
    assert_eq!((&shown["round"]["slugs"], &shown["round"]["skipped"]), (&json!(2), &json!(1)), "{shown}");
}

#[test]
fn a_log_with_pins_comes_first_in_its_spot() {
    let yard = Yard::of_seven();
    let log = yard.log("3");
    yard.at(EVENING, |book| {
        ask(
            book,
            "look_add",
            json!({"log": log, "seen": "pin", "photos": [], "note": "", "request": request(), "draft": null}),
        );
    });
    let window = Window::open("risk_first", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "3", "1 of 7");
    window.wait_words("At risk: pins out");
}

/// Waits for the card of this log at this place, and until it takes taps.
pub fn card(window: &Window, tag: &str, place: &str) {
    let there = format!(
        "return document.querySelector('#card-tag')?.lastChild.textContent.trim() === {tag:?}
          && document.querySelector('#position').innerText === {place:?}
          && document.querySelector('#tick').getAttribute('aria-disabled') === 'false'"
    );
    window.wait_until(&format!("the card of log {tag}, {place}"), &there);
    std::thread::sleep(SETTLED);
}

/// The tag of the card on show, once it takes taps.
pub fn tag_on_card(window: &Window) -> String {
    window.wait_for("#card-tag");
    std::thread::sleep(SETTLED);
    let tag =
        window.script("return document.querySelector('#card-tag').lastChild.textContent.trim()", vec![]);
    tag.as_str().expect("a tag on the card").to_owned()
}

fn count(window: &Window, slugs: u32) {
    for _ in 0..slugs {
        window.click("#slugs-plus");
    }
    window.wait_until("the tally", &format!("return document.querySelector('#slugs').value === '{slugs}'"));
}

/// Goes to a log by the digits of its tag: two taps.
pub fn reach(window: &Window, tag: &str) {
    let first = tag.chars().next().expect("a tag");
    window.click(&format!("[data-digit='{first}']"));
    window.click(&format!("[data-reach='{tag}']"));
}
