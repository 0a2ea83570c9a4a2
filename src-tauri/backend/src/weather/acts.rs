//! Commands about weather: a day typed in, a station's file tried and taken, the days shown.
//! Never fetches anything.
//! Invariant: a file is taken whole or not at all, and never over what the grower typed, unless he says so.

use super::rows;
use super::rules::ghcn::{self, FileUnits, Found, Layout, LineLeftOut};
use super::rules::{self, Day};
use crate::book::{Book, Change, Done, Intent, Plan, revived};
use crate::error::{Error, Result};
use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::BTreeMap;
use ts_rs::TS;

/// Longest file, bytes: a hundred years of a station.
const FILE_MAX: usize = 40_000_000;
/// Days taken at once: ten years.
const DAYS_MAX: usize = 3700;
/// Lines named of those left out.
const NAMED: usize = 40;
/// Days back that are shown.
const SHOWN_DAYS: u64 = 60;

/// Types in a day's weather; what is null is not known.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeatherSet {
    /// The day; up to a week ahead, as a forecast from elsewhere says.
    pub day: NaiveDate,
    /// Lowest, tenths of °C.
    #[ts(optional = nullable)]
    pub min_dc: Option<i64>,
    /// Highest, tenths of °C.
    #[ts(optional = nullable)]
    pub max_dc: Option<i64>,
    /// Rain, tenths of mm.
    #[ts(optional = nullable)]
    pub rain_tenths: Option<i64>,
    /// Wind, tenths of km/h.
    #[ts(optional = nullable)]
    pub wind_tenths: Option<i64>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `weather_set`
///
/// # Errors
/// `Invalid`, naming the field.
pub fn weather_set(book: &Book, ask: WeatherSet) -> Result<Done> {
    let day = Day {
        day: ask.day,
        min_dc: ask.min_dc,
        max_dc: ask.max_dc,
        rain_tenths: ask.rain_tenths,
        wind_tenths: ask.wind_tenths,
        source: Some(rules::TYPED.to_owned()),
    };
    let day = day.checked(book.moment().day())?;
    let intent = Intent { name: "weather_set", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let said = json!({"day": day.day, "min_dc": day.min_dc, "max_dc": day.max_dc,
            "rain_tenths": day.rain_tenths, "wind_tenths": day.wind_tenths});
        Ok(Plan::new(revived(conn, changes(&day, None))?, said))
    })
}

/// The fields of a day that differ from what stands.
fn changes(day: &Day, stands: Option<&Day>) -> Vec<Change> {
    let id = day.day.to_string();
    let blank = Day::blank(day.day, "");
    let old = stands.unwrap_or(&blank);
    let fields = [
        ("min_dc", json!(day.min_dc), json!(old.min_dc)),
        ("max_dc", json!(day.max_dc), json!(old.max_dc)),
        ("rain_tenths", json!(day.rain_tenths), json!(old.rain_tenths)),
        ("wind_tenths", json!(day.wind_tenths), json!(old.wind_tenths)),
        ("source", json!(day.source), json!(old.source)),
    ];
    let keep = |new: &serde_json::Value, old: &serde_json::Value| stands.is_none() || new != old;
    fields
        .into_iter()
        .filter(|(_, new, old)| keep(new, old))
        .map(|(name, new, _)| Change::set("weather", &id, name, new))
        .collect()
}

/// Asks what a station's file says.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeatherTry {
    /// The file's text.
    pub text: String,
    /// What its figures are in; null: tenths, as the archive keeps them.
    #[ts(optional = nullable)]
    pub units: Option<FileUnits>,
    /// Take no day before this; null: three years back.
    #[ts(optional = nullable)]
    pub from: Option<NaiveDate>,
}

/// What a station's file says, before anything is taken.
#[derive(Debug, Serialize, TS)]
pub struct WeatherTried {
    /// How it is laid out.
    pub layout: Layout,
    /// The station.
    pub station: String,
    /// The units its figures were read in.
    pub units: FileUnits,
    /// The values cannot be in these units: say in which they are.
    pub ask_units: bool,
    /// Days with impossible values, the first few.
    pub impossible: Vec<NaiveDate>,
    /// Days in the file.
    pub days: usize,
    /// The first day that would be taken.
    pub first: Option<NaiveDate>,
    /// The last.
    pub last: Option<NaiveDate>,
    /// Days that would be taken.
    pub take: usize,
    /// Of these, days that stand in the register with the same values.
    pub same: usize,
    /// Of these, days that stand with other values from a file: they are replaced.
    pub replaced: usize,
    /// Days typed by hand with other values: they stay, unless `over_typed`.
    pub typed: usize,
    /// Values that failed the source's quality check.
    pub flagged: usize,
    /// Values that stood twice and alike.
    pub twice: usize,
    /// Lines left out.
    pub left_out: usize,
    /// The first of them.
    pub lines: Vec<LineLeftOut>,
    /// A few days as they would be taken.
    pub sample: Vec<Day>,
}

/// `weather_try`: nothing is written.
///
/// # Errors
/// `Invalid` on `text` when it is in no known layout.
pub fn weather_try(book: &Book, ask: WeatherTry) -> Result<WeatherTried> {
    let units = ask.units.unwrap_or(FileUnits::Tenths);
    let found = read(&ask.text, units)?;
    let from = from(book, ask.from);
    let (typed, replaced, same) = book.read(|conn| against(conn, &found, from))?;
    let taken: Vec<&Day> = found.days.iter().filter(|d| d.day >= from).collect();
    Ok(WeatherTried {
        layout: found.layout,
        station: found.station.clone(),
        units,
        ask_units: asks_units(&found, units),
        impossible: found.impossible.iter().take(NAMED).copied().collect(),
        days: found.days.len(),
        first: taken.first().map(|d| d.day),
        last: taken.last().map(|d| d.day),
        take: taken.len(),
        same,
        replaced,
        typed,
        flagged: found.flagged,
        twice: found.twice,
        left_out: found.left_out.len(),
        lines: found.left_out.iter().take(NAMED).cloned().collect(),
        sample: taken.iter().rev().take(7).rev().map(|d| (*d).clone()).collect(),
    })
}

