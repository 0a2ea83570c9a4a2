//! Two hands: yards edited apart on two devices, met in a folder; what that leaves to a person to answer.
//!
//! Never here: every order in which acts can meet (tested without a window). Invariant: after meeting, both
//! windows show the same picture.

use std::path::Path;

use serde_json::json;

use super::checks::{alike, axe};
use super::driver::Window;
use super::yards::{EVENING, Yard, ask, merge, photo, pick, request};

/// Looks into the shared folder and merges; the words of the outcome.
fn met(window: &Window, shared: &Path) -> String {
    window.script("location.hash = '#/sharing'", vec![]);
    window.wait_screen("Sharing");
    window.fill("#folder", &shared.to_string_lossy());
    window.click("#look");
    window.wait_for("#comes-in, #goes-out, #nothing-new");
    window.picture("preview");
    window.click("#merge");
    window.wait_words("Merged");
    window.picture("merged");
    window.text("#merge-said")
}

/// A look with a photo and a note, entered in the window.
fn photographed(window: &Window, tag: &str, shot: &Path, note: &str) {
    window.open_log(tag);
    window.click("#look");
    window.give_file("#photo", shot);
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=nothing]");
    window.fill("#note", note);
    window.click("#save");
    window.wait_screen(&format!("Log {tag}"));
    window.wait_for(".photo-thumb img");
}

/// What the window shows of the yard and of these logs, as pictures and as words.
fn shown(window: &Window) -> Vec<(String, String, Vec<u8>)> {
    window.script("location.hash = '#/yard'", vec![]);
    window.wait_screen("Yard");
    let mut all = vec![("the yard".to_owned(), window.text(".yard-list"), window.picture("yard"))];
    for tag in ["2", "5"] {
        window.script("location.hash = '#/yard'", vec![]);
        window.open_log(tag);
        window.wait_until(
            "the photo",
            "return [...document.querySelectorAll('.photo-thumb img')].every(img => img.complete && img.naturalWidth > 0)",
        );
        window.script(
            "document.querySelector('.record').scrollIntoView({block: 'end', behavior: 'instant'})",
            vec![],
        );
        all.push((format!("log {tag}"), window.text("#screen"), window.picture(&format!("log-{tag}"))));
    }
    all
}

#[test]
fn two_yards_edited_and_photographed_apart_meet_in_one_picture() {
    let (shared, shots) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
    let (mine, theirs) = Yard::on_two_devices(shared.path());
    let window = Window::open("apart_mine", mine.folder(), EVENING);
    photographed(&window, "2", &photo(shots.path(), "two.jpg", 10), "the south side");
    window.click("#edit");
    window.fill("#note", "lies under the ditch plank");
    window.click("#save");
    window.wait_words("Log 2 changed: note.");
    assert_eq!(met(&window, shared.path()), "Merged: nothing new came in and 2 acts went out.");
    closed(window);
    let window = Window::open("apart_theirs", theirs.folder(), "2026-10-03T21:10:00+02:00");
    photographed(&window, "5", &photo(shots.path(), "five.jpg", 90), "white all over");
    window.script("location.hash = '#/sharing'", vec![]);
    window.fill("#folder", &shared.path().to_string_lossy());
    window.click("#look");
    window.wait_for("#comes-in");
    assert_eq!(window.text("#comes-in"), "1 look, 1 changed field and 1 photo still to come.");
    axe(&window, "what a merge would bring");
    assert_eq!(met(&window, shared.path()), "Merged: 2 acts and 1 photo came in and 1 act went out.");
    let theirs_shown = shown(&window);
    closed(window);
    let window = Window::open("apart_mine_again", mine.folder(), "2026-10-03T21:10:00+02:00");
    assert_eq!(met(&window, shared.path()), "Merged: 1 act and 1 photo came in.");
    assert_eq!(
        met(&window, shared.path()),
        "Merged. There was nothing new on either side, so nothing was written."
    );
    for (mine, theirs) in shown(&window).iter().zip(&theirs_shown) {
        assert_eq!((&mine.0, &mine.1), (&theirs.0, &theirs.1));
        assert!(alike(&mine.2, &theirs.2), "{}: the two windows show one picture", mine.0);
    }
}

/// Closes a window for another yard's.
fn closed(mut window: Window) {
    window.pull();
}

#[test]
fn a_merge_is_taken_back_by_the_snapshot_before_it() {
    let shared = tempfile::tempdir().expect("a folder");
    let (mine, theirs) = Yard::on_two_devices(shared.path());
    let log = theirs.log("4");
    theirs.at("2026-10-03T14:00:00+02:00", |book| {
        pick(book, &log, 333);
        merge(book, shared.path());
    });
    let window = Window::open("merge_back", mine.folder(), EVENING);
    assert_eq!(met(&window, shared.path()), "Merged: 1 act came in.");
    window.click("#take-back");
    window.wait_words("You would lose 1 act, the newest:");
    window.wait_words("Log 4 picked: 333 g.");
    window.picture("taking-back");
    window.click("#restore");
    window.wait_screen("Care");
    assert_eq!(window.ask("log_show", json!({"log": log}))["entries"], json!([]));
}

