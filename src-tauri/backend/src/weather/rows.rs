//! Reading the days' weather.
//! Never writes.
//! Invariant: a day has one row, whatever it was read from.

use super::rules::Day;
use crate::error::Result;
use chrono::NaiveDate;
use rusqlite::{Connection, Row};

const DAY: &str = "SELECT id, min_dc, max_dc, rain_tenths, wind_tenths, source FROM weather
  WHERE void = 0 AND (min_dc IS NOT NULL OR max_dc IS NOT NULL OR rain_tenths IS NOT NULL OR wind_tenths IS NOT NULL)";

/// The days from `from` to `to`, both included, by day.
///
/// # Errors
/// The register's own.
pub fn between(conn: &Connection, from: NaiveDate, to: NaiveDate) -> Result<Vec<Day>> {
    let mut list = conn.prepare_cached(&format!("{DAY} AND id BETWEEN ?1 AND ?2 ORDER BY id"))?;
    let rows = list.query_map([from.to_string(), to.to_string()], day_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// How many days there are, the first and the last.
///
/// # Errors
/// The register's own.
pub fn span(conn: &Connection) -> Result<(i64, Option<NaiveDate>, Option<NaiveDate>)> {
    let sql = "SELECT count(*), min(id), max(id) FROM weather WHERE void = 0";
    Ok(conn.prepare_cached(sql)?.query_row([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?)
}

fn day_of(r: &Row<'_>) -> rusqlite::Result<Day> {
    Ok(Day {
        day: r.get(0)?,
        min_dc: r.get(1)?,
        max_dc: r.get(2)?,
        rain_tenths: r.get(3)?,
        wind_tenths: r.get(4)?,
        source: r.get(5)?,
    })
}
