//! What a grower measures and how far it can be trusted: rough dates, log volume, bounds, tag order.
//! Never SQL, a clock or words for the screen; never a rule about one kind of thing.
//! Invariant: a rough date is never made more exact than it was written; it only has a first and a last day.

use crate::error::{Error, Result};
use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::{cmp::Ordering, fmt};

/// Years a date may name.
pub const YEARS: Bounds = Bounds { min: 1900, max: 2199, unit: "year" };
/// A log's diameter, mm. Common practice is 76–203 mm; totem sections and twigs are let in.
pub const DIAMETER_MM: Bounds = Bounds { min: 20, max: 1000, unit: "mm" };
/// A log's length, mm: from a totem's top slice to a whole stem.
pub const LENGTH_MM: Bounds = Bounds { min: 50, max: 5000, unit: "mm" };
/// One picking's weight, g. A picking of 0 g picked nothing, so it is refused, not kept as a picking.
pub const GRAMS: Bounds = Bounds { min: 1, max: 50_000, unit: "g" };
/// Caps in one picking.
pub const CAPS: Bounds = Bounds { min: 0, max: 5000, unit: "caps" };
/// Share of a picking that something had eaten, per cent.
pub const DAMAGED_PCT: Bounds = Bounds { min: 0, max: 100, unit: "%" };
/// Slugs taken off one log in one round.
pub const SLUGS: Bounds = Bounds { min: 0, max: 999, unit: "slugs" };
/// Minutes after dark at which the night round is due.
pub const NIGHT_AFTER_MIN: Bounds = Bounds { min: 0, max: 480, unit: "min" };
/// Days between pickings of one log that part two flushes: from a few, within which caps of one flush ripen, to three
/// months, by which the longest published rest (ten weeks, University of Kentucky FOR-85) is over.
pub const FLUSH_GAP_DAYS: Bounds = Bounds { min: 5, max: 90, unit: "days" };
/// Diameters one log can have: an end, both ends, or both ends and the middle.
pub const DIAMETERS_MAX: usize = 3;
/// Longest note, characters.
pub const NOTE_CHARS: usize = 4000;
/// Longest tag, characters.
pub const TAG_CHARS: usize = 24;
/// Longest name of a place, a spot or a strain, characters.
pub const NAME_CHARS: usize = 60;

/// A number of so many figures is never too large for 64 bits.
const MOST_FIGURES: usize = 18;

/// A whole number in figures; none where anything else stands.
pub fn whole(text: &[u8]) -> Option<i64> {
    let (sign, figures) = match text {
        [b'-', rest @ ..] => (-1, rest),
        _ => (1, text),
    };
    if figures.is_empty() || figures.len() > MOST_FIGURES {
        return None;
    }
    let mut n = 0;
    for b in figures {
        if !b.is_ascii_digit() {
            return None;
        }
        n = n * 10 + i64::from(b - b'0');
    }
    Some(sign * n)
}

/// Whole numbers that can be true of a thing, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bounds {
    /// Smallest.
    pub min: i64,
    /// Largest.
    pub max: i64,
    /// A fixed word for the unit.
    pub unit: &'static str,
}

impl Bounds {
    /// The value itself, or `Invalid` with `why` = `range` and `{min, max, unit}`.
    pub fn check(self, field: &str, value: i64) -> Result<i64> {
        if (self.min..=self.max).contains(&value) {
            return Ok(value);
        }
        let detail = json!({"min": self.min, "max": self.max, "unit": self.unit});
        Err(Error::invalid_with(field, "range", detail))
    }
}

/// The text without blanks at its ends, or `Invalid` with `why` = `too_long` and `{max}` characters.
pub fn text_within(field: &str, text: &str, max: usize) -> Result<String> {
    let text = text.trim();
    if text.chars().count() > max {
        return Err(Error::invalid_with(field, "too_long", json!({"max": max})));
    }
    Ok(text.to_owned())
}

/// A date as roughly as it is known: a subset of EDTF (ISO 8601-2:2019, level 1).
///
/// `2026-11-25`, `2026-11`, `2026`, a season `2021-21` spring, `-22` summer, `-23` autumn, `-24`
/// winter, or `XXXX`: nobody knows. Reading one from JSON does not check it, so that a bad date
/// in a request can be answered by its field; [`Rough::parse`] and [`Rough::check`] do.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize, ts_rs::TS)]
#[ts(type = "string")]
pub struct Rough(String);

