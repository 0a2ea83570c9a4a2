//! The grower's year: which season a day lies in when a season begins on a day of its own.
//! Never the setting: it comes in.
//! Invariant: every day lies in one season, which bears the year that its first day lies in.

use chrono::{Datelike, NaiveDate};

/// The day of the year that seasons begin on. 29 February is none: not every year has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seasons {
    month: u32,
    day: u32,
}

impl Seasons {
    /// From `MM-DD`; what cannot be read begins on 1 January.
    pub fn from_first(text: &str) -> Self {
        let read = format!("2023-{text}").parse::<NaiveDate>();
        read.map_or(Self { month: 1, day: 1 }, |d| Self { month: d.month(), day: d.day() })
    }

    /// The season that this day lies in.
    pub fn year_of(self, day: NaiveDate) -> i32 {
        day.year() - i32::from((day.month(), day.day()) < (self.month, self.day))
    }

    /// Its first day.
    pub fn first(self, year: i32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, self.month, self.day).unwrap_or_default()
    }

    /// Its last day.
    pub fn last(self, year: i32) -> NaiveDate {
        let next = self.first(year.saturating_add(1));
        next.pred_opt().unwrap_or(next)
    }

    /// Its months, the first and the last of thirteen in part where it begins within one.
    pub fn months(self, year: i32) -> Vec<(i32, u32)> {
        let last = self.last(year);
        let mut months = vec![(year, self.month)];
        while let Some((y, m)) = months.last().copied().filter(|m| *m < (last.year(), last.month())) {
            months.push(if m == 12 { (y + 1, 1) } else { (y, m + 1) });
        }
        months
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn a_season_bears_the_year_of_its_first_day() {
        let march = Seasons::from_first("03-01");
        assert_eq!(march.year_of(day("2026-02-28")), 2025);
        assert_eq!(march.year_of(day("2026-03-01")), 2026);
        assert_eq!((march.first(2027), march.last(2027)), (day("2027-03-01"), day("2028-02-29")));
        assert_eq!(march.months(2026).len(), 12);
        assert_eq!(march.months(2026).last(), Some(&(2027, 2)));
        let middle = Seasons::from_first("07-15");
        assert_eq!((middle.months(2026).len(), middle.months(2026).last()), (13, Some(&(2027, 7))));
        assert_eq!(Seasons::from_first("01-01").months(2026).last(), Some(&(2026, 12)));
        assert_eq!(Seasons::from_first("02-29"), Seasons::from_first("01-01"));
    }

    proptest! {
        #[test]
        fn every_day_lies_in_its_season_and_in_one_of_its_months(
            n in -20_000..40_000_i64, month in 1..13_u32, first in 1..29_u32,
        ) {
            let seasons = Seasons::from_first(&format!("{month:02}-{first:02}"));
            let day = NaiveDate::default() + chrono::TimeDelta::days(n);
            let year = seasons.year_of(day);
            prop_assert!(seasons.first(year) <= day && day <= seasons.last(year));
            prop_assert!(seasons.months(year).contains(&(day.year(), day.month())));
        }
    }
}
