//! Whole rounds over forty logs, as a grower with one wet thumb walks them: counted in taps, with nothing typed.
//!
//! Never here: how red it is (that is Lamp's). Invariant: three dead batteries lose nothing.

use std::cell::Cell;
use std::time::Duration;

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::typed::kept;
use super::yards::{EVENING, Yard, ask, request};

/// A window whose taps are counted.
struct Thumb<'a> {
    window: &'a Window,
    taps: &'a Cell<u32>,
}

impl Thumb<'_> {
    fn tap(&self, css: &str) {
        self.taps.set(self.taps.get() + 1);
        self.window.click(css);
    }

    /// To a log from any card: the first digit of its tag, then the tag.
    fn reach(&self, tag: &str) {
        self.tap(&format!("[data-digit='{}']", &tag[..1]));
        self.tap(&format!("[data-reach='{tag}']"));
        on_card(self.window, tag);
    }
}

fn on_card(window: &Window, tag: &str) {
    let there =
        format!("return document.querySelector('#card-tag')?.lastChild.textContent.trim() === {tag:?}");
    window.wait_until(&format!("the card of log {tag}"), &there);
    std::thread::sleep(Duration::from_millis(400));
}

fn round_of(window: &Window) -> String {
    let round = window.script("return location.hash.split('/')[2]", vec![]);
    round.as_str().expect("a round in the address").to_owned()
}

/// Five findings among forty logs, three dead batteries, at most sixty taps, no key of a keyboard.
#[test]
fn a_night_round_over_forty_logs_takes_sixty_taps_at_most_and_survives_three_kills() {
    let yard = Yard::of_forty();
    let mut window = Window::open("night_forty", yard.folder(), EVENING);
    let taps = Cell::new(0);
    window.click("#night-round");
    // Logs with caps come first in their spot: 3, 8 and 15, then the others from 1 on.
    on_card(&window, "3");
    let round = round_of(&window);
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#slugs-plus");
    thumb.tap("#tick");
    on_card(&window, "8");
    thumb.tap("#slugs-plus");
    thumb.tap("#slugs-plus");
    thumb.tap(".chips-damage .chip[data-value=some]");
    window.picture("1-finding");
    kept(&window, &format!("check:{round}"), "some");
    window.pull_the_battery();
    window.click("#night-round");
    on_card(&window, "8");
    assert_eq!(window.value("#slugs"), "2");
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#tick");
    on_card(&window, "15");
    thumb.tap("#tick");
    on_card(&window, "1");
    thumb.reach("12");
    thumb.tap("#slugs-plus");
    thumb.tap("#more");
    thumb.tap("[data-mark=under]");
    thumb.tap("[data-mark=hand_picked]");
    window.picture("2-more");
    thumb.tap("#more-done");
    kept(&window, &format!("check:{round}"), "hand_picked");
    window.pull_the_battery();
    window.click("#night-round");
    on_card(&window, "12");
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#tick");
    on_card(&window, "13");
    thumb.tap("#spot-clean");
    on_card(&window, "22");
    thumb.tap("#tick");
    on_card(&window, "31");
    thumb.tap("#slugs-plus");
    thumb.tap("#slugs-plus");
    thumb.tap("#slugs-plus");
    thumb.tap(".chips-damage .chip[data-value=much]");
    thumb.tap("#tick");
    on_card(&window, "38");
    // A tick by mistake, taken back and put right.
    thumb.tap("#tick");
    on_card(&window, "21");
    thumb.tap("#undo");
    on_card(&window, "38");
    thumb.tap("#slugs-plus");
    kept(&window, &format!("check:{round}"), "\"text\":\"1\"");
    window.pull_the_battery();
    window.click("#night-round");
    on_card(&window, "38");
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#tick");
    on_card(&window, "21");
    for tag in 23..=30 {
        thumb.tap("#tick");
        on_card(&window, &tag.to_string());
    }
    thumb.tap("#spot-clean");
    thumb.tap("#end-round");
    window.wait_screen("Night round of 3 October 2026");
    window.picture("3-summary-lamp");
    assert!(taps.get() <= 60, "{} taps", taps.get());
    assert_eq!(window.text("#sum-slugs"), "8", "1 and 2 and 1 and 3 and 1");
    assert_eq!(window.text("#sum-done"), "40 of 40");
    let shown = window.ask("round_show", json!({"round": round}));
    assert_eq!((&shown["round"]["damaged"], &shown["round"]["skipped"]), (&json!(2), &json!(0)));
    window.script("document.documentElement.dataset.light = 'day'", vec![]);
    window.picture("4-summary-day");
    axe(&window, "the summary of a night round");
    println!("night round over 40 logs: {} taps", taps.get());
}

