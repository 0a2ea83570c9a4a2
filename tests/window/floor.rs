//! The floor every screen stands on, in both lights: axe's rules, 320 px without sideways scroll, targets wide
//! enough for a wet finger.
//!
//! Never here: what a screen is for. Invariant: every screen that has an address is in the list.

use serde_json::{Value, json};

use super::checks::{axe, no_sideways_scroll, targets_are_wide};
use super::driver::Window;
use super::yards::{EVENING, Yard, ask, done, merge, photo, pick, request};

/// A yard where no screen is empty, and the address of every screen.
fn full() -> (Yard, Vec<(&'static str, String)>) {
    let shared = tempfile::tempdir().expect("a folder");
    let (yard, other) = Yard::on_two_devices(shared.path());
    let log = yard.log("2");
    let (photo, round) = fill(&yard, &log);
    let copy = apart(&yard, &other, shared.path());
    let screens = [
        ("chores", "chores".to_owned()),
        ("yard", "yard".to_owned()),
        ("log-new", "log/new".to_owned()),
        ("log", format!("log/{log}")),
        ("log-edit", format!("log/{log}/edit")),
        ("ending", format!("log/{log}/end")),
        ("look", format!("log/{log}/look")),
        ("picking", format!("log/{log}/picking")),
        ("photo", format!("log/{log}/photo/{photo}")),
        ("review", "review".to_owned()),
        ("acts", "acts".to_owned()),
        ("settings", "settings".to_owned()),
        ("care", "care".to_owned()),
        ("copy", format!("care/backups/{copy}")),
        ("sharing", "sharing".to_owned()),
        ("archive", "archive".to_owned()),
        ("twins", "twins".to_owned()),
        ("bring-in", "bring-in".to_owned()),
        ("round", format!("round/{round}")),
    ];
    (yard, screens.map(|(name, path)| (name, format!("#/{path}"))).to_vec())
}

/// A look with a photo, pickings with a weight and without, a place, a form not finished, a round that is open.
/// Returns the photo's hash and the round's id.
fn fill(yard: &Yard, log: &str) -> (String, String) {
    let (one, three) = (yard.log("1"), yard.log("3"));
    let shots = tempfile::tempdir().expect("a folder for photos");
    let shot = std::fs::read(photo(shots.path(), "shot.jpg", 0)).expect("a photo");
    yard.at(EVENING, |book| {
        let say = |name: &str, mut words: Value| {
            words["request"] = json!(request());
            words["draft"] = json!(null);
            ask(book, name, words)
        };
        let kept = shadeyard_backend::commands::dispatch(book, "photo_keep", Value::Null, Some(shot)).expect("kept");
        let note = "after two days of rain, the whole south side of the log at once";
        say("look_add", json!({"log": log, "seen": "cupped", "photos": [kept["hash"]], "note": note}));
        for (log, grams) in [(&one, json!(420)), (&one, json!(null)), (&three, json!(180))] {
            let spoiled = json!({"log": log, "day": "2026-09-28", "grams": grams, "caps": 9, "damaged_pct": 20,
                "by": "slugs", "note": ""});
            say("picking_add", spoiled);
        }
        let place = json!({"place": "the yard behind the barn", "lat": 48.1, "lon": 11.6, "night_after_min": 120,
            "request": request()});
        ask(book, "settings_set", place);
        let typed = json!({"photos": [], "seen": null, "note": "half a note"});
        let value = json!({"about": "1", "request": request(), "typed": typed}).to_string();
        ask(book, "draft_set", json!({"key": format!("look:{one}"), "value": value}));
        let round = ask(book, "round_start", json!({"request": request()}));
        let text = |value: &Value| value.as_str().expect("text").to_owned();
        (text(&kept["hash"]), text(&round["said"]["round"]))
    })
}

/// A backup, a merge with a second device that entered a picking and another wood for the same log, and a look
/// taken since. Returns the backup's name.
fn apart(yard: &Yard, other: &Yard, shared: &std::path::Path) -> String {
    let (log, two) = (yard.log("6"), yard.log("2"));
    let wood = |book: &_, wood: &str| {
        let mut fields = ask(book, "log_show", json!({"log": two}))["fields"].clone();
        fields["wood"] = json!(wood);
        ask(book, "log_edit", json!({"log": two, "fields": fields, "request": request(), "draft": null}));
    };
    other.at(EVENING, |book| {
        pick(book, &log, 400);
        wood(book, "white-oak");
        merge(book, shared);
    });
    yard.at("2026-10-03T21:05:00+02:00", |book| {
        let name = done(book, "backup_now", json!({}))["result"].clone();
        pick(book, &log, 420);
        wood(book, "sugar-maple");
        merge(book, shared);
        ask(book, "merge_folder", json!({"folder": shared}));
        name.as_str().expect("a name").to_owned()
    })
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
    each(&window, "day", &screens, |screen| targets_are_wide(&window, screen, "body", 48));
    targets_are_wide(&window, "the round's card", ".card-lower", 64);
}

#[test]
fn with_letters_twice_as_large_nothing_scrolls_sideways() {
    let (yard, screens) = full();
    let window = Window::open("large_letters", yard.folder(), EVENING);
    let twice = "document.documentElement.style.fontSize = '200%'";
    window.script(twice, vec![]);
    each(&window, "day", &screens, |screen| no_sideways_scroll(&window, screen));
}

/// Goes to each screen in this light and holds it to something; each leaves its picture.
fn each(window: &Window, light: &str, screens: &[(&str, String)], hold: impl Fn(&str)) {
    let known = "const done = arguments[arguments.length - 1];
        import('/lib/router.js').then(router => done(Object.keys(router.PATTERNS).sort()))";
    let mut names: Vec<&str> = screens.iter().map(|(name, _)| *name).collect();
    names.sort_unstable();
    assert_eq!(
        window.script_later(known, vec![]),
        json!(names),
        "every screen with an address is held to the floor"
    );
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
