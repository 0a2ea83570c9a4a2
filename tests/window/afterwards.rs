//! What is typed in on the morning after: a look, a picking, the rest of a night round; and one basket that two people
//! wrote down.
//!
//! Never here: a round walked in its night. Invariant: last night's things stand on last night's day.

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::night::card;
use super::yards::{EVENING, Yard, ask, merge, request};

const MORNING: &str = "2026-10-04T08:00:00+02:00";

#[test]
fn a_look_and_a_picking_of_last_night_stand_on_its_day() {
    let yard = Yard::of_seven();
    let window = Window::open("last_night", yard.folder(), MORNING);
    window.open_log("3");
    window.click("#look");
    window.wait_screen("Look at log 3");
    window.click(".chip[data-value=button]");
    window.click("[data-field=when] .chip[data-value=last_night]");
    window.wait_words("Kept for last night’s day");
    window.picture("1-look");
    window.click("#save");
    window.wait_screen("Log 3");
    window.click("#pick");
    window.wait_screen("Picking of log 3");
    window.fill("#grams", "120");
    window.click("[data-field=when] .chip[data-value=last_night]");
    window.picture("2-picking");
    window.click("#save");
    window.wait_screen("Log 3");
    let log = window.ask("yard_list", json!({"search": "3"}))["logs"][0]["id"].clone();
    let entries = window.ask("log_show", json!({"log": log}))["entries"].clone();
    let days: Vec<&str> =
        entries.as_array().expect("entries").iter().filter_map(|e| e["day"].as_str()).collect();
    assert_eq!(days, ["2026-10-03", "2026-10-03"]);
}

#[test]
fn the_rest_of_a_night_round_is_typed_in_over_breakfast() {
    let yard = Yard::of_seven();
    let round = yard.at(EVENING, |book| {
        ask(book, "round_start", json!({"request": request()}))["said"]["round"]
            .as_str()
            .expect("a round")
            .to_owned()
    });
    let window = Window::open("breakfast", yard.folder(), MORNING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    let seen = "return document.querySelector('[name=when]:checked').value";
    assert_eq!(window.script(seen, vec![]), "last_night", "the night is over, so it is offered first");
    window.picture("1-card");
    axe(&window, "a card on the morning after");
    window.click("#slugs-plus");
    window.click("#tick");
    card(&window, "2", "2 of 7");
    window.click("[data-field=when] .chip[data-value=now]");
    window.click("#tick");
    card(&window, "3", "3 of 7");
    window.click("#previous");
    card(&window, "2", "2 of 7");
    window.wait_words("That night: no slugs, no damage");
    let shown = window.ask("round_show", json!({"round": round}));
    assert_eq!((&shown["round"]["done"], &shown["round"]["day"]), (&json!(2), &json!("2026-10-03")));
}

#[test]
fn one_basket_that_two_wrote_down_is_one_question() {
    let shared = tempfile::tempdir().expect("a folder");
    let (yard, other) = Yard::on_two_devices(shared.path());
    let (one, two) = (yard.log("1"), yard.log("2"));
    let fill = |yard: &Yard, clock: &str| {
        yard.at(clock, |book| {
            let round = ask(book, "round_start", json!({"kind": "picking", "request": request()}))["said"]["round"].clone();
            for log in [&one, &two] {
                let take = json!({"round": round, "log": log, "seen": "cupped", "grams": null, "basket": true, "caps": 4,
                    "damaged_pct": null, "by": null, "quality": null, "photos": [], "request": request()});
                ask(book, "pick_take", take);
            }
            merge(book, shared.path());
        });
    };
    fill(&other, "2026-10-03T15:00:00+02:00");
    fill(&yard, "2026-10-03T15:05:00+02:00");
    let window = Window::open("one_or_two", yard.folder(), EVENING);
    window.wait_words("One basket or two? Two devices filled one with the same logs.");
    window.click("#baskets-asked a");
    window.wait_screen("Rounds");
    window.wait_words("logs 1 and 2 lie in both");
    window.picture("1-asked");
    axe(&window, "one basket or two");
    window.click("[data-pair] [data-keep]");
    window.wait_words("One basket, entered twice: logs 1 and 2 count once.");
    window.wait_until("the question to be gone", "return document.querySelector('[data-pair]') === null");
    assert_eq!(window.count("[data-basket]"), 1, "one basket waits to be weighed");
}
