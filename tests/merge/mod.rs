//! Two or more books exchange acts and converge, whatever the order and the clocks.
//! Never a command's JSON: this is the book's own ground.
//! Invariant: equal sets of acts give equal dumps.

mod by_hand;
mod converge;
mod folders;
mod hostile;
mod rounds;
mod skewed;

use rusqlite::Connection;
use rusqlite::types::Value;
use serde_json::json;
use shadeyard_backend::book::jobs::{JobState, JobView};
use shadeyard_backend::book::{Book, Change, Clock, Intent, Plan};
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use std::collections::BTreeMap;
use std::path::Path;
use tempfile::TempDir;

/// A book on a device of its own.
pub struct Device {
    pub clock: Clock,
    pub book: Book,
    pub folder: TempDir,
}

impl Device {
    pub fn new(now: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let clock = Clock::fixed(now).expect("an instant");
        let book = commands::open(folder.path(), clock.clone()).expect("an empty yard opens");
        Self { clock, book, folder }
    }

    pub fn reopen(self) -> Self {
        let Self { clock, book, folder } = self;
        drop(book);
        let book = commands::open(folder.path(), clock.clone()).expect("it opens again");
        Self { clock, book, folder }
    }

    pub fn act(&self, changes: Vec<Change>) -> String {
        let request = self.book.new_id().to_string();
        let intent = Intent { name: "test", request: &request, draft: None };
        self.book.act(intent, |_| Ok(Plan::new(changes, json!({})))).expect("an act").act
    }

    pub fn undo(&self, act: &str) {
        let request = self.book.new_id().to_string();
        let intent = Intent { name: "undo", request: &request, draft: None };
        // Taking back what is taken back already is refused; either is fine here.
        let _either = self.book.undo(intent, Some(act));
    }

    /// Waits for a job.
    pub fn finished(&self, job: String) -> JobView {
        waited(&self.book, &job)
    }

    pub fn set(&self, id: &str, name: &str, value: impl Into<serde_json::Value>) -> String {
        self.act(vec![Change::set("log", id, name, value)])
    }
}

/// Waits for a job; its last view.
pub fn waited(book: &Book, job: &str) -> JobView {
    loop {
        let view = book.jobs().show(job).expect("a job");
        if view.state != JobState::Running {
            return view;
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

/// Takes any bytes for a photo.
pub fn any_bytes(_: &[u8]) -> Result<serde_json::Value, Error> {
    Ok(json!({}))
}

/// All files below a folder with their bytes, but SQLite's own index; none when there is no folder.
pub fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder).into_iter().flatten() {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if path.is_dir() {
            found.extend(files(&path).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
        } else if !name.ends_with("-shm") {
            found.insert(name, std::fs::read(&path).expect("a file"));
        }
    }
    found
}

/// Everything that must be equal: shared tables, all field versions, what is derived, and the acts.
/// An entry's `act` is a local row number, so its name stands instead.
pub fn dump(book: &Book) -> BTreeMap<String, Vec<String>> {
    book.read(|conn| {
        let mut all = BTreeMap::new();
        let kinds: Vec<String> =
            conn.prepare("SELECT name FROM kind")?.query_map([], |r| r.get(0))?.collect::<Result<_, _>>()?;
        for table in kinds.iter().map(String::as_str).chain(["field", "log_state", "log_course"]) {
            all.insert(table.to_owned(), rows(conn, &format!("SELECT * FROM \"{table}\""))?);
        }
        let entry =
            "SELECT e.id, e.kind, e.log, e.day, e.at, e.zone, e.note, e.replaces, e.void, a.device, a.seq
            FROM entry e JOIN act a ON a.n = e.act";
        all.insert("entry".into(), rows(conn, entry)?);
        let act = "SELECT device, seq, stamp, at, zone, name, undoes, body, applied FROM act";
        all.insert("act".into(), rows(conn, act)?);
        Ok(all)
    })
    .expect("a dump")
}

fn rows(conn: &Connection, sql: &str) -> rusqlite::Result<Vec<String>> {
    let mut list = conn.prepare(sql)?;
    let width = list.column_count();
    let found = list.query_map([], |r| {
        let cells: Vec<Value> = (0..width).map(|n| r.get(n)).collect::<Result<_, _>>()?;
        Ok(format!("{cells:?}"))
    })?;
    let mut found: Vec<String> = found.collect::<Result<_, _>>()?;
    found.sort();
    Ok(found)
}
