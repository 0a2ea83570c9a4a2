//! The way back: what it will change, that it is all or nothing, and who writes afterwards.
//! Never a look at how: breaking off midway is tested beside the code.
//! Invariant: what was restored over can itself be gone back to.

use super::*;
use shadeyard_backend::book::Clock;
use shadeyard_backend::commands;

#[test]
fn the_preview_says_what_is_lost_and_changes_nothing() {
    let yard = filled();
    let name = backup(&yard);
    yard.now("2026-10-06T18:30:00+02:00");
    let log = yard.log("A3", json!({}));
    yard.act("picking_add", picking(&log, 77));
    yard.keep_photo(jpeg(64, 48, 200)).unwrap();
    let before = dump(&yard);
    let view = yard.call("restore_preview", json!({"name": name, "from": "backups"}));
    assert_eq!(view["now"], json!({"acts": 10, "logs": 3, "entries": 5, "photos": 3}));
    assert_eq!(view["then"], json!({"acts": 8, "logs": 2, "entries": 4, "photos": 2}));
    assert_eq!((&view["lost_count"], &view["photos_missing"]), (&json!(2), &json!(0)));
    let lost: Vec<String> = view["lost"].as_array().unwrap().iter().map(|l| text(&l["name"])).collect();
    assert_eq!(lost, ["picking_add", "log_add"], "newest first");
    assert_eq!(view["lost"][0]["said"]["grams"], json!(77));
    assert_eq!(view["at"], json!("2026-10-03T18:30:00+02:00"));
    assert_eq!(dump(&yard), before);
}

#[test]
fn a_wiped_machine_gets_everything_back_from_the_backup_folder() {
    let away = tempfile::tempdir().unwrap();
    let yard = filled();
    choose(&yard, away.path());
    let name = backup(&yard);
    let (before, photos) = (dump(&yard), files(&yard.folder.path().join("blobs")));
    let device = yard.book().device().to_string();
    drop(yard);

    let new = Yard::at("2026-10-08T08:00:00+02:00");
    choose(&new, away.path());
    let preview = new.call("restore_preview", json!({"name": name, "from": "backups"}));
    assert_eq!((&preview["photos_missing"], &preview["lost_count"]), (&json!(0), &json!(0)));
    restore(&new, "backups", &name);
    assert_eq!(dump(&new), before);
    let bytes = |all: Vec<(String, Vec<u8>)>| -> Vec<Vec<u8>> { all.into_iter().map(|(_, b)| b).collect() };
    let (mut here, mut there) = (bytes(files(&new.folder.path().join("blobs"))), bytes(photos));
    here.sort();
    there.sort();
    assert_eq!(here, there);
    assert_ne!(new.book().device().to_string(), device, "a new device");
    let care = new.call("care_show", json!({}));
    assert_eq!((&care["devices"][0]["device"], &care["devices"][0]["mine"]), (&json!(device), &json!(false)));
    let check = ended(&new, &new.call("register_check", json!({})));
    assert_eq!((&check["state"], &check["found"]), (&json!("done"), &json!([])));
}

#[test]
fn after_a_restore_new_acts_are_a_new_devices_and_old_ones_can_be_undone() {
    let mut yard = filled();
    let name = backup(&yard);
    let log = yard.log("late", json!({}));
    restore(&yard, "backups", &name);
    assert_eq!(yard.refused("log_show", json!({"log": log}))["code"], "missing");
    let acts = |yard: &Yard| yard.call("act_list", json!({"limit": 99}))["acts"].clone();
    assert!(acts(&yard).as_array().unwrap().iter().all(|a| a["mine"] == json!(false)));
    yard.restart();
    yard.log("new", json!({}));
    let all = acts(&yard);
    assert_eq!((&all[0]["mine"], &all[1]["mine"]), (&json!(true), &json!(false)));
    assert_ne!(all[0]["device"], all[1]["device"]);
    assert_eq!(text(&all[0]["device"]).len(), 6);
    // The last of this device, then one of the device before.
    let undone = yard.act("undo", json!({"act": null}));
    assert_eq!(undone["said"]["undone"]["name"], "log_add");
    let edit = all.as_array().unwrap().iter().find(|a| a["name"] == "log_edit").unwrap();
    yard.act("undo", json!({"act": edit["act"]}));
    let tags = yard.call("yard_list", json!({"search": "A1"}));
    assert_eq!(tags["logs"][0]["tag"], "A1");
}

