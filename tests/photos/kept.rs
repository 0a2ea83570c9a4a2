//! Keeping, finding and tying, by the commands alone; HEIC; originals moved out.
//! Never a look inside the tables. Invariant: a photo that was kept stays whole somewhere that is named.

use crate::journeys::{Yard, jpeg, text, uuid};
use serde_json::{Value, json};
use shadeyard_backend::commands;
use shadeyard_demo::{Cap, Scene};

/// A scene of the tag of a log with a cap of this width, as a photo.
fn shot(log: &str, width: f64, seed: u64) -> (Vec<u8>, [[f64; 2]; 2]) {
    let scene = Scene {
        size: [1600, 1200],
        off: [0.0, -0.15],
        tilt: [20.0, 70.0],
        cap: Some(Cap { at: [10.0, 50.0], width, proud: 0.0 }),
        seed,
        ..Scene::of(log)
    };
    (scene.jpeg(90), scene.cap_sides().unwrap())
}

fn keep(yard: &Yard, bytes: Vec<u8>) -> String {
    text(&yard.keep_photo(bytes).unwrap()["hash"])
}

fn finished(yard: &Yard, job: &Value) -> Value {
    loop {
        let view = yard.call("job_show", json!({"job": job["job"]}));
        if view["state"] != "running" {
            return view;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
}

#[test]
fn a_tagged_log_is_found_in_its_photo_and_its_caps_grow_by_the_day() {
    let yard = Yard::new();
    let log = yard.log("37", json!({}));
    let (bytes, [a, b]) = shot(&log, 18.0, 3);
    let hash = keep(&yard, bytes);
    let found = yard.call("photo_find", json!({"hash": hash}));
    assert_eq!(found["logs"], json!([{"log": log, "tag": "37"}]), "{found}");
    assert_eq!((&found["strangers"], &found["tied"]), (&json!(0), &json!([])));
    yard.act("look_add", json!({"log": log, "seen": "pin", "photos": [hash], "note": ""}));
    let form = yard.call("cap_form", json!({"log": log, "hash": hash}));
    assert_eq!(form["why_not"], Value::Null, "{form}");
    let measured = |hash: &str, a: [f64; 2], b: [f64; 2]| json!({"log": log, "hash": hash, "a": a, "b": b, "tap_px": 1.5, "proud_mm": 0});
    let tried = yard.call("cap_try", measured(&hash, a, b));
    let width = tried["width_tenths"].as_i64().unwrap();
    assert!((width - 180).abs() <= 6, "{tried}");
    yard.act("cap_add", json!({"measured": measured(&hash, a, b), "cap": 1}));
    assert_eq!(yard.call("log_show", json!({"log": log}))["growth"], Value::Null);
    // Two days later.
    yard.now("2026-10-05T18:30:00+02:00");
    let (bytes, [a, b]) = shot(&log, 34.0, 4);
    let next = keep(&yard, bytes);
    yard.act("photo_add", json!({"photos": [{"hash": next, "log": log}]}));
    yard.act("cap_add", json!({"measured": measured(&next, a, b), "cap": 1}));
    let shown = yard.call("log_show", json!({"log": log}));
    let rate = shown["growth"]["tenths_a_day"].as_i64().unwrap();
    assert!((rate - 80).abs() <= 5, "{}", shown["growth"]);
    assert_eq!(shown["growth"]["hours"], 48);
    let kinds: Vec<&Value> =
        shown["entries"].as_array().unwrap().iter().map(|e| &e["what"]["kind"]).collect();
    assert_eq!(kinds, ["measure", "photo", "measure", "look"]);
    // Picked: the next flush begins anew.
    yard.now("2026-10-06T10:00:00+02:00");
    yard.act("picking_add", json!({"log": log, "day": null, "grams": 300, "caps": 5, "damaged_pct": null, "by": null, "note": ""}));
    assert_eq!(yard.call("log_show", json!({"log": log}))["growth"], Value::Null);
}

#[test]
fn a_second_width_of_one_cap_in_one_photo_replaces_the_first_and_can_be_taken_back() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    let (bytes, [a, b]) = shot(&log, 25.0, 5);
    let hash = keep(&yard, bytes);
    yard.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
    let measured =
        |a: [f64; 2]| json!({"log": log, "hash": hash, "a": a, "b": b, "tap_px": 1.5, "proud_mm": null});
    yard.act("cap_add", json!({"measured": measured(a), "cap": 1}));
    yard.act("cap_add", json!({"measured": measured([a[0] - 10.0, a[1]]), "cap": 1}));
    let caps = || yard.call("cap_form", json!({"log": log, "hash": hash}))["caps"].as_array().unwrap().len();
    assert_eq!(caps(), 1);
    yard.act("undo", json!({"act": null}));
    assert_eq!(caps(), 1, "the first stands again");
    let wrong = |ask: Value| yard.refused("cap_try", ask);
    let ask = |a: Value, b: Value| json!({"log": log, "hash": hash, "a": a, "b": b, "tap_px": 1.0, "proud_mm": null});
    assert_eq!(wrong(ask(json!([5, 5]), json!([5, 5])))["field"], "points", "no width at all");
    assert_eq!(wrong(ask(json!([-5, 5]), json!([9, 9])))["field"], "points");
    let plain = keep(&yard, jpeg(800, 600, 9));
    let refused =
        wrong(json!({"log": log, "hash": plain, "a": [1, 1], "b": [9, 9], "tap_px": 1.0, "proud_mm": null}));
    assert_eq!(refused["detail"]["why"], "no_tag");
}

#[test]
fn a_photo_without_a_tag_lies_loose_until_it_is_tied_and_is_one_photo_however_often_it_comes() {
    let yard = Yard::new();
    let log = yard.log("4", json!({}));
    let hash = keep(&yard, jpeg(640, 480, 7));
    let found = yard.call("photo_find", json!({"hash": hash}));
    assert_eq!((&found["logs"], &found["last"]), (&json!([]), &Value::Null));
    yard.act("photo_add", json!({"photos": [{"hash": hash, "log": null}]}));
    let again = yard.act("photo_add", json!({"photos": [{"hash": hash, "log": null}]}));
    assert_eq!((&again["said"]["tied"], &again["said"]["loose"]), (&json!(0), &json!(0)));
    let loose = yard.call("loose_list", json!({}))["loose"].clone();
    assert_eq!(loose.as_array().unwrap().len(), 1);
    yard.act("photo_tie", json!({"entry": loose[0]["photo"]["entry"], "log": log}));
    assert_eq!(yard.call("loose_list", json!({}))["loose"], json!([]));
    let shown = yard.call("log_show", json!({"log": log}));
    assert_eq!(shown["entries"][0]["photos"][0]["hash"], json!(hash));
    yard.act("undo", json!({"act": null}));
    assert_eq!(yard.call("loose_list", json!({}))["loose"].as_array().unwrap().len(), 1);
    // Straight to its log the next time: the loose one is replaced.
    yard.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
    assert_eq!(yard.call("loose_list", json!({}))["loose"], json!([]));
    assert_eq!(yard.refused("photo_add", json!({"photos": [], "request": uuid()}))["field"], "photos");
}

#[test]
fn several_tags_in_one_photo_are_all_offered_and_a_strangers_is_said() {
    let yard = Yard::new();
    let (one, two) = (yard.log("1", json!({})), yard.log("2", json!({})));
    let scenes = [&one, &two, super::LOG].map(|log| Scene { size: [600, 500], ..Scene::of(log) }.picture());
    let mut wide = image::RgbImage::new(1800, 500);
    for (i, scene) in scenes.iter().enumerate() {
        image::imageops::replace(&mut wide, scene, 600 * i as i64, 0);
    }
    let mut out = std::io::Cursor::new(Vec::new());
    wide.write_to(&mut out, image::ImageFormat::Png).unwrap();
    let found = yard.call("photo_find", json!({"hash": keep(&yard, out.into_inner())}));
    let mut tags: Vec<String> = found["logs"].as_array().unwrap().iter().map(|l| text(&l["tag"])).collect();
    tags.sort();
    assert_eq!(tags, ["1", "2"]);
    assert_eq!(found["strangers"], 1);
}

/// A HEIC file by its outer boxes: type, and properties that name a size.
pub fn heic(width: u32, height: u32) -> Vec<u8> {
    let sized = |kind: &[u8], body: &[u8]| {
        [&u32::try_from(body.len() + 8).unwrap().to_be_bytes()[..], kind, body].concat()
    };
    let ispe = sized(b"ispe", &[&[0; 4][..], &width.to_be_bytes(), &height.to_be_bytes()].concat());
    let meta = sized(b"meta", &[&[0; 4][..], &sized(b"iprp", &sized(b"ipco", &ispe))].concat());
    [sized(b"ftyp", b"heic\0\0\0\0mif1heic"), meta, sized(b"mdat", &[7; 64])].concat()
}

#[test]
fn a_heic_is_kept_as_it_is_and_said_to_be_not_showable() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    let bytes = heic(4032, 3024);
    let kept = yard.keep_photo(bytes.clone()).unwrap();
    assert_eq!(
        (&kept["mime"], &kept["unshown"], &kept["width"]),
        (&json!("image/heic"), &json!("heic"), &json!(4032))
    );
    let hash = text(&kept["hash"]);
    assert_eq!(yard.call("photo_find", json!({"hash": hash}))["unseen"], "heic");
    yard.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
    for size in ["small", "large", "whole"] {
        assert!(commands::photo(yard.book(), &format!("{hash}.{size}")).is_err(), "{size}");
    }
    assert_eq!(yard.refused("photo_share", json!({"hash": hash}))["detail"]["why"], "heic_share");
    assert_eq!(yard.book().blob(&hash).unwrap(), bytes);
    assert!(yard.keep_photo(bytes[..bytes.len() - 9].to_vec()).is_err(), "cut short");
}

