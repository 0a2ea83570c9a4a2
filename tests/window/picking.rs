//! Recording a picking, and what the review makes of it.
//!
//! Never here: how a weight is read letter by letter. Invariant: an empty weight is said as not weighed and
//! never becomes 0.

use serde_json::json;

use super::driver::Window;
use super::yards::{EVENING, Yard, ask, request};

#[test]
fn a_picking_is_recorded_with_a_decimal_comma() {
    let yard = Yard::of_seven();
    let window = Window::open("picking", yard.folder(), EVENING);
    window.open_log("1");
    window.click("#pick");
    window.wait_screen("Picking of log 1");
    window.fill("#grams", "0,4");
    window.click("#save");
    window.wait_words("“0,4” is not whole grams.");
    assert_eq!(window.value("#grams"), "0,4");
    window.type_in("#grams", " kg");
    window.fill("#caps", "11");
    window.fill("#damaged_pct", "10");
    window.click("[data-field=by] .chip[data-value=slugs]");
    window.picture("1-form");
    window.click("#save");
    window.wait_screen("Log 1");
    window.wait_words("Picked: 400 g, 11 caps, 10 % damaged by slugs");
    window.picture("2-record");
    let row = &window.ask("yard_list", json!({"search": "1"}))["logs"][0];
    assert_eq!((&row["tag"], &row["grams"], &row["pickings"]), (&json!("1"), &json!(400), &json!(1)));
}

#[test]
fn a_picking_without_a_weight_is_said_as_not_weighed() {
    let yard = Yard::of_seven();
    let window = Window::open("not_weighed", yard.folder(), EVENING);
    window.open_log("6");
    window.click("#pick");
    window.wait_words("Empty: kept as not weighed.");
    window.click(".chip[data-value=yesterday]");
    window.click("#save");
    window.wait_screen("Log 6");
    window.wait_words("Picked: not weighed");
    window.wait_words("yesterday");
    let log = window.ask("yard_list", json!({"search": "6"}));
    assert_eq!((&log["logs"][0]["unweighed"], &log["logs"][0]["grams"]), (&json!(1), &json!(0)));
}

#[test]
fn the_review_says_which_wood_did_best_and_when_it_cannot_tell() {
    let yard = Yard::of_seven();
    let window = Window::open("review_few", yard.folder(), EVENING);
    window.click("#tab-review");
    window.wait_screen("Review");
    window.picture("1-none-fruited");
    assert!(!window.page().contains("NaN") && !window.page().contains("undefined"), "{}", window.page());
    drop(window);
    let picked = |tag: &str, grams: u32| {
        let log = yard.log(tag);
        yard.at(EVENING, |book| {
            ask(
                book,
                "picking_add",
                json!({"log": log, "day": "2026-09-20", "grams": grams, "caps": null, "damaged_pct": null,
                "by": null, "note": "", "request": request(), "draft": null}),
            );
        });
    };
    for (tag, grams) in [("1", 410), ("2", 380), ("3", 220), ("4", 350)] {
        picked(tag, grams);
    }
    let window = Window::open("review", yard.folder(), EVENING);
    window.click("#tab-review");
    window.wait_words("red oak");
    window.picture("1-answer");
    let page = window.page();
    assert!(
        page.to_lowercase().contains("too few"),
        "three logs of red oak and one of sweetgum cannot tell: {page}"
    );
}