#[test]
fn a_restore_is_taken_back_by_the_snapshot_made_before_it() {
    let yard = filled();
    let name = backup(&yard);
    yard.log("late", json!({}));
    let before = dump(&yard);
    restore(&yard, "backups", &name);
    assert_ne!(dump(&yard), before);
    let snapshots = yard.call("care_show", json!({}))["snapshots"].clone();
    let snapshot = text(&snapshots[0]["name"]);
    assert!(snapshot.starts_with("before-restore-"), "{snapshot}");
    restore(&yard, "snapshots", &snapshot);
    assert_eq!(dump(&yard), before);
    let ask = json!({"name": snapshot, "from": "backups"});
    assert_eq!(yard.refused("restore_preview", ask)["code"], "missing", "a snapshot is no backup");
}

#[test]
fn this_devices_own_facts_and_newest_drafts_stay() {
    let yard = filled();
    let name = backup(&yard);
    yard.call("light_set", json!({"light": "lamp"}));
    yard.call("draft_set", json!({"key": "log:new", "value": "a second thought"}));
    restore(&yard, "backups", &name);
    assert_eq!(yard.call("settings_show", json!({}))["light"], "lamp");
    assert_eq!(yard.call("draft_get", json!({"key": "log:new"}))["value"], "a second thought");
}

#[test]
fn a_double_tap_restores_once() {
    let yard = filled();
    let name = backup(&yard);
    let ask = json!({"name": name, "from": "backups", "request": uuid()});
    let first = yard.call("restore_do", ask.clone());
    let second = yard.call("restore_do", ask);
    assert_eq!(first, second);
    ended(&yard, &first);
    assert_eq!(yard.call("care_show", json!({}))["snapshots"].as_array().unwrap().len(), 1);
}

#[test]
fn an_older_versions_register_is_restored_and_brought_to_today() {
    let yard = filled();
    let frozen = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations/version-1.sqlite");
    let bytes = std::fs::read(frozen).unwrap();
    let place = yard.folder.path().join("backups");
    std::fs::create_dir_all(&place).unwrap();
    let name = format!("register-20250901T120000Z-{}.sqlite", &blake3::hash(&bytes).to_hex()[..16]);
    std::fs::write(place.join(&name), &bytes).unwrap();
    let preview = yard.call("restore_preview", json!({"name": name, "from": "backups"}));
    assert_eq!((&preview["version"], &preview["then"]["logs"]), (&json!(1), &json!(4)));
    restore(&yard, "backups", &name);
    let care = yard.call("care_show", json!({}));
    assert!(care["register"].as_i64().unwrap() > 1, "it was brought to today's version");
    assert_eq!(yard.call("settings_show", json!({}))["place"], "the old orchard");
    yard.log("of today", json!({}));
    assert_eq!(std::fs::read(place.join(&name)).unwrap(), bytes, "the copy stays as it is");
}

/// What an old copy only kept once waited for the next start after it was restored.
#[test]
fn acts_that_an_older_copy_only_kept_count_as_soon_as_it_is_restored() {
    let yard = filled();
    let frozen = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations/version-1.sqlite");
    let place = yard.folder.path().join("backups");
    std::fs::create_dir_all(&place).unwrap();
    let part = place.join("part");
    std::fs::copy(frozen, &part).unwrap();
    let conn = rusqlite::Connection::open(&part).unwrap();
    conn.execute(
        "INSERT INTO act(device, seq, stamp, at, zone, name, body, applied)
         VALUES ('00000000-0000-7000-8000-000000000001', 1, '019e0000000000ff', 0, '+00:00', 'later', ?1, 0)",
        [json!({"said": {}, "changes": [
            {"set": {"kind": "apart", "id": "a+b", "name": "one", "value": "a"}}]})
        .to_string()],
    )
    .unwrap();
    conn.close().unwrap();
    let bytes = std::fs::read(&part).unwrap();
    let name = format!("register-20250901T120000Z-{}.sqlite", &blake3::hash(&bytes).to_hex()[..16]);
    std::fs::rename(&part, place.join(&name)).unwrap();
    restore(&yard, "backups", &name);
    let one: String = yard
        .book()
        .read(|conn| Ok(conn.query_row("SELECT one FROM apart WHERE id = 'a+b'", [], |r| r.get(0))?))
        .unwrap();
    assert_eq!(one, "a");
}