#[test]
fn originals_move_out_whole_come_back_whole_and_a_changed_one_is_never_shown() {
    let yard = Yard::new();
    let log = yard.log("1", json!({}));
    let hashes: Vec<String> = (1..=4).map(|shade| keep(&yard, jpeg(900, 700, shade))).collect();
    let photos: Vec<Value> = hashes.iter().map(|hash| json!({"hash": hash, "log": log})).collect();
    yard.act("photo_add", json!({"photos": photos}));
    let out = tempfile::tempdir().unwrap();
    assert_eq!(
        yard.refused("originals_out", json!({"folder": "/no/such", "keep_bytes": 0, "request": uuid()}))["field"],
        "folder"
    );
    let job = yard.call("originals_out", json!({"folder": out.path(), "keep_bytes": 0, "request": uuid()}));
    let view = finished(&yard, &job);
    assert_eq!((&view["state"], view["found"].as_array().unwrap().len()), (&json!("done"), 0), "{view}");
    let room = yard.call("photo_room", json!({}));
    assert_eq!((&room["here"], &room["moved"], &room["orphans"]), (&json!(0), &json!(4), &json!([])));
    let row = yard.call("log_show", json!({"log": log}))["entries"][0]["photos"][0].clone();
    assert_eq!((&row["here"], &row["moved"]), (&json!(false), &json!(out.path())));
    let path = |hash: &str| yard.folder.path().join("blobs").join(&hash[..2]).join(hash);
    assert!(!path(&hashes[0]).exists() && out.path().join(&hashes[0]).exists());
    // Previews made anew from there; swapped there: said, never shown.
    std::fs::remove_dir_all(yard.folder.path().join("made")).unwrap();
    assert!(commands::photo(yard.book(), &format!("{}.small", hashes[0])).is_ok());
    std::fs::write(out.path().join(&hashes[1]), jpeg(900, 700, 99)).unwrap();
    let swapped = commands::photo(yard.book(), &format!("{}.whole", hashes[1])).unwrap_err();
    assert_eq!(swapped.reply()["code"], "damaged");
    std::fs::remove_file(out.path().join(&hashes[2])).unwrap();
    let view = finished(&yard, &yard.call("originals_home", json!({"request": uuid()})));
    let mut found: Vec<String> = view["found"].as_array().unwrap().iter().map(text).collect();
    found.sort();
    let mut wanted = [format!("swapped {}", hashes[1]), format!("missing {}", hashes[2])];
    wanted.sort();
    assert_eq!(found, wanted);
    let room = yard.call("photo_room", json!({}));
    assert_eq!((&room["here"], &room["moved"]), (&json!(2), &json!(2)));
    assert!(path(&hashes[0]).exists());
}

