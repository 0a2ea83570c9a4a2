//! Reading what the tank's screen shows beside the logs' own facts.
//! Never writes.
//! Invariant: only soaks that stand are read.

use crate::error::Result;
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension};

/// The newest water that was measured, and its day.
///
/// # Errors
/// The register's own.
pub fn last_water(conn: &Connection) -> Result<Option<(i64, NaiveDate)>> {
    let found = conn
        .prepare_cached(
            "SELECT s.water_dc, e.day FROM entry e JOIN soak s ON s.entry = e.id
             WHERE e.kind = 'soak' AND e.void = 0 AND s.water_dc IS NOT NULL ORDER BY e.day DESC, e.at DESC LIMIT 1",
        )?
        .query_row([], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    Ok(found)
}
