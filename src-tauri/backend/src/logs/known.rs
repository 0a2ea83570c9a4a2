//! Reading all that the rules need to know of logs, from `log_state` and the things it belongs to.
//! Never the whole record: a yard of ten thousand logs is read in one pass over its derived rows.
//! Invariant: every log of the list is here once, in the list's order.

use super::rows::{self, Here, Log};
use super::rules::known::Known;
use super::rules::life::in_tank;
use crate::error::{Error, Result};
use crate::measure::Rough;
use crate::moisture::rules::RainReach;
use crate::rounds::rules::OnLog;
use chrono::NaiveDate;
use rusqlite::{Connection, Row};
use std::collections::HashMap;

const MORE: &str =
    "SELECT l.id, coalesce(l.felled, b.felled) AS felled, l.batch, p.rain, coalesce(p.heated, 0) AS heated, t.from_dc, t.to_dc,
    w.density_kg_m3, w.moisture_pct, b.disc_wet_g, b.disc_dry_g,
    s.soaked_in, s.soaked_in_ms, s.soaked_out, coalesce(s.soaks, 0) AS soaks,
    s.soaked_grams, s.first_grams, s.first_grams_day, s.last_grams, s.last_grams_day, s.last_watered, s.competitor
  FROM log l LEFT JOIN log_state s ON s.log = l.id LEFT JOIN spot p ON p.id = s.spot
  LEFT JOIN strain t ON t.id = l.strain LEFT JOIN batch b ON b.id = l.batch LEFT JOIN wood w ON w.id = l.wood
  WHERE l.void = 0";

/// What the list of logs does not carry.
struct More {
    felled: Option<Rough>,
    batch: Option<String>,
    rain: Option<RainReach>,
    heated: bool,
    range_dc: Option<(i64, i64)>,
    own: (Option<i64>, Option<i64>),
    disc: Option<(i64, i64)>,
    soaked_in: Option<NaiveDate>,
    soaked_in_ms: Option<i64>,
    soaked_out: Option<NaiveDate>,
    soaks: i64,
    soaked_grams: Option<i64>,
    first: Option<(i64, NaiveDate)>,
    last: Option<(i64, NaiveDate)>,
    watered: Option<NaiveDate>,
    competitors: Vec<OnLog>,
}

/// All logs, by tag in natural order.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection, here: Here) -> Result<Vec<Known>> {
    of(conn, rows::all(conn, here)?)
}

/// The same of logs that were read already.
///
/// # Errors
/// The register's own.
pub fn of(conn: &Connection, logs: Vec<Log>) -> Result<Vec<Known>> {
    let mut list = conn.prepare_cached(MORE)?;
    let rows = list.query_map([], |r| Ok((r.get::<_, String>("id")?, more(r)?)))?;
    let mut by_id: HashMap<String, More> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(logs.into_iter().filter_map(|log| Some(known(by_id.remove(&log.row.id)?, log))).collect())
}

/// One log.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str, here: Here) -> Result<Known> {
    let log = rows::one(conn, id, here)?;
    let found = conn.prepare_cached(&format!("{MORE} AND l.id = ?1"))?.query_row([id], more);
    Ok(known(found.map_err(|_| Error::Missing { what: "log" })?, log))
}

fn more(r: &Row<'_>) -> rusqlite::Result<More> {
    let pair = |a: Option<i64>, b: Option<i64>| a.zip(b);
    let weighed = |grams: &str, day: &str| -> rusqlite::Result<Option<(i64, NaiveDate)>> {
        Ok(r.get::<_, Option<i64>>(grams)?.zip(r.get::<_, Option<NaiveDate>>(day)?))
    };
    let soaked_in: Option<NaiveDate> = r.get("soaked_in")?;
    let soaked_out: Option<NaiveDate> = r.get("soaked_out")?;
    Ok(More {
        felled: r.get::<_, Option<String>>("felled")?.and_then(|t| Rough::parse(&t).ok()),
        batch: r.get("batch")?,
        rain: r.get::<_, Option<String>>("rain")?.as_deref().and_then(RainReach::of),
        heated: r.get::<_, i64>("heated")? == 1,
        range_dc: pair(r.get("from_dc")?, r.get("to_dc")?),
        own: (r.get("density_kg_m3")?, r.get("moisture_pct")?),
        disc: pair(r.get("disc_wet_g")?, r.get("disc_dry_g")?),
        soaked_in,
        soaked_in_ms: r.get("soaked_in_ms")?,
        soaked_out,
        soaks: r.get("soaks")?,
        soaked_grams: r.get("soaked_grams")?,
        first: weighed("first_grams", "first_grams_day")?,
        last: weighed("last_grams", "last_grams_day")?,
        watered: r.get("last_watered")?,
        competitors: OnLog::kept(r.get::<_, Option<String>>("competitor")?.as_deref()),
    })
}

fn known(more: More, log: Log) -> Known {
    let Log { row, facts, .. } = log;
    Known {
        id: row.id,
        tag: row.tag,
        state: row.state,
        mushroom: row.mushroom,
        class: row.strain_class,
        range_dc: more.range_dc,
        method: row.method,
        wood: row.wood,
        own_density: more.own.0,
        own_moisture: more.own.1,
        d_mm: row.d_mm,
        length_mm: row.length_mm,
        felled: more.felled,
        spot_id: row.spot_id,
        spot: row.spot,
        rain: more.rain,
        heated: more.heated,
        in_tank: in_tank(&facts),
        facts,
        soaked_in: more.soaked_in,
        soaked_in_ms: more.soaked_in_ms,
        soaked_out: more.soaked_out,
        soaks: more.soaks,
        soaked_grams: more.soaked_grams,
        first: more.first,
        last: more.last,
        watered: more.watered,
        batch: more.batch,
        disc: more.disc,
        competitors: more.competitors,
    }
}
