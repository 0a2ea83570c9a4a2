//! Reading moves, and the cold that is known to come.
//! Never writes.
//! Invariant: a move taken back never happened.

use super::rules::Forecast;
use crate::error::Result;
use chrono::NaiveDate;
use rusqlite::{Connection, params};

/// Whether a log was moved after this day: then an entry about this day must not say where it is now.
///
/// # Errors
/// The register's own.
pub fn moved_after(conn: &Connection, log: &str, day: NaiveDate) -> Result<bool> {
    let sql = "SELECT EXISTS(SELECT 1 FROM entry WHERE log = ?1 AND day > ?2 AND kind = 'move' AND void = 0)";
    Ok(conn.prepare_cached(sql)?.query_row(params![log, day], |r| r.get(0))?)
}

/// The coldest night that was typed in for today or later; `None`: nobody wrote one down.
///
/// # Errors
/// The register's own.
pub fn coldest_to_come(conn: &Connection, today: NaiveDate) -> Result<Option<Forecast>> {
    let sql = "SELECT min(min_dc) FROM weather WHERE id >= ?1 AND void = 0";
    let min: Option<i64> = conn.prepare_cached(sql)?.query_row([today], |r| r.get(0))?;
    Ok(min.map(|min_dc| Forecast { min_dc }))
}
