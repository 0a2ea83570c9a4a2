//! Reading what forecasts lean on: fruitings that were followed, warmth, growth that was measured in photos.
//! Never a forecast itself: that is a rule.
//! Invariant: what is read leans on the whole yard; how long one log's caps took is `followed`'s.

use super::super::forecast::{Followed, Forecast, Growth, cupped_mm, forecast, in_days, later, usual_days};
use super::followed::{DAY_MS, LOST_DAYS, followed, sights};
use crate::book::{Change, Moment};
use crate::error::Result;
use crate::ids::Id;
use crate::looks::rules::Stage;
use crate::photos::rows as photos;
use chrono::{Days, NaiveDate, NaiveDateTime};
use rusqlite::Connection;
use serde_json::json;
use std::collections::HashMap;

/// Warmth of so many days to now stands for that of the next ones, where no more is known.
const WARMTH_DAYS: u64 = 3;
/// Growth tells of a look when its newest measure was taken so many days about it (our choice): a week before is
/// another pace, and three weeks on it is another flush.
const MEASURED_DAYS: std::ops::RangeInclusive<f64> = -7.0..=21.0;

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
        let warmth = Warmth::read(conn)?;
        Ok(Self { followed: followed(conn, &warmth)?, warmth, growth: growths(conn)? })
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
        let mean_dc = self.warmth.lately(seen);
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
    for sight in sights(conn, log)? {
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
        "mean_dc": ground.warmth.lately(day)});
    Ok(Some((Change::put("forecast", id, row), forecast)))
}

/// Daily means, tenths of °C.
#[derive(Debug, Clone, Default)]
pub struct Warmth(Vec<(NaiveDate, f64)>);

impl Warmth {
    /// Reads all days that are known.
    ///
    /// # Errors
    /// The register's own.
    pub fn read(conn: &Connection) -> Result<Self> {
        let mut list = conn.prepare_cached(
            "SELECT id, (min_dc + max_dc) / 2.0 FROM weather
             WHERE void = 0 AND min_dc IS NOT NULL AND max_dc IS NOT NULL ORDER BY id",
        )?;
        let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, f64>(1)?)))?;
        let rows: Vec<(String, f64)> = rows.collect::<rusqlite::Result<_>>()?;
        Ok(Self(rows.into_iter().filter_map(|(day, dc)| Some((day.parse().ok()?, dc))).collect()))
    }

    /// The mean of the days from one to another that are known.
    pub fn mean(&self, from: NaiveDate, to: NaiveDate) -> Option<f64> {
        let first = self.0.partition_point(|(day, _)| *day < from);
        let days = self.0[first..].iter().take_while(|(day, _)| *day <= to);
        let (n, sum) = days.fold((0.0, 0.0), |(n, sum), (_, dc)| (n + 1.0, sum + dc));
        (n > 0.0).then(|| sum / n)
    }

    /// The warmth to reckon with on a day, tenths of °C: the mean of the last three days that are known.
    pub fn lately(&self, today: NaiveDate) -> Option<i64> {
        let from = today.checked_sub_days(Days::new(WARMTH_DAYS)).unwrap_or(today);
        #[allow(clippy::cast_possible_truncation, reason = "tenths of a degree of weather")]
        self.mean(from, today).map(|dc| dc.round() as i64)
    }
}
