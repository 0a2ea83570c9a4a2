//! The floor every screen stands on, in both lights: axe's rules, 320 px without sideways scroll, targets wide
//! enough for a wet finger.
//!
//! Never here: what a screen is for. Invariant: every screen that has an address is in the list.

use serde_json::{Value, json};

use super::checks::{axe, no_sideways_scroll, targets_are_wide};
use super::driver::Window;
use super::yards::{EVENING, Yard, ask, photo, request};

/// A yard where no screen is empty: a photo, a picking without weight, a round cut short, a draft.
fn full() -> (Yard, Vec<(&'static str, String)>) {
    let yard = Yard::of_seven();
    let (one, two, three) = (yard.log("1"), yard.log("2"), yard.log("3"));
    let shots = tempfile::tempdir().expect("a folder for photos");
    let shot = std::fs::read(photo(shots.path(), "shot.jpg", 0)).expect("a photo");
    let (hash, round) = yard.at(EVENING, |book| {
        let kept = shadeyard_backend::commands::dispatch(book, "photo_keep", Value::Null, Some(shot)).expect("a kept photo");
        let hash = kept["hash"].as_str().expect("a hash").to_owned();
        ask(book, "look_add", json!({"log": two, "seen": "cupped", "photos": [hash], "note": "after two days of rain, the whole south side of the log at once", "request": request(), "draft": null}));
        for (log, grams) in [(&one, json!(420)), (&one, json!(null)), (&three, json!(180))] {
            ask(book, "picking_add", json!({"log": log, "day": "2026-09-28", "grams": grams, "caps": 9, "damaged_pct": 20, "by": "slugs", "note": "", "request": request(), "draft": null}));
        }
        ask(book, "settings_set", json!({"place": "the yard behind the barn", "lat": 48.1, "lon": 11.6, "night_after_min": 120, "request": request()}));
        let draft = json!({"about": "5", "request": request(), "typed": {"photos": [], "seen": null, "note": "half a note"}});
        ask(book, "draft_set", json!({"key": format!("look:{one}"), "value": draft.to_string()}));
        let round = ask(book, "round_start", json!({"request": request()}));
        (hash, round["said"]["round"].as_str().expect("a round").to_owned())
    });
    let screens = vec![
        ("chores", "#/chores".to_owned()),
        ("yard", "#/yard".to_owned()),
        ("log-new", "#/log/new".to_owned()),
        ("log", format!("#/log/{two}")),
        ("log-edit", format!("#/log/{two}/edit")),
        ("ending", format!("#/log/{two}/end")),
        ("look", format!("#/log/{two}/look")),
        ("picking", format!("#/log/{two}/picking")),
        ("photo", format!("#/log/{two}/photo/{hash}")),
        ("review", "#/review".to_owned()),
        ("acts", "#/acts".to_owned()),
        ("settings", "#/settings".to_owned()),
        ("round", format!("#/round/{round}")),
    ];
    (yard, screens)
}

#[test]
fn every_screen_passes_axe_by_day() {
    let (yard, screens) = full();
    let window = Window::open("axe_day", yard.folder(), EVENING);
    each(&window, "day", &screens, |screen| axe(&window, &format!("{screen} by day")));
}

#[test]
fn every_screen_passes_axe_by_lamp() {
    let (yard, screens) = full();
    let window = Window::open("axe_lamp", yard.folder(), EVENING);
    each(&window, "lamp", &screens, |screen| axe(&window, &format!("{screen} by lamp")));
}

#[test]
fn at_320_px_nothing_scrolls_sideways() {
    let (yard, screens) = full();
    let window = Window::open("narrow", yard.folder(), EVENING);
    window.resize(320, 700);
    each(&window, "day", &screens, |screen| no_sideways_scroll(&window, screen));
}

#[test]
fn everything_to_press_is_wide_enough_for_a_finger() {
    let (yard, screens) = full();
    let window = Window::open("targets", yard.folder(), EVENING);
    each(&window, "day", &screens, |screen| targets_are_wide(&window, screen, 48));
}

/// Goes to each screen in this light and holds it to something; each leaves its picture.
fn each(window: &Window, light: &str, screens: &[(&str, String)], hold: impl Fn(&str)) {
    window.click("#settings");
    window.click(&format!("[data-field=light] .chip[data-value={light}]"));
    for (screen, address) in screens {
        window.script("location.hash = arguments[0]", vec![json!(address)]);
        window.wait_for(&format!(".screen-{screen} h1"));
        // The round turns Lamp on by itself; its Day is held to the same.
        window.script("document.documentElement.dataset.light = arguments[0]", vec![json!(light)]);
        window.picture(screen);
        hold(screen);
    }
}
