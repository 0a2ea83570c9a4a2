//! Reading rounds, their halves and their sums.
//! Never writes, and never a stop: `walk` and `picking` have those.
//! Invariant: halves that two people walked of one evening are one round.

pub mod baskets;
pub mod checks;
pub mod costs;
pub mod followed;
pub mod fruiting;
pub mod nights;
pub mod picking;
pub mod records;
pub mod walk;

use super::rules::{Damage, How, RoundKind};
use crate::book::Moment;
use crate::error::{Error, Result};
use checks::CheckRow;
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension, Row, params};
use walk::Stop;

/// A round and what its stops amount to.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct RoundRow {
    /// Its id.
    pub id: String,
    /// What it is for.
    pub kind: RoundKind,
    /// The evening's day.
    pub day: NaiveDate,
    /// The spots it walks to; empty: all.
    pub spots: Vec<String>,
    /// A child's: it only tallies.
    pub child: bool,
    /// Entered afterwards.
    pub later: bool,
    /// Rounds of the same evening that others began and that are counted with it.
    pub halves: usize,
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

/// A round as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// Its id.
    pub id: String,
    /// What it is for.
    pub kind: RoundKind,
    /// The evening's day.
    pub day: NaiveDate,
    /// Spots it walks to; empty: all.
    pub spots: Vec<String>,
    /// A child's.
    pub child: bool,
    /// Entered afterwards.
    pub later: bool,
    /// When it was started.
    pub started: Moment,
    ended: Option<Moment>,
    left: Option<i64>,
    /// Rounds of the same kind and evening that other devices began, with the logs each had left.
    halves: Vec<(String, Option<i64>)>,
    /// Logs where it did something itself; counted only where there are halves.
    own: usize,
}

impl Round {
    /// Whether it can still be walked.
    pub fn is_open(&self) -> bool {
        self.ended.is_none()
    }

    /// Whether it walks to a spot.
    pub fn takes(&self, spot: Option<&str>) -> bool {
        self.spots.is_empty() || spot.is_some_and(|spot| self.spots.iter().any(|s| s == spot))
    }

    /// Its own id and those of its halves.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.id.as_str()).chain(self.halves.iter().map(|(id, _)| id.as_str()))
    }
}

const ROUND: &str = "SELECT id, day, started, zone, ended, \"left\", kind, spots, child, later FROM round
    WHERE void = 0 AND kind IN ('night', 'picking') AND day IS NOT NULL";

fn round_of(r: &Row<'_>) -> rusqlite::Result<Round> {
    let zone: String = r.get::<_, Option<String>>(3)?.unwrap_or_default();
    let moment = |ms: i64| Moment::from_parts(ms, &zone);
    let (kind, spots): (String, Option<String>) = (r.get(6)?, r.get(7)?);
    Ok(Round {
        id: r.get(0)?,
        kind: RoundKind::of(&kind).unwrap_or(RoundKind::Night),
        day: r.get(1)?,
        spots: spots.unwrap_or_default().split_whitespace().map(str::to_owned).collect(),
        child: r.get::<_, Option<i64>>(8)? == Some(1),
        later: r.get::<_, Option<i64>>(9)? == Some(1),
        started: moment(r.get::<_, Option<i64>>(2)?.unwrap_or(0)),
        ended: r.get::<_, Option<i64>>(4)?.map(moment),
        left: r.get(5)?,
        halves: Vec::new(),
        own: 0,
    })
}

/// A round, with its halves.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str) -> Result<Round> {
    let round = conn
        .prepare_cached(&format!("{ROUND} AND id = ?1"))?
        .query_row([id], round_of)
        .optional()?
        .ok_or(Error::Missing { what: "round" })?;
    with_halves(conn, round)
}

/// The newest round of a kind that is still open and that this very `device` began, else that anybody did.
///
/// # Errors
/// The register's own.
pub fn open(conn: &Connection, kind: RoundKind, device: &str) -> Result<Option<Round>> {
    let sql = format!(
        "{ROUND} AND kind = ?1 AND ended IS NULL ORDER BY day DESC,
           (SELECT max(f.device = ?2) FROM field f WHERE f.thing = round.id AND f.name = 'started') DESC,
           started DESC, id DESC LIMIT 1"
    );
    let found = conn.prepare_cached(&sql)?.query_row([kind.word(), device], round_of).optional()?;
    found.map(|round| with_halves(conn, round)).transpose()
}

/// Whether this device began a round.
///
/// # Errors
/// The register's own.
pub fn is_mine(conn: &Connection, round: &str, device: &str) -> Result<bool> {
    let sql = "SELECT EXISTS(SELECT 1 FROM field WHERE thing = ?1 AND name = 'started' AND device = ?2)";
    Ok(conn.prepare_cached(sql)?.query_row([round, device], |r| r.get(0))?)
}

