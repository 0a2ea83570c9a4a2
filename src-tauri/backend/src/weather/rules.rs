//! What a day's weather can be, and when a night brings frost.
//! Never a file's layout: `rules/ghcn` reads those.
//! Invariant: a value that is not known is `None`; 0 mm is a dry day.

pub mod ghcn;

use crate::due::{Chore, Due, Tap, Urgency};
use crate::error::{Error, Result};
use crate::logs::rules::known::Known;
use crate::measure::Bounds;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, NaiveDate};
use serde_json::json;

/// Air, tenths of °C: a little beyond what was ever measured on Earth.
pub const AIR_DC: Bounds = Bounds { min: -900, max: 600, unit: "tenths_c" };
/// Rain in a day, tenths of mm: a little beyond the most ever measured.
pub const RAIN_TENTHS: Bounds = Bounds { min: 0, max: 20_000, unit: "tenths_mm" };
/// Wind, tenths of km/h.
pub const WIND_TENTHS: Bounds = Bounds { min: 0, max: 5000, unit: "tenths_kmh" };
/// Typed days ahead: what a forecast from elsewhere is good for.
pub const AHEAD_DAYS: i64 = 7;
/// What a day was typed by hand is kept as.
pub const TYPED: &str = "typed";
/// A low at or below this is frost, tenths of °C (0 °C: the definition of frost).
pub const FROST_DC: i64 = 0;

/// One day.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "WeatherDay")]
pub struct Day {
    /// The day.
    pub day: NaiveDate,
    /// Lowest, tenths of °C.
    pub min_dc: Option<i64>,
    /// Highest, tenths of °C.
    pub max_dc: Option<i64>,
    /// Rain, tenths of mm; 0: a dry day.
    pub rain_tenths: Option<i64>,
    /// Wind, tenths of km/h.
    pub wind_tenths: Option<i64>,
    /// `typed`, or the station it was read from.
    pub source: Option<String>,
}

impl Day {
    /// A day of which nothing is known yet.
    pub fn blank(day: NaiveDate, source: &str) -> Self {
        let source = Some(source.to_owned());
        Self { day, min_dc: None, max_dc: None, rain_tenths: None, wind_tenths: None, source }
    }

    /// Whether nothing is known of it.
    pub fn is_blank(&self) -> bool {
        (self.min_dc, self.max_dc, self.rain_tenths, self.wind_tenths) == (None, None, None, None)
    }

    /// Whether it says the same as another day's row.
    pub fn says_as(&self, other: &Self) -> bool {
        let said = |d: &Self| (d.min_dc, d.max_dc, d.rain_tenths, d.wind_tenths);
        said(self) == said(other)
    }

    /// Values outside what Earth's weather can be, as (field, value).
    pub fn impossible(&self) -> Vec<(&'static str, i64)> {
        let mut found = Vec::new();
        let fields: [(&'static str, Option<i64>, Bounds); 4] = [
            ("min_dc", self.min_dc, AIR_DC),
            ("max_dc", self.max_dc, AIR_DC),
            ("rain_tenths", self.rain_tenths, RAIN_TENTHS),
            ("wind_tenths", self.wind_tenths, WIND_TENTHS),
        ];
        for (name, value, bounds) in fields {
            if let Some(value) = value.filter(|v| !(bounds.min..=bounds.max).contains(v)) {
                found.push((name, value));
            }
        }
        if let (Some(min), Some(max)) = (self.min_dc, self.max_dc)
            && min > max
        {
            found.push(("max_dc", max));
        }
        found
    }

    /// The day itself, or what cannot be true of it.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(self, today: NaiveDate) -> Result<Self> {
        if (self.day - today).num_days() > AHEAD_DAYS {
            return Err(Error::invalid_with("day", "too_far", json!({"days": AHEAD_DAYS})));
        }
        if self.is_blank() {
            return Err(Error::invalid("weather", "empty"));
        }
        if let (Some(min), Some(max)) = (self.min_dc, self.max_dc)
            && min > max
        {
            return Err(Error::invalid_with("max_dc", "order", json!({"other": "min_dc"})));
        }
        self.min_dc.map(|v| AIR_DC.check("min_dc", v)).transpose()?;
        self.max_dc.map(|v| AIR_DC.check("max_dc", v)).transpose()?;
        self.rain_tenths.map(|v| RAIN_TENTHS.check("rain_tenths", v)).transpose()?;
        self.wind_tenths.map(|v| WIND_TENTHS.check("wind_tenths", v)).transpose()?;
        Ok(self)
    }
}

/// Tonight's low, tenths of °C: the lower of what stands for today and for tomorrow, as a night has both.
pub fn tonights_low(days: &[Day], today: NaiveDate) -> Option<i64> {
    let tomorrow = today.checked_add_days(Days::new(1))?;
    days.iter().filter(|d| d.day == today || d.day == tomorrow).filter_map(|d| d.min_dc).min()
}

/// The mean of the known days' middles in the week up to today, tenths of °C; `None` with fewer than four.
pub fn week_mean(days: &[Day], today: NaiveDate) -> Option<i64> {
    let week = days.iter().filter(|d| d.day <= today && (today - d.day).num_days() < 7);
    let middles: Vec<i64> = week.filter_map(|d| Some(i64::midpoint(d.min_dc?, d.max_dc?))).collect();
    let n = i64::try_from(middles.len()).ok()?;
    (n >= 4).then(|| middles.iter().sum::<i64>() / n)
}

/// Frost tonight, when something would freeze: caps in the open, or logs in the tank.
pub fn dues(logs: &[Known], days: &[Day], today: NaiveDate) -> Option<Due> {
    let low = tonights_low(days, today).filter(|low| *low <= FROST_DC)?;
    let caps: Vec<&Known> = logs
        .iter()
        .filter(|l| !l.heated && crate::logs::rules::caps_out(&l.facts, today).is_some())
        .collect();
    let tank = logs.iter().filter(|log| log.in_tank).count();
    if caps.is_empty() && tank == 0 {
        return None;
    }
    let from = WhereFrom::new("frost", Mark::Own, "").with("low_dc", low);
    let tap = match (caps.as_slice(), tank) {
        ([one, ..], 0) => Tap::screen("picking", &[("log", &one.id)]),
        _ => Tap::screen("tank", &[]),
    };
    let mut due = Due::new(format!("frost:{today}"), Chore::Frost, Urgency::Now, from, tap)
        .with("low_dc", low)
        .with("tank", tank)
        .since(Some(today));
    due.logs = caps.iter().map(|log| log.due()).collect();
    Some(due)
}