fn read(text: &str, units: FileUnits) -> Result<Found> {
    if text.len() > FILE_MAX {
        return Err(Error::invalid_with("text", "too_long", json!({"max": FILE_MAX})));
    }
    ghcn::read(text, units).ok_or_else(|| Error::invalid("text", "no_weather"))
}

/// Impossible values ask for the unit, and so do decimals in a file said to hold whole tenths.
fn asks_units(found: &Found, units: FileUnits) -> bool {
    !found.impossible.is_empty() || (units == FileUnits::Tenths && found.decimals > 0)
}

fn from(book: &Book, from: Option<NaiveDate>) -> NaiveDate {
    let today = book.moment().day();
    from.unwrap_or_else(|| today.with_year(today.year() - 3).unwrap_or(today))
}

/// Days that differ from typed ones, that replace a file's, that are the same.
fn against(conn: &rusqlite::Connection, found: &Found, from: NaiveDate) -> Result<(usize, usize, usize)> {
    let known = standing(conn, found, from)?;
    let (mut typed, mut replaced, mut same) = (0, 0, 0);
    for day in found.days.iter().filter(|d| d.day >= from) {
        match known.get(&day.day) {
            Some(stands) if stands.says_as(day) => same += 1,
            Some(stands) if stands.source.as_deref() == Some(rules::TYPED) => typed += 1,
            Some(_) => replaced += 1,
            None => {}
        }
    }
    Ok((typed, replaced, same))
}

fn standing(conn: &rusqlite::Connection, found: &Found, from: NaiveDate) -> Result<BTreeMap<NaiveDate, Day>> {
    let last = found.days.last().map_or(from, |d| d.day);
    Ok(rows::between(conn, from, last.max(from))?.into_iter().map(|d| (d.day, d)).collect())
}

/// Takes a station's file in.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeatherTake {
    /// The file's text.
    pub text: String,
    /// What its figures are in.
    pub units: FileUnits,
    /// Take no day before this; null: three years back.
    #[ts(optional = nullable)]
    pub from: Option<NaiveDate>,
    /// Also over what was typed by hand.
    pub over_typed: bool,
    /// Makes a double tap one act.
    pub request: String,
}

/// `weather_take`: the whole file in one act.
///
/// # Errors
/// `Invalid`: no known layout, impossible values, or nothing new in it.
pub fn weather_take(book: &Book, ask: WeatherTake) -> Result<Done> {
    let found = read(&ask.text, ask.units)?;
    if asks_units(&found, ask.units) {
        return Err(Error::invalid("units", "impossible"));
    }
    let from = from(book, ask.from);
    let intent = Intent { name: "weather_take", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let known = standing(conn, &found, from)?;
        let mut all = Vec::new();
        let mut n = 0_usize;
        for day in found.days.iter().filter(|d| d.day >= from) {
            let stands = known.get(&day.day);
            let typed = stands.is_some_and(|s| s.source.as_deref() == Some(rules::TYPED));
            if stands.is_some_and(|s| s.says_as(day)) || (typed && !ask.over_typed) {
                continue;
            }
            n += 1;
            all.extend(changes(day, stands));
        }
        if n == 0 {
            return Err(Error::conflict("nothing_new", json!({})));
        }
        if n > DAYS_MAX {
            return Err(Error::invalid_with("from", "too_many_days", json!({"max": DAYS_MAX, "days": n})));
        }
        Ok(Plan::new(revived(conn, all)?, json!({"n": n, "station": found.station})))
    })
}

/// Asks for the days' weather.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeatherShow {}

/// The last days, and those ahead that were typed in.
#[derive(Debug, Serialize, TS)]
pub struct WeatherView {
    /// The local day.
    pub today: NaiveDate,
    /// Newest first.
    pub days: Vec<Day>,
    /// Days in the register.
    pub total: i64,
    /// The first of them.
    pub first: Option<NaiveDate>,
    /// The last.
    pub last: Option<NaiveDate>,
    /// Rain of the last seven days in the open, tenths of mm; null: fewer than five of them are known.
    pub week_tenths: Option<i64>,
    /// Tonight's low, tenths of °C.
    pub low_dc: Option<i64>,
}

/// `weather_show`
///
/// # Errors
/// The register's own.
pub fn weather_show(book: &Book, _: WeatherShow) -> Result<WeatherView> {
    let today = book.moment().day();
    book.read(|conn| {
        let from = today.checked_sub_days(Days::new(SHOWN_DAYS)).unwrap_or(today);
        let to = today.checked_add_days(Days::new(rules::AHEAD_DAYS.unsigned_abs())).unwrap_or(today);
        let mut days = rows::between(conn, from, to)?;
        let (total, first, last) = rows::span(conn)?;
        let open =
            crate::moisture::rules::dry::drought(&days, Some(crate::moisture::rules::RainReach::All), today);
        let low_dc = rules::tonights_low(&days, today);
        days.reverse();
        Ok(WeatherView { today, days, total, first, last, week_tenths: open.map(|d| d.week_tenths), low_dc })
    })
}
