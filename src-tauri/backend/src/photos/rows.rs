//! Reading which photos belong to what.
//! Never the files themselves.
//! Invariant: a photo is shown even when its file is not here yet, and says so.

use super::growth::{Growth, Measured, growth as grown};
use crate::book::Moment;
use crate::error::Result;
use crate::looks::rules::Stage;
use chrono::{NaiveDate, NaiveDateTime};
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::collections::HashMap;

/// A photo in a record.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct PhotoRow {
    /// The entry that ties it.
    pub entry: String,
    /// The hash of its bytes.
    pub hash: String,
    /// Whether its file is on this device.
    pub here: bool,
    /// The folder its file was moved to from this device.
    pub moved: Option<String>,
    /// Width as it is looked at, pixels.
    pub width: i64,
    /// Height as it is looked at, pixels.
    pub height: i64,
    /// The kind of file.
    pub mime: String,
    /// When it was taken, by the camera's own clock.
    pub taken: Option<String>,
}

const PHOTO: &str =
    "p.hash, p.entry, coalesce(b.here, 0) AS here, b.moved, p.width, p.height, p.mime, p.taken";

fn photo(r: &Row<'_>) -> rusqlite::Result<PhotoRow> {
    Ok(PhotoRow {
        hash: r.get("hash")?,
        entry: r.get("entry")?,
        here: r.get("here")?,
        moved: r.get("moved")?,
        width: r.get("width")?,
        height: r.get("height")?,
        mime: r.get("mime")?,
        taken: r.get("taken")?,
    })
}

/// A log's photos, by the entry they belong to: the look they were taken with, or their own.
///
/// # Errors
/// The register's own.
pub fn of_log(conn: &Connection, log: &str) -> Result<HashMap<String, Vec<PhotoRow>>> {
    let mut list = conn.prepare_cached(&format!(
        "SELECT coalesce(p.of, p.entry) AS belongs, {PHOTO}
         FROM entry e JOIN photo p ON p.entry = e.id LEFT JOIN blob b ON b.hash = p.hash
         WHERE e.log = ?1 AND e.void = 0 ORDER BY e.id"
    ))?;
    let rows = list.query_map([log], |r| Ok((r.get::<_, String>("belongs")?, photo(r)?)))?;
    let mut found: HashMap<String, Vec<PhotoRow>> = HashMap::new();
    for row in rows {
        let (of, photo) = row?;
        found.entry(of).or_default().push(photo);
    }
    Ok(found)
}