#[test]
fn a_file_without_a_record_is_listed_and_left() {
    let yard = Yard::new();
    let hash = keep(&yard, jpeg(60, 60, 1));
    let stray = format!("{}ab", &hash[..62]);
    let path = yard.folder.path().join("blobs").join(&stray[..2]).join(&stray);
    std::fs::write(&path, b"half a photo").unwrap();
    let room = yard.call("photo_room", json!({}));
    assert_eq!(room["orphans"], json!([{"hash": stray, "bytes": 12}]));
    assert!(path.exists());
}

#[test]
fn the_sheet_of_what_pinned_has_each_log_once_with_its_newest_photo() {
    let yard = Yard::at("2026-10-01T18:00:00+02:00");
    let (one, two, three) = (yard.log("1", json!({})), yard.log("2", json!({})), yard.log("3", json!({})));
    let hash = keep(&yard, jpeg(80, 60, 3));
    let look = |log: &str, seen: &str, photos: &[&str]| {
        yard.act("look_add", json!({"log": log, "seen": seen, "photos": photos, "note": ""}));
    };
    look(&three, "pin", &[]);
    yard.now("2026-10-09T18:00:00+02:00");
    look(&one, "pin", &[]);
    look(&two, "button", &[]);
    yard.now("2026-10-10T18:00:00+02:00");
    look(&one, "pin", &[&hash]);
    let sheet = yard.call("pinned_week", json!({}))["pinned"].clone();
    assert_eq!(sheet.as_array().unwrap().len(), 1, "{sheet}");
    assert_eq!(
        (&sheet[0]["tag"], &sheet[0]["photo"]["hash"], &sheet[0]["day"]),
        (&json!("1"), &json!(hash), &json!("2026-10-09"))
    );
}
