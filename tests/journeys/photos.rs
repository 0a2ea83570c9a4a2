//! Photos: kept whole or refused with a reason; shown as what they are or not at all.

use super::{Yard, encoded, jpeg, text};
use base64::Engine;
use image::{GenericImageView, ImageFormat};
use serde_json::{Value, json};
use shadeyard_backend::commands;
use std::path::{Path, PathBuf};

fn why(yard: &Yard, bytes: Vec<u8>) -> Value {
    match yard.keep_photo(bytes) {
        Ok(kept) => panic!("kept: {kept}"),
        Err(error) => {
            let reply = error.reply();
            assert_eq!(reply["field"], "photo", "{reply}");
            reply["detail"]["why"].clone()
        }
    }
}

#[test]
fn a_photo_is_kept_whole_and_tied_to_what_was_seen() {
    let mut yard = Yard::new();
    let log = yard.log("37", json!({}));
    let bytes = jpeg(900, 600, 40);
    let kept = yard.keep_photo(bytes.clone()).unwrap();
    assert_eq!(
        (&kept["width"], &kept["height"], &kept["mime"]),
        (&json!(900), &json!(600), &json!("image/jpeg"))
    );
    let hash = text(&kept["hash"]);
    let look = json!({"log": log, "seen": "pin", "photos": [hash], "note": "first of the year"});
    assert_eq!(yard.act("look_add", look)["said"]["photos"], 1);
    yard.restart();
    let entry = &yard.call("log_show", json!({"log": log}))["entries"][0];
    assert_eq!(entry["what"], json!({"kind": "look", "seen": "pin"}));
    assert_eq!(entry["photos"][0]["hash"], json!(hash));
    assert_eq!(entry["photos"][0]["here"], true);
    let (kind, whole) = commands::photo(yard.book(), &format!("{hash}.whole")).unwrap();
    assert_eq!((kind.as_str(), whole), ("image/jpeg", bytes), "the original is untouched");
    let (_, small) = commands::photo(yard.book(), &format!("{hash}.small")).unwrap();
    assert_eq!(image::load_from_memory(&small).unwrap().dimensions(), (512, 341));
}

#[test]
fn png_and_webp_are_kept_and_the_same_bytes_are_one_photo() {
    let yard = Yard::new();
    for format in [ImageFormat::Png, ImageFormat::WebP, ImageFormat::Jpeg] {
        let bytes = encoded(60, 40, 7, format);
        let first = yard.keep_photo(bytes.clone()).unwrap();
        assert_eq!(first["mime"], format.to_mime_type());
        assert_eq!(first["already"], false);
        let again = commands::dispatch(
            yard.book(),
            "photo_keep",
            json!({"base64": base64::engine::general_purpose::STANDARD.encode(&bytes)}),
            None,
        );
        let again = again.unwrap();
        assert_eq!((&again["hash"], &again["already"]), (&first["hash"], &json!(true)));
    }
    assert_eq!(yard.call("settings_show", json!({}))["photos"], 3);
}