/// Why a text is no rough date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum BadDate {
    /// Nothing was written.
    #[error("no date")]
    Empty,
    /// Not one of the forms of [`Rough`], or a day that no calendar has.
    #[error("not a date")]
    NotADate,
    /// A year outside [`YEARS`].
    #[error("year out of range")]
    Year,
}

impl BadDate {
    /// The refusal for the request's field that held it.
    pub fn at(self, field: &str) -> Error {
        match self {
            Self::Empty => Error::invalid(field, "empty"),
            Self::NotADate => Error::invalid(field, "not_a_date"),
            Self::Year => {
                let detail = json!({"min": YEARS.min, "max": YEARS.max, "unit": YEARS.unit});
                Error::invalid_with(field, "range", detail)
            }
        }
    }
}

impl Rough {
    const UNKNOWN: &'static str = "XXXX";

    /// The rough date a text stands for; blanks at its ends are dropped.
    pub fn parse(text: &str) -> std::result::Result<Self, BadDate> {
        let text = text.trim();
        if text != Self::UNKNOWN {
            read(text)?;
        }
        Ok(Self(text.to_owned()))
    }

    /// Whether it is well formed, for one that came out of JSON.
    pub fn check(&self) -> std::result::Result<(), BadDate> {
        Self::parse(&self.0).map(drop)
    }

    /// A date known to the day.
    pub fn day(day: NaiveDate) -> Self {
        Self(day.format("%Y-%m-%d").to_string())
    }

    /// `XXXX`: it happened, nobody knows when.
    pub fn unknown() -> Self {
        Self(Self::UNKNOWN.to_owned())
    }

    /// True for `XXXX`.
    pub fn is_unknown(&self) -> bool {
        self.0 == Self::UNKNOWN
    }

    /// The text as it was written.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// First and last day it can mean, both included; `None` when unknown.
    ///
    /// Seasons are the meteorological ones, whole months: northern spring is March to May, southern
    /// spring September to November. The season that crosses New Year is written with the year it
    /// begins in: northern winter `2021-24` is December 2021 to February 2022, southern summer
    /// `2021-22` likewise. (ISO 8601-2 leaves both to the parties.)
    pub fn span(&self, southern: bool) -> Option<(NaiveDate, NaiveDate)> {
        let (first, last) = match read(&self.0).ok()? {
            Read::Day(day) => return Some((day, day)),
            Read::Month(year, month) => (first_of(year, month)?, first_of(year, month + 1)?),
            Read::Year(year) => (first_of(year, 1)?, first_of(year + 1, 1)?),
            Read::Season(year, season) => {
                let month = season_month(season, southern);
                (first_of(year, month)?, first_of(year, month + 3)?)
            }
        };
        Some((first, last.checked_sub_days(Days::new(1))?))
    }

    /// True when even its last day lies before the other's first: laid before felled, for one.
    pub fn surely_before(&self, other: &Self, southern: bool) -> bool {
        matches!((self.span(southern), other.span(southern)), (Some(a), Some(b)) if a.1 < b.0)
    }

    /// True when even its first day lies after `day`.
    pub fn surely_after(&self, day: NaiveDate, southern: bool) -> bool {
        self.span(southern).is_some_and(|(first, _)| first > day)
    }
}

