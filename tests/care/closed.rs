//! Newer and damaged registers: they are read, never written.
//! Never a foreign file: that is refused, see the migrations.
//! Invariant: the register's bytes are the same after everything was tried.

use super::*;
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use std::collections::BTreeSet;
use tempfile::TempDir;

/// A closed yard, filled, and its folder.
fn closed() -> TempDir {
    let yard = filled();
    let folder = tempfile::tempdir().unwrap();
    backup(&yard);
    for name in ["register.sqlite", "blobs", "backups"] {
        let copied = std::process::Command::new("cp")
            .arg("-r")
            .arg(yard.folder.path().join(name))
            .arg(folder.path())
            .status()
            .unwrap();
        assert!(copied.success());
    }
    // What was still in the log goes with it.
    let log = yard.folder.path().join("register.sqlite-wal");
    std::fs::copy(log, folder.path().join("register.sqlite-wal")).unwrap();
    drop(open(&folder));
    assert!(!folder.path().join("register.sqlite-wal").exists());
    folder
}

fn open(folder: &TempDir) -> Book {
    commands::open(folder.path(), Clock::fixed("2026-10-05T12:00:00+02:00").unwrap()).unwrap()
}

fn register(folder: &TempDir) -> std::path::PathBuf {
    folder.path().join("register.sqlite")
}

fn make_newer(folder: &TempDir) {
    let conn = rusqlite::Connection::open(register(folder)).unwrap();
    conn.pragma_update(None, "user_version", 9999).unwrap();
}

/// Overwrites the first page of an index: the tables can be read, the register is not sound.
fn damage(folder: &TempDir) {
    let conn = rusqlite::Connection::open(register(folder)).unwrap();
    let page: u32 = conn
        .query_row("SELECT rootpage FROM sqlite_schema WHERE name = 'entry_act'", [], |r| r.get(0))
        .unwrap();
    drop(conn);
    let mut bytes = std::fs::read(register(folder)).unwrap();
    bytes[(page as usize - 1) * 4096..page as usize * 4096].fill(0xA5);
    std::fs::write(register(folder), bytes).unwrap();
}

fn attempt(book: &Book, name: &str, ask: Value) -> Result<Value, Value> {
    commands::dispatch(book, name, ask, None).map_err(|e| e.reply())
}

/// Everything that writes, with requests that would be good.
fn writes(log: &str) -> Vec<(&'static str, Value)> {
    let fields = crate::journeys::fields("B1", json!({}));
    vec![
        ("log_add", asked(json!({"fields": fields}))),
        ("log_edit", asked(json!({"log": log, "fields": fields}))),
        ("log_end", asked(json!({"log": log, "why": "spent", "day": null, "note": ""}))),
        ("look_add", asked(json!({"log": log, "seen": "pin", "photos": [], "note": ""}))),
        ("picking_add", asked(picking(log, 5))),
        ("round_start", asked(json!({}))),
        ("spot_order", asked(json!({"spots": []}))),
        ("settings_set", asked(json!({"place": "", "lat": null, "lon": null, "night_after_min": 90}))),
        ("light_set", json!({"light": "day"})),
        ("draft_set", json!({"key": "log:new", "value": "x"})),
        ("backup_now", json!({})),
        ("backup_folder", json!({"folder": null})),
    ]
}

/// Reads what can be read and tries all commands; returns the code of the refusals.
fn try_everything(folder: &TempDir, book: &Book) -> String {
    let before = std::fs::read(register(folder)).unwrap();
    let yard = attempt(book, "yard_list", json!({"search": ""})).unwrap();
    let tags: Vec<&str> =
        yard["logs"].as_array().unwrap().iter().map(|l| l["tag"].as_str().unwrap()).collect();
    assert_eq!(tags, ["A1b", "A2"]);
    let log = text(&yard["logs"][0]["id"]);
    assert_eq!(
        attempt(book, "log_show", json!({"log": log})).unwrap()["entries"].as_array().unwrap().len(),
        2
    );
    let photo = text(&yard["logs"][0]["photo"]);
    assert!(commands::photo(book, &format!("{photo}.whole")).is_ok());
    attempt(book, "chores_show", json!({})).unwrap();
    attempt(book, "details_copy", json!({})).unwrap();
    let mut codes = BTreeSet::new();
    for (name, ask) in writes(&log) {
        let refused = attempt(book, name, ask).expect_err(name);
        codes.insert(text(&refused["code"]));
    }
    let jpeg = jpeg(32, 32, 1);
    let refused = commands::dispatch(book, "photo_keep", Value::Null, Some(jpeg)).unwrap_err().reply();
    codes.insert(text(&refused["code"]));
    assert!(book.all_acts().is_ok_and(|acts| acts.len() == 8), "what an archive needs can be read");
    for name in commands::NAMES {
        let _whatever = attempt(book, name, json!({}));
        let _whatever = attempt(book, name, asked(json!({})));
    }
    for job in commands::after_open(book) {
        while attempt(book, "job_show", json!({"job": job})).unwrap()["state"] == "running" {
            std::thread::sleep(std::time::Duration::from_millis(5));
        }
    }
    assert_eq!(std::fs::read(register(folder)).unwrap(), before);
    assert_eq!(codes.len(), 1, "{codes:?}");
    codes.pop_first().unwrap()
}

