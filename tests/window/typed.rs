//! What is typed: refused with a sentence and kept, shown as it was written, safe from a dead battery, and
//! taken back.
//!
//! Never here: the night round. Invariant: no letter that was typed is lost by a refusal or a kill.

use serde_json::json;

use super::checks::axe;
use super::driver::Window;
use super::yards::{EVENING, Yard};

#[test]
fn bad_input_gets_a_sentence_and_keeps_what_was_typed() {
    let yard = Yard::empty();
    let window = Window::open("bad_input", yard.folder(), EVENING);
    window.press("Add your first log");
    window.fill("#tag", "12");
    window.fill("#note", "from the windfall");
    window.click("#save");
    window.wait_words("No mushroom is chosen.");
    window.click(".chip[data-value=shiitake]");
    window.fill("#length_mm", "a metre");
    window.click("#save");
    window.wait_words("“a metre” is not a length in centimetres.");
    assert_eq!(window.value("#length_mm"), "a metre");
    window.picture("1-length");
    axe(&window, "a form with a refused field");
    window.fill("#length_mm", "99999");
    window.click("#save");
    window.wait_words("out of range");
    window.fill("#length_mm", "100");
    window.fill("#tag", "");
    window.click("#save");
    window.wait_words("The tag is empty.");
    assert_eq!(window.value("#note"), "from the windfall");
    assert_eq!(window.ask("yard_list", json!({"search": ""}))["total"], 0, "nothing was written so far");
    window.fill("#tag", "12");
    window.click("#save");
    window.wait_screen("Log 12");
    window.wait_words("from the windfall");
}

#[test]
fn a_log_laid_before_it_was_felled_is_refused_at_the_field() {
    let yard = Yard::empty();
    let window = Window::open("laid_before_felled", yard.folder(), EVENING);
    window.press("Add your first log");
    window.click(".chip[data-value=shiitake]");
    for (field, year) in [("felled", "2025"), ("laid", "2024")] {
        window.choose(&format!("#{field}-kind"), "year");
        window.fill(&format!("#{field}-year"), year);
    }
    window.click("#save");
    window.wait_words("“laid” lies before “felled”.");
    assert_eq!(window.value("#laid-year"), "2024");
    window.fill("#laid-year", "2025");
    window.click("#save");
    window.wait_words("Laid 2025");
}

#[test]
fn markup_and_far_letters_in_a_note_are_shown_as_they_were_written() {
    let note = "<b>wet</b> & <img src=x onerror=alert(1)> “Pilz” シイタケ é 🍄";
    let yard = Yard::empty();
    let window = Window::open("markup", yard.folder(), EVENING);
    window.press("Add your first log");
    window.fill("#tag", "<i>9</i>");
    window.click(".chip[data-value=shiitake]");
    // Keys outside the first plane of letters cannot be pressed one by one: this is how a phone's keyboard puts them in.
    let put = "const field = document.querySelector('#note'); field.value = arguments[0];
        field.dispatchEvent(new InputEvent('input', {bubbles: true}));";
    window.script(put, vec![json!(note)]);
    window.click("#save");
    window.wait_screen("Log <i>9</i>");
    assert_eq!(window.text(".note"), note);
    assert_eq!(window.count(".note *"), 0, "no element was made from the note");
    window.picture("1-note");
}

#[test]
fn a_form_half_filled_is_back_after_the_battery_died() {
    let yard = Yard::empty();
    let mut window = Window::open("draft", yard.folder(), EVENING);
    window.press("Add your first log");
    window.fill("#tag", "21");
    window.click(".chip[data-value=americanum]");
    window.fill("#note", "bark loose at one end");
    kept(&window, "log:new", "loose at one end");
    window.pull_the_battery();
    window.wait_words("Not finished");
    window.click("[data-draft='log:new'] [data-act=go-on]");
    window.wait_words("What you were typing is back.");
    assert_eq!((window.value("#tag"), window.value("#note")), ("21".into(), "bark loose at one end".into()));
    window.picture("1-back");
    window.click("#save");
    window.wait_screen("Log 21");
    window.click("#back");
    window.click("#tab-chores");
    window.wait_screen("Chores");
    assert_eq!(window.count("[data-draft]"), 0, "a saved form is no draft any more");
}

#[test]
fn the_last_act_is_taken_back_after_a_restart() {
    let yard = Yard::of_seven();
    let mut window = Window::open("undo", yard.folder(), EVENING);
    window.open_log("4");
    window.click("#edit");
    window.fill("#note", "moved a little");
    window.click("#save");
    window.wait_words("Log 4 changed");
    window.pull_the_battery();
    window.wait_words("Log 4 changed");
    window.click("#undo-last");
    window.wait_words("Taken back");
    window.picture("1-taken-back");
    window.open_log("4");
    assert_eq!(window.count(".note"), 0, "the note is gone again");
    window.click("#back");
    window.click("#tab-chores");
    window.click("#last-acts");
    window.wait_screen("Last acts");
    window.wait_words("Taken back.");
    window.picture("2-acts");
}

/// Waits until the register holds this in the form's draft.
pub fn kept(window: &Window, key: &str, words: &str) {
    let there = format!(
        "if (!window.asking) {{ window.asking = true; window.__TAURI__.core.invoke('call', {{name: 'draft_get', request: {{key: {key:?}}}}})
          .then(({{value}}) => {{ window.asking = false; window.kept = value; }}); }}
        return (window.kept ?? '').includes({words:?})"
    );
    window.wait_until(&format!("'{words}' in the draft"), &there);
}
