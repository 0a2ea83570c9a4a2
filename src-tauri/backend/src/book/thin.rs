//! Which copies of the register are kept as they grow old.
//! Never a file: it gets names with times and answers with names.
//! Invariant: what is given up always has a newer kept copy of the same day, week, month or year.

use super::Moment;
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeSet;

/// A copy as the rule sees it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kept {
    /// Its file's name.
    pub name: String,
    /// When it was taken, milliseconds since 1970.
    pub ms: i64,
    /// It was opened and is what its name says.
    pub sound: bool,
}

/// A day, in milliseconds: copies of the last day are all kept, so that a bad hour can be undone.
const DAY_MS: i64 = 24 * 3600 * 1000;
/// The newest of each of so many days, weeks and months; then of each year.
const DAYS: i64 = 7;
const WEEKS: i64 = 5;
const MONTHS: i32 = 12;

/// Names of the copies that may go. Only sound ones are weighed: one that is damaged neither
/// stands for its day nor is thrown away. Common practice of rotating backups, no source.
pub fn given_up(copies: &[Kept], now: Moment) -> Vec<String> {
    let mut sound: Vec<&Kept> = copies.iter().filter(|c| c.sound).collect();
    sound.sort_by(|a, b| (b.ms, &b.name).cmp(&(a.ms, &a.name)));
    let today = now.day();
    let mut seen = BTreeSet::new();
    let mut gone = Vec::new();
    for copy in sound {
        let day = Moment { ms: copy.ms, offset_min: now.offset_min }.day();
        // The newest copy is the first to see any of its spans, so it always stays.
        let stands = spans(day, today).into_iter().filter(|span| seen.insert(*span)).count() > 0;
        if !stands && copy.ms <= now.ms - DAY_MS {
            gone.push(copy.name.clone());
        }
    }
    gone
}

/// A stretch of time that keeps one copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Span {
    Day(NaiveDate),
    Week(i32, u32),
    Month(i32, u32),
    Year(i32),
}

/// The spans that a copy of `day` may stand for today.
fn spans(day: NaiveDate, today: NaiveDate) -> Vec<Span> {
    let age = (today - day).num_days();
    let months = (today.year() - day.year()) * 12 + month(today) - month(day);
    let mut spans = vec![Span::Year(day.year())];
    if months < MONTHS {
        spans.push(Span::Month(day.year(), day.month()));
    }
    if age < WEEKS * 7 {
        spans.push(Span::Week(day.iso_week().year(), day.iso_week().week()));
    }
    if age < DAYS {
        spans.push(Span::Day(day));
    }
    spans
}

fn month(day: NaiveDate) -> i32 {
    i32::try_from(day.month()).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const NOW: Moment = Moment { ms: 1_790_000_000_000, offset_min: 120 };

    fn copies() -> impl Strategy<Value = Vec<Kept>> {
        let age = prop_oneof![0..DAY_MS, 0..40 * DAY_MS, 0..4000 * DAY_MS, -3 * DAY_MS..0];
        prop::collection::vec((age, prop::bool::weighted(0.9)), 0..120).prop_map(|all| {
            let named = all.into_iter().enumerate();
            named.map(|(n, (age, sound))| Kept { name: format!("c{n}"), ms: NOW.ms - age, sound }).collect()
        })
    }

    proptest! {
        #[test]
        fn thinning_keeps_what_it_promises(copies in copies()) {
            let gone: BTreeSet<String> = given_up(&copies, NOW).into_iter().collect();
            let (away, left): (Vec<_>, Vec<_>) = copies.iter().cloned().partition(|c| gone.contains(&c.name));
            prop_assert!(away.iter().all(|c| c.sound && c.ms <= NOW.ms - DAY_MS));
            let newest = copies.iter().filter(|c| c.sound).map(|c| c.ms).max();
            prop_assert_eq!(left.iter().filter(|c| c.sound).map(|c| c.ms).max(), newest);
            let day = |c: &Kept| Moment { ms: c.ms, offset_min: NOW.offset_min }.day();
            for copy in &away {
                let stand_in = |span: Span| left.iter().any(|k| {
                    k.sound && k.ms >= copy.ms && spans(day(k), NOW.day()).contains(&span)
                });
                prop_assert!(spans(day(copy), NOW.day()).into_iter().all(stand_in));
            }
            prop_assert_eq!(given_up(&left, NOW), Vec::<String>::new(), "thinning twice is thinning once");
            let old = left.iter().filter(|c| c.sound && c.ms <= NOW.ms - DAY_MS).count();
            prop_assert!(old <= 7 + 6 + 12 + 13, "{} old ones are kept", old);
        }
    }

    #[test]
    fn a_copy_each_day_for_ten_years_leaves_days_weeks_months_and_years() {
        let copy = |n: i64| Kept { name: n.to_string(), ms: NOW.ms - n * DAY_MS, sound: true };
        let copies: Vec<Kept> = (0..3650).map(copy).collect();
        let kept = copies.len() - given_up(&copies, NOW).len();
        assert!((26..=36).contains(&kept), "{kept}");
    }
}
