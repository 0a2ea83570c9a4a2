//! Reading a log's flushes and sightings.
//! Never writes, and never decides which picking begins a flush: that is a rule.
//! Invariant: every live picking stands in one flush.

use super::super::rules::{Did, Hid, read_words};
use super::super::sightings::{LossView, OnLog, Reach, Sighted, Tells, loss_risk};
use crate::error::Result;
use crate::photos::rows::{self as photos, PhotoRow};
use crate::pickings::rules::{FlushHow, Gathered, flushes};
use crate::settings::rows::settings;
use chrono::{Datelike, NaiveDate};
use rusqlite::{Connection, OptionalExtension};

/// One flush of a log.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "LogFlush")]
pub struct Flush {
    /// Counted from 1.
    pub n: usize,
    /// Its first picking's day.
    pub from: NaiveDate,
    /// Its last picking's day.
    pub to: NaiveDate,
    /// Weight, g, of those weighed.
    pub grams: i64,
    /// Pickings not weighed.
    pub unweighed: i64,
    /// Its pickings, oldest first.
    pub pickings: Vec<Picking>,
}

/// One picking of a flush.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "FlushPicking")]
pub struct Picking {
    /// The entry.
    pub entry: String,
    /// The day.
    pub day: NaiveDate,
    /// Weight, g; null: not weighed.
    pub grams: Option<i64>,
    /// What the grower said of its flush.
    pub how: Option<FlushHow>,
}

/// The days between which pickings are one flush: the setting, else the usual ones.
///
/// # Errors
/// The register's own.
pub fn gap_days(conn: &Connection) -> Result<i64> {
    Ok(settings(conn)?.flush_gap_days)
}

/// A log's flushes, oldest first.
///
/// # Errors
/// The register's own.
pub fn flushes_of(conn: &Connection, log: &str) -> Result<Vec<Flush>> {
    let mut list = conn.prepare_cached(
        "SELECT e.id, e.day, p.grams, f.how FROM entry e JOIN picking p ON p.entry = e.id
         LEFT JOIN flush f ON f.id = e.id AND f.void = 0
         WHERE e.log = ?1 AND e.void = 0 ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([log], |r| {
        let how: Option<String> = r.get(3)?;
        let how = how.as_deref().and_then(FlushHow::of);
        Ok(Picking { entry: r.get(0)?, day: r.get(1)?, grams: r.get(2)?, how })
    })?;
    let pickings: Vec<Picking> = rows.collect::<rusqlite::Result<_>>()?;
    let mut soaks = conn.prepare_cached(
        "SELECT e.day FROM entry e JOIN soak s ON s.entry = e.id WHERE e.log = ?1 AND e.void = 0 AND s.part = 'in'",
    )?;
    let number = |day: NaiveDate| day.num_days_from_ce();
    let soaks: Vec<i32> =
        soaks.query_map([log], |r| r.get(0).map(number))?.collect::<rusqlite::Result<_>>()?;
    let gathered: Vec<Gathered> =
        pickings.iter().map(|p| Gathered { day: number(p.day), how: p.how }).collect();
    let numbers = flushes(&gathered, &soaks, gap_days(conn)?);
    let mut found: Vec<Flush> = Vec::new();
    for (picking, n) in pickings.into_iter().zip(numbers) {
        if found.len() <= n {
            let (from, to) = (picking.day, picking.day);
            found.push(Flush { n: n + 1, from, to, grams: 0, unweighed: 0, pickings: Vec::new() });
        }
        if let Some(flush) = found.last_mut() {
            flush.to = picking.day;
            flush.grams += picking.grams.unwrap_or(0);
            flush.unweighed += i64::from(picking.grams.is_none());
            flush.pickings.push(picking);
        }
    }
    Ok(found)
}

/// A sighting.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Sighting {
    /// The entry.
    pub id: String,
    /// The log; null: not on a log.
    pub log: Option<String>,
    /// Its tag.
    pub tag: Option<String>,
    /// The spot's name, where it was not on a log.
    pub spot: Option<String>,
    /// The day.
    pub day: NaiveDate,
    /// What was seen.
    pub what: Sighted,
    /// What that tells of the log.
    pub tells: Option<Tells>,
    /// How many; null: not counted.
    pub n: Option<i64>,
    /// How much of the log it holds.
    pub extent: Option<Reach>,
    /// Where it hid.
    pub hid: Vec<Hid>,
    /// What was done.
    pub did: Vec<Did>,
    /// The grower's words.
    pub note: String,
    /// Photos taken with it.
    pub photos: Vec<PhotoRow>,
}

/// Sightings, newest first: of one log, or of the whole yard.
///
/// # Errors
/// The register's own.
pub fn sightings(conn: &Connection, log: Option<&str>, limit: u32) -> Result<Vec<Sighting>> {
    let mut list = conn.prepare_cached(
        "SELECT e.id, e.log, l.tag, p.name, e.day, s.what, s.n, s.extent, s.hid, s.did, e.note
         FROM sighting s JOIN entry e ON e.id = s.entry LEFT JOIN log l ON l.id = e.log LEFT JOIN spot p ON p.id = s.spot
         WHERE e.kind = 'sighting' AND e.void = 0 AND (?1 IS NULL OR e.log = ?1) ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT ?2",
    )?;
    let rows = list.query_map(rusqlite::params![log, limit], |r| {
        let word = |n: usize| r.get::<_, Option<String>>(n);
        let Some(what) = word(5)?.as_deref().and_then(Sighted::of) else { return Ok(None) };
        Ok(Some(Sighting {
            id: r.get(0)?,
            log: r.get(1)?,
            tag: r.get(2)?,
            spot: r.get(3)?,
            day: r.get(4)?,
            what,
            tells: what.tells(),
            n: r.get(6)?,
            extent: word(7)?.as_deref().and_then(Reach::of),
            hid: read_words(word(8)?.as_deref(), Hid::of),
            did: read_words(word(9)?.as_deref(), Did::of),
            note: r.get(10)?,
            photos: Vec::new(),
        }))
    })?;
    let mut found: Vec<Sighting> =
        rows.filter_map(rusqlite::Result::transpose).collect::<rusqlite::Result<_>>()?;
    if let Some(log) = log {
        let mut photos = photos::of_log(conn, log)?;
        for one in &mut found {
            one.photos = photos.remove(&one.id).unwrap_or_default();
        }
    }
    Ok(found)
}

/// A log's risk of loss, by the sightings and the looks at its wood that `log_state` keeps.
///
/// # Errors
/// The register's own.
pub fn risk_of(conn: &Connection, log: &str) -> Result<Option<LossView>> {
    let sql = "SELECT competitor FROM log_state WHERE log = ?1";
    let kept: Option<String> = conn.prepare_cached(sql)?.query_row([log], |r| r.get(0)).optional()?.flatten();
    Ok(loss_risk(&OnLog::kept(kept.as_deref())))
}
