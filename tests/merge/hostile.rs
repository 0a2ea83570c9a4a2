//! Segments that somebody or some disk has changed: passed over or refused, never half taken.
//! Never a crash, and never a file of the folder touched.
//! Invariant: what was taken in can be applied again from the acts and gives the same tables.

use super::{Device, any_bytes, dump};
use crate::archive::{Chance, hostile_cases, mutated};
use flate2::Compression;
use flate2::write::GzEncoder;
use serde_json::json;
use shadeyard_backend::book::Change;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

/// A folder with one segment of a few acts of every sort; the segment's path.
fn good() -> (tempfile::TempDir, PathBuf) {
    let device = Device::new("2026-05-01T12:00:00+02:00");
    let log = device.book.new_id();
    let first = device.set(log.as_str(), "tag", "37");
    let id = device.book.new_id();
    let row = json!({"log": log, "day": "2026-05-01", "at": 1, "zone": "+02:00", "grams": 240});
    device.act(vec![Change::put("picking", &id, row)]);
    device.act(vec![Change::void(id.as_str())]);
    device.undo(&first);
    let shared = tempfile::tempdir().unwrap();
    device.book.send(shared.path()).unwrap();
    let place = shared.path().join("acts").join(device.book.device());
    let path = std::fs::read_dir(place).unwrap().next().unwrap().unwrap().path();
    (shared, path)
}

/// Puts bytes in the segment's place, under the name that is right for them.
fn put(path: &Path, bytes: &[u8]) -> PathBuf {
    let hash = blake3::hash(bytes).to_hex();
    let new = path.with_file_name(format!("1-4.{hash}.jsonl.gz"));
    std::fs::write(&new, bytes).unwrap();
    new
}

#[test]
fn changed_segments_are_passed_over_and_nothing_is_written() {
    let (shared, path) = good();
    let whole = std::fs::read(&path).unwrap();
    let mut device = Device::new("2026-05-01T12:00:00+02:00");
    let before = dump(&device.book);
    let mut chance = Chance::new(71);
    for case in 0..hostile_cases() {
        let bytes = mutated(&whole, &mut chance);
        if bytes == whole {
            continue;
        }
        // Half of them keep the name of the true bytes, half get the name of the changed ones.
        let new = if case % 2 == 0 { path.clone() } else { put(&path, &bytes) };
        std::fs::write(&path, &bytes).unwrap();
        let merged = device.book.receive(shared.path(), any_bytes).unwrap();
        if merged.acts == 0 {
            assert!(!merged.passed_over.is_empty(), "case {case} says nothing");
        } else {
            // Only the packing differs: a header's time, say.
            assert!(case % 2 == 1, "case {case} was taken under a wrong name");
            unpacked_the_same(&whole, &bytes);
            device = Device::new("2026-05-01T12:00:00+02:00");
        }
        if new != path {
            std::fs::remove_file(&new).unwrap();
        }
    }
    assert_eq!(dump(&device.book), before);
}

fn unpacked_the_same(one: &[u8], other: &[u8]) {
    let text = |bytes: &[u8]| {
        let mut text = Vec::new();
        flate2::read::GzDecoder::new(bytes).read_to_end(&mut text).unwrap();
        text
    };
    assert_eq!(text(one), text(other));
}

#[test]
fn changed_acts_are_refused_or_kept_so_that_starting_over_gives_the_same() {
    let (shared, path) = good();
    let mut text = Vec::new();
    flate2::read::GzDecoder::new(std::fs::read(&path).unwrap().as_slice()).read_to_end(&mut text).unwrap();
    std::fs::remove_file(&path).unwrap();
    let mut chance = Chance::new(72);
    let mut device = Device::new("2026-05-01T12:00:00+02:00");
    let mut taken = 0;
    for case in 0..hostile_cases() {
        let mut packed = GzEncoder::new(Vec::new(), Compression::fast());
        packed.write_all(&mutated(&text, &mut chance)).unwrap();
        let new = put(&path, &packed.finish().unwrap());
        let merged = device.book.receive(shared.path(), any_bytes).unwrap();
        if merged.acts > 0 {
            taken += 1;
            let found = dump(&device.book);
            device.book.rebuild().unwrap();
            assert_eq!(dump(&device.book), found, "case {case}");
            device = Device::new("2026-05-01T12:00:00+02:00");
        }
        std::fs::remove_file(&new).unwrap();
    }
    assert!(taken > 0, "some changes leave a whole act");
}

#[test]
fn a_chain_of_acts_that_take_each_other_back_is_walked_to_its_end() {
    let (device, other) =
        (Device::new("2026-05-01T12:00:00+02:00"), Device::new("2026-05-01T12:00:00+02:00"));
    device.set(device.book.new_id().as_str(), "tag", "37");
    let first = device.book.all_acts().unwrap().remove(0);
    let chain: Vec<_> = (1..20_001)
        .map(|seq| {
            let mut act = first.clone();
            act.seq = seq;
            act.undoes = (seq > 1).then(|| format!("{}:{}", act.device, seq - 1));
            act.body = json!({"said": {}, "changes": []});
            act
        })
        .collect();
    other.book.take(&chain).unwrap();
    let undone =
        other.book.read(|conn| Ok(other.book.acts(conn, 20_000)?.iter().filter(|a| a.undone).count()));
    assert_eq!(undone.unwrap(), 10_000, "every second one stands");
}
