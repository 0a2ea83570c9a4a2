//! A tagged log is photographed, found, measured, and two days later seen to grow; a season's photos at once; tags.
//!
//! Never here: how well codes are read (tested on many scenes without a window). Invariant: every width a grower
//! keeps was on the screen with its range before.

use serde_json::json;

use super::driver::Window;
use super::yards::{EVENING, Yard, ask, photo, tagged};

/// Taps the photo where this point of it lies.
fn tap(window: &Window, [x, y]: [f64; 2], seed: u64) {
    let script = "const picture = document.querySelector('#measure-picture'); const box = picture.getBoundingClientRect();
        picture.dispatchEvent(new MouseEvent('click', {bubbles: true, clientX: box.left + arguments[0] * box.width, clientY: box.top + arguments[1] * box.height}))";
    let _ = seed;
    window.script(script, vec![json!(x / 1600.0), json!(y / 1200.0)]);
}

/// Measures the cap of this scene on the open measuring screen.
fn measure(window: &Window, scene: &shadeyard_demo::Scene) {
    window.wait_until(
        "the photo",
        "const p = document.querySelector('#measure-picture img'); return p?.complete && p.naturalWidth > 0",
    );
    let [a, b] = scene.cap_sides().expect("a cap");
    tap(window, a, scene.seed);
    window.wait_words("Now tap the other side");
    tap(window, b, scene.seed);
    window.wait_words("mm wide");
    window.choose("#proud", "0");
    window.wait_until("the width again", "return document.querySelector('#keep-cap')?.disabled === false");
}

#[test]
fn a_tagged_log_is_found_in_its_photo_and_two_days_later_its_caps_are_seen_to_grow() {
    let yard = Yard::of_seven();
    let log = yard.log("2");
    let shots = tempfile::tempdir().expect("a folder for photos");
    let (then, now) = (tagged(&log, 16.0, 3), tagged(&log, 30.0, 4));
    for (name, scene) in [("then.jpg", &then), ("now.jpg", &now)] {
        std::fs::write(shots.path().join(name), scene.jpeg(88)).expect("a photo");
    }
    let mut window = Window::open("photographed", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#photos");
    window.wait_screen("Photos");
    window.give_file("#snap", &shots.path().join("then.jpg"));
    window.wait_words("The tag of log 2 is in it.");
    window.picture("1-found");
    window.click(&format!("[data-look='{log}']"));
    window.wait_screen("Look at log 2");
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=pin]");
    window.click("#save");
    window.wait_words("pins seen");
    window.script("location.hash = arguments[0]", vec![json!(format!("#/log/{log}"))]);
    window.wait_screen("Log 2");
    window.click(".date-strip .photo-thumb");
    window.click("#measure");
    window.wait_screen("Measure, log 2");
    window.picture("2-measure");
    measure(&window, &then);
    window.picture("3-width");
    window.click("#keep-cap");
    window.wait_words("This flush");
    window.pull();
    let window = {
        drop(window);
        Window::open("photographed_later", yard.folder(), "2026-10-05T21:00:00+02:00")
    };
    window.click("#tab-yard");
    window.click("#photos");
    window.give_file("#snap", &shots.path().join("now.jpg"));
    window.wait_words("The tag of log 2 is in it.");
    window.click("#put-all");
    window.wait_words("1 photo put to log 2.");
    window.script("location.hash = arguments[0]", vec![json!(format!("#/log/{log}"))]);
    window.wait_screen("Log 2");
    window.click(".date-strip li:last-child .photo-thumb");
    window.click("#measure");
    window.wait_screen("Measure, log 2");
    measure(&window, &now);
    window.click("#keep-cap");
    window.wait_words("mm a day");
    window.picture("4-growth");
    window.click("#back");
    window.script("location.hash = arguments[0]", vec![json!(format!("#/log/{log}"))]);
    window.wait_words("Caps grow");
    window.picture("5-log");
    grown_and_compared(window, &log);
}

