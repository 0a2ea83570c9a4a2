//! The grower's words stand in the register and in answers that were asked for; nowhere else.
//!
//! Never a look at what is written where it belongs. Invariant: each planted word is one no program
//! would say by itself.

use crate::journeys::{Yard as Open, fields};
use crate::window::children::app;
use crate::window::yards::{self, Yard, ask, request};
use serde_json::{Value, json};
use std::path::Path;
use std::process::{Command, Output};

const TAG: &str = "Qwyx7";
const SPOT: &str = "Zvelgnook";
const STRAIN: &str = "Morbrixa";
const NOTE: &str = "Ulfwendle counts them twice";
const PLACE: &str = "Tharkholm";
const ALL: [&str; 5] = [TAG, SPOT, STRAIN, NOTE, PLACE];

/// Puts the words everywhere a grower can write some, and a photo on every log; the photo's hash.
pub fn plant(yard: &Yard) -> String {
    yard.at(yards::EVENING, |book| {
        let settings =
            json!({"place": PLACE, "lat": 44.5, "lon": -72.7, "night_after_min": 120, "request": request()});
        ask(book, "settings_set", settings);
        let more = json!({"spot": SPOT, "strain": STRAIN, "note": NOTE});
        ask(book, "log_add", json!({"fields": fields(TAG, more), "request": request(), "draft": null}));
        let photo = crate::journeys::jpeg(900, 600, 40);
        let kept = shadeyard_backend::commands::dispatch(book, "photo_keep", Value::Null, Some(photo))
            .expect("kept");
        for log in ask(book, "yard_list", json!({"search": ""}))["logs"].as_array().expect("logs") {
            let look = json!({"log": log["id"], "seen": "nothing", "photos": [kept["hash"]], "note": NOTE,
                "request": request(), "draft": null});
            ask(book, "look_add", look);
        }
        kept["hash"].as_str().expect("a hash").to_owned()
    })
}

/// No file beside the register and its safe copies holds a planted word: no log, no cache, no output.
pub fn are_nowhere_but_in_the_register(yard: &Path, elsewhere: &Path) {
    let mut files = Vec::new();
    gather(yard, &mut files);
    gather(elsewhere, &mut files);
    let mut seen_in_register = false;
    for file in files {
        let bytes = std::fs::read(&file).expect("a file of ours");
        let held = ALL.iter().find(|word| bytes.windows(word.len()).any(|part| part == word.as_bytes()));
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let register = file.starts_with(yard) && name.contains(".sqlite");
        seen_in_register |= register && held.is_some();
        assert!(held.is_none() || register, "{} holds {held:?}", file.display());
        assert!(!name.ends_with(".log"), "{} is a log file", file.display());
    }
    assert!(seen_in_register, "the words were planted");
}

fn gather(folder: &Path, files: &mut Vec<std::path::PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder").flatten() {
        let kind = entry.file_type().expect("what it is");
        if kind.is_dir() {
            gather(&entry.path(), files);
        } else if kind.is_file() {
            files.push(entry.path());
        }
    }
}

fn yard_call(folder: &Path, name: &str, request: &Value) -> Output {
    let yard = app().with_file_name("yard");
    let mut command = Command::new(&yard);
    command.args(["call", name, &request.to_string(), "--yard"]).arg(folder);
    command.args(["--now", yards::EVENING]).env("RUST_BACKTRACE", "1").env("RUST_LOG", "trace");
    command.output().unwrap_or_else(|err| panic!("{}: {err}", yard.display()))
}

#[test]
fn the_command_line_says_what_was_asked_and_no_more() {
    let folder = tempfile::tempdir().expect("a folder");
    let more = json!({"spot": SPOT, "strain": STRAIN, "note": NOTE});
    let add = json!({"fields": fields(TAG, more), "request": request(), "draft": null});
    let out = yard_call(folder.path(), "log_add", &add);
    let (said, trouble) = (String::from_utf8_lossy(&out.stdout), String::from_utf8_lossy(&out.stderr));
    assert!(out.status.success(), "{trouble}");
    assert_eq!(trouble, "", "nothing beside the answer");
    assert!(said.contains(TAG) && ![SPOT, STRAIN, NOTE].iter().any(|word| said.contains(word)), "{said}");
    let mut files = Vec::new();
    gather(folder.path(), &mut files);
    let known = |name: &str| name.starts_with("register.") || name == "lock" || name == ".lock";
    for file in &files {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        assert!(
            known(&name) || name.contains(".sqlite"),
            "{} is written beside the register",
            file.display()
        );
    }
}

/// `message` is what would stand in a log, were there one.
#[test]
fn the_message_of_a_refusal_holds_none_of_the_growers_words() {
    let yard = Open::new();
    let long = format!("{NOTE} {}", "x".repeat(4001));
    for (name, request) in [
        ("log_add", json!({"fields": fields(&long, json!({}))})),
        ("log_add", json!({"fields": fields(TAG, json!({"wood": NOTE}))})),
        ("log_add", json!({"fields": fields(TAG, json!({"laid": NOTE}))})),
        ("log_add", json!({"fields": fields(TAG, json!({"note": long}))})),
        ("log_add", json!({"fields": fields(TAG, json!({"mushroom": NOTE}))})),
        ("log_show", json!({"log": NOTE})),
        ("csv_look", json!({"text": format!("tag\n\"{NOTE}")})),
        ("photo_share", json!({"hash": NOTE})),
        (NOTE, json!({})),
    ] {
        let refused = yard.refused(name, crate::journeys::asked(request));
        let message = refused["message"].as_str().expect("a message");
        assert!(!ALL.iter().any(|word| message.contains(word)), "{name}: {message}");
    }
}
