//! Spots, the map, moves, the wood, a lost tag, many logs at once and finding by words, as a grower does it.
//!
//! Never here: what the lists of the season hold (tested without a window). Invariant: what was done on a screen
//! stands on the log's page.

use chrono::NaiveDate;
use serde_json::json;

use super::checks::{axe, no_sideways_scroll, targets_are_wide};
use super::driver::Window;
use super::yards::{EVENING, Yard, photo};

#[test]
fn a_spot_is_described_walked_first_and_its_logs_are_tended_in_one_act() {
    let yard = Yard::of_seven();
    let window = Window::open("spots", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#spots");
    window.wait_screen("Spots");
    window.wait_words("Nothing said about it yet.");
    window.picture("1-spots");
    window.click("[data-spot='Under the hemlocks'] [data-move=up]");
    window.wait_words("Walking order of the spots changed.");
    window.click("[data-spot=Ditch] .spot-way");
    window.wait_screen("Ditch");
    window.click("#edit");
    window.click("[data-field=shade] .chip[data-value=dappled]");
    window.click("[data-field=rain] .chip[data-value=some]");
    window.click("[data-field=winter_sun] .chip[data-value=yes]");
    window.fill("#name", "Long ditch");
    window.picture("2-form");
    window.click("#save");
    window.wait_screen("Long ditch");
    window.wait_words("Spot Ditch is now Long ditch.");
    window.wait_words("Bare of shade when the leaves are down");
    window.picture("3-spot");
    window.click("#tend");
    window.wait_screen("Tend Long ditch");
    window.click("#save");
    window.wait_words("It is not said yet what you did.");
    window.click(".chip[data-value=rewax]");
    window.wait_words("Hot wax burns.");
    window.picture("4-tend");
    window.click("#save");
    window.wait_screen("Long ditch");
    window.wait_words("3 logs of Long ditch waxed again.");
    window.script("location.hash = '#/yard'", vec![]);
    window.wait_screen("Yard");
    window.open_log("2");
    window.wait_words("Waxed again");
}

#[test]
fn logs_are_moved_together_and_the_map_shows_them_there() {
    let yard = Yard::of_seven();
    let window = Window::open("moves", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#spots");
    window.click("#add-spot");
    window.fill("#name", "Tool shed");
    window.click("[data-field=heated] .chip[data-value=yes]");
    window.click("[data-field=rain] .chip[data-value=none]");
    window.click("#save");
    window.wait_screen("Tool shed");
    window.click("#back");
    window.click("#move");
    window.wait_screen("Move logs");
    window.click(".chip[data-value=bring_in]");
    window.wait_words("by the month");
    window.click("#save");
    window.wait_words("No log is ticked.");
    let two = yard_log(&window, "2");
    window.click(&format!(".tick[data-log=\"{two}\"]"));
    let spot = window.ask("spot_list", json!({}))["spots"][2]["id"].clone();
    window.choose("#spot", spot.as_str().expect("a spot"));
    window.click("[data-field=when] .chip[data-value=yesterday]");
    window.picture("1-move");
    window.click("#save");
    window.wait_screen("Tool shed");
    window.wait_words("Log 2 brought in to Tool shed");
    window.click("#tab-yard, #back");
    window.script("location.hash = '#/map'", vec![]);
    window.wait_screen("Map");
    window.wait_for(&format!(".map [data-log=\"{two}\"]"));
    assert_eq!(window.count(".map .map-station"), 4, "three spots, and the logs without one");
    window.picture("2-map");
    no_sideways_scroll(&window, "map");
    window.click("#map-words summary");
    window.wait_words("under a roof");
    window.script(
        "document.querySelector(arguments[0]).dispatchEvent(new MouseEvent('click', {bubbles: true}))",
        vec![json!(format!(".map [data-log=\"{two}\"]"))],
    );
    window.wait_screen("Log 2");
    window.wait_words("Brought in: Tool shed");
}

#[test]
fn the_wood_is_looked_at_with_a_photo_and_what_was_typed_survives() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let mut window = Window::open("condition", yard.folder(), EVENING);
    window.open_log("3");
    window.click("#condition");
    window.wait_screen("Wood of log 3");
    window.click("#save");
    window.wait_words("Nothing is said yet about the wood.");
    window.click("[data-field=bark] .chip[data-value=loose]");
    window.click("[data-field=wax] .chip[data-value=some]");
    window.click("[data-field=wax] .chip[data-value=some]");
    window.click("[data-field=competitor] .chip[data-value=green_mould]");
    window.click("[data-field=extent] .chip[data-value=patch]");
    window.give_file("#photo", &photo(shots.path(), "mould.jpg", 40));
    window.wait_for(".kept-photos img");
    window.picture("1-form");
    window.pull_the_battery();
    window.click("[data-draft^=condition] [data-act=go-on]");
    window.wait_words("What you were entering is back.");
    window.click("#save");
    window.wait_screen("Log 3");
    window.wait_words("Wood: bark loose in places; green mould, a patch");
    assert_eq!(window.count(".entry-words .photo-thumb"), 1);
    window.picture("2-record");
    let what = window.ask("log_show", json!({"log": yard_log(&window, "3")}))["entries"][0]["what"].clone();
    assert!(what["wax"].is_null(), "a second tap takes it away: {what}");
}

#[test]
fn a_lost_tag_is_found_among_pictures_and_given_again() {
    let yard = Yard::of_seven();
    let window = Window::open("lost_tag", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#lost-tag");
    window.wait_screen("A lost tag");
    window.choose("#wood", "red-oak");
    window.wait_words("It can be one of 3 logs.");
    window.fill("#thick_mm", "thick");
    window.wait_words("is not a length");
    window.fill("#thick_mm", "12,5");
    window.wait_words("It can be one of 3 logs.");
    window.picture("1-candidates");
    let four = yard_log(&window, "4");
    window.click(&format!(".candidate[data-log=\"{four}\"] [data-act=this]"));
    window.fill("#tag", "1");
    window.click("#retag");
    window.wait_screen("Log 1");
    window.wait_words("another log carries the tag 1 too");
    window.picture("2-retagged");
    window.click("#look");
    window.wait_words("Another log carries the tag 1 too.");
    window.click("#tag-twice a");
    window.wait_screen("Yard");
    window.wait_words("tag on two logs");
    window.picture("3-both");
}

#[test]
fn many_logs_go_in_at_once_and_are_found_by_words_and_narrowed_down() {
    let yard = Yard::of_seven();
    let window = Window::open("many_logs", yard.folder(), EVENING);
    window.click("#tab-yard");
    window.click("#logs-new");
    window.wait_screen("Add many logs");
    window.fill("#n", "5");
    window.fill("#tag", "6");
    window.fill("#sizes", "12.5\u{e007}13 / 11\u{e007}thick");
    window.click(".chip[data-value=shiitake]");
    window.choose("#wood", "beech");
    window.fill("#note", "from the windthrow by the pond");
    window.click("#save");
    window.wait_words("Line 3: “thick”");
    window.fill("#sizes", "12.5\u{e007}13 / 11\u{e007}\u{e007}12 x 95");
    window.picture("1-form");
    window.click("#save");
    window.wait_screen("Yard");
    window.wait_words("5 logs added, 8 to 12. In use already, so passed over: 6 and 7.");
    window.fill("#search", "wind");
    window.wait_words("5 logs of 12.");
    window.wait_for(".found-at mark");
    window.picture("2-found");
    window.fill("#search", "\" OR (");
    window.wait_words("No log has");
    window.fill("#search", "");
    window.wait_words("12 logs in the register.");
    window.click("#narrow summary");
    window.choose("#by-wood", "beech");
    window.wait_words("6 logs of 12 (only beech).");
    window.choose("#by-mushroom", "americanum");
    window.wait_words("1 log of 12 (only beech and bear’s head).");
    window.picture("3-narrowed");
    window.click(".log-line");
    window.wait_screen("Log 7");
    window.click("#back");
    window.wait_words("1 log of 12 (only beech and bear’s head).");
    window.click("#all");
    window.wait_words("12 logs in the register.");
}

#[test]
fn an_empty_yard_says_on_each_of_these_screens_what_to_do_first() {
    let yard = Yard::empty();
    let window = Window::open("empty_spots", yard.folder(), EVENING);
    for (address, words) in [
        ("spots", "No spots yet"),
        ("map", "Nothing to draw yet"),
        ("move", "No logs to move"),
        ("lost-tag", "There is no live log in the yard yet"),
        ("yard", "No logs yet. Add your first one."),
    ] {
        window.script("location.hash = arguments[0]", vec![json!(format!("#/{address}"))]);
        window.wait_words(words);
        window.picture(address);
        axe(&window, address);
    }
}

#[test]
fn the_demo_yard_is_mapped_searched_and_brought_in() {
    let yard = Yard::empty();
    let until = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day");
    shadeyard_demo::build(yard.folder(), until).expect("the demo yard is laid");
    let window = Window::open("demo_spots", yard.folder(), "2026-11-25T15:00:00+01:00");
    for (light, part) in [("day", "1"), ("lamp", "2")] {
        window.click("#tab-chores, #back");
        window.script("location.hash = '#/settings'", vec![]);
        window.click(&format!("[data-field=light] .chip[data-value={light}]"));
        for (address, there) in [
            ("yard", ".log-line"),
            ("yard?search=mould", ".found-at"),
            ("map", ".map-station"),
            ("spots", ".spot-list li"),
            ("move?why=bring_in", ".tick-why"),
            ("lost-tag?wood=beech&thick=23", ".candidate"),
        ] {
            window.script("location.hash = arguments[0]", vec![json!(format!("#/{address}"))]);
            window.wait_for(there);
            let name = address.split(['?', '&']).collect::<Vec<_>>().join("-").replace('=', "-");
            window.picture(&format!("{part}-{name}"));
            no_sideways_scroll(&window, address);
        }
        window.script("location.hash = '#/yard'", vec![]);
        window.wait_for("#tab-chores");
    }
    window.open_log("31");
    window.wait_words("Brought in: Tool shed");
    window.wait_words("Put out again: Gate shade");
    window.picture("3-log-31");
    window.script("location.hash = '#/map'", vec![]);
    window.wait_for(".map-station");
    targets_are_wide(&window, "map", ".map", 48);
}

/// The id of the log with this tag, through the window.
fn yard_log(window: &Window, tag: &str) -> String {
    let list = window.ask("yard_list", json!({"search": tag}));
    let logs = list["logs"].as_array().expect("logs");
    let log = logs.iter().find(|log| log["tag"] == tag).expect("a log with this tag");
    log["id"].as_str().expect("an id").to_owned()
}