#[test]
fn what_is_no_whole_photo_is_refused_with_the_reason() {
    let yard = Yard::new();
    let good = jpeg(400, 300, 9);
    assert_eq!(why(&yard, Vec::new()), "empty_file");
    assert_eq!(why(&yard, b"Dear diary, log 37 pins.".to_vec()), "not_an_image");
    assert_eq!(why(&yard, b"GIF89a\x01\x00\x01\x00".to_vec()), "not_an_image");
    assert_eq!(why(&yard, b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic".to_vec()), "cut_short");
    assert_eq!(why(&yard, good[..good.len() / 2].to_vec()), "cut_short");
    assert_eq!(why(&yard, good[..good.len() - 2].to_vec()), "cut_short");
    assert_eq!(why(&yard, good[..30].to_vec()), "cut_short");
    let png = encoded(80, 80, 9, ImageFormat::Png);
    assert_eq!(why(&yard, png[..png.len() / 2].to_vec()), "cut_short");
    let webp = encoded(80, 80, 9, ImageFormat::WebP);
    assert_eq!(why(&yard, webp[..webp.len() / 2].to_vec()), "cut_short");
    assert_eq!(why(&yard, vec![0xFF; (64 << 20) + 1]), "too_big_bytes");
    assert_eq!(yard.call("settings_show", json!({}))["photos"], 0);
    assert!(files(&yard.folder.path().join("blobs")).is_empty(), "it was written while it was looked over");
}

/// All files below a folder; none where there is no folder.
fn files(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let below = |path: PathBuf| if path.is_dir() { files(&path) } else { vec![path] };
    entries.flat_map(|entry| below(entry.unwrap().path())).collect()
}

#[test]
fn a_header_that_claims_sixty_thousand_pixels_is_refused_before_anything_is_decoded() {
    let yard = Yard::new();
    // A JPEG whose frame header (SOF0) was rewritten.
    let mut bytes = jpeg(64, 64, 1);
    let frame = bytes.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
    bytes[frame + 5..frame + 9].copy_from_slice(&[0xEA, 0x60, 0xEA, 0x60]);
    assert_eq!(why(&yard, bytes), "too_big_pixels");
    // A PNG whose IHDR was rewritten, with its checksum (ISO/IEC 15948, annex D: CRC-32) made right.
    let mut png = encoded(64, 64, 1, ImageFormat::Png);
    png[16..20].copy_from_slice(&60_000_u32.to_be_bytes());
    png[20..24].copy_from_slice(&60_000_u32.to_be_bytes());
    let sum = crc32(&png[12..29]);
    png[29..33].copy_from_slice(&sum.to_be_bytes());
    assert_eq!(why(&yard, png), "too_big_pixels");
}

fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

#[test]
fn a_swapped_or_missing_file_is_never_shown_as_another_picture() {
    let yard = Yard::new();
    let hash = text(&yard.keep_photo(jpeg(60, 60, 1)).unwrap()["hash"]);
    let other = jpeg(60, 60, 2);
    let path = yard.folder.path().join("blobs").join(&hash[..2]).join(&hash);
    std::fs::write(&path, &other).unwrap();
    let swapped = commands::photo(yard.book(), &format!("{hash}.whole")).unwrap_err();
    assert_eq!(swapped.reply()["code"], "damaged");
    std::fs::remove_file(&path).unwrap();
    let missing = commands::photo(yard.book(), &format!("{hash}.whole")).unwrap_err();
    assert_eq!(missing.reply()["code"], "missing");
    for name in [
        "",
        "x.small",
        "../register.sqlite",
        &format!("{hash}.huge"),
        &format!("{}.whole", hash.to_uppercase()),
    ] {
        assert!(commands::photo(yard.book(), name).is_err(), "{name}");
    }
}

#[test]
fn a_full_check_names_what_is_missing_and_what_was_swapped() {
    let yard = Yard::new();
    let kept = |shade| text(&yard.keep_photo(jpeg(60, 60, shade)).unwrap()["hash"]);
    let (gone, swapped, sound) = (kept(1), kept(2), kept(3));
    let path = |hash: &str| yard.folder.path().join("blobs").join(&hash[..2]).join(hash);
    std::fs::remove_file(path(&gone)).unwrap();
    std::fs::write(path(&swapped), b"something else").unwrap();
    let job = yard.call("register_check", json!({}));
    let view = loop {
        let view = yard.call("job_show", json!({"job": job["job"]}));
        if view["state"] != "running" {
            break view;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    };
    assert_eq!(view["state"], "done");
    let mut found: Vec<String> = view["found"].as_array().unwrap().iter().map(text).collect();
    found.sort();
    assert_eq!(found, [format!("missing {gone}"), format!("swapped {swapped}")]);
    assert!(!found.iter().any(|f| f.contains(&sound)));
}

#[test]
fn a_preview_that_was_torn_is_made_again() {
    let yard = Yard::new();
    let hash = text(&yard.keep_photo(jpeg(900, 600, 5)).unwrap()["hash"]);
    let name = format!("{hash}.small");
    let (_, before) = commands::photo(yard.book(), &name).unwrap();
    let path = yard.folder.path().join("made").join(&hash[..2]).join(&name);
    let kept = std::fs::read(&path).unwrap();
    std::fs::write(&path, &kept[..kept.len() / 2]).unwrap();
    assert_eq!(commands::photo(yard.book(), &name).unwrap().1, before);
}
