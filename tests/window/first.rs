//! The first start, and the first log.
//!
//! Never here: the fields one by one (those are tested without a window). Invariant: an empty yard says what
//! to do first.

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::yards::{EVENING, Yard};

#[test]
fn an_empty_yard_asks_for_a_log_and_a_tag_and_a_mushroom_are_enough() {
    let yard = Yard::empty();
    let mut window = Window::open("first_log", yard.folder(), EVENING);
    window.wait_words("An empty yard");
    window.picture("1-empty");
    axe(&window, "an empty yard");
    window.press("Add your first log");
    window.fill("#tag", "37");
    window.click(".chip[data-value=shiitake]");
    window.picture("2-form");
    window.click("#save");
    window.wait_screen("Log 37");
    window.wait_words("Log 37 added.");
    window.picture("3-log");
    let list = window.ask("yard_list", json!({"search": ""}));
    assert_eq!(list["total"], 1, "{list}");
    let row = &list["logs"][0];
    assert_eq!((&row["tag"], &row["mushroom"]), (&json!("37"), &json!("shiitake")));
    assert_eq!(
        (&row["wood"], &row["spot"], &row["d_mm"]),
        (&json!(null), &json!(null), &json!([])),
        "nothing is guessed"
    );
    window.pull_the_battery();
    window.open_log("37");
    window.wait_words("Nothing recorded yet.");
}

#[test]
fn a_double_tap_on_save_adds_one_log() {
    let yard = Yard::empty();
    let window = Window::open("double_tap", yard.folder(), EVENING);
    window.press("Add your first log");
    window.fill("#tag", "8");
    window.click(".chip[data-value=erinaceus]");
    window.script("const save = document.querySelector('#save'); save.click(); save.click(); save.form.requestSubmit();", vec![]);
    window.wait_screen("Log 8");
    assert_eq!(window.ask("yard_list", json!({"search": ""}))["total"], 1);
}

#[test]
fn a_second_log_with_the_same_tag_is_kept_and_minded() {
    let yard = Yard::of_seven();
    let window = Window::open("same_tag", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#add-log");
    window.fill("#tag", "4");
    window.click(".chip[data-value=shiitake]");
    window.click("#save");
    window.wait_words("another log carries the tag 4 too");
    assert_eq!(window.ask("yard_list", json!({"search": ""}))["total"], 8);
}

#[test]
fn the_phones_way_back_leads_through_the_screens_one_came_by() {
    let yard = Yard::of_seven();
    let window = Window::open("way_back", yard.folder(), EVENING);
    window.open_log("6");
    window.click("#look");
    window.wait_screen("Look at log 6");
    window.back();
    window.wait_screen("Log 6");
    window.back();
    window.wait_screen("Yard");
    assert_eq!(window.value("#search"), "6", "the search is as it was left");
    window.back();
    window.wait_screen("Chores");
}
