//! A walk through the demo yard as a grower does it on one evening; what `cargo xtask run` shows where there
//! is no display.
//!
//! Never here: checks of single fields. Invariant: its pictures always lie in `target/pictures/walk`, numbered
//! in the order of the walk.

use chrono::NaiveDate;
use serde_json::json;

use super::driver::Window;
use super::night::{card, tag_on_card};
use super::yards::{Yard, photo};

/// The demo yard's last day, and its evening.
const UNTIL: (i32, u32, u32) = (2026, 10, 3);
const EVENING: &str = "2026-10-03T21:30:00+02:00";

#[test]
fn a_walk_through_the_demo_yard_leaves_its_pictures() {
    let yard = Yard::empty();
    let (year, month, day) = UNTIL;
    let until = NaiveDate::from_ymd_opt(year, month, day).expect("a day");
    shadeyard_demo::build(yard.folder(), until).expect("the demo yard is laid");
    let shots = tempfile::tempdir().expect("a folder for photos");
    let mut window = Window::open("walk", yard.folder(), EVENING);
    window.wait_screen("Chores");
    window.picture("01-chores");
    window.click("#tab-yard");
    window.wait_for(".log-line");
    window.picture("02-yard");
    photograph(&window, &photo(shots.path(), "pins.jpg", 30));
    tick_off(&mut window);
    review(&window);
}

/// Photographs a log whose caps are out.
fn photograph(window: &Window, shot: &std::path::Path) {
    let logs = window.ask("yard_list", json!({"search": ""}));
    let rows = logs["logs"].as_array().expect("logs");
    let fruits = |row: &&serde_json::Value| {
        row["state"] == "may_fruit" || row["state"] == "resting" || row["state"] == "pins"
    };
    let tag =
        rows.iter().find(fruits).expect("a log that may fruit")["tag"].as_str().expect("a tag").to_owned();
    window.open_log(&tag);
    window.picture("03-log");
    window.click("#look");
    window.give_file("#photo", shot);
    window.wait_for(".kept-photos img");
    window.script("document.querySelectorAll('.chips-stages .chip')[1].click()", vec![]);
    window.picture("04-look");
    window.click("#save");
    window.wait_screen(&format!("Log {tag}"));
    window.wait_words("looked at");
    window.picture("05-looked");
    window.click("#back");
    window.click("#tab-chores");
    window.wait_screen("Chores");
    window.picture("06-caps-out");
}

/// Walks the night round: the first cards by hand, one battery change, the rest as clean.
fn tick_off(window: &mut Window) {
    window.click("#night-round");
    let first = tag_on_card(window);
    window.click("#slugs-plus");
    window.click("#slugs-plus");
    window.click(".chips-damage .chip[data-value=some]");
    window.picture("07-night-round");
    window.click("#tick");
    window.wait_until(
        "the next card",
        &format!("return document.querySelector('#card-tag')?.lastChild.textContent.trim() !== {first:?}"),
    );
    let second = tag_on_card(window);
    window.pull_the_battery();
    window.click("#night-round");
    assert_eq!(tag_on_card(window), second, "the round goes on where it was");
    window.picture("08-gone-on");
    for _ in 0..200 {
        if window.count("#spot-clean") == 0 {
            break;
        }
        let place = window.text("#position");
        card(window, &tag_on_card(window), &place);
        window.click("#spot-clean");
        let gone = format!(
            "return !!document.querySelector('#end-round') || document.querySelector('#position')?.innerText !== {place:?}"
        );
        window.wait_until("the next spot", &gone);
    }
    window.click("#end-round");
    window.wait_for("#sum-slugs");
    window.picture("09-summary");
    assert_eq!(window.text("#sum-slugs"), "2");
    window.click("#round-done");
    window.wait_screen("Chores");
}

/// Reads which wood did best.
fn review(window: &Window) {
    window.click("#settings");
    window.click("[data-field=light] .chip[data-value=day]");
    window.click("#back");
    window.click("#tab-review");
    window.wait_for("#groups-table");
    window.picture("10-review");
    let page = window.page();
    assert!(
        page.contains("gave most for a log and year") || page.contains(" leads "),
        "the demo yard has enough logs to tell:\n{page}"
    );
}
