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
    window.click("#more");
    window.wait_screen("Log 1: more");
    dim(&window, "1b-more");
    window.click("#more-done");
    card(&window, "1", "1 of 7");
    window.click("[data-digit='1']");
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

#[test]
fn a_picking_card_its_pad_and_summary_are_red_and_dim() {
    let yard = Yard::of_forty();
    let window = Window::open("lamp_picking", yard.folder(), EVENING);
    lamp(&window);
    window.click("#picking-round");
    window.wait_for("#card-tag");
    dim(&window, "1-card");
    window.click("#pick-now");
    window.wait_for("[data-pad='5']");
    dim(&window, "2-pad");
    window.click("[data-pad='5']");
    window.click("#into-basket");
    window.wait_for("#look-again");
    dim(&window, "3-next-card");
    for screen in ["rounds", "losses", "sheet", "sighting", "settings", "chores"] {
        window.script("location.hash = arguments[0]", vec![format!("#/{screen}").into()]);
        window.wait_for(&format!(".screen-{screen} h1"));
        dim(&window, screen);
    }
}

/// Every frame that the page draws while cards change is looked at by its own colours: no ground that shows is
/// brighter than the limit, at any time between two cards.
#[test]
fn no_bright_frame_shows_between_cards() {
    let yard = Yard::of_seven();
    let window = Window::open("lamp_frames", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    let watch = "window.__bright = []; window.__frames = 0;
        const ground = el => getComputedStyle(el).backgroundColor;
        const look = () => { window.__frames++;
          for (const el of [document.documentElement, document.body, document.querySelector('.frame'), document.querySelector('.card, .finder')]) {
            if (!el) continue;
            const [r, g, b, a] = ground(el).match(/[\\d.]+/g).map(Number);
            if (a !== 0 && (r > 80 || g > 40 || b > 40)) window.__bright.push(el.className + ' ' + ground(el));
          }
          if (document.documentElement.dataset.light !== 'lamp') window.__bright.push('the light is ' + document.documentElement.dataset.light);
          requestAnimationFrame(look); };
        requestAnimationFrame(look);";
    window.script(watch, vec![]);
    for n in 1..=6 {
        window.click("#tick");
        dim(&window, &format!("between-{n}"));
        card(&window, &(n + 1).to_string(), &format!("{} of 7", n + 1));
    }
    window.click("[data-digit='3']");
    window.click("[data-reach='3']");
    card(&window, "3", "3 of 7");
    let seen = window.script("return [window.__frames, window.__bright.slice(0, 5)]", vec![]);
    assert!(seen[0].as_u64().unwrap_or(0) > 20, "frames were looked at: {seen}");
    assert_eq!(seen[1], serde_json::json!([]), "no bright ground between cards");
}

/// For eyes that do not see red: amber, with no blue and a little more green.
#[test]
fn the_amber_variant_is_as_dim() {
    let yard = Yard::of_seven();
    let window = Window::open("lamp_amber", yard.folder(), EVENING);
    window.click("#settings");
    window.click("[data-field=light] .chip[data-value=lamp]");
    window.click("#amber");
    window.click("#back");
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    amber(&window, "1-card");
    window.click("#more");
    window.wait_screen("Log 1: more");
    amber(&window, "2-more");
    window.click("#more-done");
    window.click("[data-digit='1']");
    window.wait_screen("Find a log by its digits");
    amber(&window, "3-find");
    for screen in ["chores", "rounds", "losses", "sheet", "sighting", "settings"] {
        window.script("location.hash = arguments[0]", vec![format!("#/{screen}").into()]);
        window.wait_for(&format!(".screen-{screen} h1"));
        amber(&window, screen);
    }
}

/// Amber has more green by its very colour (#FFB000: 69 % of red); blue and brightness are held as in red.
fn amber(window: &Window, name: &str) {
    let glow = glow(&window.picture(name));
    assert!(glow.blue <= BLUE, "{name}: blue is {:.3} of red", glow.blue);
    assert!(glow.green > 0.45 && glow.green < 0.75, "{name}: amber: green is {:.3} of red", glow.green);
    assert!(glow.luminance <= LIGHT, "{name}: mean luminance {:.4}", glow.luminance);
}

/// The six main acts lie in the lower two fifths, 64 px or more, 8 px apart.
#[test]
fn the_main_acts_of_a_card_lie_under_the_thumb() {
    let yard = Yard::of_seven();
    let window = Window::open("lamp_reach", yard.folder(), EVENING);
    window.click("#night-round");
    card(&window, "1", "1 of 7");
    let boxes = "const all = ['#slugs-minus', '#slugs-plus', '.chips-damage .chip[data-value=some]', '#undo', '#skip', '#tick', '#spot-clean'].map(css => {
          const box = document.querySelector(css).getBoundingClientRect(); return {css, top: box.top, left: box.left, right: box.right, bottom: box.bottom}; });
        const high = all.filter(b => b.top < window.innerHeight * 0.6 - 0.5).map(b => b.css + ' at ' + b.top);
        const small = all.filter(b => b.right - b.left < 63.5 || b.bottom - b.top < 63.5).map(b => b.css);
        const near = all.flatMap((a, n) => all.slice(n + 1).filter(b => Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom) < 7.5).map(b => a.css + ' and ' + b.css));
        return {high, small, near}";
    let found = window.script(boxes, vec![]);
    assert_eq!(found, serde_json::json!({"high": [], "small": [], "near": []}));
}

fn lamp(window: &Window) {
    window.click("#settings");
    window.click("[data-field=light] .chip[data-value=lamp]");
    window.click("#back");
    window.wait_screen("Chores");
}

fn dim(window: &Window, name: &str) {
    let glow = glow(&window.picture(name));
    assert!(glow.blue <= BLUE, "{name}: blue is {:.3} of red", glow.blue);
    assert!(glow.green <= GREEN, "{name}: green is {:.3} of red", glow.green);
    assert!(glow.luminance <= LIGHT, "{name}: mean luminance {:.4}", glow.luminance);
}
