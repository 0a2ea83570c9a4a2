//! Taking backups: read back, found out when tampered with, thinned, and missed when they are old.
//! Never the way back: `restoring` has that.
//! Invariant: what is not a backup of ours is never touched.

use super::*;
use shadeyard_backend::commands;

#[test]
fn a_backup_is_read_back_and_says_what_is_in_it() {
    let yard = filled();
    let name = backup(&yard);
    let list = yard.call("backup_list", json!({}));
    let row = &list["backups"][0];
    assert_eq!(
        (&row["name"], &row["logs"], &row["entries"], &row["photos"]),
        (&json!(name), &json!(2), &json!(4), &json!(2))
    );
    assert_eq!(row["acts"], json!(yard.call("care_show", json!({}))["acts"]));
    let care = yard.call("care_show", json!({}));
    assert_eq!(
        (&care["backup"]["last"]["name"], &care["backup"]["last"]["sound"]),
        (&json!(name), &json!(true))
    );
    assert_eq!((&care["backup"]["auto"], &care["backup"]["old"]), (&json!(true), &json!(false)));
    let bytes = std::fs::read(yard.folder.path().join("backups").join(&name)).unwrap();
    assert!(name.contains(&blake3_16(&bytes)), "{name} holds the hash of its bytes");
    assert!(name.starts_with("register-20261003T163000Z-"), "{name} is in UTC");
}

/// The hash as the file itself is named by: any other bytes give another name.
fn blake3_16(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex()[..16].to_owned()
}

#[test]
fn a_backup_that_was_tampered_with_is_refused_by_name() {
    let yard = filled();
    let name = backup(&yard);
    let path = yard.folder.path().join("backups").join(&name);
    let good = std::fs::read(&path).unwrap();
    for at in [0, 100, good.len() / 2, good.len() - 1] {
        let mut bad = good.clone();
        bad[at] ^= 1;
        std::fs::write(&path, &bad).unwrap();
        let before = dump(&yard);
        for command in ["restore_preview", "restore_do"] {
            let mut ask = json!({"name": name, "from": "backups"});
            if command == "restore_do" {
                ask = asked(ask);
            }
            let refused = yard.refused(command, ask);
            assert_eq!((&refused["code"], &refused["detail"]["what"]), (&json!("damaged"), &json!(name)));
        }
        assert_eq!(dump(&yard), before);
    }
    std::fs::write(&path, b"no register at all").unwrap();
    let list = yard.call("backup_list", json!({}));
    assert_eq!(list["backups"][0]["sound"], json!(false));
}

#[test]
fn names_that_are_no_backup_of_ours_reach_no_file() {
    let yard = filled();
    backup(&yard);
    std::fs::write(yard.folder.path().join("backups/notes.sqlite"), b"mine").unwrap();
    let names =
        ["../register.sqlite", "/etc/passwd", "notes.sqlite", "", "register-x.sqlite", "..\\x", "blobs"];
    for name in names {
        for from in ["backups", "snapshots"] {
            let refused = yard.refused("restore_preview", json!({"name": name, "from": from}));
            assert_eq!(refused["code"], "missing", "{name}");
        }
    }
}

#[test]
fn photos_are_kept_with_the_backup_and_only_new_ones_are_copied() {
    let yard = filled();
    let away = tempfile::tempdir().unwrap();
    choose(&yard, away.path());
    backup(&yard);
    let here = |folder: &Path| -> Vec<Vec<u8>> {
        let mut all: Vec<Vec<u8>> = files(&folder.join("blobs")).into_iter().map(|(_, b)| b).collect();
        all.sort();
        all
    };
    assert_eq!(here(away.path()), here(yard.folder.path()));
    let times = || -> Vec<_> {
        let paths = files(&away.path().join("blobs"));
        paths.iter().map(|(p, _)| std::fs::metadata(p).unwrap().modified().unwrap()).collect()
    };
    let before = times();
    yard.now("2026-10-04T18:30:00+02:00");
    yard.log("A3", json!({}));
    backup(&yard);
    assert_eq!(times(), before, "whole ones are left as they are");
    assert_eq!(yard.call("backup_list", json!({}))["backups"].as_array().unwrap().len(), 2);
}

#[test]
fn a_photo_that_is_not_whole_is_named_and_never_copied_as_if_it_were() {
    let yard = filled();
    let (path, mut bytes) = files(&yard.folder.path().join("blobs")).remove(0);
    bytes[20] ^= 1;
    std::fs::write(&path, bytes).unwrap();
    let away = tempfile::tempdir().unwrap();
    choose(&yard, away.path());
    let view = ended(&yard, &yard.call("backup_now", json!({})));
    let hash = Path::new(&path).file_name().unwrap().to_str().unwrap();
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([format!("swapped {hash}")])));
    assert_eq!(files(&away.path().join("blobs")).len(), 1);
}

