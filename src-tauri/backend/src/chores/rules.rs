//! When tonight's round is due.
//! Never a list of its own: each room says what is due in it.
//! Invariant: without a place there is no time, and that is said.

use crate::settings::rules::Settings;
use crate::sun::rules::{NoDusk, tonight as sun_tonight};
use chrono::{DateTime, FixedOffset, NaiveDate, SecondsFormat};

/// Tonight's times, RFC 3339 with the local offset.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Tonight {
    /// The grower's name for the place.
    pub place: Option<String>,
    /// Sunset.
    pub sunset: Option<String>,
    /// End of civil twilight: the sun 6° down.
    pub dark: Option<String>,
    /// When the round is due: some time after dark.
    pub go: Option<String>,
    /// Minutes from dark to the round.
    pub after_min: i64,
    /// Why there is no time.
    pub why: Option<NoDusk>,
}

/// The times of `evening` at the yard's place, by a clock `offset_min` minutes east of UTC.
pub fn tonight(settings: &Settings, evening: NaiveDate, offset_min: i32) -> Tonight {
    let place = Some(settings.place.clone()).filter(|p| !p.is_empty());
    let after_min = settings.night_after_min;
    let text =
        |time: Option<DateTime<FixedOffset>>| time.map(|t| t.to_rfc3339_opts(SecondsFormat::Secs, false));
    let found = settings.at.and_then(|(lat, lon)| sun_tonight(lat, lon, evening, offset_min, after_min));
    match found {
        Some(sky) => Tonight {
            place,
            sunset: text(sky.sunset),
            dark: text(sky.dark),
            go: text(sky.go),
            after_min,
            why: sky.why,
        },
        None => Tonight { place, sunset: None, dark: None, go: None, after_min, why: Some(NoDusk::NoPlace) },
    }
}
