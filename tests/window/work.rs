//! The yard's work in the window: what is due, the tank, weighing, water, weather, units.
//!
//! Never here: a rule of the trade. Invariant: each journey starts at what is due and ends in the record.

use chrono::{Days, NaiveDate};
use serde_json::{Value, json};

use super::driver::Window;
use super::yards::{EVENING, Yard, ask, request};

/// The invented yard as it is on this day.
fn demo(day: &str) -> Yard {
    let yard = Yard::empty();
    let until: NaiveDate = day.parse().expect("a day");
    shadeyard_demo::build(yard.folder(), until).expect("the invented yard is built");
    yard
}

/// Dry, hot days up to the evening, the last one with this low.
fn dry(yard: &Yard, low: i64) {
    let today: NaiveDate = "2026-10-03".parse().expect("a day");
    yard.at(EVENING, |book| {
        for n in 0..10 {
            let low = if n == 0 { low } else { 120 };
            let day = json!({"day": today - Days::new(n), "min_dc": low, "max_dc": 260, "rain_tenths": 0, "wind_tenths": null,
                "request": request(), "draft": null});
            ask(book, "weather_set", day);
        }
    });
}

fn page_is_clean(window: &Window) {
    let page = window.page();
    for bad in ["undefined", "NaN", "null", "[object"] {
        assert!(!page.contains(bad), "{bad} on the page: {page}");
    }
}

#[test]
fn logs_go_into_the_tank_and_come_out_by_one_tap() {
    let yard = Yard::of_seven();
    let window = Window::open("tank", yard.folder(), EVENING);
    window.click("#to-tank");
    window.wait_screen("Tank");
    window.wait_words("Nothing. Tick logs below when you put them in.");
    window.picture("1-empty-tank");
    window.click("[data-tag='1'] input");
    window.click("[data-tag='2'] input");
    window.fill("#water_dc", "warm");
    window.click("#put-in");
    window.wait_words("“warm” is not a temperature.");
    window.fill("#water_dc", "8,5");
    window.click("#put-in");
    window.wait_words("Logs 1 and 2 put into the tank, water 8.5 °C.");
    window.wait_words("Leave it in");
    window.picture("2-in");
    page_is_clean(&window);
    window.click("#back");
    window.wait_screen("Chores");
    window.wait_words("Tank · 2");
    drop(window);
    let window = Window::open("tank_later", yard.folder(), "2026-10-04T22:30:00+02:00");
    window.wait_words("Logs 1 and 2: lift it out now");
    window.picture("1-due");
    window.click("[data-tap=lift]");
    window.wait_words("Logs 1 and 2 lifted out of the tank.");
    assert_eq!(window.ask("tank_show", json!({}))["tank"], json!([]));
    window.open_log("1");
    window.wait_words("Lifted out of the tank");
    window.wait_words("Put into the tank: water 8.5 °C");
}

#[test]
fn a_totem_in_the_load_is_asked_about_once() {
    let yard = Yard::of_seven();
    let window = Window::open("tank_asks", yard.folder(), EVENING);
    window.click("#to-tank");
    window.click("#all-logs");
    window.click("[data-tag='5'] input");
    window.click("[data-tag='1'] input");
    window.click("#put-in");
    window.wait_words("Before this load goes in");
    window.wait_words("5 carries Hericium, which is watered, not soaked, as a rule.");
    window.picture("1-asked");
    window.click("#ask-no");
    assert_eq!(window.ask("tank_show", json!({}))["tank"], json!([]));
    window.click("#put-in");
    window.click("#ask-yes");
    window.wait_words("put into the tank");
    assert_eq!(window.ask("tank_show", json!({}))["tank"].as_array().map(Vec::len), Some(2));
}

#[test]
fn a_dry_week_asks_for_water_and_one_tap_says_that_it_was_given() {
    let yard = Yard::of_seven();
    dry(&yard, 120);
    let window = Window::open("water", yard.folder(), EVENING);
    window.wait_words("Water Ditch: logs 1, 2 and 3");
    window.picture("1-due");
    window.click("[data-due=water] [data-tap=water]");
    window.wait_words("Logs 1, 2 and 3 watered.");
    window.click("#to-water");
    window.wait_screen("Water");
    window.fill("#have", "5");
    window.wait_words("2 logs watered");
    window.picture("2-few-litres");
    window.click("#water");
    window.wait_words("watered");
    page_is_clean(&window);
}

#[test]
fn frost_tonight_stands_first_and_a_chore_can_be_put_off() {
    let yard = Yard::of_seven();
    dry(&yard, -20);
    let log = yard.log("1");
    yard.at(EVENING, |book| {
        ask(book, "look_add", json!({"log": log, "seen": "cupped", "photos": [], "note": "", "request": request(), "draft": null}));
    });
    let window = Window::open("frost", yard.folder(), EVENING);
    window.wait_words("Frost tonight: pick log 1, soak nothing");
    window.picture("1-frost");
    let first = window.script("return document.querySelector('.due-line').dataset.due", vec![]);
    assert_eq!(first, "frost");
    let before = window.count(".due-line");
    window.click("[data-due=pick] [data-later='1']");
    window.wait_words("Put off till 4 October 2026.");
    window.wait_until(
        "one line fewer",
        &format!("return document.querySelectorAll('.due-line').length === {}", before - 1),
    );
    window.click("#put-off summary");
    window.click("[data-back]");
    window.wait_until(
        "the line is back",
        &format!("return document.querySelectorAll('.due-line').length === {before}"),
    );
    page_is_clean(&window);
}