#[test]
fn old_backups_are_thinned_and_other_files_are_never_touched() {
    let yard = filled();
    let place = yard.folder.path().join("backups");
    std::fs::create_dir_all(&place).unwrap();
    let strange = ["register-20200101T000000Z-0123456789abcdef.sqlite", "register.sqlite", "letters.txt"];
    strange.iter().for_each(|name| std::fs::write(place.join(name), b"not ours").unwrap());
    for day in 0..70 {
        let at = chrono::DateTime::parse_from_rfc3339("2026-10-03T18:30:00+02:00").unwrap();
        yard.now(&(at + chrono::TimeDelta::days(day)).to_rfc3339());
        yard.call("draft_set", json!({"key": "log:new", "value": day.to_string()}));
        backup(&yard);
    }
    let kept: Vec<String> = std::fs::read_dir(&place)
        .unwrap()
        .map(|f| f.unwrap().file_name().into_string().unwrap())
        .filter(|n| n.starts_with("register-202610") || n.starts_with("register-20261"))
        .collect();
    assert!((7..=16).contains(&kept.len()), "{kept:?}");
    assert!(kept.iter().any(|n| n.starts_with("register-20261031")), "the last of October: {kept:?}");
    assert!(kept.iter().any(|n| n.starts_with("register-20261211")), "the newest: {kept:?}");
    strange.iter().for_each(|name| assert_eq!(std::fs::read(place.join(name)).unwrap(), b"not ours"));
}

#[test]
fn another_yards_backups_in_the_same_folder_are_not_thinned() {
    let away = tempfile::tempdir().unwrap();
    let other = filled();
    choose(&other, away.path());
    let theirs: Vec<String> = ["18:30", "18:40", "18:50"]
        .map(|at| {
            other.now(&format!("2026-10-03T{at}:00+02:00"));
            other.call("draft_set", json!({"key": "log:new", "value": at}));
            backup(&other)
        })
        .into();
    let yard = Yard::new();
    choose(&yard, away.path());
    for day in 10..20 {
        yard.now(&format!("2026-10-{day}T18:30:00+02:00"));
        yard.log(&format!("B{day}"), json!({}));
        backup(&yard);
    }
    theirs.iter().for_each(|name| assert!(away.path().join(name).is_file(), "{name}"));
}

#[test]
fn chores_say_when_acts_have_been_without_a_backup_for_a_week() {
    let yard = filled();
    let old = |yard: &Yard| yard.call("chores_show", json!({}))["backup_old"].clone();
    assert_eq!(old(&yard), json!(null), "a few acts are left alone");
    (0..20).for_each(|n| drop(yard.log(&format!("C{n}"), json!({}))));
    yard.now("2026-10-05T18:30:00+02:00");
    assert_eq!(old(&yard), json!(2), "many acts and never a backup");
    backup(&yard);
    yard.now("2026-10-20T18:30:00+02:00");
    assert_eq!(old(&yard), json!(null), "nothing is new since");
    yard.log("C20", json!({}));
    assert_eq!(old(&yard), json!(15));
    assert_eq!(yard.call("care_show", json!({}))["backup"]["old"], json!(true));
    backup(&yard);
    assert_eq!(old(&yard), json!(null));
    let copies = std::fs::read_dir(yard.folder.path().join("backups")).unwrap();
    copies.map(|f| f.unwrap().path()).filter(|p| p.is_file()).for_each(|p| std::fs::remove_file(p).unwrap());
    assert_eq!(old(&yard), json!(17), "one that is gone is none: since the first act");
}

#[test]
fn a_backup_is_made_by_itself_when_twenty_hours_have_brought_something_new() {
    let yard = filled();
    let made = |yard: &Yard| {
        for job in commands::after_open(yard.book()) {
            assert_eq!(ended(yard, &json!({"job": job}))["state"], "done");
        }
        yard.call("backup_list", json!({}))["backups"].as_array().unwrap().len()
    };
    assert_eq!(made(&yard), 1, "never one before");
    yard.now("2026-10-04T10:30:00+02:00");
    yard.log("A9", json!({}));
    assert_eq!(made(&yard), 1, "too soon");
    yard.now("2026-10-04T18:30:00+02:00");
    assert_eq!(made(&yard), 2);
    yard.now("2026-10-09T18:30:00+02:00");
    assert_eq!(made(&yard), 2, "nothing new");
    let care = yard.call("care_show", json!({}));
    assert_eq!(care["last_check"]["found"], json!([]));
}

#[test]
fn a_folder_that_cannot_be_written_is_refused() {
    let yard = Yard::new();
    let file = yard.folder.path().join("a file");
    std::fs::write(&file, b"").unwrap();
    for folder in ["relative/folder", "/proc/nowhere", file.to_str().unwrap()] {
        let refused = yard.refused("backup_folder", json!({"folder": folder}));
        assert_eq!((&refused["code"], &refused["field"]), (&json!("invalid"), &json!("folder")), "{folder}");
    }
    assert_eq!(yard.call("care_show", json!({}))["backup"]["auto"], json!(true));
}
