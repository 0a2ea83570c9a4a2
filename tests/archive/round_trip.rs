//! Out of one yard and into another: equal dumps, equal photos; and what a person finds inside.
//! Never a comparison of what the program says about itself only: bytes are read by other means.
//! Invariant: an archive is one of everything or it is not there.

use super::{archive, finished, member, members, taken};
use crate::journeys::{Yard, asked, jpeg, text};
use crate::merge::{dump, files, waited};
use serde_json::{Value, json};
use shadeyard_backend::commands;

/// A yard with something of everything, and an act taken back.
pub fn filled() -> Yard {
    let yard = Yard::new();
    let log = yard.log(
        "=1+1",
        json!({"wood": "white-oak", "strain": "@home", "strain_class": "wide",
        "spot": "by the \"spring\",\nleft", "d_mm": [120, 130], "length_mm": 1000, "note": "-2 under snow"}),
    );
    let other = yard.log("38", json!({}));
    let photo = text(&yard.keep_photo(jpeg(90, 60, 7)).unwrap()["hash"]);
    yard.act("look_add", json!({"log": log, "seen": "pin", "photos": [photo], "note": "", "draft": null}));
    let ask = json!({"log": log, "day": null, "grams": 240, "caps": 12, "damaged_pct": 0, "by": null,
        "note": "+ one left", "draft": null});
    yard.act("picking_add", ask.clone());
    let twice = yard.act("picking_add", ask);
    yard.act("undo", json!({"act": twice["act"]}));
    let round = text(&yard.act("round_start", json!({}))["said"]["round"]);
    yard.act(
        "round_check",
        json!({"round": round, "log": log, "how": "seen", "slugs": 3, "damage": "some", "draft": null}),
    );
    yard.act("log_end", json!({"log": other, "why": "lost", "day": null, "note": "", "draft": null}));
    let place = json!({"place": "the old orchard", "lat": -33.5, "lon": 151.2, "night_after_min": 90});
    yard.act("settings_set", place);
    yard
}

