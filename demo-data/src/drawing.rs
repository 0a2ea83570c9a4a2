//! Pictures of logs, drawn by this code alone and signed as drawn.
//! Never a photograph, never a file read from elsewhere.
//! Invariant: the same stage and seed give the same bytes.

mod canvas;
mod caps;
mod ground;
mod letters;
mod log;
mod spines;

use crate::chance::Chance;
use canvas::{Canvas, HEIGHT, Ink, WIDTH};
use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};

const QUALITY: u8 = 80;

/// A JPEG, 1200 × 900, of a log at a cap stage (`pin`, `long_spines`, …); any other word draws a
/// bare log. The words "drawn, not a photo" stand in the picture.
pub fn drawn_photo(stage: &str, seed: u64) -> Vec<u8> {
    let mut chance = Chance::named(seed, stage);
    let mut canvas = Canvas::new(Ink(0.12, 0.13, 0.12));
    ground::lay(&mut canvas, &mut chance);
    let hericium = matches!(stage, "knob" | "short_spines" | "long_spines" | "yellowing");
    let log = if hericium && chance.happens(0.6) {
        log::Log::standing(&mut chance)
    } else {
        log::Log::lying(&mut chance)
    };
    log.draw(&mut canvas, &mut chance);
    caps::grow(&mut canvas, &log, stage, &mut chance);
    spines::grow(&mut canvas, &log, stage, &mut chance);
    letters::write(&mut canvas);
    encode(&canvas.develop(chance.bits()))
}

/// The JPEG of the pixels; empty only if the encoder refuses a size it is known to take.
fn encode(pixels: &[u8]) -> Vec<u8> {
    let mut jpeg = Vec::with_capacity(300_000);
    let (width, height) = (WIDTH as u32, HEIGHT as u32);
    match JpegEncoder::new_with_quality(&mut jpeg, QUALITY).write_image(
        pixels,
        width,
        height,
        ExtendedColorType::Rgb8,
    ) {
        Ok(()) => jpeg,
        Err(_) => Vec::new(),
    }
}
