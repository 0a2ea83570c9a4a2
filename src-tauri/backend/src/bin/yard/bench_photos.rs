//! How fast a photo is kept, beside a preview by another tool of the same file in the same run.
//! Never a figure of the trade.
//! Invariant: what is timed is the command itself: verified, turned, two previews, hashed, on the disk.

#![allow(
    clippy::disallowed_methods,
    reason = "measuring needs a stopwatch, and it makes files to measure with"
)]

use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Rounds of which the median counts.
const ROUNDS: usize = 9;

/// Keeps a 12-megapixel JPEG; finds codes in it; and keeps `many` in one go.
pub fn photos(many: usize) -> Result<Value, Error> {
    let folder = tempfile::tempdir()?;
    let book = commands::open(&folder.path().join("yard"), Clock::wall())?;
    let file = folder.path().join("photo.jpg");
    let plain = drawn(4000, 3000)?;
    let (mut keep, mut peer, mut find) = (Vec::new(), Vec::new(), Vec::new());
    for round in 0..ROUNDS {
        // The same picture, another file: what was kept before is not kept again.
        let bytes = numbered(&plain, round);
        std::fs::write(&file, &bytes)?;
        if let Some(ms) = thumbnail(&file, folder.path()) {
            peer.push(ms);
        }
        let began = Instant::now();
        let hash = kept(&book, bytes)?;
        keep.push(ms(began));
        let began = Instant::now();
        commands::dispatch(&book, "photo_find", json!({"hash": hash}), None)?;
        find.push(ms(began));
    }
    let before = system_mb("VmHWM:");
    let mut at_100 = None;
    let began = Instant::now();
    for n in 0..many {
        kept(&book, numbered(&plain, ROUNDS + n))?;
        if n + 1 == 100 {
            at_100 = system_mb("VmHWM:");
        }
    }
    let many_ms = ms(began);
    let (keep, find) = (median(keep), median(find));
    let peer = if peer.is_empty() { None } else { Some(median(peer)) };
    Ok(json!({
        "megapixels": 12, "bytes": plain.len(), "keep_ms": keep, "vipsthumbnail_ms": peer,
        "ratio": peer.map(|peer| (keep / peer * 100.0).round() / 100.0), "find_ms": find,
        "many": many, "many_ms_each": (many_ms / many.max(1) as f64).round(),
        "peak_mb_before": before, "peak_mb_at_100": at_100, "peak_mb_after": system_mb("VmHWM:"),
    }))
}

fn kept(book: &Book, bytes: Vec<u8>) -> Result<String, Error> {
    let reply = commands::dispatch(book, "photo_keep", Value::Null, Some(bytes))?;
    Ok(reply["hash"].as_str().unwrap_or_default().to_owned())
}

/// A picture with as much in it as bark and leaves have, packed as phones do.
fn drawn(width: u32, height: u32) -> Result<Vec<u8>, Error> {
    let mut state = 1_u32;
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let grain = state >> 27;
        let wave = (f64::from(x) * 0.021).sin() + (f64::from(y) * 0.013 + f64::from(x) * 0.004).cos();
        let base = (wave * 45.0 + 110.0) as u32 + grain;
        image::Rgb([base, base * 9 / 10, base * 7 / 10].map(|c| u8::try_from(c.min(255)).unwrap_or(255)))
    });
    let mut out = Vec::new();
    let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, 90);
    picture.write_with_encoder(encoder).map_err(|e| Error::Bug(e.to_string()))?;
    Ok(out)
}

/// The same picture with a comment of its own (ISO/IEC 10918-1, B.2.4.5).
fn numbered(jpeg: &[u8], n: usize) -> Vec<u8> {
    let words = format!("{n:08}");
    [&jpeg[..2], &[0xFF, 0xFE, 0, 10], words.as_bytes(), &jpeg[2..]].concat()
}

fn thumbnail(file: &Path, folder: &Path) -> Option<f64> {
    let began = Instant::now();
    let to = folder.join("thumb.jpg");
    let status = Command::new("vipsthumbnail").arg(file).args(["--size", "512", "-o"]).arg(&to).status();
    status.is_ok_and(|s| s.success()).then(|| ms(began))
}

fn ms(began: Instant) -> f64 {
    (began.elapsed().as_secs_f64() * 10_000.0).round() / 10.0
}

fn median(mut all: Vec<f64>) -> f64 {
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or_default()
}

/// What the system says of this program's memory, MB: `VmHWM:` is the most it ever held.
fn system_mb(what: &str) -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix(what))?;
    line.trim().trim_end_matches(" kB").trim().parse::<f64>().ok().map(|kb| (kb / 1000.0).round())
}
