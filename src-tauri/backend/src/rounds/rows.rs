//! Reading rounds and their stops.
//! Never writes.
//! Invariant: a log has at most one check that counts in a round: the newest that is not void.

use super::rules::{DAMAGE_DAYS, Damage, How, Place, Risk, walking_order};
use crate::book::Moment;
use crate::error::{Error, Result};
use crate::logs::rows::{self as logs, Here, Log, LogRow};
use crate::logs::rules::{State, caps_out};
use crate::spots::rows as spots;
use chrono::{Days, NaiveDate};
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::collections::HashMap;

/// A round and what its stops amount to.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct RoundRow {
    /// Its id.
    pub id: String,
    /// The evening's day.
    pub day: NaiveDate,
    /// When it was started, RFC 3339 with the local offset.
    pub started: String,
    /// When it was ended; null: still open.
    pub ended: Option<String>,
    /// Logs in it.
    pub logs: usize,
    /// Logs seen or ticked clean.
    pub done: usize,
    /// Logs passed over.
    pub skipped: usize,
    /// Logs without a check.
    pub left: usize,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Logs with damage.
    pub damaged: usize,
}

/// What was found at a stop.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct CheckRow {
    /// The entry.
    pub id: String,
    /// How it was done.
    pub how: How,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Damage seen.
    pub damage: Damage,
}

/// One log of a round.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Stop {
    /// The log.
    pub log: LogRow,
    /// Why it is walked to first within its spot.
    pub risk: Option<Risk>,
    /// What was found; null: not yet there.
    pub check: Option<CheckRow>,
}

/// A round as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// Its id.
    pub id: String,
    /// The evening's day.
    pub day: NaiveDate,
    started: Moment,
    ended: Option<Moment>,
    left: Option<i64>,
}

impl Round {
    /// Whether it can still be walked.
    pub fn is_open(&self) -> bool {
        self.ended.is_none()
    }
}

const ROUND: &str = "SELECT id, day, started, zone, ended, \"left\" FROM round WHERE void = 0 AND kind = 'night' AND day IS NOT NULL";

fn round_of(r: &Row<'_>) -> rusqlite::Result<Round> {
    let zone: String = r.get::<_, Option<String>>(3)?.unwrap_or_default();
    let moment = |ms: i64| Moment::from_parts(ms, &zone);
    Ok(Round {
        id: r.get(0)?,
        day: r.get(1)?,
        started: moment(r.get::<_, Option<i64>>(2)?.unwrap_or(0)),
        ended: r.get::<_, Option<i64>>(4)?.map(moment),
        left: r.get(5)?,
    })
}

/// A night round.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str) -> Result<Round> {
    conn.prepare_cached(&format!("{ROUND} AND id = ?1"))?
        .query_row([id], round_of)
        .optional()?
        .ok_or(Error::Missing { what: "round" })
}

/// The newest round that is still open.
///
/// # Errors
/// The register's own.
pub fn open(conn: &Connection) -> Result<Option<Round>> {
    let sql = format!("{ROUND} AND ended IS NULL ORDER BY day DESC, started DESC, id DESC LIMIT 1");
    Ok(conn.prepare_cached(&sql)?.query_row([], round_of).optional()?)
}

/// The round's stops in walking order. An open one holds every live log that was laid; an ended
/// one those that were checked.
///
/// # Errors
/// The register's own.
pub fn stops(conn: &Connection, round: &Round, here: Here) -> Result<Vec<Stop>> {
    let mut checks = checks(conn, &round.id)?;
    let damaged = damaged_before(conn, round)?;
    let walk: HashMap<String, usize> =
        spots::all(conn)?.into_iter().enumerate().map(|(n, spot)| (spot.id, n)).collect();
    let mut stops = Vec::new();
    for log in logs::all(conn, here)? {
        let check = checks.remove(&log.row.id);
        if check.is_some() || (round.is_open() && is_walked_to(&log)) {
            let risk = risk(&log, &damaged, here);
            stops.push(Stop { log: log.row, risk, check });
        }
    }
    let place = |stop: &Stop| {
        let walk = stop.log.spot_id.as_ref().and_then(|id| walk.get(id).copied());
        (walk, stop.risk)
    };
    stops.sort_by(|a, b| {
        let ((walk_a, risk_a), (walk_b, risk_b)) = (place(a), place(b));
        walking_order(
            &Place { walk: walk_a, risk: risk_a, tag: &a.log.tag, id: &a.log.id },
            &Place { walk: walk_b, risk: risk_b, tag: &b.log.tag, id: &b.log.id },
        )
    });
    Ok(stops)
}

