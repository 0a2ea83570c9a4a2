//! What a setting may be.
//! Never reads one.
//! Invariant: a place has both a latitude and a longitude, or neither.

use crate::error::{Error, Result};
use crate::words::words;
use serde_json::json;

words! {
    /// Which light this device shows.
    pub enum Light {
        /// As the device is set.
        System = "system",
        /// For the day.
        Day = "day",
        /// For the night: red only.
        Lamp = "lamp",
    }
}

words! {
    /// What figures are shown in; the register keeps SI.
    pub enum Units {
        /// g, kg, cm, mm, °C.
        Metric = "metric",
        /// oz, lb, in, °F.
        Us = "us",
    }
}

words! {
    /// How old a log is before its first soak.
    pub enum Forcing {
        /// A full year (University of Kentucky FOR-85).
        Careful = "careful",
        /// Wide-range strains 6 to 8 months (common practice), the others a full year.
        Quick = "quick",
    }
}

/// What is set for the yard.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The grower's name for the place; may be empty.
    pub place: String,
    /// Latitude and longitude, degrees, north and east positive.
    pub at: Option<(f64, f64)>,
    /// Minutes from dark to the night round.
    pub night_after_min: i64,
    /// What figures are shown in.
    pub units: Units,
    /// How old a log is before its first soak.
    pub forcing: Forcing,
    /// Month and day a season begins on, `MM-DD`; `None`: as the hemisphere has it.
    pub season_first: Option<String>,
    /// Pickings of one log less than so many days apart, with no soak between, are one flush.
    pub flush_gap_days: i64,
}

/// The first day of the season's year: 1 January in the north, 1 July in the south (chosen: the middle of the
/// cold, when nothing grows).
pub fn usual_first(southern: bool) -> &'static str {
    if southern { "07-01" } else { "01-01" }
}

/// A month and day, or what is wrong with it. 29 February is none: not every year has it.
///
/// # Errors
/// `Invalid` on `season_first`.
pub fn season_first(text: Option<&str>) -> Result<Option<String>> {
    let Some(text) = text.map(str::trim).filter(|t| !t.is_empty()) else { return Ok(None) };
    let whole = text.len() == 5 && format!("2023-{text}").parse::<chrono::NaiveDate>().is_ok();
    if whole { Ok(Some(text.to_owned())) } else { Err(Error::invalid("season_first", "not_a_date")) }
}

/// Minutes from dark to the night round: a couple of hours (common practice, no source).
pub const NIGHT_AFTER_MIN: i64 = 120;

/// Millionths of a degree: whole numbers, about 11 cm.
pub const PER_DEGREE: f64 = 1e6;

/// A place in millionths of a degree, north and east positive; `None` when none is given.
///
/// # Errors
/// `Invalid` on `lat` or `lon`: out of range, or the other one is missing.
pub fn place(lat: Option<f64>, lon: Option<f64>) -> Result<Option<(i64, i64)>> {
    match (lat, lon) {
        (None, None) => Ok(None),
        (Some(_), None) => Err(Error::invalid("lon", "empty")),
        (None, Some(_)) => Err(Error::invalid("lat", "empty")),
        (Some(lat), Some(lon)) => Ok(Some((within("lat", lat, 90)?, within("lon", lon, 180)?))),
    }
}

fn within(field: &str, degrees: f64, most: i64) -> Result<i64> {
    let millionths = (degrees * PER_DEGREE).round();
    if degrees.is_nan() || degrees.abs() > most as f64 {
        return Err(Error::invalid_with(
            field,
            "range",
            json!({"min": -most, "max": most, "unit": "degrees"}),
        ));
    }
    #[allow(clippy::cast_possible_truncation, reason = "bounded above: at most 180 million")]
    Ok(millionths as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_has_both_numbers_or_neither() {
        assert_eq!(place(Some(46.05), Some(-14.5)).ok().flatten(), Some((46_050_000, -14_500_000)));
        assert!(place(None, None).is_ok_and(|p| p.is_none()));
        assert!(place(Some(1.0), None).is_err());
        assert!(place(Some(90.1), Some(0.0)).is_err());
        assert!(place(Some(f64::NAN), Some(0.0)).is_err());
    }
}
