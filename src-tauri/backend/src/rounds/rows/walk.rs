//! The stops of a night round in walking order, and why some logs come first within their spot.
//! Never writes, and never the order itself: that is a rule.
//! Invariant: what is found on the round, and weather typed while it is walked, does not move its stops.

use super::super::rules::{AtRisk, BEFORE_DAYS, Place, Risk, WET_DAYS, risk, walking_order};
use super::checks::{CheckRow, joined};
use super::{Round, nights, typed_in};
use crate::book::Moment;
use crate::error::Result;
use crate::logs::rows::{self as logs, Here, Log, LogRow};
use crate::logs::rules::{State, caps_out};
use crate::spots::rows as spots;
use chrono::{Days, NaiveDate};
use rusqlite::{Connection, params};
use std::collections::{HashMap, HashSet};

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

/// The round's stops in walking order. An open one holds every live log that was laid; an ended
/// one those that were checked.
///
/// # Errors
/// The register's own.
pub fn stops(conn: &Connection, round: &Round, here: Here) -> Result<Vec<Stop>> {
    let mut checks = joined(conn, round)?;
    let known = Before::read(conn, round)?;
    let walk: HashMap<String, usize> =
        spots::all(conn)?.into_iter().enumerate().map(|(n, spot)| (spot.id, n)).collect();
    let mut stops = Vec::new();
    for log in logs::all(conn, here)? {
        let check = checks.remove(&log.row.id);
        if check.is_some()
            || (round.is_open() && is_walked_to(&log) && round.takes(log.row.spot_id.as_deref()))
        {
            let risk = risk(&known.of(&log, round.day), known.slug_night);
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

/// The stops that a round of this evening would have if it began now, all still to be walked to.
///
/// # Errors
/// The register's own.
pub fn blank(conn: &Connection, day: NaiveDate, now: Moment, here: Here) -> Result<Vec<Stop>> {
    stops(conn, &typed_in("", day, now), here)
}

/// Whether a round stops at a log: one that lives and was laid.
pub fn is_walked_to(log: &Log) -> bool {
    log.ended.is_none() && log.row.state != State::Waiting
}

/// What was known of the logs when the round began.
struct Before {
    slug_night: bool,
    damaged: HashSet<String>,
    slugs: HashSet<String>,
    wet: HashSet<String>,
}

impl Before {
    fn read(conn: &Connection, round: &Round) -> Result<Self> {
        let night = nights::night_when_begun(conn, round)?;
        let slug_night = night.is_some_and(|night| night.is_slug_night());
        let known = |sql: &str, days: i64| -> Result<HashSet<String>> {
            let since = round.day.checked_sub_days(Days::new(days.unsigned_abs())).unwrap_or(round.day);
            let ids = round.ids().collect::<Vec<_>>().join(" ");
            let mut list = conn.prepare_cached(sql)?;
            let rows = list.query_map(params![since, round.day, round.started.ms, ids], |r| r.get(0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        };
        let damaged = known(DAMAGED, BEFORE_DAYS)?;
        if !slug_night {
            return Ok(Self { slug_night, damaged, slugs: HashSet::new(), wet: HashSet::new() });
        }
        Ok(Self { slug_night, damaged, slugs: known(SLUGS, BEFORE_DAYS)?, wet: known(WET, WET_DAYS)? })
    }

    fn of(&self, log: &Log, day: NaiveDate) -> AtRisk {
        let id = &log.row.id;
        AtRisk {
            caps: caps_out(&log.facts, day).is_some(),
            damaged: self.damaged.contains(id),
            slugs: self.slugs.contains(id),
            wet: self.wet.contains(id),
        }
    }
}

/// Logs that earlier rounds found damaged: neither this one nor its halves.
const DAMAGED: &str = "SELECT DISTINCT e.log FROM entry e JOIN \"check\" c ON c.entry = e.id
    WHERE e.kind = 'check' AND e.day BETWEEN ?1 AND ?2 AND e.at < ?3 AND e.void = 0 AND c.damage <> 'none'
      AND instr(?4, c.round) = 0 AND e.log IS NOT NULL";

/// Logs on which slugs were found, on earlier rounds or outside rounds.
const SLUGS: &str = "SELECT e.log FROM entry e JOIN \"check\" c ON c.entry = e.id
    WHERE e.kind = 'check' AND e.day BETWEEN ?1 AND ?2 AND e.at < ?3 AND e.void = 0 AND c.slugs > 0
      AND instr(?4, c.round) = 0 AND e.log IS NOT NULL
    UNION SELECT e.log FROM entry e JOIN sighting s ON s.entry = e.id
    WHERE e.kind = 'sighting' AND e.day BETWEEN ?1 AND ?2 AND e.at < ?3 AND e.void = 0 AND s.what = 'slugs'
      AND e.log IS NOT NULL";

/// Logs that were lifted out of the tank or watered.
const WET: &str = "SELECT e.log FROM entry e JOIN soak s ON s.entry = e.id
    WHERE e.kind = 'soak' AND s.part = 'out' AND e.day BETWEEN ?1 AND ?2 AND e.at < ?3 AND e.void = 0 AND ?4 = ?4
      AND e.log IS NOT NULL
    UNION SELECT e.log FROM entry e WHERE e.kind = 'watering' AND e.day BETWEEN ?1 AND ?2 AND e.at < ?3 AND e.void = 0
      AND e.log IS NOT NULL";

/// All stops for which nothing was found yet and that lie in `spot`.
pub fn unchecked_in<'a>(stops: &'a [Stop], spot: Option<&str>) -> impl Iterator<Item = &'a LogRow> {
    let spot = spot.map(str::to_owned);
    stops.iter().filter(move |s| s.check.is_none() && s.log.spot_id == spot).map(|s| &s.log)
}
