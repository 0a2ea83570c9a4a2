//! Whether the weather of a night suits slugs: a word and its reasons.
//! Never a day without weather: then nothing is said.
//! Invariant: each reason names the figure it looked at and whose word it is.

use crate::where_from::{Mark, WhereFrom};
use crate::words::words;
use serde_json::json;

/// Falling temperature starts activity between these, tenths of °C (Dainton 1954).
pub const DAINTON_DC: (i64, i64) = (40, 200);
/// They like it between these, tenths of °C (Oregon State slug portal).
pub const LIKED_DC: (i64, i64) = (40, 210);
/// Above this they stay in, tenths of °C (Oregon State slug portal).
pub const HOT_DC: i64 = 290;
/// Little wind: under 5 miles an hour, in tenths of km/h (Oregon State slug portal).
pub const WIND_TENTHS: i64 = 80;
/// Wet: a day with this much rain, tenths of mm (our choice).
pub const WET_TENTHS: i64 = 10;
/// Driving rain: a day with this much, tenths of mm (the source names it without a figure; the figure is ours).
pub const DRIVING_TENTHS: i64 = 300;
/// From the day's greatest to the night's least warmth: less is no fall worth the name (our choice).
pub const FALL_DC: i64 = 20;

/// The papers.
pub const DAINTON: &str = "Dainton 1954, Journal of Experimental Biology 31";
/// The papers.
pub const OREGON: &str = "Oregon State University, slug portal";

words! {
    /// How the night suits slugs.
    pub enum Suits {
        /// Not at all.
        Quiet = "quiet",
        /// In part.
        Some = "some",
        /// Well.
        Well = "well",
    }
}

/// A day's weather as far as it is known: tenths of °C, of mm and of km/h.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Day {
    /// The least warmth.
    pub min_dc: Option<i64>,
    /// The greatest warmth.
    pub max_dc: Option<i64>,
    /// Rain.
    pub rain_tenths: Option<i64>,
    /// Wind.
    pub wind_tenths: Option<i64>,
}

/// The answer for tonight.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct SlugWeather {
    /// The word.
    pub suits: Suits,
    /// Why, each with its figure and source. `how` is one of `slug_cold`, `slug_warm`, `slug_hot`,
    /// `slug_mild`, `slug_liked`, `slug_falling`, `slug_level`, `slug_wet`, `slug_dry`, `slug_driving`,
    /// `slug_still`, `slug_windy`.
    pub reasons: Vec<WhereFrom>,
    /// What is not known, of `rain` and `wind`.
    pub unknown: Vec<String>,
}

impl SlugWeather {
    /// Whether slugs are to be reckoned with: the night suits them, well or in part.
    pub fn is_slug_night(&self) -> bool {
        self.suits != Suits::Quiet
    }
}

/// How tonight suits slugs. `next`: the day after, whose least warmth is tonight's when it is known.
/// None without today's warmth: then there is nothing to say.
pub fn slug_weather(before: Day, today: Day, next: Day) -> Option<SlugWeather> {
    let (min, max) = (next.min_dc.or(today.min_dc)?, today.max_dc?);
    let mut reasons = Vec::new();
    let mut unknown = Vec::new();
    let warmth = warmth(min, max, &mut reasons);
    let mut good = 0;
    if max - min >= FALL_DC {
        good += 1;
        reasons.push(reason("slug_falling", DAINTON, "fall_dc", max - min));
    } else {
        reasons.push(reason("slug_level", DAINTON, "fall_dc", max - min));
    }
    match (today.rain_tenths, before.rain_tenths) {
        (Some(rain), _) if rain >= DRIVING_TENTHS => {
            good -= 2;
            reasons.push(reason("slug_driving", OREGON, "rain_tenths", rain));
        }
        (None, None) => unknown.push("rain".to_owned()),
        (a, b) => {
            let rain = a.unwrap_or(0) + b.unwrap_or(0);
            let wet = rain >= WET_TENTHS;
            good += i32::from(wet);
            reasons.push(reason(if wet { "slug_wet" } else { "slug_dry" }, OREGON, "rain_tenths", rain));
        }
    }
    match today.wind_tenths {
        None => unknown.push("wind".to_owned()),
        Some(wind) if wind <= WIND_TENTHS => {
            good += 1;
            reasons.push(reason("slug_still", OREGON, "wind_tenths", wind));
        }
        Some(wind) => reasons.push(reason("slug_windy", OREGON, "wind_tenths", wind)),
    }
    let suits = match (warmth, good) {
        (false, _) => Suits::Quiet,
        (true, i32::MIN..=0) => Suits::Quiet,
        (true, 1) => Suits::Some,
        (true, _) => Suits::Well,
    };
    Some(SlugWeather { suits, reasons, unknown })
}