/// Six logs with caps: two into the basket, one weighed at once, two left, one skipped; three dead batteries.
#[test]
fn a_picking_round_fills_a_basket_that_is_weighed_in_the_kitchen_and_survives_three_kills() {
    let yard = Yard::of_forty();
    let mut window = Window::open("picking_forty", yard.folder(), "2026-10-03T15:00:00+02:00");
    let taps = Cell::new(0);
    window.click("#picking-round");
    on_card(&window, "22");
    let round = round_of(&window);
    window.picture("1-card-day");
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#pick-now");
    thumb.tap("[data-pad='5']");
    window.picture("2-pad-day");
    axe(&window, "the pad of a picking");
    kept(&window, &format!("pick:{round}"), "\"caps\":\"5\"");
    window.pull_the_battery();
    window.click("#picking-round");
    window.wait_screen("Log 22: picked");
    std::thread::sleep(Duration::from_millis(400));
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#into-basket");
    on_card(&window, "15");
    thumb.tap("#pick-now");
    thumb.tap("[data-pad='3']");
    thumb.tap("#into-basket");
    on_card(&window, "38");
    thumb.tap("#pick-now");
    thumb.tap(".pad-field[data-field=grams]");
    for digit in ["2", "4", "0"] {
        thumb.tap(&format!("[data-pad='{digit}']"));
    }
    kept(&window, &format!("pick:{round}"), "240");
    window.pull_the_battery();
    window.click("#picking-round");
    window.wait_screen("Log 38: picked");
    std::thread::sleep(Duration::from_millis(400));
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#pick-save");
    on_card(&window, "31");
    thumb.tap("#skip");
    on_card(&window, "8");
    thumb.tap("[data-stage=cupped]");
    thumb.tap("#undo");
    on_card(&window, "31");
    thumb.tap("#skip");
    on_card(&window, "8");
    thumb.tap("#look-again");
    on_card(&window, "3");
    thumb.tap("[data-stage=button]");
    kept(&window, &format!("pick:{round}"), "button");
    window.pull_the_battery();
    window.click("#picking-round");
    on_card(&window, "3");
    let thumb = Thumb { window: &window, taps: &taps };
    thumb.tap("#look-again");
    window.wait_screen("No log with caps left");
    thumb.tap("#end-round");
    window.wait_screen("Picking round of 3 October 2026");
    window.picture("3-summary-day");
    axe(&window, "the summary of a picking round");
    assert!(taps.get() <= 60, "{} taps", taps.get());
    assert_eq!(window.text("#sum-picked"), "3");
    assert_eq!(window.text("#sum-grams"), "at least 240 g");
    assert_eq!(window.text("#sum-caps"), "8");
    assert_eq!(window.text("#sum-done"), "5 of 6");
    window.click("[data-weigh]");
    window.fill("#grams", "641");
    window.picture("4-basket");
    window.click("#save");
    window.wait_screen("Rounds");
    window.picture("5-rounds");
    let picked = window.ask("pick_round_show", json!({"round": round}));
    let grams: i64 =
        picked["stops"].as_array().expect("stops").iter().filter_map(|s| s["done"]["grams"].as_i64()).sum();
    assert_eq!(grams, 881, "641 shared out, and 240");
    println!("picking round: {} taps", taps.get());
}

/// A touch that slips, a drop, and two fingers at once do nothing; a thumb does.
#[test]
fn drops_slips_and_palms_tick_nothing() {
    let yard = Yard::of_seven();
    let window = Window::open("rain", yard.folder(), EVENING);
    window.click("#night-round");
    on_card(&window, "1");
    let rain = "const done = arguments[arguments.length - 1];
        const tick = document.querySelector('#tick'); const box = tick.getBoundingClientRect();
        const at = {bubbles: true, cancelable: true, composed: true, pointerType: 'touch', clientX: box.x + 20, clientY: box.y + 20, width: 20, height: 20, pointerId: 1};
        const send = (type, more) => tick.dispatchEvent(new PointerEvent(type, {...at, ...more}));
        const click = () => tick.dispatchEvent(new MouseEvent('click', {bubbles: true, cancelable: true, detail: 1}));
        const wait = ms => new Promise(go => setTimeout(go, ms));
        (async () => {
          send('pointerdown'); send('pointerup'); click();
          await wait(200);
          send('pointerdown'); await wait(60); send('pointerup', {clientY: box.y + 60}); click();
          await wait(200);
          send('pointerdown'); send('pointerdown', {pointerId: 2}); await wait(60); send('pointerup'); click(); send('pointerup', {pointerId: 2}); click();
          await wait(200);
          const before = document.querySelector('#position').innerText;
          send('pointerdown'); await wait(60); send('pointerup'); click();
          done(before);
        })();";
    assert_eq!(window.script_later(rain, vec![]), json!("1 of 7"), "nothing was ticked by the rain");
    on_card(&window, "2");
}