#[test]
fn a_log_is_weighed_and_a_slip_of_the_scale_is_asked_about() {
    let yard = Yard::of_seven();
    let window = Window::open("weigh", yard.folder(), EVENING);
    window.click("#to-weigh");
    window.wait_screen("Weigh logs");
    let log = yard_log(&window, "1");
    window.fill(&format!("#w-{log}"), "150");
    window.picture("1-typed");
    window.click("#save");
    window.wait_words("1 is heavier than its wood can be, soaked full");
    window.click("#ask-no");
    window.fill(&format!("#w-{log}"), "12,4");
    window.click("#save");
    window.wait_words("Log 1 weighed: 12.4 kg.");
    window.open_log("1");
    window.wait_words("Weighed: 12.4 kg");
    window.click("#moisture");
    window.wait_screen("How wet log 1 is");
    window.picture("2-moisture");
    page_is_clean(&window);
    window.click("#lifting");
    window.wait_words("It does not cover carrying");
    window.picture("3-lifting");
    page_is_clean(&window);
}

fn yard_log(window: &Window, tag: &str) -> String {
    let list = window.ask("yard_list", json!({"search": tag}));
    list["logs"][0]["id"].as_str().expect("a log").to_owned()
}

#[test]
fn weather_is_typed_and_a_file_is_looked_at_before_it_is_taken() {
    let yard = Yard::of_seven();
    let window = Window::open("weather", yard.folder(), EVENING);
    window.click("#to-weather");
    window.wait_screen("Weather");
    window.wait_words("No weather yet.");
    window.fill("#min_dc", "12");
    window.fill("#max_dc", "4");
    window.click("#save");
    window.wait_words("The highest temperature lies below the lowest.");
    window.fill("#max_dc", "18,5");
    window.fill("#rain_tenths", "3.2");
    window.click("#save");
    window.wait_words("Weather of 3 October 2026 kept");
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("station.dly");
    std::fs::write(&file, include_str!("../outside/reference/invented.dly")).expect("a file");
    window.give_file("#weather-file", &file);
    window.wait_words("28 days from 1 February 2026 to 28 February 2026 would be taken");
    window.picture("1-tried");
    window.click("#take");
    window.wait_words("Taken in from station XX000INVENT: 28 days of weather.");
    assert_eq!(window.ask("weather_show", json!({}))["total"], 29);
    page_is_clean(&window);
}

#[test]
fn us_units_reach_fields_and_figures_while_the_register_stays_si() {
    let yard = Yard::of_seven();
    let window = Window::open("us_units", yard.folder(), EVENING);
    window.click("#settings");
    window.click("[data-field=units] .chip[data-value=us]");
    window.wait_words("Units and ways of working kept.");
    window.picture("1-settings");
    window.click("#back");
    window.open_log("1");
    window.wait_words("4.72 in thick");
    window.click("#pick");
    window.wait_words("in oz");
    window.fill("#grams", "12.5");
    window.click("#save");
    window.wait_words("Picked: 12.5 oz");
    assert_eq!(window.ask("yard_list", json!({"search": "1"}))["logs"][0]["grams"], 354);
}

#[test]
fn the_invented_yards_work_shows_on_every_screen() {
    let yard = demo("2026-07-15");
    let window = Window::open("work_demo", yard.folder(), "2026-07-15T12:00:00+02:00");
    window.wait_for("#due-title");
    window.picture("1-chores");
    page_is_clean(&window);
    for (tap, heading, picture) in [
        ("#to-tank", "Tank", "2-tank"),
        ("#to-water", "Water", "3-water"),
        ("#to-weigh", "Weigh logs", "4-weigh"),
        ("#to-weather", "Weather", "5-weather"),
    ] {
        window.click(tap);
        window.wait_screen(heading);
        window.picture(picture);
        page_is_clean(&window);
        window.click("#back");
        window.wait_screen("Chores");
    }
    window.open_log("59");
    window.click("#moisture");
    window.wait_words("water of its weight");
    window.picture("6-moisture");
    page_is_clean(&window);
}

#[test]
fn an_empty_yard_is_told_what_to_do_first_on_every_screen() {
    let yard = Yard::empty();
    let window = Window::open("work_empty", yard.folder(), EVENING);
    window.wait_words("Add your first log");
    for (address, words) in [
        ("#/tank", "No log could go in."),
        ("#/watering", "No laid log to water yet."),
        ("#/weigh", "No laid log to weigh yet."),
        ("#/weather", "No weather yet."),
    ] {
        window.script("location.hash = arguments[0]", vec![Value::from(address)]);
        window.wait_words(words);
        window.picture(&address[2..]);
        page_is_clean(&window);
    }
}