/// Whether the night is neither too cold nor too warm; with the reason.
fn warmth(min: i64, max: i64, reasons: &mut Vec<WhereFrom>) -> bool {
    let (how, source, fine) = if min < DAINTON_DC.0 {
        ("slug_cold", DAINTON, false)
    } else if min <= DAINTON_DC.1 && max <= HOT_DC {
        ("slug_mild", DAINTON, true)
    } else if min <= LIKED_DC.1 && max <= HOT_DC {
        ("slug_liked", OREGON, true)
    } else if max > HOT_DC && min <= DAINTON_DC.1 {
        // A hot day with a mild night: they come when it has cooled.
        ("slug_mild", DAINTON, true)
    } else if min > HOT_DC {
        ("slug_hot", OREGON, false)
    } else {
        ("slug_warm", DAINTON, false)
    };
    reasons.push(reason(how, source, "night_dc", min));
    fine
}

fn reason(how: &str, source: &str, name: &str, value: i64) -> WhereFrom {
    WhereFrom::new(how, Mark::Published, source).with(name, json!(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(min: i64, max: i64, rain: i64, wind: i64) -> Day {
        Day { min_dc: Some(min), max_dc: Some(max), rain_tenths: Some(rain), wind_tenths: Some(wind) }
    }

    fn word(today: Day) -> Option<Suits> {
        slug_weather(Day::default(), today, Day::default()).map(|w| w.suits)
    }

    #[test]
    fn the_published_thresholds_are_the_rules_table() {
        // (least, greatest, rain, wind) → the word and the reason for the warmth.
        let table = [
            (39, 120, 50, 30, Suits::Quiet, "slug_cold"),
            (40, 120, 50, 30, Suits::Well, "slug_mild"),
            (200, 240, 50, 30, Suits::Well, "slug_mild"),
            (201, 240, 50, 30, Suits::Well, "slug_liked"),
            (210, 240, 50, 30, Suits::Well, "slug_liked"),
            (211, 240, 50, 30, Suits::Quiet, "slug_warm"),
            (291, 350, 50, 30, Suits::Quiet, "slug_hot"),
            (120, 130, 0, 200, Suits::Quiet, "slug_mild"),
            (120, 180, 0, 200, Suits::Some, "slug_mild"),
            (120, 180, 0, 80, Suits::Well, "slug_mild"),
            (120, 180, 0, 81, Suits::Some, "slug_mild"),
            (120, 180, 400, 81, Suits::Quiet, "slug_mild"),
            (120, 300, 50, 30, Suits::Well, "slug_mild"),
        ];
        for (min, max, rain, wind, suits, how) in table {
            let found = slug_weather(Day::default(), day(min, max, rain, wind), Day::default());
            let Some(found) = found else { unreachable!("the warmth is known") };
            assert_eq!(found.suits, suits, "{min} {max} {rain} {wind}");
            assert_eq!(found.reasons[0].how, how, "{min} {max}");
            assert!(found.reasons.iter().all(|r| r.mark == Mark::Published && !r.source.is_empty()));
        }
    }

    #[test]
    fn without_warmth_nothing_is_said_and_what_is_not_known_is_named() {
        assert_eq!(word(Day::default()), None);
        assert_eq!(word(Day { rain_tenths: Some(90), ..Day::default() }), None);
        let mild = Day { min_dc: Some(90), max_dc: Some(160), ..Day::default() };
        let Some(found) = slug_weather(Day::default(), mild, Day::default()) else { unreachable!("known") };
        assert_eq!((found.suits, found.unknown), (Suits::Some, vec!["rain".to_owned(), "wind".to_owned()]));
    }

    #[test]
    fn the_night_is_tomorrows_least_where_that_is_known() {
        let today = day(100, 180, 20, 20);
        let frost = Day { min_dc: Some(-10), ..Day::default() };
        assert_eq!(slug_weather(Day::default(), today, frost).map(|w| w.suits), Some(Suits::Quiet));
    }
}