impl fmt::Display for Rough {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

enum Read {
    Day(NaiveDate),
    Month(i32, u32),
    Season(i32, u32),
    Year(i32),
}

fn read(text: &str) -> std::result::Result<Read, BadDate> {
    if text.is_empty() {
        return Err(BadDate::Empty);
    }
    let mut parts = text.split('-');
    let year = digits(parts.next(), 4)?;
    let rest: Vec<&str> = parts.collect();
    let year = i32::try_from(year).map_err(|_| BadDate::NotADate)?;
    let found = match rest.as_slice() {
        [] => Read::Year(year),
        [part] => match digits(Some(part), 2)? {
            month @ 1..=12 => Read::Month(year, month),
            season @ 21..=24 => Read::Season(year, season),
            _ => return Err(BadDate::NotADate),
        },
        [month, day] => {
            let (month, day) = (digits(Some(month), 2)?, digits(Some(day), 2)?);
            Read::Day(NaiveDate::from_ymd_opt(year, month, day).ok_or(BadDate::NotADate)?)
        }
        _ => return Err(BadDate::NotADate),
    };
    if !(YEARS.min..=YEARS.max).contains(&i64::from(year)) {
        return Err(BadDate::Year);
    }
    Ok(found)
}

fn digits(part: Option<&str>, width: usize) -> std::result::Result<u32, BadDate> {
    let part = part.unwrap_or_default();
    if part.len() != width || !part.bytes().all(|b| b.is_ascii_digit()) {
        return Err(BadDate::NotADate);
    }
    part.parse().map_err(|_| BadDate::NotADate)
}

fn season_month(season: u32, southern: bool) -> u32 {
    let months = if southern { [9, 12, 3, 6] } else { [3, 6, 9, 12] };
    match season {
        21 => months[0],
        22 => months[1],
        23 => months[2],
        _ => months[3],
    }
}

fn first_of(year: i32, month: u32) -> Option<NaiveDate> {
    let (year, month) = if month > 12 { (year + 1, month - 12) } else { (year, month) };
    NaiveDate::from_ymd_opt(year, month, 1)
}

/// A log's volume in litres from diameters and length in mm; `None` without both.
///
/// One diameter: a cylinder. Two, the ends: Smalian, the mean of the end areas times the length.
/// Three, end, middle, end: Newton, the middle counted four times. (Standard forest mensuration;
/// Smalian's figures are checked against Larsen's Forestry Functions.)
pub fn litres(d_mm: &[i64], length_mm: Option<i64>) -> Option<f64> {
    let length = length_mm?;
    if length <= 0 || d_mm.iter().any(|d| *d <= 0) {
        return None;
    }
    let square = |d: i64| (d as f64) * (d as f64);
    let squares = match d_mm {
        [d] => square(*d),
        [a, b] => (square(*a) + square(*b)) / 2.0,
        [a, m, b] => (square(*a) + 4.0 * square(*m) + square(*b)) / 6.0,
        _ => return None,
    };
    const MM3_PER_LITRE: f64 = 1e6;
    Some(std::f64::consts::FRAC_PI_4 * squares * (length as f64) / MM3_PER_LITRE)
}

/// Tags in the order people count: "9", "10", "A2", "A10". Upper and lower case count alike and
/// leading zeros don't count, except to part two tags that are otherwise the same.
pub fn natural_order(a: &str, b: &str) -> Ordering {
    Pieces(a).cmp(Pieces(b)).then_with(|| a.cmp(b))
}

#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Piece<'a> {
    // Length before digits: without leading zeros the longer number is the larger.
    Number(usize, &'a str),
    Letter(String),
}

struct Pieces<'a>(&'a str);

impl<'a> Iterator for Pieces<'a> {
    type Item = Piece<'a>;

    fn next(&mut self) -> Option<Piece<'a>> {
        let first = self.0.chars().next()?;
        let run = self.0.bytes().take_while(u8::is_ascii_digit).count();
        let (piece, rest) = self.0.split_at(run.max(first.len_utf8()));
        self.0 = rest;
        if run == 0 {
            return Some(Piece::Letter(first.to_lowercase().collect()));
        }
        let digits = piece.trim_start_matches('0');
        Some(Piece::Number(digits.len(), digits))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn span(text: &str, southern: bool) -> Option<(String, String)> {
        let (a, b) = Rough::parse(text).ok()?.span(southern)?;
        Some((a.to_string(), b.to_string()))
    }

    fn days(a: &str, b: &str) -> Option<(String, String)> {
        Some((a.into(), b.into()))
    }

