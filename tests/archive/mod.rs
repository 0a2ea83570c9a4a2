//! The archive: everything out, everything back, and files that are not what they say.
//! Never the zip's inside taken on trust.
//! Invariant: what was refused has written nothing.

mod hostile;
mod round_trip;

pub use hostile::{Chance, hostile_cases, mutated};

use crate::journeys::{Yard, uuid};
use serde_json::{Value, json};
use std::io::Read;
use std::path::{Path, PathBuf};

/// Waits for the job of a reply; returns its last view.
pub fn finished(yard: &Yard, started: &Value) -> Value {
    loop {
        let view = yard.call("job_show", json!({"job": started["job"]}));
        if view["state"] != "running" {
            return view;
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

/// Writes an archive of the yard into `folder`; its path.
pub fn archive(yard: &Yard, folder: &Path) -> PathBuf {
    let view = finished(yard, &yard.call("archive_write", json!({"folder": folder})));
    assert_eq!((&view["state"], &view["found"]), (&json!("done"), &json!([])), "{view}");
    PathBuf::from(view["result"].as_str().expect("a path"))
}

/// Takes an archive in; the job's last view.
pub fn taken(yard: &Yard, file: &Path) -> Value {
    finished(yard, &yard.call("archive_read", json!({"file": file, "request": uuid()})))
}

/// A member of a zip.
pub fn member(file: &Path, name: &str) -> Vec<u8> {
    let mut zip = zip::ZipArchive::new(std::fs::File::open(file).unwrap()).unwrap();
    let mut bytes = Vec::new();
    zip.by_name(name).unwrap().read_to_end(&mut bytes).unwrap();
    bytes
}

/// The names of a zip's members.
pub fn members(file: &Path) -> Vec<String> {
    let zip = zip::ZipArchive::new(std::fs::File::open(file).unwrap()).unwrap();
    zip.file_names().map(|name| name.unwrap().into_owned()).collect()
}
