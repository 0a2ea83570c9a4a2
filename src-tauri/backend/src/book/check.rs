//! Looking the whole register over in the background: its tables, then its blobs.
//! Never mends anything: it says what it found.
//! Invariant: it reads on a connection of its own and writes nothing but its outcome.

use super::jobs::Job;
use super::{Book, ReadingOnly, blobs, drafts, open};
use crate::error::{Error, Result};
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use std::path::Path;

/// The device fact that holds the last check's outcome.
pub(super) const FACT: &str = "check";

/// What the last full check found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outcome {
    /// When it ended, RFC 3339 with the local offset.
    pub at: String,
    /// `table: what is wrong`, `missing HASH` and `swapped HASH` lines; empty when sound.
    pub found: Vec<String>,
}

/// Bytes on this device.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sizes {
    /// The register with its log.
    pub register: i64,
    /// What was made from blobs and can be made again.
    pub made: i64,
}

impl Book {
    /// Starts a full check and returns the job's id. `found` then holds `table: what is wrong`,
    /// `missing HASH` and `swapped HASH` lines. A finished check's outcome is remembered; when it
    /// found damaged tables, nothing more is written until a restore.
    pub fn check(&self) -> String {
        self.start(|book, job| {
            let found = match book.look_over(job) {
                // A register that can't even be listed has been looked over too.
                Err(Error::Damaged { what }) => vec![format!("register: {what}")],
                other => match other? {
                    Some(found) => found,
                    None => return Ok(()),
                },
            };
            found.iter().for_each(|line| job.found(line.clone()));
            if book.may_write().is_err() {
                return Ok(());
            }
            let damage = found.iter().find(|line| is_of_tables(line)).cloned();
            let outcome = Outcome { at: book.moment().rfc3339(), found };
            let kept = book.set_device_fact(FACT, &serde_json::to_string(&outcome)?);
            match damage {
                // Whether this could still be written down matters less than that nothing else is.
                Some(what) => book.close_for_writing(ReadingOnly::Damaged { what }),
                None => kept?,
            }
            Ok(())
        })
    }

    /// Bytes that the register and what can be made again take here.
    pub fn sizes(&self) -> Sizes {
        let length = |path| std::fs::metadata(path).map_or(0, |m| m.len());
        let file = self.folder.join(open::FILE);
        let register = length(file.clone()) + length(open::beside(&file, "-wal"));
        let whole = |bytes| i64::try_from(bytes).unwrap_or(i64::MAX);
        Sizes { register: whole(register), made: whole(weight(&self.folder.join("made"))) }
    }

    /// How many acts `folder` does not hold yet; `None` when it is not there.
    pub fn unsent_to(&self, folder: &str) -> Option<i64> {
        let folder = Path::new(folder);
        if !folder.is_dir() {
            return None;
        }
        Some(self.unsent(folder).ok()?.iter().map(|(_, after, have)| have - after).sum())
    }

    /// All that is not as it should be; `None` when asked to stop.
    #[allow(clippy::disallowed_methods, reason = "reads blobs to compare them with their names")]
    fn look_over(&self, job: &Job) -> Result<Option<Vec<String>>> {
        let conn = self.reader()?;
        let tables = list(&conn, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")?;
        let blobs = list(&conn, "SELECT hash FROM blob WHERE here = 1 ORDER BY hash")?;
        let total = tables.len() + blobs.len();
        let mut found = Vec::new();
        for (n, table) in tables.iter().enumerate() {
            if job.is_cancelled() {
                return Ok(None);
            }
            let answers = match list(&conn, &format!("PRAGMA integrity_check(\"{table}\")")) {
                Err(Error::Damaged { what }) => vec![what],
                other => other?,
            };
            found.extend(answers.into_iter().filter(|a| a != "ok").map(|a| format!("{table}: {a}")));
            job.step(n + 1, total);
        }
        for (n, hash) in blobs.iter().enumerate() {
            if job.is_cancelled() {
                return Ok(None);
            }
            match std::fs::read(blobs::path(self.folder(), hash)) {
                Err(_) => found.push(format!("missing {hash}")),
                Ok(bytes) if blake3::hash(&bytes).to_hex().as_str() != hash => {
                    found.push(format!("swapped {hash}"));
                }
                Ok(_) => {}
            }
            job.step(tables.len() + n + 1, total);
        }
        Ok(Some(found))
    }
}

/// What the last check found; `None`: none has ended yet.
///
/// # Errors
/// The register's own.
pub fn last(conn: &Connection) -> Result<Option<Outcome>> {
    let kept = drafts::device_fact(conn, FACT)?;
    Ok(kept.and_then(|text| serde_json::from_str(&text).ok()))
}

/// Whether the last check found damaged tables, or that can't be told any more.
pub(super) fn found_damage(conn: &Connection) -> bool {
    match last(conn) {
        Ok(Some(outcome)) => outcome.found.iter().any(|line| is_of_tables(line)),
        Ok(None) => false,
        Err(_) => true,
    }
}

/// Bytes in a folder and those inside it; one that can't be read weighs nothing.
#[allow(clippy::disallowed_methods, reason = "book/check weighs what lies beside the register")]
fn weight(folder: &Path) -> u64 {
    let files = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let one = |file: std::fs::DirEntry| match file.metadata() {
        Ok(about) if about.is_dir() => weight(&file.path()),
        Ok(about) => about.len(),
        Err(_) => 0,
    };
    files.map(one).sum()
}

/// The other lines are about blobs.
fn is_of_tables(line: &str) -> bool {
    !line.starts_with("missing ") && !line.starts_with("swapped ")
}

fn list(conn: &Connection, sql: &str) -> Result<Vec<String>> {
    let mut list = conn.prepare(sql)?;
    let rows = list.query_map([], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
