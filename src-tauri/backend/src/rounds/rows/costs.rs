//! Reading what the losses are worked out from: stops of night rounds, and pickings whose damage was judged.
//! Never a share or a mean: those are rules.
//! Invariant: a stop's hour is known only when it was entered on the spot.

use super::super::losses::{Judged, Seen};
use super::super::rules::{Damage, Did, How, read_words};
use crate::error::Result;
use crate::looks::rules::Stage;
use crate::settings::rules::Settings;
use crate::sun::rules::tonight;
use chrono::{DateTime, NaiveDate, Utc};
use rusqlite::Connection;
use std::collections::HashMap;

/// What was done against slugs speaks for so many days (our choice).
const CONTROL_DAYS: i64 = 14;
/// Pins seen longer ago than this are another fruiting's.
const PINS_DAYS: i64 = 21;

/// Every live stop of night rounds, oldest first.
///
/// # Errors
/// The register's own.
pub fn seen(conn: &Connection, set: &Settings) -> Result<Vec<Seen>> {
    let pins = pins(conn)?;
    let mut dark: HashMap<NaiveDate, Option<DateTime<Utc>>> = HashMap::new();
    let mut controls: HashMap<String, (NaiveDate, Did)> = HashMap::new();
    let mut tonight_did: Vec<(String, NaiveDate, Did)> = Vec::new();
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.day, e.at, c.round, c.how, c.slugs, c.damage, c.later, c.did, s.name, coalesce(g.spot, '')
         FROM \"check\" c JOIN entry e ON e.id = c.entry JOIN round r ON r.id = c.round
         LEFT JOIN log_state g ON g.log = e.log LEFT JOIN spot s ON s.id = g.spot
         WHERE e.kind = 'check' AND e.void = 0 AND e.log IS NOT NULL AND r.kind = 'night' AND r.void = 0 ORDER BY e.day, e.at, e.id",
    )?;
    let mut rows = list.query([])?;
    let mut found = Vec::new();
    while let Some(r) = rows.next()? {
        let (log, day, at): (String, NaiveDate, i64) = (r.get(0)?, r.get(1)?, r.get(2)?);
        let (how, damage): (String, String) = (r.get(4)?, r.get(6)?);
        let Some((how, damage)) = How::of(&how).zip(Damage::of(&damage)) else { continue };
        let (later, did): (Option<i64>, Option<String>) = (r.get(7)?, r.get(8)?);
        let spot_id: String = r.get(10)?;
        let dark = *dark.entry(day).or_insert_with(|| dark_of(set, day));
        let on_the_spot = later.is_none() && dark.is_some();
        let hours = dark.filter(|_| on_the_spot).map(|d| (at - d.timestamp_millis()) as f64 / 3_600_000.0);
        // What was done this very evening speaks for the evenings after it.
        tonight_did.retain(|(spot, on, did)| {
            let over = *on < day;
            // Bait or a barrier is not forgotten because slugs were picked by hand since.
            let weaker = controls
                .get(spot)
                .is_some_and(|(was, old)| *old > *did && (*on - *was).num_days() <= CONTROL_DAYS);
            if over && !weaker {
                controls.insert(spot.clone(), (*on, *did));
            }
            !over
        });
        let control = controls.get(&spot_id).filter(|(on, _)| (day - *on).num_days() <= CONTROL_DAYS);
        found.push(Seen {
            day,
            round: r.get(3)?,
            spot: r.get(9)?,
            how,
            slugs: r.get(5)?,
            damage,
            // A round is walked in a night; an hour further off is a clock that was wrong.
            hours: hours.filter(|h| (-6.0..=14.0).contains(h)),
            pins_days: since_pins(pins.get(&log), day),
            control: control.map(|(_, did)| *did),
        });
        tonight_did
            .extend(read_words(did.as_deref(), Did::of).into_iter().map(|did| (spot_id.clone(), day, did)));
    }
    Ok(found)
}

fn dark_of(set: &Settings, day: NaiveDate) -> Option<DateTime<Utc>> {
    let (lat, lon) = set.at?;
    // Which offset is shown does not matter for the instant, but the evening must be the right one.
    #[allow(clippy::cast_possible_truncation, reason = "at most 720")]
    let minutes = (lon * 4.0).round() as i32;
    tonight(lat, lon, day, minutes, 0)?.dark.map(|dark| dark.with_timezone(&Utc))
}

/// First signs and pickings of each log, in order: the day, and whether it is a picking.
fn pins(conn: &Connection) -> Result<HashMap<String, Vec<(NaiveDate, bool)>>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.day, e.kind, k.seen FROM entry e LEFT JOIN look k ON k.entry = e.id
         WHERE e.kind IN ('look', 'picking') AND e.void = 0 AND e.log IS NOT NULL ORDER BY e.log, e.day, e.at, e.id",
    )?;
    let mut found: HashMap<String, Vec<(NaiveDate, bool)>> = HashMap::new();
    let mut rows = list.query([])?;
    while let Some(r) = rows.next()? {
        let (log, day, kind, seen): (String, NaiveDate, String, Option<String>) =
            (r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?);
        let sign = seen.as_deref().and_then(Stage::of).is_some_and(|s| s != Stage::Nothing);
        let line = found.entry(log).or_default();
        if kind == "picking" {
            line.push((day, true));
        } else if sign && line.last().is_none_or(|(on, picked)| *picked || (day - *on).num_days() > PINS_DAYS)
        {
            line.push((day, false));
        }
    }
    Ok(found)
}

fn since_pins(line: Option<&Vec<(NaiveDate, bool)>>, day: NaiveDate) -> Option<i64> {
    let (on, picked) = line?.iter().rev().find(|(on, _)| *on <= day)?;
    let days = (day - *on).num_days();
    (!picked && days <= PINS_DAYS).then_some(days)
}

/// Pickings whose damage was judged, each at the stage it was picked at, else that the look before saw.
///
/// # Errors
/// The register's own.
pub fn judged(conn: &Connection) -> Result<Vec<Judged>> {
    let mut list = conn.prepare_cached(
        "SELECT coalesce(p.stage, (SELECT k.seen FROM entry o JOIN look k ON k.entry = o.id
             WHERE o.log = e.log AND o.void = 0 AND (o.day, o.at) <= (e.day, e.at) AND o.day >= date(e.day, '-5 days')
             ORDER BY o.day DESC, o.at DESC LIMIT 1)), p.damaged_pct, p.grams
         FROM picking p JOIN entry e ON e.id = p.entry
         WHERE e.void = 0 AND p.damaged_pct IS NOT NULL ORDER BY e.day, e.id",
    )?;
    let rows = list.query_map([], |r| {
        let stage: Option<String> = r.get(0)?;
        let stage = stage.as_deref().and_then(Stage::of);
        Ok(stage.map(|stage| (stage, r.get(1), r.get(2))))
    })?;
    let mut found = Vec::new();
    for row in rows {
        if let Some((stage, damaged_pct, grams)) = row? {
            found.push(Judged { stage, damaged_pct: damaged_pct?, grams: grams? });
        }
    }
    Ok(found)
}
