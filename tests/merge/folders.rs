//! Books that meet through a folder: segments, acknowledgements, blobs; and folders that lie.

use super::{Device, dump};
use serde_json::json;
use shadeyard_backend::book::change::Act;
use shadeyard_backend::ids::Id;
use std::path::{Path, PathBuf};

fn pair() -> (Device, Device, Id) {
    let (a, b) = (Device::new("2026-05-01T12:00:00+02:00"), Device::new("2026-05-01T12:00:00+02:00"));
    let log = a.book.new_id();
    a.set(log.as_str(), "tag", "37");
    (a, b, log)
}

fn segments(folder: &Path) -> Vec<PathBuf> {
    let devices = std::fs::read_dir(folder.join("acts")).unwrap();
    devices.flat_map(|d| std::fs::read_dir(d.unwrap().path()).unwrap()).map(|f| f.unwrap().path()).collect()
}

#[test]
fn two_books_meet_in_a_folder_and_the_second_time_nothing_is_new() {
    let (a, b, log) = pair();
    let shared = tempfile::tempdir().unwrap();
    let photo = a.book.keep_blob(b"bytes of a photo", &json!({"width": 1})).unwrap();
    b.set(log.as_str(), "note", "written apart");
    assert_eq!(a.book.send(shared.path()).unwrap(), 1);
    assert_eq!(b.book.send(shared.path()).unwrap(), 1);
    assert_eq!(a.book.receive(shared.path()).unwrap().acts, 1);
    let came = b.book.receive(shared.path()).unwrap();
    assert_eq!((came.acts, came.blobs), (1, 1));
    assert_eq!(b.book.blob(&photo.hash).unwrap(), b"bytes of a photo");
    assert_eq!(dump(&a.book), dump(&b.book));
    assert_eq!(a.book.send(shared.path()).unwrap(), 0);
    let before = segments(shared.path());
    assert_eq!(b.book.receive(shared.path()).unwrap(), Default::default());
    assert_eq!(segments(shared.path()), before, "nothing new writes nothing");
}

#[test]
fn only_what_is_complete_is_read_and_an_empty_folder_deletes_nothing() {
    let (a, b, log) = pair();
    let shared = tempfile::tempdir().unwrap();
    a.book.send(shared.path()).unwrap();
    let path = segments(shared.path()).remove(0);
    let whole = std::fs::read(&path).unwrap();
    std::fs::write(&path, &whole[..whole.len() - 1]).unwrap();
    let merged = b.book.receive(shared.path()).unwrap();
    assert_eq!((merged.acts, merged.passed_over.len()), (0, 1));
    std::fs::write(&path, &whole).unwrap();
    assert_eq!(b.book.receive(shared.path()).unwrap().acts, 1);
    let before = dump(&b.book);
    let empty = tempfile::tempdir().unwrap();
    b.book.receive(empty.path()).unwrap();
    assert_eq!(dump(&b.book), before);
    a.set(log.as_str(), "note", "later");
    assert_eq!(a.book.send(shared.path()).unwrap(), 1, "only what is new goes out");
}

#[test]
fn a_device_with_a_gap_waits_until_the_gap_is_filled() {
    let (a, b, log) = pair();
    a.set(log.as_str(), "note", "two");
    a.set(log.as_str(), "note", "three");
    let acts = a.book.all_acts().unwrap();
    let merged = b.book.take(&[acts[0].clone(), acts[2].clone()]).unwrap();
    assert_eq!((merged.acts, merged.waiting), (1, 1));
    assert_eq!(b.book.take(&acts).unwrap().acts, 2);
    assert_eq!(dump(&a.book), dump(&b.book));
}

#[test]
fn a_clock_more_than_a_day_ahead_is_put_aside_and_said() {
    let (a, b, log) = pair();
    a.clock.set("2026-05-02T12:30:00+02:00").unwrap();
    a.set(log.as_str(), "note", "from tomorrow");
    let merged = b.book.take(&a.book.all_acts().unwrap()).unwrap();
    assert_eq!(merged.acts, 1);
    assert!(merged.ahead.contains(a.book.device()));
    b.clock.set("2026-05-01T13:00:00+02:00").unwrap();
    assert_eq!(b.book.take(&a.book.all_acts().unwrap()).unwrap().acts, 1, "in time it comes in by itself");
}

#[test]
fn an_act_of_a_newer_version_is_kept_and_changes_nothing() {
    let (a, b, log) = pair();
    let mut future: Act = a.book.all_acts().unwrap().remove(0);
    future.seq = 2;
    future.body = json!({"said": {}, "changes": [
        {"set": {"kind": "log", "id": log, "name": "tag", "value": "99"}},
        {"set": {"kind": "log", "id": log, "name": "sung_to", "value": 1}}]});
    let mut strange = future.clone();
    strange.seq = 3;
    strange.body = json!({"poem": true});
    let mut acts = a.book.all_acts().unwrap();
    acts.extend([future, strange]);
    let merged = b.book.take(&acts).unwrap();
    assert_eq!((merged.acts, merged.not_understood), (3, 2));
    let found = dump(&b.book);
    assert_eq!(found["act"].len(), 3, "all are kept");
    assert!(found["log"][0].contains("37") && !found["log"][0].contains("99"), "half an act is no act");
}

#[test]
fn both_edits_of_a_field_are_kept_and_the_later_one_stands_even_when_its_clock_is_behind() {
    let (a, b, log) = pair();
    b.clock.set("2026-05-01T03:00:00+02:00").unwrap();
    b.book.take(&a.book.all_acts().unwrap()).unwrap();
    // Written after a's act was seen, by a clock nine hours behind.
    b.set(log.as_str(), "tag", "38");
    a.book.take(&b.book.all_acts().unwrap()).unwrap();
    let found = dump(&a.book);
    assert!(found["log"][0].contains("\"38\""), "{:?}", found["log"]);
    assert_eq!(found["field"].iter().filter(|f| f.contains("\"tag\"")).count(), 2);
    assert_eq!(found, dump(&b.reopen().book));
}
