//! Reading a picking round: its stops by urgency, and what was done at each.
//! Never writes.
//! Invariant: what is entered on the round does not move its stops under the thumb.

use super::super::forecast::Forecast;
use super::super::rules::{RoundKind, urgency};
use super::fruiting::Ground;
use super::walk::is_walked_to;
use super::{Round, RoundRow, Sums, left};
use crate::error::Result;
use crate::logs::rows::{self as logs, Here, Log, LogRow};
use crate::logs::rules::caps_out;
use crate::looks::rules::Stage;
use crate::measure::natural_order;
use crate::spots::rows as spots;
use chrono::NaiveDate;
use rusqlite::{Connection, params};
use std::collections::HashMap;

/// What was done at a stop of a picking round.
#[derive(Debug, Clone, Default, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct PickDone {
    /// What was seen.
    pub seen: Option<Stage>,
    /// The day to look again.
    pub again: Option<NaiveDate>,
    /// Pickings entered.
    pub pickings: i64,
    /// Their weight, g, of those weighed.
    pub grams: i64,
    /// How many are not weighed.
    pub unweighed: i64,
    /// How many lie in a basket that is still open.
    pub in_basket: i64,
    /// Caps, of those counted.
    pub caps: i64,
    /// Passed over.
    pub skipped: bool,
}

/// One log of a picking round.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct PickStop {
    /// The log.
    pub log: LogRow,
    /// The caps that were out when the round came; null: none known.
    pub stage: Option<Stage>,
    /// When that was seen.
    pub seen_on: Option<NaiveDate>,
    /// The day that the look before named for this one.
    pub again: Option<NaiveDate>,
    /// When its caps should be cupped.
    pub forecast: Option<Forecast>,
    /// What was done; null: not yet there.
    pub done: Option<PickDone>,
}

/// The stops: those with caps out by urgency, then all others in walking order. An ended round holds those
/// where something was done.
///
/// # Errors
/// The register's own.
pub fn stops(conn: &Connection, round: &Round, here: Here) -> Result<Vec<PickStop>> {
    let mut done = HashMap::new();
    for id in round.ids() {
        done_on(conn, id, &mut done)?;
    }
    let before = before(conn, round)?;
    let ground = Ground::read(conn)?;
    let walk: HashMap<String, usize> =
        spots::all(conn)?.into_iter().enumerate().map(|(n, spot)| (spot.id, n)).collect();
    let mut stops = Vec::new();
    for log in logs::all(conn, here)? {
        let mine = done.remove(&log.row.id);
        let walked = is_walked_to(&log) && round.takes(log.row.spot_id.as_deref());
        if mine.is_some() || (round.is_open() && walked) {
            let (seen, again) = before.get(&log.row.id).copied().unwrap_or_default();
            stops.push(stop(log, mine, seen, again, round, &ground));
        }
    }
    let place = |s: &PickStop| {
        let walk = s.log.spot_id.as_ref().and_then(|id| walk.get(id).copied()).unwrap_or(usize::MAX);
        let due = s.again.is_none_or(|day| day <= round.day);
        (s.stage.is_none(), s.stage.map_or(u8::MAX, urgency), !due, walk)
    };
    stops.sort_by(|a, b| {
        place(a)
            .cmp(&place(b))
            .then_with(|| natural_order(&a.log.tag, &b.log.tag))
            .then_with(|| a.log.id.cmp(&b.log.id))
    });
    Ok(stops)
}

type Before = HashMap<String, (Option<(Stage, NaiveDate, bool)>, Option<NaiveDate>)>;

fn stop(
    log: Log,
    done: Option<PickDone>,
    seen: Option<(Stage, NaiveDate, bool)>,
    again: Option<NaiveDate>,
    round: &Round,
    ground: &Ground,
) -> PickStop {
    let mut facts = log.facts.clone();
    facts.seen = seen.map(|(stage, day, _)| (stage, day));
    facts.seen_after_picking = seen.is_some_and(|(_, _, after)| after);
    let stage = caps_out(&facts, round.day);
    let seen_on = stage.and(seen.map(|(_, day, _)| day));
    let forecast = stage
        .zip(seen_on)
        // A look of which only the day is asked counts as taken at noon.
        .and_then(|(stage, day)| ground.forecast(&log.row.id, stage, day.and_hms_opt(12, 0, 0)?, 0.0))
        .map(|(forecast, _)| forecast);
    PickStop { log: log.row, stage, seen_on, again: stage.and(again), forecast, done }
}

