//! A look at a log, with a photo.
//!
//! Never here: what a hostile picture does to the backend (tested without a window). Invariant: a photo that
//! was taken is there after a kill.

use serde_json::json;

use super::driver::Window;
use super::typed::kept;
use super::yards::{EVENING, Yard, photo};

#[test]
fn a_log_that_pins_is_photographed_and_the_photo_opens_large() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let mut window = Window::open("look", yard.folder(), EVENING);
    window.open_log("2");
    window.click("#look");
    window.wait_screen("Look at log 2");
    window.give_file("#photo", &photo(shots.path(), "pins.jpg", 10));
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=pin]");
    window.fill("#note", "dark bumps along the south side");
    window.picture("1-form");
    window.click("#save");
    window.wait_screen("Log 2");
    window.wait_words("Looked: pins");
    window.wait_until(
        "the small photo to load",
        "return document.querySelector('.photo-thumb img')?.naturalWidth > 0",
    );
    window.picture("2-record");
    window.click(".photo-thumb");
    let large = "const photo = document.querySelector('#photo-large img'); return photo?.complete && photo.naturalWidth === 1200";
    window.wait_until("the photo, large", large);
    window.picture("3-large");
    window.click("#close");
    window.wait_screen("Log 2");
    window.pull_the_battery();
    window.wait_words("Caps out");
    window.wait_for("[data-act=pick]");
    let chores = window.ask("chores_show", json!({}));
    assert_eq!(chores["caps_out"][0]["tag"], "2", "{chores}");
}

#[test]
fn a_look_survives_a_battery_that_dies_while_the_camera_is_open() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let mut window = Window::open("camera_dies", yard.folder(), EVENING);
    window.open_log("5");
    window.click("#look");
    window.give_file("#photo", &photo(shots.path(), "first.jpg", 20));
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=short_spines]");
    window.type_in("#note", "second photo comes");
    // The camera takes over: all that the page hears of it is this click.
    window.script(
        "document.querySelector('#photo').dispatchEvent(new MouseEvent('click', {bubbles: true}))",
        vec![],
    );
    let log = window.script("return location.hash.split('/')[2]", vec![]);
    kept(&window, &format!("look:{}", log.as_str().unwrap_or_default()), "second photo comes");
    window.pull_the_battery();
    window.click("[data-draft^=look] [data-act=go-on]");
    window.wait_words("What you were entering is back.");
    assert_eq!(window.value("#note"), "second photo comes");
    assert_eq!(window.count(".kept-photos img"), 1);
    assert_eq!(
        window.script("return document.querySelector('[name=seen]:checked')?.value", vec![]),
        "short_spines"
    );
    window.picture("1-back");
    window.click("#save");
    window.wait_screen("Log 5");
    window.wait_words("Looked: short spines");
    assert_eq!(window.count(".entry-words .photo-thumb"), 1);
}

#[test]
fn a_file_that_is_no_picture_is_refused_in_words_and_the_look_goes_on() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let text = shots.path().join("list.jpg");
    std::fs::write(&text, "eggs, bread, wax").expect("a file");
    let window = Window::open("no_picture", yard.folder(), EVENING);
    window.open_log("3");
    window.click("#look");
    window.give_file("#photo", &text);
    window.wait_words("This file is not a picture that can be read.");
    window.picture("1-refused");
    window.click("#save");
    window.wait_words("It is not said yet what you saw.");
    window.click(".chip[data-value=nothing]");
    window.click("#save");
    window.wait_words("Looked: nothing to see");
}