fn beside(folder: &TempDir) -> Vec<String> {
    let names =
        std::fs::read_dir(folder.path()).unwrap().map(|f| f.unwrap().file_name().into_string().unwrap());
    names.filter(|n| n.starts_with("register.sqlite-")).collect()
}

#[test]
fn a_newer_register_is_read_and_never_written() {
    let folder = closed();
    make_newer(&folder);
    let before = std::fs::read(register(&folder)).unwrap();
    let book = open(&folder);
    assert_eq!(try_everything(&folder, &book), "too_new");
    let care = attempt(&book, "care_show", json!({})).unwrap();
    assert_eq!((&care["reading_only"], &care["register"]), (&json!("newer"), &json!(9999)));
    let backups = attempt(&book, "backup_list", json!({})).unwrap();
    let ask = asked(json!({"name": backups["backups"][0]["name"], "from": "backups"}));
    assert_eq!(
        attempt(&book, "restore_do", ask).unwrap_err()["code"],
        "too_new",
        "not replaced by an older one"
    );
    assert_eq!(beside(&folder), Vec::<String>::new(), "no file was made beside it");
    drop(book);
    assert_eq!(std::fs::read(register(&folder)).unwrap(), before);
}

#[test]
fn a_newer_register_that_was_not_closed_is_read_with_what_is_in_its_log() {
    let folder = closed();
    let left = tempfile::tempdir().unwrap();
    let conn = rusqlite::Connection::open(register(&folder)).unwrap();
    conn.execute_batch("UPDATE log SET tag = 'late' WHERE tag = 'A2'; PRAGMA user_version = 9999").unwrap();
    for file in ["register.sqlite", "register.sqlite-wal"] {
        std::fs::copy(folder.path().join(file), left.path().join(file)).unwrap();
    }
    let both = |f: &TempDir| {
        ["register.sqlite", "register.sqlite-wal"].map(|n| std::fs::read(f.path().join(n)).unwrap())
    };
    let before = both(&left);
    let book = open(&left);
    let yard = attempt(&book, "yard_list", json!({"search": ""})).unwrap();
    assert!(yard["logs"].as_array().unwrap().iter().any(|l| l["tag"] == "late"));
    assert_eq!(
        attempt(&book, "log_add", asked(json!({"fields": crate::journeys::fields("B", json!({}))})))
            .unwrap_err()["code"],
        "too_new"
    );
    drop(book);
    assert_eq!(both(&left), before);
    let copies =
        std::fs::read_dir(left.path()).unwrap().filter(|f| f.as_ref().unwrap().path().is_dir()).count();
    assert_eq!(copies, 0, "the copy that was read has gone");
}

#[test]
fn damage_that_a_check_finds_closes_the_register_for_writing_now_and_at_the_next_start() {
    let folder = closed();
    damage(&folder);
    let book = open(&folder);
    assert!(book.reading_only().is_none(), "after a clean close it is looked over in the background");
    let started = attempt(&book, "register_check", json!({})).unwrap();
    let view = loop {
        let view = attempt(&book, "job_show", json!({"job": started["job"]})).unwrap();
        if view["state"] != "running" {
            break view;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    };
    assert!(!view["found"].as_array().unwrap().is_empty());
    assert_eq!(
        attempt(&book, "draft_set", json!({"key": "x", "value": "x"})).unwrap_err()["code"],
        "damaged"
    );
    drop(book);
    let book = open(&folder);
    assert_eq!(try_everything(&folder, &book), "damaged");
    let care = attempt(&book, "care_show", json!({})).unwrap();
    assert_eq!((&care["reading_only"], &care["last_check"]["found"]), (&json!("damaged"), &view["found"]));
    assert_eq!(attempt(&book, "chores_show", json!({})).unwrap()["trouble"], view["found"]);
    assert_eq!(beside(&folder), Vec::<String>::new());
}

#[test]
fn a_damaged_register_is_put_aside_and_a_backup_takes_its_place() {
    let folder = closed();
    damage(&folder);
    let broken = std::fs::read(register(&folder)).unwrap();
    // Left unclean, so that it is looked over at the start.
    std::fs::write(folder.path().join("register.sqlite-wal"), [0_u8; 40]).unwrap();
    let book = open(&folder);
    assert!(book.reading_only().is_some());
    let backups = attempt(&book, "backup_list", json!({})).unwrap();
    let name = &backups["backups"][0]["name"];
    attempt(&book, "restore_preview", json!({"name": name, "from": "backups"})).unwrap();
    let started = attempt(&book, "restore_do", asked(json!({"name": name, "from": "backups"}))).unwrap();
    while attempt(&book, "job_show", json!({"job": started["job"]})).unwrap()["state"] == "running" {
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let view = attempt(&book, "job_show", json!({"job": started["job"]})).unwrap();
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([])));
    assert!(book.reading_only().is_none());
    attempt(&book, "log_add", asked(json!({"fields": crate::journeys::fields("B1", json!({}))}))).unwrap();
    let aside = files(&folder.path().join("damaged"));
    assert!(aside.iter().any(|(_, bytes)| *bytes == broken), "the damaged file is kept as it was");
    drop(book);
    let again = open(&folder);
    let yard = attempt(&again, "yard_list", json!({"search": ""})).unwrap();
    assert_eq!(yard["total"], json!(3));
}
