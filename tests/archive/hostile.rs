//! Archives that somebody or some disk has changed, and zips made to hurt.
//! Never a crash.
//! Invariant: refused with a reason and nothing written, or taken in whole: an act never half, a photo
//! never wrong.

use super::{archive, member, taken};
use crate::journeys::Yard;
use crate::merge::{dump, files};
use serde_json::json;
use std::io::Write;
use std::path::Path;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

/// Chance that comes out the same for the same seed (xorshift).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// Below `most`.
    pub fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 11).unwrap_or(0) % most.max(1)
    }
}

/// How many changed files are tried: 2,000, more when `PROVE_CASES` says so.
pub fn hostile_cases() -> usize {
    std::env::var("PROVE_CASES").ok().and_then(|n| n.parse().ok()).unwrap_or(0).max(2_000)
}

/// The bytes with one to four things done to them.
pub fn mutated(whole: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = whole.to_vec();
    for _ in 0..=chance.below(4) {
        if bytes.is_empty() {
            break;
        }
        let at = chance.below(bytes.len());
        let len = 1 + chance.below(24);
        let end = (at + len).min(bytes.len());
        match chance.below(7) {
            0 => bytes.truncate(at),
            1 => bytes[at..end].fill(0),
            2 => bytes[at..end].fill(0xFF),
            3 => drop(bytes.drain(at..end)),
            4 => {
                let again = bytes[at..end].to_vec();
                bytes.splice(at..at, again);
            }
            5 => {
                let other = chance.below(bytes.len());
                bytes.swap(at, other);
            }
            _ => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte ^= 1 << chance.below(8);
                }
            }
        }
    }
    bytes
}

#[test]
fn a_changed_archive_is_refused_with_nothing_written_or_taken_in_whole() {
    let yard = super::round_trip::filled();
    let out = tempfile::tempdir().unwrap();
    let whole = std::fs::read(archive(&yard, out.path())).unwrap();
    let full = dump(yard.book());
    let file = out.path().join("changed.zip");
    let mut empty = Yard::new();
    let mut before = files(empty.folder.path());
    let mut chance = Chance::new(91);
    let (mut refused, mut whole_all_the_same) = (0, 0);
    for case in 0..hostile_cases() {
        std::fs::write(&file, mutated(&whole, &mut chance)).unwrap();
        match empty.attempt("archive_preview", json!({"file": file})) {
            Err(error) => {
                assert_eq!(error.reply()["code"], "damaged", "case {case}: {error}");
                refused += 1;
                if refused % 20 == 0 {
                    assert_eq!(taken(&empty, &file)["state"], "failed", "case {case}");
                }
            }
            Ok(seen) => {
                let view = taken(&empty, &file);
                assert_eq!(
                    (&view["state"], dump(empty.book()) == full),
                    (&json!("done"), true),
                    "case {case}"
                );
                let photos = files(&empty.folder.path().join("blobs")).len();
                assert!(
                    photos == 1 || view["found"] != json!([]),
                    "case {case}: a photo went missing unsaid"
                );
                assert_eq!(seen["sound"] == json!(true), view["found"] == json!([]), "case {case}");
                whole_all_the_same += 1;
                empty = Yard::new();
                before = files(empty.folder.path());
            }
        }
    }
    assert_eq!(files(empty.folder.path()), before);
    assert!(refused > 0 && whole_all_the_same > 0, "{refused} refused, {whole_all_the_same} whole");
}

type Members<'a> = Vec<(&'a str, Vec<u8>, CompressionMethod)>;

fn zipped(file: &Path, members: &Members<'_>) {
    let mut zip = ZipWriter::new(std::fs::File::create(file).unwrap());
    for (name, bytes, method) in members {
        zip.start_file(*name, SimpleFileOptions::default().compression_method(*method)).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap();
}

fn why(file: &Path) -> String {
    let empty = Yard::new();
    let before = files(empty.folder.path());
    let refused = empty.refused("archive_preview", json!({"file": file}));
    assert_eq!(refused["code"], "damaged");
    assert_eq!(taken(&empty, file)["state"], "failed");
    assert_eq!(files(empty.folder.path()), before);
    refused["detail"]["what"].as_str().unwrap().to_owned()
}

#[test]
fn names_that_lead_out_of_a_folder_and_bombs_and_strangers_are_refused_unread() {
    let out = tempfile::tempdir().unwrap();
    let good = archive(&super::round_trip::filled(), out.path());
    let file = out.path().join("made.zip");
    let stored = CompressionMethod::Stored;
    let needed = |more: Members<'static>| {
        let mut all: Members<'_> = ["acts.jsonl", "register.json", "hashes.txt"]
            .iter()
            .map(|name| (*name, member(&good, name), stored))
            .collect();
        all.extend(more);
        all
    };
    for name in ["../../evil.txt", "/etc/evil", "csv/../../evil.csv", "C:\\evil", "photos/x.jpg", "notes.txt"]
    {
        zipped(&file, &needed(vec![(name, b"x".to_vec(), stored)]));
        assert_eq!(why(&file), "archive: a strange name", "{name}");
    }
    zipped(&file, &needed(vec![("csv/logs.csv", vec![b'0'; 64 << 20], CompressionMethod::Deflated)]));
    assert_eq!(why(&file), "archive: a member is too large", "a bomb");
    zipped(&file, &vec![("README.txt", b"hello".to_vec(), stored)]);
    assert_eq!(why(&file), "archive: not an archive of a yard");
    std::fs::write(&file, b"Dear diary, log 37 pins.").unwrap();
    assert!(why(&file).starts_with("archive: "));
    let empty = Yard::new();
    assert_eq!(
        empty.refused("archive_preview", json!({"file": out.path().join("none.zip")}))["code"],
        "missing"
    );
}

#[test]
fn acts_that_are_not_those_of_the_list_of_hashes_refuse_the_whole() {
    let out = tempfile::tempdir().unwrap();
    let good = archive(&super::round_trip::filled(), out.path());
    let file = out.path().join("made.zip");
    let mut acts = String::from_utf8(member(&good, "acts.jsonl")).unwrap();
    acts = acts.replace("\"grams\":240", "\"grams\":9240");
    let stored = CompressionMethod::Stored;
    zipped(
        &file,
        &vec![
            ("acts.jsonl", acts.into_bytes(), stored),
            ("register.json", member(&good, "register.json"), stored),
            ("hashes.txt", member(&good, "hashes.txt"), stored),
        ],
    );
    assert_eq!(why(&file), "archive: acts.jsonl");
}

#[test]
fn a_photo_that_was_changed_is_left_out_and_named_and_the_record_comes_in() {
    let yard = super::round_trip::filled();
    let out = tempfile::tempdir().unwrap();
    let good = archive(&yard, out.path());
    let file = out.path().join("made.zip");
    let names = super::members(&good);
    let all: Members<'_> = names
        .iter()
        .map(|name| {
            let mut bytes = member(&good, name);
            if name.starts_with("photos/") {
                bytes[700] ^= 1;
            }
            (name.as_str(), bytes, CompressionMethod::Stored)
        })
        .collect();
    zipped(&file, &all);
    let empty = Yard::new();
    let photo = names.iter().find(|n| n.starts_with("photos/")).unwrap();
    let seen = empty.call("archive_preview", json!({"file": file}));
    assert_eq!((&seen["sound"], &seen["found"]), (&json!(false), &json!([format!("changed {photo}")])));
    let view = taken(&empty, &file);
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([format!("changed {photo}")])));
    assert_eq!(dump(empty.book()), dump(yard.book()));
    assert!(!empty.folder.path().join("blobs").exists());
}
