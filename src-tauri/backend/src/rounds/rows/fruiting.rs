//! Reading what forecasts lean on: fruitings that were followed, warmth, growth that was measured in photos, forecasts
//! that were kept.
//! Never a forecast itself: that is a rule.
//! Invariant: a fruiting counts from the first look that saw its stage, so that late looks do not shorten it.

use super::super::forecast::{
    Followed, Forecast, Growth, Kept, cupped_mm, forecast, in_days, later, usual_days,
};
use super::super::rules::is_ripe;
use crate::book::{Change, Moment};
use crate::error::Result;
use crate::ids::Id;
use crate::looks::rules::Stage;
use crate::photos::rows as photos;
use chrono::{Days, NaiveDate, NaiveDateTime};
use rusqlite::Connection;
use serde_json::json;
use std::collections::HashMap;

/// A fruiting not cupped after so many days is lost sight of, not slow.
const LOST_DAYS: f64 = 40.0;
/// Warmth of so many days to now stands for that of the next ones, where no more is known.
const WARMTH_DAYS: u64 = 3;
const DAY_MS: f64 = 86_400_000.0;
/// Growth tells of a look when its newest measure was taken so many days about it (our choice): a week before is
/// another pace, and three weeks on it is another flush.
const MEASURED_DAYS: std::ops::RangeInclusive<f64> = -7.0..=21.0;

/// A look or a picking of a log, in order of time.
#[derive(Debug, Clone)]
struct Sight {
    log: String,
    day: NaiveDate,
    ms: i64,
    /// None: a picking.
    stage: Option<Stage>,
}

