//! Reading spots.
//! Never writes.
//! Invariant: the walking order is total: by `walk`, then by name, then by id.

use super::rules::{Ground, Rain, Shade, SpotFields, Water};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension};

/// A spot for a choice.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct SpotRow {
    /// Its id.
    pub id: String,
    /// The grower's name for it.
    pub name: String,
    /// Live logs that lie there.
    pub logs: i64,
}

/// All spots in walking order: those not taken back, and those where logs lie all the same.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<SpotRow>> {
    let mut list = conn.prepare_cached(
        "SELECT s.id, s.name, count(l.id) AS logs
         FROM spot s LEFT JOIN log_state g ON g.spot = s.id AND g.ended IS NULL
         LEFT JOIN log l ON l.id = g.log AND l.void = 0
         GROUP BY s.id HAVING s.void = 0 OR logs > 0
         ORDER BY s.walk IS NULL, s.walk, s.name COLLATE NOCASE, s.id",
    )?;
    let rows = list.query_map([], |r| Ok(SpotRow { id: r.get(0)?, name: r.get(1)?, logs: r.get(2)? }))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// What the grower says of a spot.
///
/// # Errors
/// `Missing` when there is no such spot, or it was taken out and no log lies there.
pub fn fields(conn: &Connection, id: &str) -> Result<SpotFields> {
    conn.prepare_cached(
        "SELECT name, shade, ground, water, rain, winter_sun, heated, note FROM spot s WHERE id = ?1
         AND (void = 0 OR EXISTS(SELECT 1 FROM log_state g JOIN log l ON l.id = g.log WHERE g.spot = s.id AND l.void = 0))",
    )?
    .query_row([id], |r| {
        let word =
            |name: &str| Ok::<_, rusqlite::Error>(r.get::<_, Option<String>>(name)?.unwrap_or_default());
        Ok(SpotFields {
            name: r.get("name")?,
            shade: Shade::of(&word("shade")?),
            ground: Ground::of(&word("ground")?),
            water: Water::of(&word("water")?),
            rain: Rain::of(&word("rain")?),
            winter_sun: r.get("winter_sun")?,
            heated: r.get("heated")?,
            note: r.get("note")?,
        })
    })
    .optional()?
    .ok_or(Error::Missing { what: "spot" })
}

/// Spots that are kept from frost.
///
/// # Errors
/// The register's own.
pub fn heated(conn: &Connection) -> Result<std::collections::BTreeSet<String>> {
    let mut list = conn.prepare_cached("SELECT id FROM spot WHERE heated = 1")?;
    let rows = list.query_map([], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A spot by its name, whatever the case of its letters; also one taken back by an undo.
/// Returns its id and whether it is void.
///
/// # Errors
/// The register's own.
pub fn find(conn: &Connection, name: &str) -> Result<Option<(String, bool)>> {
    let found = conn
        .prepare_cached("SELECT id, void FROM spot WHERE name = ?1 COLLATE NOCASE ORDER BY void, id LIMIT 1")?
        .query_row([name], |r| Ok((r.get(0)?, r.get(1)?)))
        .optional()?;
    Ok(found)
}

/// The place in the walk after all others.
///
/// # Errors
/// The register's own.
pub fn next_walk(conn: &Connection) -> Result<i64> {
    Ok(conn.query_row("SELECT coalesce(max(walk), 0) + 1 FROM spot", [], |r| r.get(0))?)
}