#[test]
fn an_archive_taken_in_on_an_empty_machine_gives_an_equal_dump_and_equal_photos() {
    let (yard, empty) = (filled(), Yard::new());
    let out = tempfile::tempdir().unwrap();
    let file = archive(&yard, out.path());
    assert_eq!(file.file_name().unwrap(), "shadeyard-archive-2026-10-03-1.zip");
    let before = files(empty.folder.path());
    let seen = empty.call("archive_preview", json!({"file": file}));
    let acts = dump(yard.book())["act"].len();
    assert_eq!((&seen["acts"], &seen["new_acts"]), (&json!(acts), &json!(acts)));
    assert_eq!((&seen["logs"], &seen["photos"], &seen["sound"]), (&json!(2), &json!(1), &json!(true)));
    assert_eq!(files(empty.folder.path()), before, "looking writes nothing");
    let view = taken(&empty, &file);
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([])), "{view}");
    assert_eq!(dump(empty.book()), dump(yard.book()));
    let photos = |yard: &Yard| files(&yard.folder.path().join("blobs"));
    assert_eq!(photos(&empty), photos(&yard));
    let hash = photos(&yard).keys().next().unwrap().rsplit('/').next().unwrap().to_owned();
    assert_eq!(commands::photo(empty.book(), &format!("{hash}.small")).unwrap().0, "image/jpeg");
    assert_eq!(empty.call("settings_show", json!({}))["place"], "the old orchard");
    let before = files(empty.folder.path());
    let again = taken(&empty, &file);
    assert_eq!(again["result"], json!(r#"{"acts":0,"blobs":0}"#));
    assert_eq!(files(empty.folder.path()), before, "the second time writes nothing");
}

#[test]
fn an_archive_of_an_archive_holds_the_same_acts_and_photos() {
    let (yard, other) = (filled(), Yard::new());
    let out = tempfile::tempdir().unwrap();
    let first = archive(&yard, out.path());
    taken(&other, &first);
    let second = archive(&other, out.path());
    assert_ne!(first, second, "nothing is written over");
    for name in members(&first).iter().filter(|n| !["register.json", "hashes.txt"].contains(&n.as_str())) {
        assert_eq!(member(&first, name), member(&second, name), "{name}");
    }
}

#[test]
fn every_member_is_in_the_list_of_hashes_and_is_what_it_says() {
    let out = tempfile::tempdir().unwrap();
    let file = archive(&filled(), out.path());
    let list = String::from_utf8(member(&file, "hashes.txt")).unwrap();
    let mut listed: Vec<String> = vec!["hashes.txt".into()];
    for line in list.lines() {
        let (hash, name) = line.split_once("  ").unwrap();
        assert_eq!(blake3::hash(&member(&file, name)).to_hex().as_str(), hash, "{name}");
        listed.push(name.to_owned());
    }
    let mut names = members(&file);
    names.sort();
    listed.sort();
    assert_eq!(names, listed);
    for name in
        ["logs", "spots", "strains", "looks", "pickings", "checks", "rounds", "endings", "photos", "settings"]
    {
        assert!(names.contains(&format!("csv/{name}.csv")), "{name}");
    }
    let left: Vec<_> = std::fs::read_dir(out.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "no part is left behind");
}

#[test]
fn tables_open_in_a_spreadsheet_as_text_and_numbers_and_never_as_formulas() {
    let out = tempfile::tempdir().unwrap();
    let file = archive(&filled(), out.path());
    let bytes = member(&file, "csv/logs.csv");
    assert!(bytes.windows(2).any(|w| w == b"\r\n"), "RFC 4180 ends lines so");
    let table = |name: &str| -> Vec<csv::StringRecord> {
        let bytes = member(&file, &format!("csv/{name}.csv"));
        csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(bytes.as_slice())
            .records()
            .map(|r| r.unwrap())
            .collect()
    };
    let logs = table("logs");
    let column = |name: &str| logs[0].iter().position(|c| c == name).unwrap();
    let mut tags: Vec<&str> = logs[1..].iter().map(|row| &row[column("tag")]).collect();
    tags.sort_unstable();
    assert_eq!(tags, ["'=1+1", "38"]);
    let first = logs.iter().find(|row| &row[column("tag")] == "'=1+1").unwrap();
    assert_eq!((&first[column("strain")], &first[column("note")]), ("'@home", "'-2 under snow"));
    assert_eq!(&first[column("spot")], "by the \"spring\",\nleft");
    let settings = table("settings");
    let lat = settings.iter().find(|row| &row[0] == "lat").unwrap();
    assert_eq!(&lat[1], "-33500000", "a number stays a number");
    let pickings = table("pickings");
    let void = pickings[0].iter().position(|c| c == "void").unwrap();
    let mut voids: Vec<&str> = pickings[1..].iter().map(|row| &row[void]).collect();
    voids.sort_unstable();
    assert_eq!(voids, ["0", "1"], "what was taken back is in it, marked");
}

#[test]
fn the_lines_of_acts_fit_the_schema_that_lies_beside_them() {
    let out = tempfile::tempdir().unwrap();
    let file = archive(&filled(), out.path());
    let schema: Value = serde_json::from_slice(&member(&file, "schema.json")).unwrap();
    let needed = schema["required"].as_array().unwrap();
    let known = schema["properties"].as_object().unwrap();
    for line in String::from_utf8(member(&file, "acts.jsonl")).unwrap().lines() {
        let act: Value = serde_json::from_str(line).unwrap();
        let act = act.as_object().unwrap();
        assert!(needed.iter().all(|name| act.contains_key(name.as_str().unwrap())));
        assert!(act.keys().all(|name| known.contains_key(name)), "{line}");
        for change in act["body"]["changes"].as_array().unwrap() {
            let (sort, change) = change.as_object().unwrap().iter().next().unwrap();
            let kind = &schema["kinds"][change["kind"].as_str().unwrap()];
            let columns = kind["columns"].as_array().unwrap();
            let names: Vec<Value> = if sort == "set" {
                vec![change["name"].clone()]
            } else {
                change["row"].as_object().unwrap().keys().map(|k| json!(k)).collect()
            };
            let entry = schema["kinds"]["entry"]["columns"].as_array().unwrap();
            assert!(names.iter().all(|n| columns.contains(n) || entry.contains(n)), "{line}");
        }
    }
}

#[test]
fn a_photo_that_is_missing_or_swapped_is_named_and_the_rest_is_written() {
    let yard = filled();
    let second = text(&yard.keep_photo(jpeg(50, 50, 200)).unwrap()["hash"]);
    let place = yard.folder.path().join("blobs").join(&second[..2]).join(&second);
    let out = tempfile::tempdir().unwrap();
    for (bytes, word) in [(Some(jpeg(50, 50, 201)), "swapped"), (None, "missing")] {
        match bytes {
            Some(bytes) => std::fs::write(&place, bytes).unwrap(),
            None => std::fs::remove_file(&place).unwrap(),
        }
        let view = finished(&yard, &yard.call("archive_write", json!({"folder": out.path()})));
        assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([format!("{word} {second}")])));
        let other = Yard::new();
        taken(&other, view["result"].as_str().unwrap().as_ref());
        assert_eq!(dump(other.book()), dump(yard.book()));
    }
}

