//! The register's versions: what is written down, what is shipped, and what opens.
//! Never a change to a frozen fixture.
//! Invariant: every shipped version, filled, opens today with all it held.

use shadeyard_backend::book::{Clock, fresh_schema};
use shadeyard_backend::commands;
use std::path::Path;

/// SQL without comments, with single blanks: two texts that mean the same are then the same.
fn plain(sql: &str) -> Vec<String> {
    let text: String = sql.lines().map(|l| l.split("--").next().unwrap_or("")).collect::<Vec<_>>().join(" ");
    text.split(';')
        .map(|s| s.split_whitespace().collect::<Vec<_>>().join(" "))
        .filter(|s| !s.is_empty())
        .collect()
}

#[test]
fn the_commented_schema_is_the_real_one() {
    let real = plain(&fresh_schema().unwrap());
    let written = plain(include_str!("../../src-tauri/backend/src/book/schema.sql"));
    assert_eq!(written, real);
}

/// A copy of the frozen register of a version, in a folder of its own.
fn frozen(version: u32) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("migrations/version-{version}.sqlite"));
    std::fs::copy(from, folder.path().join("register.sqlite")).unwrap();
    folder
}

#[test]
fn the_filled_register_of_every_version_opens_with_all_it_held() {
    // What a version did not have yet is empty in it.
    opens_with_all_it_held(1, &["apart"]);
    opens_with_all_it_held(2, &[]);
}

/// Version 1: three logs and one that an other made, each in another state; looks, pickings with and
/// without a weight, an open round with a check, an ending, photos, settings, a draft, an act taken
/// back. Version 2: the same, and two pickings of log 1 that were said to be two.
fn opens_with_all_it_held(version: u32, later: &[&str]) {
    let folder = frozen(version);
    let book = commands::open(folder.path(), Clock::fixed("2026-10-05T12:00:00+02:00").unwrap()).unwrap();
    let call = |name: &str, ask: serde_json::Value| commands::dispatch(&book, name, ask, None).unwrap();
    let settings = call("settings_show", serde_json::json!({}));
    assert_eq!(settings["logs"], 4);
    assert_eq!(settings["place"], "the old orchard");
    let yard = call("yard_list", serde_json::json!({"search": ""}));
    let told: Vec<String> = yard["logs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|l| format!("{} {} {} {}", l["tag"], l["state"], l["grams"], l["unweighed"]))
        .collect();
    assert_eq!(
        told,
        [
            "\"1\" \"resting\" 420 1",
            "\"2\" \"spent\" 0 0",
            "\"3\" \"waiting\" 0 0",
            "\"L1\" \"fruiting\" 0 0"
        ]
    );
    let acts = call("act_list", serde_json::json!({"limit": 99}));
    assert!(acts["acts"].as_array().unwrap().iter().any(|a| a["name"] == "undo"));
    assert!(!call("chores_show", serde_json::json!({}))["round"].is_null());
    // And every table of that version holds something.
    let empty = book.read(|conn| {
        let tables: Vec<String> = conn
            .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")?
            .query_map([], |r| r.get(0))?
            .collect::<Result<_, _>>()?;
        let mut empty = Vec::new();
        for table in tables {
            let rows: i64 = conn.query_row(&format!("SELECT count(*) FROM \"{table}\""), [], |r| r.get(0))?;
            if rows == 0 {
                empty.push(table);
            }
        }
        Ok(empty)
    });
    assert_eq!(empty.unwrap(), later, "version {version}");
    book.rebuild().unwrap();
    assert_eq!(
        call("yard_list", serde_json::json!({"search": ""})),
        yard,
        "its acts alone give the same yard"
    );
}

#[test]
fn a_newer_register_is_opened_for_reading_only_and_not_touched() {
    let folder = frozen(1);
    let path = folder.path().join("register.sqlite");
    let conn = rusqlite::Connection::open(&path).unwrap();
    conn.pragma_update(None, "user_version", 9999).unwrap();
    drop(conn);
    let before = std::fs::read(&path).unwrap();
    let book = commands::open(folder.path(), Clock::wall()).unwrap();
    let draft = serde_json::json!({"key": "log:new", "value": "x"});
    let refused = commands::dispatch(&book, "draft_set", draft, None).unwrap_err().reply();
    assert_eq!((&refused["code"], &refused["detail"]["found"]), (&"too_new".into(), &9999.into()));
    drop(book);
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_file_that_is_no_register_is_refused_and_not_touched() {
    for bytes in [b"Dear diary, log 37 pins.".repeat(60), vec![0; 8192]] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("register.sqlite");
        std::fs::write(&path, &bytes).unwrap();
        let refused = commands::open(folder.path(), Clock::wall()).map(|_| ()).unwrap_err().reply();
        assert_eq!(refused["code"], "damaged");
        assert_eq!(std::fs::read(&path).unwrap(), bytes);
    }
}

#[test]
fn an_act_that_an_older_version_only_kept_counts_once_it_is_understood() {
    let folder = frozen(1);
    let path = folder.path().join("register.sqlite");
    let conn = rusqlite::Connection::open(&path).unwrap();
    let body = serde_json::json!({"said": {}, "changes": [
        {"set": {"kind": "apart", "id": "a+b", "name": "one", "value": "a"}}]});
    let unknown = serde_json::json!({"said": {}, "changes": [
        {"set": {"kind": "song", "id": "x", "name": "title", "value": "a"}}]});
    for (seq, body) in [(1, &body), (2, &unknown)] {
        conn.execute(
            "INSERT INTO act(device, seq, stamp, at, zone, name, body, applied)
             VALUES ('00000000-0000-7000-8000-000000000001', ?1, '019e0000000000ff', 0, '+00:00', 'later', ?2, 0)",
            rusqlite::params![seq, body.to_string()],
        )
        .unwrap();
    }
    drop(conn);
    let clock = Clock::fixed("2026-10-05T12:00:00+02:00").unwrap();
    for _ in 0..2 {
        let book = commands::open(folder.path(), clock.clone()).unwrap();
        let found: (String, i64) = book
            .read(|conn| {
                let applied =
                    conn.query_row("SELECT count(*) FROM act WHERE applied = 0", [], |r| r.get(0))?;
                Ok((conn.query_row("SELECT one FROM apart WHERE id = 'a+b'", [], |r| r.get(0))?, applied))
            })
            .unwrap();
        assert_eq!(found, ("a".into(), 1), "the other one is still kept");
    }
}
