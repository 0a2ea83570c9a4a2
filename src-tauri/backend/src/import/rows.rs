//! Reading which logs bear which tag.
//! Never writes.
//! Invariant: logs that were taken back are no logs.

use super::lines::{ByTag, Known};
use crate::error::Result;
use crate::logs::rows::{self, Here};
use rusqlite::Connection;

/// All logs by their tag.
///
/// # Errors
/// The register's own.
pub fn by_tag(conn: &Connection, here: Here) -> Result<ByTag> {
    let mut found = ByTag::new();
    for log in rows::all(conn, here)? {
        let known = Known { id: log.row.id, laid: log.facts.laid, ended: log.ended.is_some() };
        found.entry(log.row.tag).or_default().push(known);
    }
    Ok(found)
}
