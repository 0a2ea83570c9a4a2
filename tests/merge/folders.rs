//! Books that meet through a folder: segments, acknowledgements, blobs; and folders that lie.

use super::{Device, any_bytes, dump, files};
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
    let (photo, ()) = a.book.keep_blob(b"bytes of a photo", || Ok((json!({"width": 1}), ()))).unwrap();
    b.set(log.as_str(), "note", "written apart");
    assert_eq!(a.book.send(shared.path()).unwrap(), 1);
    assert_eq!(b.book.send(shared.path()).unwrap(), 1);
    assert_eq!(a.book.receive(shared.path(), any_bytes).unwrap().acts, 1);
    let came = b.book.receive(shared.path(), any_bytes).unwrap();
    assert_eq!((came.acts, came.blobs), (1, 1));
    assert_eq!(b.book.blob(&photo.hash).unwrap(), b"bytes of a photo");
    assert_eq!(dump(&a.book), dump(&b.book));
    assert_eq!(a.book.send(shared.path()).unwrap(), 0);
    let before = segments(shared.path());
    assert_eq!(b.book.receive(shared.path(), any_bytes).unwrap(), Default::default());
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
    let merged = b.book.receive(shared.path(), any_bytes).unwrap();
    assert_eq!((merged.acts, merged.passed_over.len()), (0, 1));
    std::fs::write(&path, &whole).unwrap();
    assert_eq!(b.book.receive(shared.path(), any_bytes).unwrap().acts, 1);
    let before = dump(&b.book);
    let empty = tempfile::tempdir().unwrap();
    b.book.receive(empty.path(), any_bytes).unwrap();
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
    assert!(merged.ahead.contains(&a.book.device()));
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
    assert!(
        found["log"][0].contains("\"37\"") && !found["log"][0].contains("\"99\""),
        "half an act is no act"
    );
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

#[test]
fn with_nothing_new_a_second_merge_writes_nothing_at_all() {
    let (a, b, log) = pair();
    b.set(log.as_str(), "note", "apart");
    let shared = tempfile::tempdir().unwrap();
    a.book.keep_blob(b"bytes of a photo", || Ok((json!({}), ()))).unwrap();
    for device in [&a, &b, &a, &b] {
        device.finished(device.book.merge(shared.path(), any_bytes, device.book.new_id().as_str()).unwrap());
    }
    let before = (files(shared.path()), files(a.folder.path()), files(b.folder.path()));
    assert!(before.1.keys().any(|f| f.contains("before-merge")), "a snapshot stands before what came");
    for device in [&a, &b] {
        let view = device
            .finished(device.book.merge(shared.path(), any_bytes, device.book.new_id().as_str()).unwrap());
        assert_eq!(view.result.as_deref(), Some(r#"{"acts":0,"blobs":0,"sent":0}"#));
    }
    assert_eq!((files(shared.path()), files(a.folder.path()), files(b.folder.path())), before);
    assert_eq!(dump(&a.book), dump(&b.book));
}

#[test]
fn what_came_by_another_way_is_passed_on_in_ones_own_folder() {
    let (a, b, log) = pair();
    let third = Device::new("2026-05-01T12:00:00+02:00");
    third.set(log.as_str(), "note", "of one who never comes to the folder");
    a.book.take(&third.book.all_acts().unwrap()).unwrap();
    let shared = tempfile::tempdir().unwrap();
    assert_eq!(a.book.send(shared.path()).unwrap(), 2);
    let writers: Vec<_> = std::fs::read_dir(shared.path().join("acts")).unwrap().collect();
    assert_eq!(writers.len(), 1, "a device writes only in its own folder");
    assert_eq!(b.book.receive(shared.path(), any_bytes).unwrap().acts, 2);
    assert_eq!(dump(&a.book), dump(&b.book));
    assert_eq!(b.book.send(shared.path()).unwrap(), 0, "what the folder has is not sent again");
}

#[test]
fn a_torn_segment_of_ones_own_is_sent_again() {
    let (a, b, _) = pair();
    let shared = tempfile::tempdir().unwrap();
    a.book.send(shared.path()).unwrap();
    let path = segments(shared.path()).remove(0);
    std::fs::write(&path, b"torn").unwrap();
    assert_eq!(b.book.receive(shared.path(), any_bytes).unwrap().acts, 0);
    assert_eq!(a.book.send(shared.path()).unwrap(), 1);
    assert_eq!(b.book.receive(shared.path(), any_bytes).unwrap().acts, 1);
}

#[test]
fn a_segment_whose_name_lies_is_passed_over_and_said() {
    let (a, b, log) = pair();
    a.set(log.as_str(), "note", "two");
    let shared = tempfile::tempdir().unwrap();
    a.book.send(shared.path()).unwrap();
    let path = segments(shared.path()).remove(0);
    let name = path.file_name().unwrap().to_str().unwrap().to_owned();
    std::fs::rename(&path, path.with_file_name(name.replacen("1-2", "1-9", 1))).unwrap();
    let merged = b.book.receive(shared.path(), any_bytes).unwrap();
    assert_eq!((merged.acts, merged.passed_over.len()), (0, 1));
}

#[test]
fn acts_put_aside_for_a_clock_ahead_make_no_snapshot() {
    let (a, b, log) = pair();
    let shared = tempfile::tempdir().unwrap();
    b.book.take(&a.book.all_acts().unwrap()).unwrap();
    a.clock.set("2026-05-09T12:00:00+02:00").unwrap();
    a.set(log.as_str(), "note", "from next week");
    a.book.send(shared.path()).unwrap();
    let before = files(b.folder.path());
    let merged = b.book.receive(shared.path(), any_bytes).unwrap();
    assert_eq!((merged.acts, merged.ahead.len()), (0, 1));
    assert_eq!(files(b.folder.path()), before);
}

#[test]
fn two_copies_of_one_register_that_were_both_written_to_are_said_and_not_mixed() {
    let (a, b, log) = pair();
    b.book.take(&a.book.all_acts().unwrap()).unwrap();
    a.set(log.as_str(), "note", "one copy");
    let mut forged = a.book.all_acts().unwrap();
    forged[0].stamp = format!("{:016x}", 1_u64 << 40);
    let merged = b.book.take(&forged).unwrap();
    assert_eq!((merged.acts, merged.forked.len()), (0, 1));
}

#[test]
fn one_act_that_cannot_be_applied_keeps_no_other_out() {
    let (a, b, log) = pair();
    a.set(log.as_str(), "note", "two");
    a.set(log.as_str(), "note", "three");
    let mut acts = a.book.all_acts().unwrap();
    // All its words are known, but an entry without a day is none.
    acts[1].body = json!({"said": {}, "changes": [
        {"set": {"kind": "log", "id": log, "name": "tag", "value": "99"}},
        {"put": {"kind": "look", "id": a.book.new_id(), "row": {"log": log, "seen": "pin"}}}]});
    let merged = b.book.take(&acts).unwrap();
    assert_eq!((merged.acts, merged.not_understood), (3, 1));
    let found = dump(&b.book);
    assert!(found["log"][0].contains("three") && !found["log"][0].contains("\"99\""), "{:?}", found["log"]);
}
