//! Looking the whole register over in the background: its tables, then its blobs.
//! Never mends anything: it says what it found.
//! Invariant: it reads on a connection of its own and writes nothing.

use super::jobs::Job;
use super::{Book, blobs, open};
use crate::error::Result;
use std::path::Path;

impl Book {
    /// Starts a full check and returns the job's id. `found` then holds `table: what is wrong`,
    /// `missing HASH` and `swapped HASH` lines.
    pub fn check(&self) -> String {
        let folder = self.folder.clone();
        self.jobs.start(move |job| look_over(&folder, job))
    }
}

#[allow(clippy::disallowed_methods, reason = "reads blobs to compare them with their names")]
fn look_over(folder: &Path, job: &Job) -> Result<()> {
    let conn = open::reader(folder)?;
    let tables: Vec<String> = conn
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")?
        .query_map([], |r| r.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    let blobs: Vec<String> = conn
        .prepare("SELECT hash FROM blob WHERE here = 1 ORDER BY hash")?
        .query_map([], |r| r.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    let total = tables.len() + blobs.len();
    for (n, table) in tables.iter().enumerate() {
        if job.is_cancelled() {
            return Ok(());
        }
        let sql = format!("PRAGMA integrity_check(\"{table}\")");
        let answers: Vec<String> =
            conn.prepare(&sql)?.query_map([], |r| r.get(0))?.collect::<rusqlite::Result<_>>()?;
        answers.into_iter().filter(|a| a != "ok").for_each(|a| job.found(format!("{table}: {a}")));
        job.step(n + 1, total);
    }
    for (n, hash) in blobs.iter().enumerate() {
        if job.is_cancelled() {
            return Ok(());
        }
        match std::fs::read(blobs::path(folder, hash)) {
            Err(_) => job.found(format!("missing {hash}")),
            Ok(bytes) if blake3::hash(&bytes).to_hex().as_str() != hash => {
                job.found(format!("swapped {hash}"))
            }
            Ok(_) => {}
        }
        job.step(tables.len() + n + 1, total);
    }
    Ok(())
}