/// All looks and pickings, log by log, in order of time. What was entered for an earlier day counts at its noon.
fn sights(conn: &Connection, log: Option<&str>) -> Result<Vec<Sight>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.day, e.at, e.zone, k.seen FROM entry e LEFT JOIN look k ON k.entry = e.id
         WHERE e.kind IN ('look', 'picking') AND e.void = 0 AND e.log IS NOT NULL AND (?1 IS NULL OR e.log = ?1)
         ORDER BY e.log, e.day, e.at, e.id",
    )?;
    let rows = list.query_map([log], |r| {
        let (day, at, zone): (NaiveDate, i64, String) = (r.get(1)?, r.get(2)?, r.get(3)?);
        let written = Moment::from_parts(at, &zone);
        let noon = day.and_hms_opt(12, 0, 0).map_or(at, |noon| noon.and_utc().timestamp_millis());
        let ms = if written.day() == day { at } else { noon };
        let seen: Option<String> = r.get(4)?;
        let stage = seen.map(|word| Stage::of(&word).unwrap_or(Stage::Nothing));
        Ok(Sight { log: r.get(0)?, day, ms, stage })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Fruitings that were followed from a stage until they were cupped or picked, before `before`.
///
/// # Errors
/// The register's own.
pub fn followed(conn: &Connection) -> Result<Vec<Followed>> {
    let warmth = Warmth::read(conn)?;
    let mut found = Vec::new();
    let mut open: HashMap<Stage, Sight> = HashMap::new();
    let mut log = String::new();
    for sight in sights(conn, None)? {
        if sight.log != log {
            open.clear();
            log.clone_from(&sight.log);
        }
        match sight.stage {
            Some(Stage::Nothing) => open.clear(),
            Some(stage) if usual_days(stage).is_some() => {
                open.entry(stage).or_insert(sight);
            }
            _ => {
                for (stage, first) in open.drain() {
                    let days = (sight.ms - first.ms) as f64 / DAY_MS;
                    if (0.0..=LOST_DAYS).contains(&days) {
                        found.push(Followed { stage, days, mean_dc: warmth.mean(first.day, sight.day) });
                    }
                }
            }
        }
    }
    // A drained map has no order of its own; the rule must not depend on one.
    found.sort_by(|a, b| {
        (a.stage, a.days).partial_cmp(&(b.stage, b.days)).unwrap_or(std::cmp::Ordering::Equal)
    });
    Ok(found)
}

/// What forecasts of one reading lean on, read once.
#[derive(Debug, Clone)]
pub struct Ground {
    followed: Vec<Followed>,
    warmth: Warmth,
    growth: HashMap<String, Grown>,
}

/// How a log's caps grow, and when the newest of them was measured.
#[derive(Debug, Clone)]
struct Grown {
    growth: Growth,
    last: NaiveDateTime,
}

impl Grown {
    /// As it tells of caps first seen `elapsed` days before a look; none when it was not measured about then.
    fn since(&self, looked: NaiveDateTime, elapsed: f64) -> Option<Growth> {
        let from_look = (self.last - looked).num_minutes() as f64 / (24.0 * 60.0);
        MEASURED_DAYS
            .contains(&from_look)
            .then_some(Growth { since_days: elapsed + from_look, ..self.growth })
    }
}

impl Ground {
    /// Reads it.
    ///
    /// # Errors
    /// The register's own.
    pub fn read(conn: &Connection) -> Result<Self> {
        Ok(Self { followed: followed(conn)?, warmth: Warmth::read(conn)?, growth: growths(conn)? })
    }

    /// The warmth to reckon with on a day, tenths of °C: the mean of the last three days that are known.
    pub fn mean_dc(&self, today: NaiveDate) -> Option<i64> {
        let from = today.checked_sub_days(Days::new(WARMTH_DAYS)).unwrap_or(today);
        #[allow(clippy::cast_possible_truncation, reason = "tenths of a degree of weather")]
        self.warmth.mean(from, today).map(|dc| dc.round() as i64)
    }

    /// The forecast of caps seen at `stage` in a look, of which the same stage was first seen `elapsed` days
    /// before; with the days after the look in tenths.
    pub fn forecast(
        &self,
        log: &str,
        stage: Stage,
        looked: NaiveDateTime,
        elapsed: f64,
    ) -> Option<(Forecast, [i64; 3])> {
        let seen = looked.date();
        let mean_dc = self.mean_dc(seen);
        let growth = self.growth.get(log).and_then(|grown| grown.since(looked, elapsed));
        let range = forecast(stage, mean_dc.map(|dc| dc as f64), growth, &self.followed)?;
        let range = later(range, elapsed);
        #[allow(clippy::cast_possible_truncation, reason = "at most some weeks, in tenths of a day")]
        let tenths = [range.low, range.mid, range.high].map(|days| (days * 10.0).round() as i64);
        Some((in_days(range, stage, seen, mean_dc, growth), tenths))
    }
}

/// The growth of shiitake logs whose caps were measured more than once of late, by log. How wide a Hericium is
/// when it is ready is not known, so its growth tells nothing here.
fn growths(conn: &Connection) -> Result<HashMap<String, Grown>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log FROM entry e JOIN log l ON l.id = e.log WHERE e.kind = 'measure' AND e.void = 0
           AND l.mushroom = 'shiitake' AND e.day >= (SELECT date(max(day), '-30 days') FROM entry WHERE kind = 'measure')
         GROUP BY e.log HAVING count(*) > 1",
    )?;
    let logs: Vec<String> = list.query_map([], |r| r.get(0))?.collect::<rusqlite::Result<_>>()?;
    if logs.is_empty() {
        return Ok(HashMap::new());
    }
    let cupped = cupped_mm(&cupped_widths(conn)?);
    let mut found = HashMap::new();
    for log in logs {
        let Some(measured) = photos::growth(conn, &log)? else { continue };
        let Ok(last) = NaiveDateTime::parse_from_str(&measured.last, "%Y-%m-%dT%H:%M") else { continue };
        let (a_day, widest) = (measured.tenths_a_day as f64, measured.widest_tenths as f64);
        let growth = Growth {
            to_go_mm: cupped - widest / 10.0,
            mm_a_day: a_day / 10.0,
            off: (measured.high - measured.low) as f64 / 2.0 / a_day,
            since_days: 0.0,
        };
        found.insert(log, Grown { growth, last });
    }
    Ok(found)
}

/// Widths of the yard's own cupped caps, mm: the widest measured on the day of a look that saw them cupped, or of
/// a picking.
fn cupped_widths(conn: &Connection) -> Result<Vec<f64>> {
    let mut list = conn.prepare_cached(
        "SELECT max(m.width_tenths) / 10.0 FROM measure m CROSS JOIN entry e ON e.id = m.entry CROSS JOIN log l ON l.id = e.log
         WHERE e.void = 0 AND l.mushroom = 'shiitake' AND EXISTS(
           SELECT 1 FROM entry o LEFT JOIN look k ON k.entry = o.id
           WHERE o.log = e.log AND o.day = e.day AND o.void = 0 AND (o.kind = 'picking' OR k.seen = 'cupped'))
         GROUP BY e.log, e.day ORDER BY e.log, e.day",
    )?;
    Ok(list.query_map([], |r| r.get(0))?.collect::<rusqlite::Result<_>>()?)
}

