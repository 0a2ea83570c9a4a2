//! Reading a log's weighings and waterings.
//! Never writes.
//! Invariant: oldest first, only those that stand.

use crate::error::Result;
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension};

/// One weighing.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct WeighedDay {
    /// The day.
    pub day: NaiveDate,
    /// The weight, g.
    pub grams: i64,
}

/// A log's weighings.
///
/// # Errors
/// The register's own.
pub fn weighings(conn: &Connection, log: &str) -> Result<Vec<WeighedDay>> {
    let mut list = conn.prepare_cached(
        "SELECT e.day, w.grams FROM entry e JOIN weighing w ON w.entry = e.id
         WHERE e.log = ?1 AND e.void = 0 ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([log], |r| Ok(WeighedDay { day: r.get(0)?, grams: r.get(1)? }))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A batch's name and sample disc, g wet and dry.
///
/// # Errors
/// `Missing` when there is no such batch.
pub fn batch(conn: &Connection, id: &str) -> Result<(String, Option<(i64, i64)>)> {
    conn.prepare_cached("SELECT name, disc_wet_g, disc_dry_g FROM batch WHERE id = ?1 AND void = 0")?
        .query_row([id], |r| {
            let disc: (Option<i64>, Option<i64>) = (r.get(1)?, r.get(2)?);
            Ok((r.get(0)?, disc.0.zip(disc.1)))
        })
        .optional()?
        .ok_or(crate::error::Error::Missing { what: "batch" })
}

/// A spot's name.
///
/// # Errors
/// `Missing` when there is no such spot.
pub fn spot(conn: &Connection, id: &str) -> Result<String> {
    conn.prepare_cached("SELECT name FROM spot WHERE id = ?1")?
        .query_row([id], |r| r.get(0))
        .optional()?
        .ok_or(crate::error::Error::Missing { what: "spot" })
}
