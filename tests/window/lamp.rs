//! Lamp: what light the window gives off in the dark.
//!
//! Never here: contrast (axe holds that). Invariant: no screen of a night round is bright, green or blue; the
//! limits are the house's own, measured on the picture itself.

use super::checks::glow;
use super::driver::Window;
use super::night::card;
use super::yards::{EVENING, Yard, photo};

/// Blue and green as parts of red, and mean luminance: the most a card may give off.
const BLUE: f64 = 0.35;
const GREEN: f64 = 0.45;
const LIGHT: f64 = 0.05;

#[test]
fn a_round_card_is_red_and_dim() {
    let yard = Yard::of_seven();
    let mut window = Window::open("lamp", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    dim(&window, "1-card");
    window.click("#find");
    window.wait_screen("Find a log by its digits");
    dim(&window, "2-find");
    window.click("#find-close");
    card(&window, "1", "1 of 7");
    window.click("#put-down");
    window.wait_screen("Chores");
    dim(&window, "3-chores");
    window.pull_the_battery();
    window.wait_screen("Chores");
    dim(&window, "4-after-a-restart");
}

#[test]
fn a_photo_stays_dim_in_the_dark() {
    let yard = Yard::of_seven();
    let shots = tempfile::tempdir().expect("a folder for photos");
    let window = Window::open("lamp_photo", yard.folder(), EVENING);
    window.click("#settings");
    window.click("[data-field=light] .chip[data-value=lamp]");
    window.click("#back");
    window.open_log("3");
    window.click("#look");
    window.give_file("#photo", &photo(shots.path(), "bright.jpg", 120));
    window.wait_for(".kept-photos img");
    window.click(".chip[data-value=nothing]");
    window.click("#save");
    window.wait_for(".photo-thumb img");
    window.click(".photo-thumb");
    window.wait_until("the photo", "return document.querySelector('#photo-large img')?.naturalWidth > 0");
    dim(&window, "1-photo");
}

fn dim(window: &Window, name: &str) {
    let glow = glow(&window.picture(name));
    assert!(glow.blue <= BLUE, "{name}: blue is {:.3} of red", glow.blue);
    assert!(glow.green <= GREEN, "{name}: green is {:.3} of red", glow.green);
    assert!(glow.luminance <= LIGHT, "{name}: mean luminance {:.4}", glow.luminance);
}
