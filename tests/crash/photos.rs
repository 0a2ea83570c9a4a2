//! Photos torn, swapped, emptied, gone: originals and what was made from them.
//! Never a picture that only looks similar: each is drawn in a shade of its own.
//! Invariant: a photo is shown as what it is or refused; no other is ever shown in its place.

use super::{Dice, NOW, each, room, share, told};
use crate::journeys::jpeg;
use image::GenericImageView;
use serde_json::Value;
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use std::path::{Path, PathBuf};

const SIZES: [&str; 3] = ["small", "large", "whole"];

#[test]
fn a_photo_whose_files_are_torn_swapped_or_gone_is_never_shown_as_another() {
    let cases: Vec<u64> = (0..share(50, 500) as u64).collect();
    let found = each(&cases, |seed| one(*seed).map_err(|e| format!("case {seed}: {e}")));
    told("torn, swapped, missing photo", cases.len(), &found);
}

fn one(seed: u64) -> Result<(), String> {
    let folder = room();
    let book = commands::open(folder.path(), Clock::fixed(NOW).expect("an instant")).expect("a yard");
    let mut dice = Dice::new(seed);
    let shades: Vec<u8> = (0..5).map(|n| 20 + n * 50).collect();
    let names: Vec<String> = shades.iter().map(|shade| keep(&book, *shade)).collect();
    for _ in 0..=dice.below(4) {
        strike(folder.path(), &names, &mut dice);
    }
    let mut order: Vec<(usize, &str)> = (0..5).flat_map(|n| SIZES.map(|size| (n, size))).collect();
    // In any order: a preview may be made again while others still lie there broken.
    for n in (1..order.len()).rev() {
        order.swap(n, dice.below(n + 1));
    }
    for (n, size) in order {
        match commands::photo(&book, &format!("{}.{size}", names[n])) {
            Ok((_, bytes)) => shows(&bytes, shades[n]).map_err(|e| format!("{size}: {e}"))?,
            Err(error) => {
                let reply = error.reply();
                if reply["code"] != "missing" && reply["code"] != "damaged" {
                    return Err(format!("{size}: {reply}"));
                }
            }
        }
    }
    Ok(())
}

fn keep(book: &Book, shade: u8) -> String {
    let kept = commands::dispatch(book, "photo_keep", Value::Null, Some(jpeg(80, 60, shade)));
    kept.expect("a photo is kept")["hash"].as_str().expect("its name").to_owned()
}

/// The left edge has the shade itself, as drawn by `jpeg`; JPEG moves it by a few steps at most.
fn shows(bytes: &[u8], shade: u8) -> Result<(), String> {
    let picture = image::load_from_memory(bytes).map_err(|e| e.to_string())?;
    let red = picture.get_pixel(0, 0).0[0];
    if red.abs_diff(shade) < 20 { Ok(()) } else { Err(format!("shade {red} in the place of {shade}")) }
}

fn path(folder: &Path, name: &str, size: &str) -> PathBuf {
    match size {
        "whole" => folder.join("blobs").join(&name[..2]).join(name),
        made => folder.join("made").join(&name[..2]).join(format!("{name}.{made}")),
    }
}

/// One blow to one file.
fn strike(folder: &Path, names: &[String], dice: &mut Dice) {
    let (name, size) = (&names[dice.below(names.len())], SIZES[dice.below(3)]);
    let target = path(folder, name, size);
    let Ok(mut bytes) = std::fs::read(&target) else { return };
    match dice.below(6) {
        0 => return std::fs::remove_file(target).expect("it was there"),
        1 => bytes.truncate(dice.below(bytes.len())),
        2 if !bytes.is_empty() => {
            let at = dice.below(bytes.len());
            bytes[at] ^= 1 << dice.below(8);
        }
        3 if !bytes.is_empty() => {
            let at = dice.below(bytes.len());
            bytes[at..].fill(0);
        }
        // Another photo's file, of the same or of another size.
        _ => {
            let (other, of) = (&names[dice.below(names.len())], SIZES[dice.below(3)]);
            let Ok(others) = std::fs::read(path(folder, other, of)) else { return };
            bytes = others;
        }
    }
    std::fs::write(target, bytes).expect("the blow lands");
}
