//! Care: backups, what going back would lose, the way back, and a device that is lost.
//!
//! Never here: what a backup holds byte by byte (tested without a window). Invariant: nothing is lost before
//! the screen has said what it would be.

use std::path::Path;

use serde_json::{Value, json};

use super::checks::axe;
use super::driver::Window;
use super::yards::{EVENING, Yard, photo, pick};

/// Opens Care from the first screen.
fn care(window: &Window) {
    window.click("#settings");
    window.click("#care");
    window.wait_screen("Care");
}

/// A look with a photo, as one takes it in the window.
fn photographed(window: &Window, tag: &str, shot: &Path) {
    window.open_log(tag);
    window.click("#look");
    window.give_file("#photo", shot);
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=pin]");
    window.click("#save");
    window.wait_screen(&format!("Log {tag}"));
    window.wait_for(".photo-thumb img");
}

/// All that the yard says of a log.
fn told(window: &Window, tag: &str) -> Value {
    let list = window.ask("yard_list", json!({"search": tag}));
    window.ask("log_show", json!({"log": list["logs"][0]["id"]}))
}

#[test]
fn going_back_says_what_would_be_lost_and_can_be_taken_back() {
    let yard = Yard::of_seven();
    let log = yard.log("3");
    let window = Window::open("going_back", yard.folder(), EVENING);
    care(&window);
    window.wait_words("Looked over today");
    window.click("#backup");
    window.wait_words("Backed up, read back and found whole.");
    window.picture("1-backed-up");
    let picking = json!({"log": log, "day": null, "grams": 420, "caps": 12, "damaged_pct": null, "by": null,
        "note": "", "request": super::yards::request(), "draft": null});
    window.ask("picking_add", picking);
    window.click("[data-copy]");
    window.wait_words("What you would lose");
    assert_eq!(window.text("#would-lose"), "You would lose 1 act, the newest:");
    assert!(window.text(".lost").starts_with("Log 3 picked: 420 g, 12 caps."), "{}", window.text(".lost"));
    let cells =
        "return [...document.querySelectorAll('#counts [data-row=entries] td')].map(cell => cell.innerText)";
    assert_eq!(window.script(cells, vec![]), json!(["1", "0"]), "entries now and then");
    assert_eq!(window.text("#photos-missing"), "All its photos are here or beside the backups.");
    window.picture("2-preview");
    axe(&window, "the preview of a copy");
    window.click("#restore");
    window.wait_screen("Care");
    window.wait_words("The yard is as it was on 3 October 2026 at 21:");
    window.picture("3-back");
    assert_eq!(told(&window, "3")["entries"], json!([]));
    window.click("#snapshots summary");
    window.click("#snapshots [data-copy^=before-restore]");
    window.wait_words("You would lose nothing");
    window.wait_words("Taken before going back to a copy.");
    window.click("#restore");
    window.wait_screen("Care");
    assert_eq!(told(&window, "3")["entries"][0]["what"]["grams"], 420);
}

#[test]
fn a_device_that_is_lost_is_restored_from_the_backup_folder() {
    let yard = Yard::of_seven();
    let (shots, stick) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a stick"));
    let mut window = Window::open("lost_device", yard.folder(), EVENING);
    photographed(&window, "2", &photo(shots.path(), "pins.jpg", 30));
    let before = (window.ask("yard_list", json!({"search": ""})), told(&window, "2"));
    window.click("#back");
    window.click("#tab-chores");
    care(&window);
    window.click("#where-backups summary");
    window.fill("#folder", "stick");
    window.click("#folder-save");
    window.wait_words("This is not the whole path of a folder.");
    window.fill("#folder", &stick.path().to_string_lossy());
    window.click("#folder-save");
    window.wait_words("Backed up, read back and found whole.");
    window.picture("1-on-the-stick");
    window.pull();
    for entry in std::fs::read_dir(yard.folder()).expect("the yard's folder").flatten() {
        let path = entry.path();
        let gone = if path.is_dir() { std::fs::remove_dir_all(&path) } else { std::fs::remove_file(&path) };
        gone.expect("nothing is left");
    }
    window.start();
    window.wait_words("An empty yard");
    window.picture("2-a-new-device");
    window.click("#had-one");
    window.click("#where-backups summary");
    window.fill("#folder", &stick.path().to_string_lossy());
    window.click("#folder-save");
    window.wait_words("It holds 1 copy to go back to.");
    window.click("#backups [data-copy]");
    window.wait_words("You would lose nothing");
    window.wait_words("All its photos are here or beside the backups.");
    window.picture("3-the-copy");
    window.click("#restore");
    window.wait_screen("Care");
    let after = (window.ask("yard_list", json!({"search": ""})), told(&window, "2"));
    assert_eq!(after, before, "every log and every entry as it was");
    window.click("#back");
    window.click("#tab-yard");
    window.open_log("2");
    window.wait_until(
        "the photo to load",
        "return document.querySelector('.photo-thumb img')?.naturalWidth > 0",
    );
    window.picture("4-as-it-was");
}

#[test]
fn details_for_a_report_hold_no_word_of_the_growers() {
    let yard = Yard::of_seven();
    let window = Window::open("details", yard.folder(), EVENING);
    care(&window);
    window.click("#details");
    window.wait_for("#details-text");
    let text = window.value("#details-text");
    assert!(text.contains("logs: 7"), "{text}");
    for word in ["Ditch", "hemlock", "oak", &yard.folder().to_string_lossy()] {
        assert!(!text.contains(word), "{word} in {text}");
    }
    window.click("#copy-details");
    window.wait_until(
        "copied, or marked to be copied",
        "const field = document.querySelector('#details-text'); return document.body.innerText.includes('Copied.')
           || field.selectionEnd - field.selectionStart === field.value.length",
    );
    window.picture("1-details");
}

#[test]
fn an_old_backup_is_said_on_chores_and_one_tap_leads_to_a_new_one() {
    let yard = Yard::of_seven();
    let log = yard.log("1");
    yard.at("2026-09-01T12:00:00+02:00", |book| {
        super::yards::done(book, "backup_now", json!({}));
        (1..30).for_each(|grams| pick(book, &log, grams));
    });
    // The backup that is made by itself at each start is hindered: its folder is a file.
    let blocked = yard.folder().join("elsewhere");
    std::fs::create_dir(&blocked).expect("a folder");
    yard.at("2026-09-01T12:30:00+02:00", |book| {
        super::yards::ask(book, "backup_folder", json!({"folder": blocked}));
    });
    std::fs::remove_dir(&blocked).expect("gone");
    std::fs::write(&blocked, "in the way").expect("a file");
    let window = Window::open("old_backup", yard.folder(), EVENING);
    window.click("#care-backup");
    window.wait_screen("Care");
    window.wait_for("#backup-old");
    window.picture("1-old");
    window.click("#backup");
    window.wait_words("No backup was made.");
    std::fs::remove_file(&blocked).expect("out of the way");
    window.click("#backup");
    window.wait_words("Backed up, read back and found whole.");
    window.picture("2-new");
    window.click("#back");
    window.wait_screen("Chores");
    assert_eq!(window.count("#care-backup"), 0);
}