/// For how many days a log has shown this very stage without a picking or a bare look between.
///
/// # Errors
/// The register's own.
pub fn elapsed(conn: &Connection, log: &str, stage: Stage, now: Moment) -> Result<f64> {
    let mut first: Option<i64> = None;
    for sight in sights(conn, Some(log))? {
        match sight.stage {
            Some(seen) if seen == stage => {
                first.get_or_insert(sight.ms);
            }
            Some(seen) if usual_days(seen).is_some() => {}
            _ => first = None,
        }
    }
    let days = first.map_or(0.0, |ms| (now.ms - ms) as f64 / DAY_MS);
    Ok(if (0.0..=LOST_DAYS).contains(&days) { days } else { 0.0 })
}

/// The entry that keeps the forecast of a look, and the forecast; none when its stage has none. `day` is the
/// look's own; one of a past night is not forecast from.
///
/// # Errors
/// The register's own.
pub fn kept_with(
    conn: &Connection,
    (log, stage): (&str, Stage),
    (look, id): (&Id, &Id),
    now: Moment,
) -> Result<Option<(Change, Forecast)>> {
    let ground = Ground::read(conn)?;
    let day = now.day();
    let since = elapsed(conn, log, stage, now)?;
    let looked = now.local().naive_local();
    let Some((forecast, [low, mid, high])) = ground.forecast(log, stage, looked, since) else {
        return Ok(None);
    };
    let row = json!({"log": log, "day": day, "at": now.ms, "zone": now.zone(), "look": look.as_str(), "stage": stage,
        "low_tenths": low, "mid_tenths": mid, "high_tenths": high, "own": forecast.own,
        "mean_dc": ground.mean_dc(day)});
    Ok(Some((Change::put("forecast", id, row), forecast)))
}

/// Forecasts that were kept with looks that still stand, oldest first, and when their caps were cupped: by the
/// first later look that says so, or the first picking.
///
/// # Errors
/// The register's own.
pub fn kept(conn: &Connection) -> Result<Vec<Kept>> {
    let mut by_log: HashMap<String, Vec<Sight>> = HashMap::new();
    for sight in sights(conn, None)? {
        by_log.entry(sight.log.clone()).or_default().push(sight);
    }
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.day, e.at, f.low_tenths, f.mid_tenths, f.high_tenths
         FROM forecast f JOIN entry e ON e.id = f.entry JOIN entry k ON k.id = f.look
         WHERE e.kind = 'forecast' AND e.void = 0 AND k.void = 0 AND e.log IS NOT NULL ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([], |r| {
        let (log, seen, at): (String, NaiveDate, i64) = (r.get(0)?, r.get(1)?, r.get(2)?);
        Ok((log, at, Kept { seen, tenths: (r.get(3)?, r.get(4)?, r.get(5)?), cupped: None }))
    })?;
    let mut found = Vec::new();
    for row in rows {
        let (log, at, mut kept) = row?;
        let after = by_log.get(&log).into_iter().flatten().filter(|s| s.ms > at && s.day >= kept.seen);
        for sight in after {
            if (sight.day - kept.seen).num_days() as f64 > LOST_DAYS || sight.stage == Some(Stage::Nothing) {
                break;
            }
            if sight.stage.is_none_or(is_ripe) {
                kept.cupped = Some(sight.day);
                break;
            }
        }
        found.push(kept);
    }
    Ok(found)
}

/// Daily means, tenths of °C.
#[derive(Debug, Clone, Default)]
struct Warmth(Vec<(NaiveDate, f64)>);

impl Warmth {
    fn read(conn: &Connection) -> Result<Self> {
        let mut list = conn.prepare_cached(
            "SELECT id, (min_dc + max_dc) / 2.0 FROM weather
             WHERE void = 0 AND min_dc IS NOT NULL AND max_dc IS NOT NULL ORDER BY id",
        )?;
        let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, f64>(1)?)))?;
        let rows: Vec<(String, f64)> = rows.collect::<rusqlite::Result<_>>()?;
        Ok(Self(rows.into_iter().filter_map(|(day, dc)| Some((day.parse().ok()?, dc))).collect()))
    }

    fn mean(&self, from: NaiveDate, to: NaiveDate) -> Option<f64> {
        let first = self.0.partition_point(|(day, _)| *day < from);
        let days: Vec<f64> =
            self.0[first..].iter().take_while(|(day, _)| *day <= to).map(|(_, dc)| *dc).collect();
        (!days.is_empty()).then(|| days.iter().sum::<f64>() / days.len() as f64)
    }
}