#[test]
fn a_newer_copy_is_refused_and_a_cancelled_restore_changes_nothing() {
    let yard = filled();
    let name = backup(&yard);
    let place = yard.folder.path().join("backups");
    let conn = rusqlite::Connection::open(place.join(&name)).unwrap();
    conn.pragma_update(None, "user_version", 9999).unwrap();
    drop(conn);
    let bytes = std::fs::read(place.join(&name)).unwrap();
    let newer = format!("register-20261003T170000Z-{}.sqlite", &blake3::hash(&bytes).to_hex()[..16]);
    std::fs::rename(place.join(&name), place.join(&newer)).unwrap();
    let refused = yard.refused("restore_preview", json!({"name": newer, "from": "backups"}));
    assert_eq!((&refused["code"], &refused["detail"]["found"]), (&json!("too_new"), &json!(9999)));

    let name = backup(&yard);
    yard.log("late", json!({}));
    let (before, device) = (dump(&yard), yard.book().device().to_string());
    let started = yard.call("restore_do", asked(json!({"name": name, "from": "backups"})));
    yard.call("job_cancel", json!({"job": started["job"]}));
    let view = ended(&yard, &started);
    // A tap on cancel may come too late; then all is the old one. Between the two there is nothing.
    if view["state"] == "cancelled" {
        assert_eq!(view["result"], json!(null));
        assert_eq!((dump(&yard), yard.book().device().to_string()), (before, device));
    } else {
        assert_eq!((&view["state"], &view["result"]), (&json!("done"), &json!(name)));
        assert_eq!(yard.call("yard_list", json!({"search": "late"}))["logs"], json!([]));
    }
}

#[test]
fn a_backup_folder_that_is_not_plugged_in_is_not_made_anew() {
    let away = tempfile::tempdir().unwrap();
    let stick = away.path().join("stick");
    let yard = filled();
    choose(&yard, &stick);
    backup(&yard);
    std::fs::rename(&stick, away.path().join("in a pocket")).unwrap();
    let view = ended(&yard, &yard.call("backup_now", json!({})));
    assert_eq!((&view["state"], &view["found"]), (&json!("failed"), &json!(["folder: not_there"])));
    assert!(!stick.exists());
    (0..30).for_each(|n| drop(yard.log(&format!("D{n}"), json!({}))));
    assert_eq!(yard.call("chores_show", json!({}))["backup_old"], json!(null), "the last one still counts");
}

#[test]
fn a_restore_without_its_photos_says_so_and_they_are_not_shown_as_here() {
    let away = tempfile::tempdir().unwrap();
    let yard = filled();
    choose(&yard, away.path());
    let name = backup(&yard);
    let (lost, _) = files(&away.path().join("blobs")).remove(0);
    std::fs::remove_file(lost).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let clock = Clock::fixed("2026-10-08T08:00:00+02:00").unwrap();
    let book = commands::open(folder.path(), clock).unwrap();
    let call = |name: &str, ask: Value| commands::dispatch(&book, name, ask, None).unwrap();
    call("backup_folder", json!({"folder": away.path().to_str().unwrap()}));
    let preview = call("restore_preview", json!({"name": name, "from": "backups"}));
    assert_eq!(preview["photos_missing"], json!(1));
    let started = call("restore_do", asked(json!({"name": name, "from": "backups"})));
    while call("job_show", json!({"job": started["job"]}))["state"] == "running" {
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    assert_eq!(call("settings_show", json!({}))["photos"], json!(1));
}
