//! What a log's looks and pickings say of how long its caps took: fruitings followed from a stage to cupped, and how
//! kept forecasts came out. Worked out once for a log whose record changed, read for all in one go.
//! Never warmth, and never a forecast made.
//! Invariant: a fruiting counts from the first look that saw its stage, so that late looks do not shorten it.

use super::super::forecast::{Followed, Kept, usual_days};
use super::super::rules::is_ripe;
use super::fruiting::Warmth;
use crate::book::Moment;
use crate::error::Result;
use crate::looks::rules::Stage;
use crate::measure::whole;
use chrono::{NaiveDate, TimeDelta};
use rusqlite::{Connection, params};
use std::collections::HashMap;
use std::fmt::Write as _;

/// A fruiting not cupped after so many days is lost sight of, not slow.
pub const LOST_DAYS: f64 = 40.0;
/// A day in milliseconds.
pub const DAY_MS: f64 = 86_400_000.0;

/// A look or a picking of a log.
#[derive(Debug, Clone, Copy)]
pub struct Sight {
    /// The day it is about.
    pub day: NaiveDate,
    /// When: what was entered for an earlier day counts at its noon.
    pub ms: i64,
    /// None: a picking.
    pub stage: Option<Stage>,
}

/// A log's looks and pickings, in order of time.
///
/// # Errors
/// The register's own.
pub fn sights(conn: &Connection, log: &str) -> Result<Vec<Sight>> {
    let mut list = conn.prepare_cached(
        "SELECT e.day, e.at, e.zone, k.seen FROM entry e LEFT JOIN look k ON k.entry = e.id
         WHERE e.log = ?1 AND +e.kind IN ('look', 'picking') AND e.void = 0 ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([log], |r| {
        let (day, at, zone): (NaiveDate, i64, String) = (r.get(0)?, r.get(1)?, r.get(2)?);
        let written = Moment::from_parts(at, &zone);
        let noon = day.and_hms_opt(12, 0, 0).map_or(at, |noon| noon.and_utc().timestamp_millis());
        let ms = if written.day() == day { at } else { noon };
        let seen: Option<String> = r.get(3)?;
        let stage = seen.map(|word| Stage::of(&word).unwrap_or(Stage::Nothing));
        Ok(Sight { day, ms, stage })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Works out a log's `log_course` again.
///
/// # Errors
/// The register's own.
pub fn derive(conn: &Connection, log: &str) -> Result<()> {
    let sights = sights(conn, log)?;
    let (followed, forecasts) =
        if sights.is_empty() { (None, None) } else { (fruitings(&sights), outcomes(conn, log, &sights)?) };
    if followed.is_none() && forecasts.is_none() {
        conn.prepare_cached("DELETE FROM log_course WHERE log = ?1")?.execute([log])?;
    } else {
        conn.prepare_cached(
            "INSERT OR REPLACE INTO log_course(log, followed, forecasts) VALUES (?1, ?2, ?3)",
        )?
        .execute(params![log, followed, forecasts])?;
    }
    Ok(())
}

/// Each fruiting followed to its end: `stage:milliseconds:first day:last day`.
fn fruitings(sights: &[Sight]) -> Option<String> {
    let mut text = String::new();
    let mut open: HashMap<Stage, Sight> = HashMap::new();
    for sight in sights {
        match sight.stage {
            Some(Stage::Nothing) => open.clear(),
            Some(stage) if usual_days(stage).is_some() => {
                open.entry(stage).or_insert(*sight);
            }
            _ => {
                for stage in Stage::ALL {
                    let Some(first) = open.remove(stage) else { continue };
                    let took = sight.ms - first.ms;
                    if (0.0..=LOST_DAYS).contains(&(took as f64 / DAY_MS)) {
                        let days = [first.day, sight.day].map(number);
                        let _ = write!(text, "{}:{took}:{}:{} ", stage.word(), days[0], days[1]);
                    }
                }
            }
        }
    }
    written(text)
}

/// Each forecast kept with a look that still stands, found from the log (`CROSS JOIN` keeps that order, and a plus
/// keeps the index of kinds out: a yard's whole forecasts are many): `day:low:mid:high:day cupped`, the last empty while it is open.
/// Caps are cupped by the first later look that says so, or the first picking.
fn outcomes(conn: &Connection, log: &str, sights: &[Sight]) -> Result<Option<String>> {
    let mut list = conn.prepare_cached(
        "SELECT e.day, e.at, f.low_tenths, f.mid_tenths, f.high_tenths
         FROM entry e CROSS JOIN forecast f ON f.entry = e.id CROSS JOIN entry k ON k.id = f.look
         WHERE e.log = ?1 AND +e.kind = 'forecast' AND e.void = 0 AND k.void = 0 ORDER BY e.day, e.at, e.id",
    )?;
    let mut rows = list.query([log])?;
    let mut text = String::new();
    while let Some(r) = rows.next()? {
        let (seen, at): (NaiveDate, i64) = (r.get(0)?, r.get(1)?);
        let tenths: [i64; 3] = [r.get(2)?, r.get(3)?, r.get(4)?];
        let later = &sights[sights.partition_point(|s| s.day < seen)..];
        let end = later.iter().filter(|s| s.ms > at).find(|s| {
            (s.day - seen).num_days() as f64 > LOST_DAYS
                || s.stage == Some(Stage::Nothing)
                || s.stage.is_none_or(is_ripe)
        });
        let cupped =
            end.filter(|s| (s.day - seen).num_days() as f64 <= LOST_DAYS && s.stage.is_none_or(is_ripe));
        let [low, mid, high] = tenths;
        let _ = write!(text, "{}:{low}:{mid}:{high}:", number(seen));
        if let Some(cupped) = cupped {
            let _ = write!(text, "{}", number(cupped.day));
        }
        text.push(' ');
    }
    Ok(written(text))
}

fn written(text: String) -> Option<String> {
    let text = text.trim_end();
    (!text.is_empty()).then(|| text.to_owned())
}

/// Fruitings of the whole yard, by stage and length: an order that no other can depend on.
///
/// # Errors
/// The register's own.
pub fn followed(conn: &Connection, warmth: &Warmth) -> Result<Vec<Followed>> {
    let mut found: Vec<Followed> = Vec::new();
    texts(conn, "SELECT followed FROM log_course WHERE followed IS NOT NULL ORDER BY log", |text| {
        // What cannot be read is left out.
        found.extend(text.split(|b| *b == b' ').filter_map(|word| {
            let mut parts = word.split(|b| *b == b':');
            let stage = Stage::of(std::str::from_utf8(parts.next()?).ok()?)?;
            let took = next(&mut parts)?;
            let (first, last) = (day(next(&mut parts)?), day(next(&mut parts)?));
            Some(Followed { stage, days: took as f64 / DAY_MS, mean_dc: warmth.mean(first, last) })
        }));
    })?;
    found.sort_by(|a, b| {
        (a.stage, a.days).partial_cmp(&(b.stage, b.days)).unwrap_or(std::cmp::Ordering::Equal)
    });
    Ok(found)
}

/// Forecasts that were kept with looks that still stand, log by log: all, or those of looks of a span of days.
///
/// # Errors
/// The register's own.
pub fn kept(conn: &Connection, within: Option<(NaiveDate, NaiveDate)>) -> Result<Vec<Kept>> {
    let (first, last) = within.map_or((i64::MIN, i64::MAX), |(first, last)| (number(first), number(last)));
    let mut found = Vec::new();
    texts(conn, "SELECT forecasts FROM log_course WHERE forecasts IS NOT NULL ORDER BY log", |text| {
        // The newest stand last, and before the first day none is asked for.
        let days = text.rsplit(|b| *b == b' ').map(|word| word.split(|b| *b == b':'));
        let mine = days.filter_map(|mut parts| Some((next(&mut parts)?, parts)));
        found.extend(
            mine.take_while(|(seen, _)| first <= *seen).filter(|(seen, _)| *seen <= last).filter_map(
                |(seen, mut parts)| {
                    let tenths = (next(&mut parts)?, next(&mut parts)?, next(&mut parts)?);
                    Some(Kept { seen: day(seen), tenths, cupped: next(&mut parts).map(day) })
                },
            ),
        );
    })?;
    Ok(found)
}

/// Hands over the texts of a column, row by row.
fn texts(conn: &Connection, sql: &str, mut read: impl FnMut(&[u8])) -> Result<()> {
    let mut list = conn.prepare_cached(sql)?;
    let mut rows = list.query([])?;
    while let Some(r) = rows.next()? {
        read(r.get_ref(0)?.as_bytes().unwrap_or_default());
    }
    Ok(())
}

fn next<'a>(parts: &mut impl Iterator<Item = &'a [u8]>) -> Option<i64> {
    parts.next().and_then(whole)
}

/// Days since 1 January 1970.
fn number(day: NaiveDate) -> i64 {
    (day - NaiveDate::default()).num_days()
}

fn day(number: i64) -> NaiveDate {
    TimeDelta::try_days(number)
        .and_then(|days| NaiveDate::default().checked_add_signed(days))
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sight(on: i64, hour: i64, stage: Option<Stage>) -> Sight {
        Sight { day: day(on), ms: (on * 24 + hour) * 3_600_000, stage }
    }

    #[test]
    fn a_fruiting_runs_from_the_first_look_at_its_stage_to_the_first_that_is_ripe_or_the_picking() {
        let seen = [
            sight(100, 8, Some(Stage::Pin)),
            sight(101, 8, Some(Stage::Pin)),
            sight(103, 8, Some(Stage::Button)),
            sight(105, 20, Some(Stage::Cupped)),
            sight(106, 8, None),
            sight(200, 8, Some(Stage::Pin)),
            sight(202, 8, Some(Stage::Nothing)),
            sight(203, 8, None),
            sight(300, 8, Some(Stage::Button)),
            sight(341, 8, None),
        ];
        let hours = |n: i64| n * 3_600_000;
        let told = format!("pin:{}:100:105 button:{}:103:105", hours(5 * 24 + 12), hours(2 * 24 + 12));
        assert_eq!(
            fruitings(&seen).as_deref(),
            Some(told.as_str()),
            "what went away or took 41 days is none"
        );
        assert_eq!(fruitings(&[sight(5, 9, None)]), None);
    }
}