#[test]
fn a_register_of_a_newer_version_can_be_carried_out() {
    let yard = filled();
    let acts = dump(yard.book())["act"].len();
    let (kept, clock) = yard.close();
    let conn = rusqlite::Connection::open(kept.path().join("register.sqlite")).unwrap();
    conn.execute_batch("ALTER TABLE spot ADD COLUMN echo INTEGER; PRAGMA user_version = 99").unwrap();
    drop(conn);
    let newer = commands::open(kept.path(), clock).unwrap();
    let out = tempfile::tempdir().unwrap();
    let started = commands::dispatch(&newer, "archive_write", json!({"folder": out.path()}), None).unwrap();
    let view = waited(&newer, started["job"].as_str().unwrap());
    assert_eq!(view.found, Vec::<String>::new());
    let file = view.result.unwrap();
    let seen = Yard::new().call("archive_preview", json!({"file": file}));
    assert_eq!((&seen["version"], &seen["acts"]), (&json!(99), &json!(acts)));
    let refused = commands::dispatch(&newer, "archive_read", asked(json!({"file": file})), None).unwrap_err();
    assert_eq!(refused.reply()["code"], "too_new");
}

#[test]
fn a_job_that_is_stopped_leaves_nothing_behind() {
    let yard = filled();
    for shade in 0..60 {
        yard.keep_photo(jpeg(400, 300, shade)).unwrap();
    }
    let out = tempfile::tempdir().unwrap();
    let started = yard.call("archive_write", json!({"folder": out.path()}));
    yard.call("job_cancel", json!({"job": started["job"]}));
    let view = finished(&yard, &started);
    assert_eq!(view["state"], "cancelled", "{view}");
    let left: Vec<_> = std::fs::read_dir(out.path()).unwrap().collect();
    assert!(left.is_empty() || view["result"] != Value::Null, "{left:?}");
    assert_eq!(yard.refused("archive_write", json!({"folder": "/no/such/folder"}))["code"], "missing");
}

#[test]
fn a_damaged_register_is_carried_out_as_far_as_it_can_be_read() {
    let yard = filled();
    for n in 0..300 {
        yard.log(&n.to_string(), json!({"note": "a note that fills pages ".repeat(20)}));
    }
    let acts = dump(yard.book())["act"].len();
    let (folder, clock) = yard.close();
    let path = folder.path().join("register.sqlite");
    let (page, size): (u32, u32) = rusqlite::Connection::open(&path)
        .unwrap()
        .query_row("SELECT rootpage, (SELECT page_size FROM pragma_page_size()) FROM sqlite_schema WHERE name = 'act'", [], |r| {
            Ok((r.get(0)?, r.get(1)?))
        })
        .unwrap();
    let (page, size) = (page as usize, size as usize);
    // One leaf in the middle of the acts, found through their root page, is overwritten.
    let mut bytes = std::fs::read(&path).unwrap();
    let root = &bytes[(page - 1) * size..page * size];
    let cells = usize::from(u16::from_be_bytes([root[3], root[4]]));
    let pointer = 12 + cells / 2 * 2;
    let cell = usize::from(u16::from_be_bytes([root[pointer], root[pointer + 1]]));
    let leaf = usize::try_from(u32::from_be_bytes(root[cell..cell + 4].try_into().unwrap())).unwrap();
    bytes[(leaf - 1) * size..leaf * size].fill(0xA5);
    std::fs::write(&path, &bytes).unwrap();
    // The version goes up so that the register is checked before use, and is found damaged.
    let conn = rusqlite::Connection::open(&path).unwrap();
    conn.pragma_update(None, "user_version", 1).unwrap();
    drop(conn);
    let before = std::fs::read(&path).unwrap();
    let book = commands::open(folder.path(), clock).unwrap();
    assert!(book.reading_only().is_some());
    let out = tempfile::tempdir().unwrap();
    let started = commands::dispatch(&book, "archive_write", json!({"folder": out.path()}), None).unwrap();
    let view = waited(&book, started["job"].as_str().unwrap());
    assert!(view.found.iter().any(|line| line.starts_with("unreadable act")), "{view:?}");
    let file = view.result.expect("what could be read is there");
    let lines = member(file.as_ref(), "acts.jsonl").split(|b| *b == b'\n').count() - 1;
    assert!(lines < acts && lines > acts * 8 / 10, "{lines} of {acts}: one leaf is missing");
    assert_eq!(std::fs::read(&path).unwrap(), before, "the damaged file is not touched");
}