#[test]
fn pickings_that_two_people_entered_are_asked_about_once() {
    let shared = tempfile::tempdir().expect("a folder");
    let (mine, theirs) = Yard::on_two_devices(shared.path());
    let (three, four) = (mine.log("3"), mine.log("4"));
    mine.at("2026-10-03T15:00:00+02:00", |book| {
        pick(book, &three, 420);
        pick(book, &four, 100);
        merge(book, shared.path());
    });
    theirs.at("2026-10-03T15:05:00+02:00", |book| {
        pick(book, &three, 400);
        pick(book, &four, 250);
        merge(book, shared.path());
    });
    mine.at("2026-10-03T16:00:00+02:00", |book| merge(book, shared.path()));
    let window = Window::open("twins", mine.folder(), EVENING);
    window.wait_words("2 pickings may have been entered twice");
    window.picture("1-chores");
    window.click("#care-twins");
    window
        .wait_words("Two people entered a picking of log 3 on 3 October 2026: 420 g and 400 g. One or two?");
    window.picture("2-twins");
    window.click(&format!("[data-log='{three}'] [data-keep]"));
    window.wait_words("Log 3, 3 October 2026: one picking, entered twice.");
    window.click("#undo");
    window.wait_words("Taken back");
    window.press("One: keep 420 g");
    window.wait_words("Log 3, 3 October 2026: one picking, entered twice.");
    window.click(&format!("[data-log='{four}']:only-of-type [data-several]:enabled"));
    window.wait_words("Nothing waits for an answer.");
    window.picture("3-answered");
    let grams = |log: &str| {
        let entries = window.ask("log_show", json!({"log": log}))["entries"].clone();
        let mut all: Vec<i64> =
            entries.as_array().into_iter().flatten().filter_map(|e| e["what"]["grams"].as_i64()).collect();
        all.sort_unstable();
        all
    };
    assert_eq!((grams(&three), grams(&four)), (vec![420], vec![100, 250]));
    window.click("#back");
    window.wait_screen("Chores");
    assert_eq!(window.count("#care-twins"), 0);
}

#[test]
fn a_field_two_hands_changed_shows_the_other_value_and_whose_it_is() {
    let shared = tempfile::tempdir().expect("a folder");
    let (mine, theirs) = Yard::on_two_devices(shared.path());
    let log = mine.log("6");
    for (yard, clock, place) in
        [(&mine, "2026-10-03T15:00:00+02:00", "Ditch"), (&theirs, "2026-10-03T15:30:00+02:00", "Gate")]
    {
        yard.at(clock, |book| {
            let mut fields = ask(book, "log_show", json!({"log": log}))["fields"].clone();
            (fields["note"], fields["spot"]) = (json!(place), json!(place));
            ask(book, "log_edit", json!({"log": log, "fields": fields, "request": request(), "draft": null}));
            merge(book, shared.path());
        });
    }
    mine.at("2026-10-03T16:00:00+02:00", |book| merge(book, shared.path()));
    let window = Window::open("other_values", mine.folder(), EVENING);
    window.open_log("6");
    window.click("#others summary");
    window.wait_words("not “Ditch” this device, today at 15:00");
    assert!(window.text("#others [data-field=note]").contains("Gate"), "{}", window.text("#others"));
    // Of two places neither loses: both stand in the record, and it lies where the later one says.
    window.wait_words("Put right on its page: Gate");
    window.wait_words("Put right on its page: Ditch");
    window.picture("1-others");
    axe(&window, "other values of a log");
    window.script("location.hash = '#/acts'", vec![]);
    window.wait_words("This device");
    window.wait_words("Device ");
    window.picture("2-acts");
}

#[test]
fn an_archive_carries_a_yard_to_an_empty_machine() {
    let (yard, empty) = (Yard::of_seven(), Yard::empty());
    let folder = tempfile::tempdir().expect("a folder");
    let log = yard.log("1");
    yard.at("2026-10-03T15:00:00+02:00", |book| pick(book, &log, 77));
    let window = Window::open("archive_out", yard.folder(), EVENING);
    window.script("location.hash = '#/archive'", vec![]);
    window.fill("#folder", "nowhere");
    window.click("#write");
    window.wait_words("This is not the whole path of a folder.");
    window.fill("#folder", &folder.path().to_string_lossy());
    window.click("#write");
    window.wait_words("Written, read back and found whole.");
    let file = window.text("#written");
    window.picture("1-written");
    let before = window.ask("yard_list", json!({"search": ""}));
    closed(window);
    let window = Window::open("archive_in", empty.folder(), EVENING);
    window.script("location.hash = '#/archive'", vec![]);
    window.fill("#file", "/nowhere/at-all.zip");
    window.click("#look");
    window.wait_words("There is no such file.");
    window.fill("#file", &file);
    window.click("#look");
    window.wait_words("7 logs, 0 photos and 8 acts of 1 device.");
    window.picture("1-looked");
    axe(&window, "what is in an archive");
    window.click("#read");
    window.wait_words("Taken in: 8 acts.");
    window.picture("2-taken");
    assert_eq!(window.ask("yard_list", json!({"search": ""})), before);
}
