//! Reading settings.
//! Never writes.
//! Invariant: a setting that was never set reads as its default.

use super::rules::{Forcing, NIGHT_AFTER_MIN, PER_DEGREE, Settings, Units};
use crate::book::Moment;
use crate::error::Result;
use crate::logs::rows::Here;
use crate::pickings::rules::FLUSH_GAP_DAYS;
use rusqlite::Connection;
use rusqlite::types::Value;
use std::collections::HashMap;

/// All settings.
///
/// # Errors
/// The register's own.
pub fn settings(conn: &Connection) -> Result<Settings> {
    let mut list = conn.prepare_cached("SELECT id, value FROM setting WHERE void = 0")?;
    let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, Value>(1)?)))?;
    let all: HashMap<String, Value> = rows.collect::<rusqlite::Result<_>>()?;
    let whole = |name: &str| match all.get(name) {
        Some(Value::Integer(i)) => Some(*i),
        _ => None,
    };
    let word = |name: &str| match all.get(name) {
        Some(Value::Text(text)) => Some(text.as_str()),
        _ => None,
    };
    let degrees = |name| whole(name).map(|i| i as f64 / PER_DEGREE);
    Ok(Settings {
        place: match all.get("place") {
            Some(Value::Text(name)) => name.clone(),
            _ => String::new(),
        },
        at: degrees("lat").zip(degrees("lon")),
        night_after_min: whole("night_after_min").unwrap_or(NIGHT_AFTER_MIN),
        units: word("units").and_then(Units::of).unwrap_or(Units::Metric),
        forcing: word("forcing").and_then(Forcing::of).unwrap_or(Forcing::Careful),
        season_first: word("season_first").filter(|t| !t.is_empty()).map(str::to_owned),
        flush_gap_days: whole("flush_gap_days").unwrap_or(FLUSH_GAP_DAYS),
    })
}

/// Today, on which side of the equator, in which units: what states, rough dates and words of pictures depend on.
///
/// # Errors
/// The register's own.
pub fn here(conn: &Connection, moment: Moment) -> Result<Here> {
    let settings = settings(conn)?;
    let southern = settings.at.is_some_and(|(lat, _)| lat < 0.0);
    Ok(Here { today: moment.day(), southern, us: settings.units == Units::Us })
}

/// How much the register holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Logs.
    pub logs: i64,
    /// Entries in the record.
    pub entries: i64,
    /// Photos kept here.
    pub photos: i64,
    /// Their bytes.
    pub photo_bytes: i64,
    /// Bytes of the register itself.
    pub register_bytes: i64,
}

/// Counts what the register holds.
///
/// # Errors
/// The register's own.
pub fn size(conn: &Connection) -> Result<Size> {
    let size = conn.query_row(
        "SELECT (SELECT count(*) FROM log WHERE void = 0),
           (SELECT count(*) FROM entry WHERE void = 0 AND kind <> 'photo'),
           (SELECT count(*) FROM blob WHERE here = 1),
           (SELECT coalesce(sum(bytes), 0) FROM blob WHERE here = 1),
           (SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size())",
        [],
        |r| {
            Ok(Size {
                logs: r.get(0)?,
                entries: r.get(1)?,
                photos: r.get(2)?,
                photo_bytes: r.get(3)?,
                register_bytes: r.get(4)?,
            })
        },
    )?;
    Ok(size)
}