/// The newest rounds, ended and open.
///
/// # Errors
/// The register's own.
pub fn newest(conn: &Connection, limit: u32) -> Result<Vec<Round>> {
    let sql = format!("{ROUND} ORDER BY day DESC, started DESC, id DESC LIMIT ?1");
    let mut list = conn.prepare_cached(&sql)?;
    let rows = list.query_map([limit], round_of)?;
    let rounds: Vec<Round> = rows.collect::<rusqlite::Result<_>>()?;
    rounds.into_iter().map(|round| with_halves(conn, round)).collect()
}

/// Two rounds are halves of one when two devices began them for the same evening.
fn with_halves(conn: &Connection, mut round: Round) -> Result<Round> {
    let mut list = conn.prepare_cached(
        "SELECT o.id, o.\"left\" FROM round o WHERE o.void = 0 AND o.kind = ?2 AND o.day = ?3 AND o.id <> ?1
           AND (SELECT f.device FROM field f WHERE f.thing = o.id AND f.name = 'started' LIMIT 1) <>
               (SELECT f.device FROM field f WHERE f.thing = ?1 AND f.name = 'started' LIMIT 1) ORDER BY o.id",
    )?;
    let rows =
        list.query_map(params![round.id, round.kind.word(), round.day], |r| Ok((r.get(0)?, r.get(1)?)))?;
    round.halves = rows.collect::<rusqlite::Result<_>>()?;
    if !round.halves.is_empty() {
        let sql = "SELECT count(DISTINCT e.log) FROM entry e LEFT JOIN \"check\" c ON c.entry = e.id
            LEFT JOIN look k ON k.entry = e.id LEFT JOIN picking p ON p.entry = e.id
            WHERE e.void = 0 AND e.kind IN ('check', 'look', 'picking') AND coalesce(c.round, k.round, p.round) = ?1";
        let own: i64 = conn.prepare_cached(sql)?.query_row([&round.id], |r| r.get(0))?;
        round.own = usize::try_from(own).unwrap_or(0);
    }
    Ok(round)
}

/// A night round of an evening that is typed in now and is in no table yet.
pub fn typed_in(id: &str, day: NaiveDate, now: Moment) -> Round {
    Round {
        id: id.to_owned(),
        kind: RoundKind::Night,
        day,
        spots: Vec::new(),
        child: false,
        later: true,
        started: now,
        ended: None,
        left: None,
        halves: Vec::new(),
        own: 0,
    }
}

/// The round with the sums over its stops.
pub fn row(round: &Round, stops: &[Stop]) -> RoundRow {
    let checks: Vec<&CheckRow> = stops.iter().filter_map(|s| s.check.as_ref()).collect();
    let skipped = checks.iter().filter(|c| c.how == How::Skipped).count();
    let open_left = stops.len() - checks.len();
    let done = checks.len() - skipped;
    let damaged = checks.iter().filter(|c| c.damage != Damage::None).count();
    let slugs = checks.iter().map(|c| c.slugs).sum();
    Sums { done, skipped, left: left(round, checks.len(), open_left), slugs, damaged }.row(round)
}

/// What the stops of a round add up to.
#[derive(Debug, Clone, Copy, Default)]
pub struct Sums {
    /// Logs seen.
    pub done: usize,
    /// Logs passed over.
    pub skipped: usize,
    /// Logs left.
    pub left: usize,
    /// Slugs found.
    pub slugs: i64,
    /// Logs damaged.
    pub damaged: usize,
}

impl Sums {
    /// The round with these.
    pub fn row(self, round: &Round) -> RoundRow {
        RoundRow {
            id: round.id.clone(),
            kind: round.kind,
            day: round.day,
            spots: round.spots.clone(),
            child: round.child,
            later: round.later,
            halves: round.halves.len(),
            started: round.started.rfc3339(),
            ended: round.ended.map(|m| m.rfc3339()),
            logs: self.done + self.skipped + self.left,
            done: self.done,
            skipped: self.skipped,
            left: self.left,
            slugs: self.slugs,
            damaged: self.damaged,
        }
    }
}

/// Logs left of those that the round and its halves were to walk to. An ended round says how many it had left;
/// where both were to walk everywhere, what the other half checked is no longer left, and where each had spots of
/// its own, both lefts count.
pub fn left(round: &Round, checked: usize, open_left: usize) -> usize {
    let Some(left) = round.left else { return open_left };
    let left = usize::try_from(left).unwrap_or(0);
    if round.halves.is_empty() {
        return left;
    }
    if round.spots.is_empty() {
        return (left + round.own).saturating_sub(checked);
    }
    let others: i64 = round.halves.iter().filter_map(|(_, left)| *left).sum();
    left + usize::try_from(others).unwrap_or(0)
}