/// What each log showed before the round: the newest look that is none of the round's, its day, whether no
/// picking came after it, and the day it named to look again.
fn before(conn: &Connection, round: &Round) -> Result<Before> {
    let ids: Vec<&str> = round.ids().collect();
    let ids = ids.join(" ");
    let mut list = conn.prepare_cached(
        "WITH mine AS (SELECT e.id, e.log, e.day, e.at, e.kind, k.seen, k.again FROM entry e
           LEFT JOIN look k ON k.entry = e.id LEFT JOIN picking p ON p.entry = e.id
           WHERE e.kind IN ('look', 'picking') AND e.void = 0 AND e.log IS NOT NULL
             AND instr(?1, coalesce(k.round, p.round, '?')) = 0)
         SELECT log, kind, day, seen, again FROM mine ORDER BY log, day, at, id",
    )?;
    let rows = list.query_map([ids], |r| {
        let (kind, seen): (String, Option<String>) = (r.get(1)?, r.get(3)?);
        let (day, again): (NaiveDate, Option<NaiveDate>) = (r.get(2)?, r.get(4)?);
        Ok((r.get::<_, String>(0)?, kind == "picking", day, seen, again))
    })?;
    let mut found: Before = HashMap::new();
    for row in rows {
        let (log, picked, day, seen, again) = row?;
        let entry = found.entry(log).or_default();
        if picked {
            if let (Some(seen), _) = entry {
                seen.2 = false;
            }
        } else if let Some(stage) = seen.as_deref().and_then(Stage::of) {
            *entry = (Some((stage, day, true)), again);
        }
    }
    Ok(found)
}

/// Adds what was done on a round, by log.
fn done_on(conn: &Connection, round: &str, done: &mut HashMap<String, PickDone>) -> Result<()> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.kind, k.seen, k.again, p.grams, p.caps, b.id IS NOT NULL AND b.grams IS NULL
         FROM entry e LEFT JOIN look k ON k.entry = e.id LEFT JOIN picking p ON p.entry = e.id
         LEFT JOIN \"check\" c ON c.entry = e.id LEFT JOIN basket b ON b.id = p.basket
         WHERE e.void = 0 AND e.log IS NOT NULL AND coalesce(k.round, p.round, c.round) = ?1
           AND e.kind IN ('look', 'picking', 'check') ORDER BY e.at, e.id",
    )?;
    let rows = list.query_map(params![round], |r| {
        let (kind, seen): (String, Option<String>) = (r.get(1)?, r.get(2)?);
        let (grams, caps): (Option<i64>, Option<i64>) = (r.get(4)?, r.get(5)?);
        let again: Option<NaiveDate> = r.get(3)?;
        Ok((r.get::<_, String>(0)?, kind, seen, again, grams, caps, r.get::<_, bool>(6)?))
    })?;
    for row in rows {
        let (log, kind, seen, again, grams, caps, in_basket) = row?;
        let entry = done.entry(log).or_default();
        match kind.as_str() {
            "look" => {
                entry.seen = seen.as_deref().and_then(Stage::of).or(entry.seen);
                entry.again = again;
                entry.skipped = false;
            }
            "picking" => {
                entry.pickings += 1;
                entry.grams += grams.unwrap_or(0);
                entry.unweighed += i64::from(grams.is_none() && !in_basket);
                entry.in_basket += i64::from(in_basket);
                entry.caps += caps.unwrap_or(0);
                entry.skipped = false;
            }
            _ => entry.skipped = entry.pickings == 0 && entry.seen.is_none(),
        }
    }
    Ok(())
}

/// The round with its sums: the logs that had caps, and any other where something was done.
pub fn row(round: &Round, stops: &[PickStop]) -> RoundRow {
    let asked = stops.iter().filter(|s| s.stage.is_some() || s.done.is_some());
    let open_left = asked.clone().filter(|s| s.done.is_none()).count();
    let skipped = asked.clone().filter(|s| s.done.as_ref().is_some_and(|d| d.skipped)).count();
    let done = asked.filter(|s| s.done.as_ref().is_some_and(|d| !d.skipped)).count();
    let left = left(round, done + skipped, open_left);
    debug_assert_eq!(round.kind, RoundKind::Picking, "a night round has sums of its own");
    Sums { done, skipped, left, slugs: 0, damaged: 0 }.row(round)
}
