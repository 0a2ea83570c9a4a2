//! The settings: what the place, the walking order and the check of the register change elsewhere.
//!
//! Never here: the sun's times themselves (held against published ones without a window). Invariant: what a
//! setting changes is seen on the screen it is for.

use serde_json::json;

use super::driver::Window;
use super::night::card;
use super::yards::{EVENING, Yard, ask, request};

#[test]
fn a_place_gives_tonight_its_time_and_a_wrong_one_is_refused_in_words() {
    let yard = Yard::of_seven();
    let window = Window::open("place", yard.folder(), EVENING);
    window.click("#set-place");
    window.fill("#lat", "ninety");
    window.click("#save");
    window.wait_words("“ninety” is not a latitude.");
    assert_eq!(window.value("#lat"), "ninety");
    window.fill("#lat", "48,1");
    window.fill("#lon", "11.6 E");
    window.click("#save");
    window.wait_words("Place and time of the night round kept.");
    window.click("#back");
    window.wait_for(".go-time");
    window.picture("1-tonight");
    let tonight = &window.ask("chores_show", json!({}))["tonight"];
    let go = tonight["go"].as_str().expect("a time to go");
    assert!(window.text(".go-time").contains(&go[11..16]), "the time on screen is the backend's: {go}");
}

#[test]
fn the_round_walks_the_spots_in_the_order_of_the_settings() {
    let yard = Yard::of_seven();
    let window = Window::open("walking_order", yard.folder(), EVENING);
    window.click("#settings");
    window.click("[data-spot='Under the hemlocks'] [data-move=up]");
    window.wait_words("Walking order of the spots changed.");
    window.picture("1-order");
    window.click("#back");
    window.click("#night-round");
    card(&window, "4", "1 of 7");
}

#[test]
fn a_check_of_the_register_says_that_it_is_sound() {
    let yard = Yard::of_seven();
    let window = Window::open("check", yard.folder(), EVENING);
    window.click("#settings");
    window.click("#care");
    window.wait_screen("Care");
    window.click("#check");
    window.wait_words("the register is sound");
    window.picture("1-sound");
}

/// The gap that parts flushes: a bad one is refused in a sentence and stays typed, a good one is followed on a log's page.
#[test]
fn the_gap_between_flushes_is_set_and_followed() {
    let yard = Yard::of_seven();
    let log = yard.log("3");
    yard.at(EVENING, |book| {
        for day in ["2026-05-01", "2026-05-26"] {
            let picking = json!({"log": log, "day": day, "grams": 100, "caps": null, "damaged_pct": null, "by": null, "note": "",
                "request": request(), "draft": null});
            ask(book, "picking_add", picking);
        }
    });
    let window = Window::open("flush_gap", yard.folder(), EVENING);
    window.click("#settings");
    assert_eq!(window.value("#flush_gap_days"), "21");
    window.fill("#flush_gap_days", "three weeks");
    window.click("#save-gap");
    window.wait_words("“three weeks” is not a whole number of days.");
    window.fill("#flush_gap_days", "2");
    window.click("#save-gap");
    window.wait_words("The gap between flushes is out of range.");
    window.wait_words("It goes from 5 days to 90 days.");
    assert_eq!(window.value("#flush_gap_days"), "2");
    window.picture("1-refused");
    window.fill("#flush_gap_days", "30");
    window.click("#save-gap");
    window.wait_words("Pickings 30 days apart or more are two flushes from now on.");
    window.open_log("3");
    window.wait_words("200 g in 2 pickings");
    window.script("location.hash = '#/settings'", vec![]);
    window.wait_screen("Settings");
    window.fill("#flush_gap_days", "");
    window.click("#save-gap");
    window.wait_words("Pickings 21 days apart or more are two flushes from now on.");
    window.open_log("3");
    window.wait_words("100 g in 1 picking");
}

/// The first day was asked for as `03-01`, and what was typed as people say it was refused.
#[test]
fn the_first_day_of_a_season_is_chosen_by_month_and_day() {
    let yard = Yard::of_seven();
    let window = Window::open("season_first", yard.folder(), EVENING);
    window.click("#settings");
    window.wait_words("Usual on your side of the equator: 1 January.");
    window.choose("#season_first", "2");
    window.fill("#season_first_day", "30");
    window.click("#save-first");
    window.wait_words("February has days 1 to 28.");
    assert_eq!(window.value("#season_first_day"), "30");
    window.picture("1-refused");
    window.choose("#season_first", "4");
    window.fill("#season_first_day", "5");
    window.click("#save-first");
    window.wait_words("Units and ways of working kept.");
    assert_eq!(window.ask("settings_show", json!({}))["season_first"], "04-05");
    window.press("US");
    window.wait_so("ounces to be kept", || window.ask("settings_show", json!({}))["units"] == "us");
    assert_eq!(window.ask("settings_show", json!({}))["season_first"], "04-05", "other ways leave it");
}
