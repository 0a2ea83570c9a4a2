//! The floor every screen stands on, in both lights: axe's rules, 320 px without sideways scroll, targets wide
//! enough for a wet finger.
//!
//! Never here: what a screen is for. Invariant: every screen that has an address is in the list.

use serde_json::{Value, json};

use super::checks::{axe, glow, no_sideways_scroll, targets_are_wide, the_page_stands_still};
use super::driver::Window;
use super::yards::{EVENING, Yard, ask, done, merge, photo, pick, request, tagged};

/// A yard where no screen is empty, and the address of every screen.
fn full() -> (Yard, Vec<(&'static str, String)>) {
    let shared = tempfile::tempdir().expect("a folder");
    let (yard, other) = Yard::on_two_devices(shared.path());
    let log = yard.log("2");
    let (photo, round) = fill(&yard, &log);
    let copy = apart(&yard, &other, shared.path());
    let spot = yard.at(EVENING, |book| ask(book, "spot_list", json!({}))["spots"][0]["id"].clone());
    let spot = spot.as_str().expect("a spot").to_owned();
    let picking = picking(&yard);
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
        ("season", "review/season".to_owned()),
        ("acts", "acts".to_owned()),
        ("settings", "settings".to_owned()),
        ("care", "care".to_owned()),
        ("copy", format!("care/backups/{copy}")),
        ("sharing", "sharing".to_owned()),
        ("archive", "archive".to_owned()),
        ("twins", "twins".to_owned()),
        ("bring-in", "bring-in".to_owned()),
        ("spots", "spots".to_owned()),
        ("map", "map".to_owned()),
        ("spot-new", "spot/new".to_owned()),
        ("spot", format!("spot/{spot}")),
        ("spot-edit", format!("spot/{spot}/edit")),
        ("move", "move?why=bring_in".to_owned()),
        ("condition", format!("log/{log}/condition")),
        ("tend", format!("tend?spot={spot}")),
        ("lost-tag", "lost-tag?wood=red-oak".to_owned()),
        ("logs-new", "logs/new".to_owned()),
        ("woods", "woods".to_owned()),
        ("wood", "woods/new".to_owned()),
        ("wood-waiting", "wood-waiting".to_owned()),
        ("batch", "wood-waiting/new".to_owned()),
        ("strains", "strains".to_owned()),
        ("strain", "strains/new".to_owned()),
        ("lot", "lots/new".to_owned()),
        ("care-slip", format!("log/{log}/care-slip")),
        ("tank", "tank".to_owned()),
        ("weigh", "weigh".to_owned()),
        ("watering", "watering".to_owned()),
        ("weather", "weather".to_owned()),
        ("moisture", format!("log/{log}/moisture")),
        ("lifting", format!("log/{log}/lifting")),
        ("measure", format!("log/{log}/photo/{photo}/measure")),
        ("then", format!("log/{log}/then")),
        ("tags", "tags".to_owned()),
        ("photos", "photos".to_owned()),
        ("pinned", "pinned".to_owned()),
        ("photo-room", "photo-room".to_owned()),
        ("round", format!("round/{round}")),
        ("rounds", "rounds".to_owned()),
        ("pick-round", format!("pick/{}", picking.0)),
        ("basket", format!("basket/{}", picking.1)),
        ("sheet", "sheet".to_owned()),
        ("sighting", format!("sighting?log={log}")),
        ("losses", "losses".to_owned()),
    ];
    (yard, screens.map(|(name, path)| (name, format!("#/{path}"))).to_vec())
}

