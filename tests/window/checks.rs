//! What every screen is held to: axe's rules, no sideways scroll, and how little white light Lamp lets out.
//!
//! Never here: a journey. Invariant: a failed check names what it found, so that it can be mended unseen.

use std::path::Path;

use serde_json::{Value, json};

use super::driver::Window;

/// Runs axe-core's rules (Deque, MPL-2.0, WCAG 2.2 A and AA and its best practices) in the window.
pub fn axe(window: &Window, screen: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../xtask/npm/node_modules/axe-core/axe.min.js");
    let axe = std::fs::read_to_string(&file).expect("axe-core is installed: `cargo xtask setup`");
    window.script(&axe, vec![]);
    let run = "const done = arguments[arguments.length - 1];
        axe.run(document, {resultTypes: ['violations']}).then(
          found => done({ran: found.passes.length, bad: found.violations.map(one => one.id + ': ' + one.help + ' at '
            + one.nodes.map(n => n.target.join(' ') + ' (' + (n.any[0]?.message ?? n.failureSummary) + ')').join('; '))}),
          broke => done({ran: 0, bad: [String(broke)]}));";
    let found = window.script_later(run, vec![]);
    let bad: Vec<&str> = found["bad"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    assert!(bad.is_empty(), "axe on {screen}:\n{}", bad.join("\n"));
    assert!(found["ran"].as_u64().unwrap_or(0) > 5, "axe looked at {screen}");
}

/// WCAG 2.2, 1.4.10 Reflow: at 320 px nothing has to be scrolled sideways.
pub fn no_sideways_scroll(window: &Window, screen: &str) {
    let wide = "const most = window.innerWidth; const root = document.documentElement;
        const over = [...document.body.querySelectorAll('*')].filter(el => {
          const box = el.getBoundingClientRect();
          if (!box.width || box.right <= most + 1) return false;
          for (let up = el.parentElement; up && up !== document.body; up = up.parentElement) {
            // A wide table may scroll in its own box; the screen that scrolls down may not scroll across.
            if (up.matches('.wide') || ['hidden', 'clip'].includes(getComputedStyle(up).overflowX)) return false;
          }
          return true;
        });
        return {by: root.scrollWidth - most, over: over.slice(0, 5).map(el => el.tagName + '.' + el.className)}";
    let found = window.script(wide, vec![]);
    assert!(
        found["by"].as_i64().unwrap_or(i64::MAX) <= 0 && found["over"] == json!([]),
        "{screen} scrolls sideways: {found}"
    );
}

/// The screen scrolls inside its frame, never the page beneath it: unseen words once made the page five times as long
/// as the window, and a thumb could push the tabs out of sight.
pub fn the_page_stands_still(window: &Window, screen: &str) {
    let found = window.script("return [document.documentElement.scrollHeight, window.innerHeight]", vec![]);
    assert_eq!(found[0], found[1], "{screen}: the page is as tall as the window");
}

/// WCAG 2.2, 2.5.8 asks 24 px; the house asks 48, and 64 for what a wet hand does in a round.
pub fn targets_are_wide(window: &Window, screen: &str, within: &str, least: u32) {
    let small = "const [within, least] = arguments;
        return [...document.querySelector(within).querySelectorAll('button, a[href], input, select, textarea, summary, [role=button]')]
          .filter(el => el.getClientRects().length && !el.closest('[hidden]'))
          .map(el => (el.matches('input[type=radio], input[type=checkbox], input[type=file]') && el.closest('label')) || el)
          .map(el => [el, el.getBoundingClientRect()])
          .filter(([, box]) => box.width > 1 && box.height > 1 && (box.width < least - 0.5 || box.height < least - 0.5))
          .map(([el, box]) => el.tagName + ' ' + (el.getAttribute('aria-label') || el.innerText || el.name || el.id)
            + ' ' + Math.round(box.width) + 'x' + Math.round(box.height))";
    let found = window.script(small, vec![json!(within), json!(least)]);
    assert_eq!(found, json!([]), "{screen}: narrower or lower than {least} px");
}

/// Whether two pictures of the window show the same. Lines are smoothed a little differently by each thread that
/// paints, so what is compared are the mean colours of squares of eight pixels.
pub fn alike(one: &[u8], other: &[u8]) -> bool {
    let [one, other] = [one, other].map(|png| {
        let picture =
            image::load_from_memory_with_format(png, image::ImageFormat::Png).expect("a PNG").to_rgb8();
        let (width, height) = (picture.width() / 8, picture.height() / 8);
        image::imageops::resize(&picture, width, height, image::imageops::FilterType::Triangle)
    });
    let most = one.iter().zip(other.iter()).map(|(a, b)| a.abs_diff(*b)).max();
    one.dimensions() == other.dimensions() && most.is_some_and(|most| most <= 24)
}

/// What light a picture gives off: sums over all its pixels, each channel 0–255 as shown.
#[derive(Debug)]
pub struct Glow {
    /// Blue as a part of red.
    pub blue: f64,
    /// Green as a part of red.
    pub green: f64,
    /// Mean relative luminance (WCAG 2.2's formula), 0–1.
    pub luminance: f64,
    /// Pixels that hold more blue than any ink of Lamp: a white box, an undimmed photo.
    pub white: usize,
}

/// Measures a picture of the window.
pub fn glow(png: &[u8]) -> Glow {
    let picture = image::load_from_memory_with_format(png, image::ImageFormat::Png).expect("a PNG").to_rgb8();
    let (mut red, mut green, mut blue, mut light, mut white) = (0.0, 0.0, 0.0, 0.0, 0);
    for pixel in picture.pixels() {
        let [r, g, b] = pixel.0.map(|part| f64::from(part) / 255.0);
        red += r;
        green += g;
        blue += b;
        white += usize::from(b > 0.55);
        light += 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
    }
    let pixels = f64::from(picture.width()) * f64::from(picture.height());
    Glow { blue: blue / red, green: green / red, luminance: light / pixels, white }
}

fn linear(part: f64) -> f64 {
    if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
}