/// The sheet that was filled in with a pencil is typed in as a grid; a child's round only counts.
#[test]
fn a_sheet_is_typed_in_and_a_child_only_counts() {
    let yard = Yard::of_seven();
    let window = Window::open("sheet", yard.folder(), EVENING);
    window.click("#rounds");
    window.wait_screen("Rounds");
    window.picture("1-rounds");
    window.click("#sheet");
    window.wait_screen("Round sheet");
    window.picture("2-sheet");
    window.click("#print");
    let paper = window.downloads().join("round-sheet-2026-10-03.pdf");
    window.wait_so("the sheet among the downloads", || {
        std::fs::read(&paper).is_ok_and(|bytes| bytes.len() > 1500 && bytes.ends_with(b"%%EOF\n"))
    });
    window.fill(".grid-row:nth-child(2) input", "4");
    window.click("#others-clean");
    window.click("#save");
    window.wait_screen("Night round of 3 October 2026");
    assert_eq!(window.text("#sum-slugs"), "4");
    assert_eq!(window.text("#sum-done"), "7 of 7");
    window.script("location.hash = '#/rounds'", vec![]);
    window.wait_screen("Rounds");
    window.click("#child");
    window.click("#start-round");
    on_card(&window, "1");
    assert_eq!(window.script("return document.querySelector('.chips-damage') === null", vec![]), json!(true));
    window.picture("3-child");
    window.click("#slugs-plus");
    window.click("#tick");
    on_card(&window, "2");
    window.click("#previous");
    window.wait_words("1 slug, damage not judged");
}

/// A sighting with its meaning, and a flush split by the grower.
#[test]
fn a_competitor_is_noted_and_says_what_it_means() {
    let yard = Yard::of_seven();
    let window = Window::open("sighting", yard.folder(), EVENING);
    window.open_log("3");
    window.click("#note-sighting");
    window.wait_screen("Sighting on log 3");
    window.click(".chip[data-value=trametes]");
    window.wait_words("Another fungus holds part of the wood");
    window.picture("1-sighting");
    window.click("[data-field=extent] .chip[data-value=most]");
    window.click("#save");
    window.wait_screen("Log 3");
    window.wait_words("Likely lost to another fungus.");
    window.wait_words("Seen: brackets in zones");
    window.picture("2-log");
}

/// Half of the spots are started from Rounds as a round of their own, and tonight goes into a calendar.
#[test]
fn a_half_is_started_by_its_spots_and_tonight_goes_into_a_calendar() {
    let yard = Yard::of_seven();
    yard.at(EVENING, |book| {
        let place = json!({"place": "the yard", "lat": 48.1, "lon": 11.6, "night_after_min": 120, "request": request()});
        ask(book, "settings_set", place);
    });
    let window = Window::open("half", yard.folder(), EVENING);
    window.click("#rounds");
    window.wait_screen("Rounds");
    window.click("#calendar");
    let file = window.downloads().join("night-round-2026-10-03.ics");
    window.wait_so("the calendar's file", || file.exists());
    let written = std::fs::read_to_string(&file).expect("the calendar's file");
    assert!(
        written.starts_with("BEGIN:VCALENDAR\r\n") && written.contains("LOCATION:the yard\r\n"),
        "{written}"
    );
    window.click("#walk-order summary");
    window.wait_words("Within a spot: pins or caps out first, then damage in the last 30 days");
    window.click("[name=spot]:nth-of-type(1)");
    window.picture("1-rounds");
    window.click("#start-round");
    on_card(&window, "1");
    assert_eq!(window.text("#position"), "1 of 3", "only the chosen spot");
    window.picture("2-card");
    window.click("#put-down");
    window.wait_screen("Rounds");
    window.wait_words("Go on with it · 0 of 3");
}