/// A look with a photo, pickings with a weight and without, a place, a form not finished, a round that is open.
/// Returns the photo's hash and the round's id.
fn fill(yard: &Yard, log: &str) -> (String, String) {
    let (one, three, yard_six) = (yard.log("1"), yard.log("3"), yard.log("4"));
    let shots = tempfile::tempdir().expect("a folder for photos");
    let shot = tagged(log, 24.0, 1).jpeg(85);
    let other = std::fs::read(photo(shots.path(), "shot.jpg", 0)).expect("a photo");
    yard.at(EVENING, |book| {
        let say = |name: &str, mut words: Value| {
            words["request"] = json!(request());
            words["draft"] = json!(null);
            ask(book, name, words)
        };
        let kept = shadeyard_backend::commands::dispatch(book, "photo_keep", Value::Null, Some(shot)).expect("kept");
        let loose = shadeyard_backend::commands::dispatch(book, "photo_keep", Value::Null, Some(other)).expect("kept");
        for log in [json!(null), json!(log)] {
            let hash = if log.is_null() { &loose["hash"] } else { &kept["hash"] };
            ask(book, "photo_add", json!({"photos": [{"hash": hash, "log": log}], "request": request()}));
        }
        let [a, b] = tagged(log, 24.0, 1).cap_sides().expect("a cap");
        let measured = json!({"log": log, "hash": kept["hash"], "a": a, "b": b, "tap_px": 2.0, "proud_mm": null});
        ask(book, "cap_add", json!({"measured": measured, "cap": 1, "request": request()}));
        say("look_add", json!({"log": one, "seen": "pin", "photos": [loose["hash"]], "note": ""}));
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
        supplies(book);
        let typed = json!({"photos": [], "seen": null, "note": "half a note"});
        let value = json!({"about": "1", "request": request(), "typed": typed}).to_string();
        ask(book, "draft_set", json!({"key": format!("look:{one}"), "value": value}));
        let three = [&three, &one].map(|log| json!({"log": log, "grams": 12_000}));
        say("weigh_add", json!({"weights": three, "day": null, "note": "", "sure": true}));
        for (day, low) in (22..30).map(|n| (format!("2026-09-{n}"), 40)).chain([("2026-10-03".to_owned(), -10)]) {
            say("weather_set", json!({"day": day, "min_dc": low, "max_dc": 260, "rain_tenths": 0, "wind_tenths": 40}));
        }
        let six = json!({"logs": [yard_six], "weights": [], "water_dc": 90, "ago_min": 600, "day": null, "note": "",
            "sure": true});
        say("soak_in", six);
        let round = ask(book, "round_start", json!({"request": request()}));
        let text = |value: &Value| value.as_str().expect("text").to_owned();
        (text(&kept["hash"]), text(&round["said"]["round"]))
    })
}

/// Wood that waits, an own wood, a strain and a doubtful lot.
fn supplies(book: &shadeyard_backend::book::Book) {
    let wood = json!({"name": "plum from the old garden", "scientific": "Prunus domestica", "conifer": false,
        "shiitake": 2, "hericium": null, "density_kg_m3": 980, "moisture_pct": 42, "note": "thin bark"});
    ask(book, "wood_set", json!({"wood": null, "fields": wood, "request": request()}));
    let batch = json!({"name": "white oak from the storm at the crossing", "wood": "white-oak", "felled": "2026-08",
        "source": "the crossing", "disc_wet_g": 480, "disc_dry_g": 269, "doubtful": true, "note": ""});
    ask(book, "batch_set", json!({"batch": null, "fields": batch, "request": request(), "draft": null}));
    let strain = json!({"name": "Stone Step", "mushroom": "shiitake", "class": "cold", "from_dc": 50, "to_dc": 175,
        "note": ""});
    let strain = ask(book, "strain_set", json!({"strain": null, "fields": strain, "request": request()}));
    let lot = json!({"name": "spring bag", "strain": strain["said"]["strain"], "form": "sawdust", "source": "made at home",
        "received": "2026-03", "kept": "cold", "doubtful": true, "note": ""});
    ask(book, "lot_set", json!({"lot": null, "fields": lot, "request": request()}));
}