/// What the register and the screens say of the growth, also after the battery died.
fn grown_and_compared(mut window: Window, log: &str) {
    let shown = window.ask("log_show", json!({"log": log}));
    let rate = shown["growth"]["tenths_a_day"].as_i64().expect("a rate");
    assert!((60..=80).contains(&rate), "{}", shown["growth"]);
    window.click("#then");
    window.wait_words("2 days between them.");
    window.wait_until(
        "both photos",
        "const all = [...document.querySelectorAll('.photo-dim img')]; return all.length === 2 && all.every((p) => p.complete && p.naturalWidth > 0)",
    );
    window.picture("6-then-and-now");
    window.pull_the_battery();
    window.script("location.hash = '#/pinned'", vec![]);
    window.wait_screen("Pinned this week");
    window.wait_words("Log 2");
    window.picture("7-pinned");
}

#[test]
fn photos_without_a_tag_come_many_at_once_lie_loose_and_are_tied_later() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let window = Window::open("loose", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#photos");
    window.wait_screen("Photos");
    for n in 0..3 {
        window.give_file("#many", &photo(shots.path(), &format!("{n}.jpg"), 10 * n));
        window.wait_until(
            "the photo to be kept",
            &format!("return document.querySelectorAll('[data-coming]').length === {}", n + 1),
        );
    }
    // The same bytes again are one photo.
    window.give_file("#many", &photo(shots.path(), "again.jpg", 0));
    window.wait_words("1 photo looked at, all kept.");
    assert_eq!(window.count("[data-coming]"), 3);
    window.picture("1-coming");
    window.click("#put-all");
    window.wait_until("the loose ones", "return document.querySelectorAll('[data-loose]').length === 3");
    window.picture("2-loose");
    let log = window.ask("yard_list", json!({"search": "5"}))["logs"][0]["id"].clone();
    let select = window.script("return document.querySelector('[data-loose] select').id", vec![]);
    window.choose(&format!("#{}", select.as_str().expect("a list")), log.as_str().expect("an id"));
    window.click("[data-loose] [data-tie]");
    window.wait_words("Photo put to log 5.");
    window.wait_until("two loose ones", "return document.querySelectorAll('[data-loose]').length === 2");
}

#[test]
fn a_sheet_of_tags_is_handed_out_and_originals_move_to_a_folder() {
    let yard = Yard::of_seven();
    let out = tempfile::tempdir().expect("a folder");
    let shots = tempfile::tempdir().expect("a folder for photos");
    yard.at(EVENING, |book| {
        let bytes = std::fs::read(photo(shots.path(), "one.jpg", 5)).expect("a photo");
        let kept = shadeyard_backend::commands::dispatch(book, "photo_keep", json!(null), Some(bytes))
            .expect("kept");
        let log = ask(book, "yard_list", json!({"search": "1"}))["logs"][0]["id"].clone();
        ask(
            book,
            "photo_add",
            json!({"photos": [{"hash": kept["hash"], "log": log}], "request": super::yards::request()}),
        );
    });
    let window = Window::open("tags", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#tags");
    window.wait_screen("Tags to print");
    window.wait_words("7 tags on 1 sheet.");
    window.click("#none");
    window.wait_words("No log is ticked.");
    window.click("[data-log]");
    window.picture("1-tags");
    window.click("#make");
    window.wait_words("1 sheet handed to the system");
    let file = window.downloads().join("tags-2026-10-03.pdf");
    window.wait_so("the sheet", || std::fs::read(&file).is_ok_and(|bytes| bytes.starts_with(b"%PDF-")));
    window.script("location.hash = '#/photo-room'", vec![]);
    window.wait_screen("Photos on this device");
    window.fill("#folder", &out.path().to_string_lossy());
    window.click(".chip[data-value='0']");
    window.click("#out");
    window.wait_words("1 photo moved out and read back.");
    window.picture("2-moved");
}
