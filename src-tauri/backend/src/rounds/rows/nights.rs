//! Reading the weather of nights: as it is known now, or as it was known when a round began.
//! Never what it means for slugs: that is a rule.
//! Invariant: weather typed in while a round is walked changes nothing about that round.

use super::super::slug_weather::{Day, SlugWeather, slug_weather};
use super::Round;
use crate::error::Result;
use chrono::{Days, NaiveDate};
use rusqlite::{Connection, OptionalExtension, params};

/// How the night of `evening` suits slugs by all weather that is known.
///
/// # Errors
/// The register's own.
pub fn night(conn: &Connection, evening: NaiveDate) -> Result<Option<SlugWeather>> {
    by(evening, |day| weather(conn, day))
}

/// How the night of a round suits slugs by the weather that was known when it began; of one that is in no table
/// yet, by all that is known.
///
/// # Errors
/// The register's own.
pub fn night_when_begun(conn: &Connection, round: &Round) -> Result<Option<SlugWeather>> {
    let sql = "SELECT min(stamp) FROM field WHERE thing = ?1 AND name = 'started'";
    let begun: Option<String> = conn.prepare_cached(sql)?.query_row([&round.id], |r| r.get(0))?;
    match begun {
        Some(begun) => by(round.day, |day| weather_until(conn, day, &begun)),
        None => night(conn, round.day),
    }
}

fn by(evening: NaiveDate, read: impl Fn(NaiveDate) -> Result<Day>) -> Result<Option<SlugWeather>> {
    let one = Days::new(1);
    let day = |day: Option<NaiveDate>| day.map(&read).transpose().map(Option::unwrap_or_default);
    let (before, next) = (day(evening.checked_sub_days(one))?, day(evening.checked_add_days(one))?);
    Ok(slug_weather(before, read(evening)?, next))
}

/// A day's weather as far as it is known.
fn weather(conn: &Connection, day: NaiveDate) -> Result<Day> {
    let sql = "SELECT min_dc, max_dc, rain_tenths, wind_tenths FROM weather WHERE id = ?1 AND void = 0";
    let found = conn
        .prepare_cached(sql)?
        .query_row(params![day.to_string()], |r| {
            Ok(Day { min_dc: r.get(0)?, max_dc: r.get(1)?, rain_tenths: r.get(2)?, wind_tenths: r.get(3)? })
        })
        .optional()?;
    Ok(found.unwrap_or_default())
}

/// A day's weather by what was written before a stamp.
fn weather_until(conn: &Connection, day: NaiveDate, stamp: &str) -> Result<Day> {
    let mut newest = conn.prepare_cached(
        "SELECT value FROM field WHERE thing = ?1 AND name = ?2 AND stamp < ?3 ORDER BY stamp DESC, device DESC LIMIT 1",
    )?;
    let day = day.to_string();
    let mut value = |name: &str| -> Result<Option<i64>> {
        Ok(newest.query_row(params![day, name, stamp], |r| r.get(0)).optional()?.flatten())
    };
    if value("void")? == Some(1) {
        return Ok(Day::default());
    }
    Ok(Day {
        min_dc: value("min_dc")?,
        max_dc: value("max_dc")?,
        rain_tenths: value("rain_tenths")?,
        wind_tenths: value("wind_tenths")?,
    })
}
