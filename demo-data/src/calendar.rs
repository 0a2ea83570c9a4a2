//! The yard's calendar: which season a day belongs to and what the clock on the wall shows.
//! Never the clock itself.
//! Invariant: the last season is the one `until` falls in; every date of the inputs follows from it.

use chrono::{DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveTime, TimeZone};

/// The four seasons that end with one day.
#[derive(Debug, Clone, Copy)]
pub struct Calendar {
    /// Year of the first season.
    pub first_year: i32,
    /// The day the records stop before.
    pub until: NaiveDate,
}

impl Calendar {
    /// Four seasons, the last being the year of `until`; before June the year before still counts
    /// as the fourth, and what has begun of the new year comes on top.
    pub fn ending(until: NaiveDate) -> Self {
        let fourth = if until.month() >= 6 { until.year() } else { until.year() - 1 };
        Self { first_year: fourth - 3, until }
    }

    /// An input's date: `s1-03-22` is 22 March of the first season, `s0-23` the autumn before it.
    /// Other text stays as it is.
    pub fn date(&self, text: &str) -> String {
        let Some((season, rest)) = text.strip_prefix('s').and_then(|t| t.split_at_checked(1)) else {
            return text.to_owned();
        };
        match season.parse::<i32>() {
            Ok(season) => format!("{}{rest}", self.first_year - 1 + season),
            Err(_) => text.to_owned(),
        }
    }

    /// An input's date as a day; `None` when it is rougher than that.
    pub fn day(&self, text: &str) -> Option<NaiveDate> {
        self.date(text).parse().ok()
    }

    /// The number of the season a day is in, from 1.
    pub fn season(&self, day: NaiveDate) -> i32 {
        day.year() - self.first_year + 1
    }

    /// All days of the records, first to last.
    pub fn days(&self) -> impl Iterator<Item = NaiveDate> + use<> {
        let until = self.until;
        let first = NaiveDate::from_ymd_opt(self.first_year, 3, 1).unwrap_or(until);
        first.iter_days().take_while(move |day| *day < until)
    }
}

/// The instant of a local time, an hour ahead of UTC and two in summer (last Sunday of March to
/// last Sunday of October).
pub fn local(day: NaiveDate, time: NaiveTime) -> Option<DateTime<FixedOffset>> {
    let summer = last_sunday(day.year(), 3)? <= day && day < last_sunday(day.year(), 10)?;
    let offset = FixedOffset::east_opt(if summer { 7200 } else { 3600 })?;
    offset.from_local_datetime(&day.and_time(time)).single()
}

fn last_sunday(year: i32, month: u32) -> Option<NaiveDate> {
    let last = NaiveDate::from_ymd_opt(year, month, 31)?;
    last.checked_sub_days(Days::new(u64::from(last.weekday().num_days_from_sunday())))
}
