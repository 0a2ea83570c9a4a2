//! Counting what a register or a copy of one holds, and by whom.
//! Never writes, and never names anything the grower wrote.
//! Invariant: these questions are the same for every version that has shipped.

use super::rules::Standing;
use crate::error::Result;
use rusqlite::{Connection, params};

/// How much is in a register.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct Counts {
    /// Acts, of all devices.
    pub acts: i64,
    /// Logs.
    pub logs: i64,
    /// Entries in the record.
    pub entries: i64,
    /// Photos kept with it.
    pub photos: i64,
}

/// Counts what `conn` holds.
///
/// # Errors
/// The register's own.
pub fn counts(conn: &Connection) -> Result<Counts> {
    let sql = "SELECT (SELECT count(*) FROM act), (SELECT count(*) FROM log WHERE void = 0),
        (SELECT count(*) FROM entry WHERE void = 0 AND kind <> 'photo'),
        (SELECT count(*) FROM blob WHERE here = 1)";
    let row = |r: &rusqlite::Row<'_>| {
        Ok(Counts { acts: r.get(0)?, logs: r.get(1)?, entries: r.get(2)?, photos: r.get(3)? })
    };
    Ok(conn.query_row(sql, [], row)?)
}

/// A device that has written in the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Writer {
    /// Its id.
    pub device: String,
    /// Its acts.
    pub acts: i64,
    /// When the last of them was done, milliseconds since 1970.
    pub at: i64,
    /// With the local offset then.
    pub zone: String,
    /// The greatest stamp.
    pub stamp: String,
}

/// All devices that have written, the one heard of last first.
///
/// # Errors
/// The register's own.
pub fn writers(conn: &Connection) -> Result<Vec<Writer>> {
    // With max() alone in the list, SQLite takes the bare columns from the row that has it.
    let sql = "SELECT device, count(*), at, zone, max(stamp) FROM act GROUP BY device ORDER BY 5 DESC, 1";
    let mut list = conn.prepare(sql)?;
    let rows = list.query_map([], |r| {
        Ok(Writer { device: r.get(0)?, acts: r.get(1)?, at: r.get(2)?, zone: r.get(3)?, stamp: r.get(4)? })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// What is known of the last good backup: when it was taken and the number of its newest act.
///
/// # Errors
/// The register's own.
pub fn standing(conn: &Connection, last: Option<(i64, i64)>) -> Result<Standing> {
    let (first_act, since) = conn.query_row(
        "SELECT (SELECT at FROM act ORDER BY n LIMIT 1), (SELECT count(*) FROM act WHERE n > ?1)",
        params![last.map_or(0, |(_, n)| n)],
        |r| Ok((r.get(0)?, r.get(1)?)),
    )?;
    Ok(Standing { last: last.map(|(ms, _)| ms), first_act, since })
}

/// Acts that this version keeps without understanding them.
///
/// # Errors
/// The register's own.
pub fn not_understood(conn: &Connection) -> Result<i64> {
    Ok(conn.query_row("SELECT count(*) FROM act WHERE applied = 0", [], |r| r.get(0))?)
}