/// The round with the sums over its stops.
pub fn row(round: &Round, stops: &[Stop]) -> RoundRow {
    let checks: Vec<&CheckRow> = stops.iter().filter_map(|s| s.check.as_ref()).collect();
    let skipped = checks.iter().filter(|c| c.how == How::Skipped).count();
    let open_left = stops.len() - checks.len();
    let left = round.left.map_or(open_left, |n| usize::try_from(n).unwrap_or(0));
    RoundRow {
        id: round.id.clone(),
        day: round.day,
        started: round.started.rfc3339(),
        ended: round.ended.map(|m| m.rfc3339()),
        logs: checks.len() + left,
        done: checks.len() - skipped,
        skipped,
        left,
        slugs: checks.iter().map(|c| c.slugs).sum(),
        damaged: checks.iter().filter(|c| c.damage != Damage::None).count(),
    }
}

/// Whether a round stops at a log: one that lives and was laid.
pub fn is_walked_to(log: &Log) -> bool {
    log.ended.is_none() && log.row.state != State::Waiting
}

fn risk(log: &Log, damaged: &HashMap<String, NaiveDate>, here: Here) -> Option<Risk> {
    if caps_out(&log.facts, here.today).is_some() {
        return Some(Risk::Caps);
    }
    damaged.contains_key(&log.row.id).then_some(Risk::Damage)
}

/// Logs that other rounds found damaged in the last [`DAMAGE_DAYS`]: tonight's finds must not move
/// the stops under the walker's thumb.
fn damaged_before(conn: &Connection, round: &Round) -> Result<HashMap<String, NaiveDate>> {
    let since = round.day.checked_sub_days(Days::new(DAMAGE_DAYS.unsigned_abs())).unwrap_or(round.day);
    let mut list = conn.prepare_cached(
        "SELECT e.log, max(e.day) FROM entry e JOIN \"check\" c ON c.entry = e.id
         WHERE e.kind = 'check' AND e.day >= ?1 AND e.day <= ?2 AND e.void = 0 AND c.damage <> 'none'
           AND c.round <> ?3 AND e.log IS NOT NULL GROUP BY e.log",
    )?;
    let rows = list.query_map(params![since, round.day, round.id], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// The check that counts, by log.
fn checks(conn: &Connection, round: &str) -> Result<HashMap<String, CheckRow>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.id, c.how, c.slugs, c.damage FROM \"check\" c JOIN entry e ON e.id = c.entry
         WHERE c.round = ?1 AND e.void = 0 AND e.log IS NOT NULL ORDER BY e.at, e.id",
    )?;
    let rows = list.query_map([round], |r| {
        let (how, damage): (String, String) = (r.get(2)?, r.get(4)?);
        let check =
            How::of(&how).zip(Damage::of(&damage)).map(|(how, damage)| (r.get(1), how, r.get(3), damage));
        Ok((r.get::<_, String>(0)?, check))
    })?;
    let mut found = HashMap::new();
    for row in rows {
        let (log, check) = row?;
        if let Some((id, how, slugs, damage)) = check {
            found.insert(log, CheckRow { id: id?, how, slugs: slugs?, damage });
        }
    }
    Ok(found)
}

/// The check of a log that counts, if it was checked.
///
/// # Errors
/// The register's own.
pub fn check_of(conn: &Connection, round: &str, log: &str) -> Result<Option<String>> {
    Ok(checks(conn, round)?.remove(log).map(|c| c.id))
}

/// All stops for which nothing was found yet and that lie in `spot`.
pub fn unchecked_in<'a>(stops: &'a [Stop], spot: Option<&str>) -> impl Iterator<Item = &'a LogRow> {
    let spot = spot.map(str::to_owned);
    stops.iter().filter(move |s| s.check.is_none() && s.log.spot_id == spot).map(|s| &s.log)
}