/// A picking round with a basket that waits, and sightings. Returns the ids of the round and of the basket.
fn picking(yard: &Yard) -> (String, String) {
    let (two, four) = (yard.log("2"), yard.log("4"));
    yard.at("2026-10-03T21:30:00+02:00", |book| {
        let text = |value: &Value| value.as_str().expect("text").to_owned();
        let round = ask(book, "round_start", json!({"kind": "picking", "request": request()}));
        let round = text(&round["said"]["round"]);
        let take = json!({"round": round, "log": two, "seen": "cupped", "grams": null, "basket": true, "caps": 4,
            "damaged_pct": 10, "by": "slugs", "quality": "good", "photos": [], "request": request()});
        let done = ask(book, "pick_take", take);
        for what in ["slugs", "trametes"] {
            let seen = json!({"log": four, "spot": null, "what": what, "when": "now", "n": 3, "extent": null, "hid": [],
                "did": [], "photos": [], "note": "", "request": request()});
            ask(book, "sighting_add", seen);
        }
        (round, text(&done["said"]["basket"]))
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
    each(&window, "lamp", &screens, |screen| {
        axe(&window, &format!("{screen} by lamp"));
        // Boxes drawn by the system's own theme once stood white in the dark, one of them far down its screen.
        for at in 1.. {
            let glow = glow(&window.picture(&format!("{screen}-{at}")));
            assert!(
                glow.white == 0 && glow.blue <= 0.35 && glow.green <= 0.45,
                "{screen} by lamp, {at}: {glow:?}"
            );
            if !a_page_down(&window) {
                break;
            }
        }
    });
}

/// Scrolls on by what shows; false: this was the end.
fn a_page_down(window: &Window) -> bool {
    let down = "const all = [document.scrollingElement, ...document.querySelectorAll('main, .screen')];
        const moves = all.find(el => el && el.scrollTop + el.clientHeight < el.scrollHeight - 2);
        if (moves) moves.scrollBy({top: moves.clientHeight - 80, behavior: 'instant'}); return !!moves";
    window.script(down, vec![]) == json!(true)
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
    each(&window, "day", &screens, |screen| {
        targets_are_wide(&window, screen, "body", 48);
        the_page_stands_still(&window, screen);
    });
    let round = screens.iter().find(|(name, _)| *name == "round").map(|(_, address)| address);
    window.script("location.hash = arguments[0]", vec![json!(round.expect("a round"))]);
    window.wait_for(".card-lower");
    targets_are_wide(&window, "the round's card", ".card-lower", 64);
}

#[test]
fn with_letters_twice_as_large_nothing_scrolls_sideways() {
    let (yard, screens) = full();
    let window = Window::open("large_letters", yard.folder(), EVENING);
    let twice = "document.documentElement.style.fontSize = '200%'";
    window.script(twice, vec![]);
    each(&window, "day", &screens, |screen| {
        no_sideways_scroll(&window, screen);
        keys_break_between_words(&window, screen);
    });
}

/// No key of a round breaks inside a word: the top ones once read "Put do wn" and "Ba ck".
fn keys_break_between_words(window: &Window, screen: &str) {
    let broken = "return [...document.querySelectorAll('.card-top .key, .card-acts .key')].filter(key => key.getClientRects().length).flatMap(key => {
          const texts = document.createTreeWalker(key, NodeFilter.SHOW_TEXT); const bad = [];
          for (let node = texts.nextNode(); node; node = texts.nextNode()) {
            if (node.parentElement.closest('.unseen')) continue;
            for (const word of node.data.matchAll(/\\S+/g)) {
              const range = document.createRange(); range.setStart(node, word.index); range.setEnd(node, word.index + word[0].length);
              if (new Set([...range.getClientRects()].map(box => Math.round(box.top))).size > 1) bad.push(word[0]);
            }
          }
          return bad; })";
    assert_eq!(window.script(broken, vec![]), json!([]), "words broken on {screen}");
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
    let mut broken = Vec::new();
    for (screen, address) in screens {
        window.script("location.hash = arguments[0]", vec![json!(address)]);
        window.wait_for(&format!(".screen-{screen} h1"));
        // The round turns Lamp on by itself; its Day is held to the same.
        window.script("document.documentElement.dataset.light = arguments[0]", vec![json!(light)]);
        window.picture(screen);
        // All screens are gone through, so that one run names everything that is amiss.
        if std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| hold(screen))).is_err() {
            broken.push(*screen);
        }
    }
    assert!(broken.is_empty(), "below the floor, each told above: {broken:?}");
}