/// A log's newest photos, at most `most`.
///
/// # Errors
/// The register's own.
pub fn newest_of_log(conn: &Connection, log: &str, most: usize) -> Result<Vec<PhotoRow>> {
    let mut list = conn.prepare_cached(&format!(
        "SELECT {PHOTO} FROM entry e JOIN photo p ON p.entry = e.id LEFT JOIN blob b ON b.hash = p.hash
         WHERE e.log = ?1 AND e.void = 0 ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT ?2"
    ))?;
    let rows = list.query_map(params![log, i64::try_from(most).unwrap_or(i64::MAX)], photo)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A photo that belongs to no log yet.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Loose {
    /// The photo.
    pub photo: PhotoRow,
    /// The day it shows.
    pub day: NaiveDate,
}

/// Photos that belong to no log, newest first.
///
/// # Errors
/// The register's own.
pub fn loose(conn: &Connection) -> Result<Vec<Loose>> {
    let mut list = conn.prepare_cached(&format!(
        "SELECT {PHOTO}, e.day FROM entry e JOIN photo p ON p.entry = e.id LEFT JOIN blob b ON b.hash = p.hash
         WHERE e.kind = 'photo' AND e.log IS NULL AND e.void = 0 ORDER BY e.day DESC, e.id DESC"
    ))?;
    let rows = list.query_map([], |r| Ok(Loose { photo: photo(r)?, day: r.get("day")? }))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// How many photos belong to no log.
///
/// # Errors
/// The register's own.
pub fn loose_count(conn: &Connection) -> Result<i64> {
    let sql = "SELECT count(*) FROM entry WHERE kind = 'photo' AND log IS NULL AND void = 0";
    Ok(conn.prepare_cached(sql)?.query_row([], |r| r.get(0))?)
}

/// An entry that ties a photo.
#[derive(Debug, Clone, PartialEq)]
pub struct Tie {
    /// Its id.
    pub entry: String,
    /// The photo's hash.
    pub hash: String,
    /// The log; null: loose.
    pub log: Option<String>,
    /// The look it was taken with.
    pub of: Option<String>,
    /// The day it shows.
    pub day: NaiveDate,
    /// When it was written, milliseconds since 1970, and the zone.
    pub at: i64,
    /// The local offset then.
    pub zone: String,
    /// When it was taken, by the camera's clock.
    pub taken: Option<String>,
    /// Width as it is looked at, pixels.
    pub width: i64,
    /// Height as it is looked at, pixels.
    pub height: i64,
    /// The kind of file.
    pub mime: String,
}

const TIE: &str = "SELECT e.id, p.hash, e.log, p.of, e.day, e.at, e.zone, p.taken, p.width, p.height, p.mime
    FROM entry e JOIN photo p ON p.entry = e.id WHERE e.void = 0";

fn tie(r: &Row<'_>) -> rusqlite::Result<Tie> {
    Ok(Tie {
        entry: r.get(0)?,
        hash: r.get(1)?,
        log: r.get(2)?,
        of: r.get(3)?,
        day: r.get(4)?,
        at: r.get(5)?,
        zone: r.get(6)?,
        taken: r.get(7)?,
        width: r.get(8)?,
        height: r.get(9)?,
        mime: r.get(10)?,
    })
}

/// What ties a photo, in the order it was written.
///
/// # Errors
/// The register's own.
pub fn ties(conn: &Connection, hash: &str) -> Result<Vec<Tie>> {
    let mut list = conn.prepare_cached(&format!("{TIE} AND p.hash = ?1 ORDER BY e.id"))?;
    let rows = list.query_map([hash], tie)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// One live tie.
///
/// # Errors
/// The register's own.
pub fn tie_of(conn: &Connection, entry: &str) -> Result<Option<Tie>> {
    let mut list = conn.prepare_cached(&format!("{TIE} AND e.id = ?1"))?;
    Ok(list.query_row([entry], tie).optional()?)
}

/// A log as it is offered for a photo.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Offered {
    /// Its id.
    pub log: String,
    /// Its tag.
    pub tag: String,
}

/// The log of the newest entry that was written.
///
/// # Errors
/// The register's own.
pub fn last_log(conn: &Connection) -> Result<Option<Offered>> {
    let mut list = conn.prepare_cached(
        "SELECT l.id, l.tag FROM entry e INDEXED BY entry_act CROSS JOIN log l ON l.id = e.log
         WHERE e.void = 0 AND l.void = 0 ORDER BY e.act DESC, e.rowid DESC LIMIT 1",
    )?;
    Ok(list.query_row([], |r| Ok(Offered { log: r.get(0)?, tag: r.get(1)? })).optional()?)
}

/// A log by its id, when it is in the register.
///
/// # Errors
/// The register's own.
pub fn offered(conn: &Connection, id: &str) -> Result<Option<Offered>> {
    let mut list = conn.prepare_cached("SELECT id, tag FROM log WHERE id = ?1 AND void = 0")?;
    Ok(list.query_row([id], |r| Ok(Offered { log: r.get(0)?, tag: r.get(1)? })).optional()?)
}

/// A cap measured in a photo.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct CapRow {
    /// The entry.
    pub entry: String,
    /// The photo.
    pub photo: String,
    /// Its number in its flush.
    pub cap: i64,
    /// Width, tenths of mm.
    pub width_tenths: i64,
    /// As little as.
    pub low_tenths: i64,
    /// As much as.
    pub high_tenths: i64,
    /// The day it shows.
    pub day: NaiveDate,
}

/// A log's measured caps since its last picking, oldest first.
///
/// # Errors
/// The register's own.
pub fn caps(conn: &Connection, log: &str) -> Result<Vec<CapRow>> {
    let mut list = conn.prepare_cached(
        "SELECT e.id, m.photo, m.cap, m.width_tenths, m.low_tenths, m.high_tenths, e.day
         FROM entry e JOIN measure m ON m.entry = e.id WHERE e.log = ?1 AND e.void = 0 AND e.day >= coalesce(
           (SELECT max(k.day) FROM entry k WHERE k.log = ?1 AND k.kind = 'picking' AND k.void = 0), '')
         ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([log], |r| {
        Ok(CapRow {
            entry: r.get(0)?,
            photo: r.get(1)?,
            cap: r.get(2)?,
            width_tenths: r.get(3)?,
            low_tenths: r.get(4)?,
            high_tenths: r.get(5)?,
            day: r.get(6)?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// How fast the caps of a log's flush grow, from what was measured in its photos since its last picking;
/// `None`: nothing was measured twice. What forecasts may read.
///
/// # Errors
/// The register's own.
pub fn growth(conn: &Connection, log: &str) -> Result<Option<Growth>> {
    let mut list = conn.prepare_cached(
        "SELECT m.cap, m.width_tenths, m.low_tenths, m.high_tenths, m.taken, e.at, e.zone
         FROM entry e JOIN measure m ON m.entry = e.id WHERE e.log = ?1 AND e.void = 0 AND e.day >= coalesce(
           (SELECT max(k.day) FROM entry k WHERE k.log = ?1 AND k.kind = 'picking' AND k.void = 0), '')",
    )?;
    let rows = list.query_map([log], |r| {
        let (taken, at, zone): (Option<String>, i64, String) = (r.get(4)?, r.get(5)?, r.get(6)?);
        Ok(Measured {
            cap: r.get(0)?,
            width: r.get(1)?,
            low: r.get(2)?,
            high: r.get(3)?,
            minute: local_minute(taken.as_deref(), at, &zone),
        })
    })?;
    Ok(grown(&rows.collect::<rusqlite::Result<Vec<_>>>()?))
}

/// Local time in minutes since 1970: the camera's own, or when it was written.
fn local_minute(taken: Option<&str>, at: i64, zone: &str) -> i64 {
    let by_camera = taken
        .and_then(|t| t.get(..19))
        .and_then(|t| NaiveDateTime::parse_from_str(t, "%Y-%m-%dT%H:%M:%S").ok());
    let local = by_camera.unwrap_or_else(|| Moment::from_parts(at, zone).local().naive_local());
    local.and_utc().timestamp() / 60
}

/// A log that pinned, with its newest photo of these days.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Pinned {
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// The day pins were first seen in these days.
    pub day: NaiveDate,
    /// What was seen then.
    pub seen: Option<Stage>,
    /// The newest photo of these days; null: none was taken.
    pub photo: Option<PhotoRow>,
}

/// Logs on which pins or knobs were seen from `from` on, by the day they were seen.
///
/// # Errors
/// The register's own.
pub fn pinned(conn: &Connection, from: NaiveDate) -> Result<Vec<Pinned>> {
    let mut list = conn.prepare_cached(
        "SELECT l.id, l.tag, min(e.day) AS day, k.seen FROM entry e JOIN look k ON k.entry = e.id JOIN log l ON l.id = e.log
         WHERE e.void = 0 AND l.void = 0 AND e.day >= ?1 AND k.seen IN ('pin', 'knob') GROUP BY l.id ORDER BY day, l.tag",
    )?;
    let rows = list.query_map([from], |r| {
        let seen: String = r.get(3)?;
        let (log, tag, day) = (r.get(0)?, r.get(1)?, r.get(2)?);
        Ok(Pinned { log, tag, day, seen: Stage::of(&seen), photo: None })
    })?;
    let mut found: Vec<Pinned> = rows.collect::<rusqlite::Result<_>>()?;
    let mut newest = conn.prepare_cached(&format!(
        "SELECT {PHOTO} FROM entry e JOIN photo p ON p.entry = e.id LEFT JOIN blob b ON b.hash = p.hash
         WHERE e.log = ?1 AND e.void = 0 AND e.day >= ?2 ORDER BY e.day DESC, e.id DESC LIMIT 1"
    ))?;
    for pinned in &mut found {
        pinned.photo = newest.query_row(rusqlite::params![pinned.log, from], photo).optional()?;
    }
    Ok(found)
}
