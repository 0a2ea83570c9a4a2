//! Reading rounds and their stops.
//! Never writes.
//! Invariant: a log has at most one check that counts in a round. Halves that two people walked of one evening are
//! one round: of a log both checked, the tallies are added.

pub mod baskets;
pub mod costs;
pub mod fruiting;
pub mod picking;
pub mod records;

use super::rules::{
    DAMAGE_DAYS, Damage, Did, Hid, How, OtherSeen, Place, Risk, RoundKind, read_words, walking_order,
};
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
    /// Other animals seen.
    pub others: Vec<OtherSeen>,
    /// Where slugs hid.
    pub hid: Vec<Hid>,
    /// What was done.
    pub did: Vec<Did>,
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

/// The round's stops in walking order. An open one holds every live log that was laid; an ended
/// one those that were checked.
///
/// # Errors
/// The register's own.
pub fn stops(conn: &Connection, round: &Round, here: Here) -> Result<Vec<Stop>> {
    let mut checks = joined(conn, round)?;
    let damaged = damaged_before(conn, round)?;
    let walk: HashMap<String, usize> =
        spots::all(conn)?.into_iter().enumerate().map(|(n, spot)| (spot.id, n)).collect();
    let mut stops = Vec::new();
    for log in logs::all(conn, here)? {
        let check = checks.remove(&log.row.id);
        if check.is_some()
            || (round.is_open() && is_walked_to(&log) && round.takes(log.row.spot_id.as_deref()))
        {
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

/// The stops that a round of this evening would have, all still to be walked to.
///
/// # Errors
/// The register's own.
pub fn blank(conn: &Connection, day: NaiveDate, here: Here) -> Result<Vec<Stop>> {
    stops(conn, &typed_in("", day, Moment::from_parts(0, "+00:00")), here)
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

/// The checks of a round and its halves, by log. A second check on one device replaces the first; two that stand
/// side by side were made apart by two people, so tallies are added and the worse damage stands.
fn joined(conn: &Connection, round: &Round) -> Result<HashMap<String, CheckRow>> {
    let mut found: HashMap<String, CheckRow> = HashMap::new();
    for id in round.ids() {
        for (log, check) in live(conn, id)? {
            match found.get_mut(&log) {
                None => drop(found.insert(log, check)),
                Some(_) if check.how == How::Skipped => {}
                Some(have) if have.how == How::Skipped => *have = check,
                Some(have) => {
                    have.slugs += check.slugs;
                    have.damage = have.damage.max(check.damage);
                    if have.how == How::Tallied {
                        have.how = check.how;
                    }
                    have.others.extend(check.others);
                    have.hid.extend(check.hid);
                    have.did.extend(check.did);
                }
            }
        }
    }
    for check in found.values_mut() {
        check.others.sort_unstable();
        check.others.dedup();
        check.hid.sort_unstable();
        check.hid.dedup();
        check.did.sort_unstable();
        check.did.dedup();
    }
    Ok(found)
}

/// The checks of a round that stand, oldest first.
fn live(conn: &Connection, round: &str) -> Result<Vec<(String, CheckRow)>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.id, c.how, c.slugs, c.damage, c.others, c.hid, c.did
         FROM \"check\" c JOIN entry e ON e.id = c.entry
         WHERE c.round = ?1 AND e.void = 0 AND e.log IS NOT NULL ORDER BY e.at, e.id",
    )?;
    let rows = list.query_map([round], |r| {
        let (how, damage): (String, String) = (r.get(2)?, r.get(4)?);
        let words = |n: usize| r.get::<_, Option<String>>(n);
        let Some((how, damage)) = How::of(&how).zip(Damage::of(&damage)) else { return Ok(None) };
        let check = CheckRow {
            id: r.get(1)?,
            how,
            slugs: r.get(3)?,
            damage,
            others: read_words(words(5)?.as_deref(), OtherSeen::of),
            hid: read_words(words(6)?.as_deref(), Hid::of),
            did: read_words(words(7)?.as_deref(), Did::of),
        };
        Ok(Some((r.get::<_, String>(0)?, check)))
    })?;
    let found: Vec<Option<(String, CheckRow)>> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(found.into_iter().flatten().collect())
}

/// The checks of a log that stand in a round: more than one only when two people made them apart.
///
/// # Errors
/// The register's own.
pub fn checks_of(conn: &Connection, round: &str, log: &str) -> Result<Vec<String>> {
    Ok(live(conn, round)?.into_iter().filter(|(of, _)| of == log).map(|(_, check)| check.id).collect())
}

/// All stops for which nothing was found yet and that lie in `spot`.
pub fn unchecked_in<'a>(stops: &'a [Stop], spot: Option<&str>) -> impl Iterator<Item = &'a LogRow> {
    let spot = spot.map(str::to_owned);
    stops.iter().filter(move |s| s.check.is_none() && s.log.spot_id == spot).map(|s| &s.log)
}