    #[test]
    fn a_rough_date_spans_what_it_can_mean() {
        assert_eq!(span("2026-11-25", false), days("2026-11-25", "2026-11-25"));
        assert_eq!(span("2024-02", false), days("2024-02-01", "2024-02-29"));
        assert_eq!(span("2026-12", false), days("2026-12-01", "2026-12-31"));
        assert_eq!(span("2026", true), days("2026-01-01", "2026-12-31"));
        assert_eq!(span("2021-21", false), days("2021-03-01", "2021-05-31"));
        assert_eq!(span("2021-21", true), days("2021-09-01", "2021-11-30"));
        assert_eq!(span("2023-24", false), days("2023-12-01", "2024-02-29"));
        assert_eq!(span("2021-22", true), days("2021-12-01", "2022-02-28"));
        assert_eq!(span("XXXX", false), None);
    }

    #[test]
    fn what_is_no_date_is_refused_with_its_reason() {
        for bad in [
            "20",
            "2026-13",
            "2026-25",
            "2026-00",
            "2026-02-30",
            "2026-1",
            "26-11-25",
            "2026-11-25-1",
            "2026/11",
            "+2026",
            "xxxx",
            "2026-",
        ] {
            assert_eq!(Rough::parse(bad), Err(BadDate::NotADate), "{bad}");
        }
        assert_eq!(Rough::parse("  "), Err(BadDate::Empty));
        assert_eq!(Rough::parse("1899-12-31"), Err(BadDate::Year));
        assert_eq!(Rough::parse("2200"), Err(BadDate::Year));
        assert!(Rough::parse("2199-24").is_ok_and(|r| r.span(false).is_some()));
        assert_eq!(BadDate::Year.at("laid").reply()["detail"]["max"], 2199);
    }

    #[test]
    fn only_a_date_that_cannot_be_otherwise_counts_as_before() {
        let (year, month, unknown) = (Rough("2026".into()), Rough("2026-05".into()), Rough::unknown());
        assert!(!year.surely_before(&month, false));
        assert!(Rough("2025".into()).surely_before(&month, false));
        assert!(!unknown.surely_before(&month, false));
        assert!(!Rough("2025".into()).surely_before(&unknown, false));
    }

    #[test]
    fn a_log_without_size_has_no_volume() {
        assert_eq!(litres(&[], Some(1000)), None);
        assert_eq!(litres(&[100], None), None);
        assert_eq!(litres(&[0], Some(1000)), None);
        assert_eq!(litres(&[1, 2, 3, 4], Some(1000)), None);
    }

    #[test]
    fn tags_sort_as_people_count() {
        let mut tags = ["A10", "10", "A2", "9", "a3", "B1", "007", "7", "A2b", "A"];
        tags.sort_by(|a, b| natural_order(a, b));
        assert_eq!(tags, ["007", "7", "9", "10", "A", "A2", "A2b", "a3", "A10", "B1"]);
    }

    #[test]
    fn a_number_out_of_bounds_is_refused_with_the_bounds() {
        let Err(error) = GRAMS.check("grams", 0) else { unreachable!("0 g is no picking") };
        let reply = error.reply();
        assert_eq!(reply["field"], "grams");
        assert_eq!(reply["detail"], json!({"why": "range", "min": 1, "max": 50_000, "unit": "g"}));
        assert!(text_within("tag", " ö234567890123456789012345 ", TAG_CHARS).is_err());
        assert!(text_within("tag", " ö2345678901234567890123 ", TAG_CHARS).is_ok_and(|t| t.starts_with('ö')));
    }

    proptest! {
        #[test]
        fn tag_order_is_an_order(a in "[0-9aBé]{0,6}", b in "[0-9aBé]{0,6}", c in "[0-9aBé]{0,6}") {
            prop_assert_eq!(natural_order(&a, &b), natural_order(&b, &a).reverse());
            prop_assert_eq!(natural_order(&a, &b) == Ordering::Equal, a == b);
            if natural_order(&a, &b).is_le() && natural_order(&b, &c).is_le() {
                prop_assert!(natural_order(&a, &c).is_le());
            }
        }

        #[test]
        fn any_text_is_read_or_refused_and_a_read_one_has_a_span(text in "[0-9X-]{0,12}|\\PC{0,12}", southern: bool) {
            if let Ok(rough) = Rough::parse(&text) {
                let span = rough.span(southern);
                prop_assert_eq!(span.is_none(), rough.is_unknown());
                prop_assert!(span.is_none_or(|(a, b)| a <= b));
            }
        }
    }
}
