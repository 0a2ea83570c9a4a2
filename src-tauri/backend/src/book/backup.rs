//! Whole copies of the register, taken while it is open.
//! Never a plain file copy of a live database: that loses what is still in the write-ahead log.
//! Invariant: a copy either stands whole under its final name or not at all.

use crate::error::Result;
use rusqlite::Connection;
use std::path::{Path, PathBuf};

/// Writes a copy into `folder/snapshots/NAME.sqlite` and returns its path. A snapshot of that
/// name that already stands is left as it is and a number is added.
#[allow(clippy::disallowed_methods, reason = "book/backup is one of the rooms that touch files")]
pub(super) fn snapshot(conn: &Connection, folder: &Path, name: &str) -> Result<PathBuf> {
    let place = folder.join("snapshots");
    std::fs::create_dir_all(&place)?;
    let mut target = place.join(format!("{name}.sqlite"));
    let mut number = 2;
    while target.exists() {
        target = place.join(format!("{name}-{number}.sqlite"));
        number += 1;
    }
    let part = target.with_extension("part");
    let _gone = std::fs::remove_file(&part);
    conn.execute("VACUUM INTO ?1", [part.to_string_lossy()])?;
    std::fs::File::open(&part)?.sync_all()?;
    std::fs::rename(&part, &target)?;
    std::fs::File::open(&place)?.sync_all()?;
    Ok(target)
}
