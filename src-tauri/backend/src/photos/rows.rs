//! Reading which photos belong to what.
//! Never the files themselves.
//! Invariant: a photo is shown even when its file is not here yet, and says so.

use crate::error::Result;
use rusqlite::Connection;
use std::collections::HashMap;

/// A photo in a record.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct PhotoRow {
    /// The hash of its bytes.
    pub hash: String,
    /// Whether its file is on this device.
    pub here: bool,
    /// Width as it is looked at, pixels.
    pub width: i64,
    /// Height as it is looked at, pixels.
    pub height: i64,
    /// The kind of file.
    pub mime: String,
    /// When it was taken, by the camera's own clock.
    pub taken: Option<String>,
}

/// A log's photos, by the entry they belong to.
///
/// # Errors
/// The register's own.
pub fn of_log(conn: &Connection, log: &str) -> Result<HashMap<String, Vec<PhotoRow>>> {
    let mut list = conn.prepare_cached(
        "SELECT coalesce(p.of, p.entry), p.hash, coalesce(b.here, 0), p.width, p.height, p.mime, p.taken
         FROM entry e JOIN photo p ON p.entry = e.id LEFT JOIN blob b ON b.hash = p.hash
         WHERE e.log = ?1 AND e.void = 0 ORDER BY e.id",
    )?;
    let rows = list.query_map([log], |r| {
        let photo = PhotoRow {
            hash: r.get(1)?,
            here: r.get(2)?,
            width: r.get(3)?,
            height: r.get(4)?,
            mime: r.get(5)?,
            taken: r.get(6)?,
        };
        Ok((r.get::<_, String>(0)?, photo))
    })?;
    let mut found: HashMap<String, Vec<PhotoRow>> = HashMap::new();
    for row in rows {
        let (of, photo) = row?;
        found.entry(of).or_default().push(photo);
    }
    Ok(found)
}
