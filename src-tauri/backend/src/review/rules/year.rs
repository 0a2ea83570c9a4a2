//! The harvest through the year: by week, month and season, by class; flushes; soaks; damage.
//! Never which group is better: `compare` asks that.
//! Invariant: what nobody weighed is counted beside the sums, never into them as 0.

use super::life::Life;
use super::question::date;
use crate::strains::rules::StrainClass;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Datelike, NaiveDate};
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// Pickings of one log nearer than this, with no soak between, are one flush (ours; `pickings` may bring
/// its own rule, then this one goes).
pub const FLUSH_DAYS: i32 = 21;

/// What some pickings came to.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, TS)]
pub struct Heap {
    /// Weighed, g.
    #[ts(type = "number")]
    pub grams: i64,
    /// Pickings.
    pub pickings: u32,
    /// Those nobody weighed.
    pub unweighed: u32,
}

/// A heap of one span of time.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct HeapOf {
    /// `2026-05` for a month, `2026-W19` for an ISO week, `2026` for a year, a class's word, or a season's.
    pub of: String,
    /// What it came to.
    #[serde(flatten)]
    #[ts(flatten)]
    pub heap: Heap,
}

/// The harvest of one year, beside the years.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct YearOf {
    /// The year.
    pub year: i32,
    /// All years with a picking, oldest first.
    pub years: Vec<HeapOf>,
    /// The year's months, all twelve.
    pub months: Vec<HeapOf>,
    /// The year's ISO weeks with a picking.
    pub weeks: Vec<HeapOf>,
    /// Its seasons: spring, summer, autumn, winter, meteorological.
    pub seasons: Vec<HeapOf>,
    /// By the strains' classes; other mushrooms by their own word.
    pub classes: Vec<HeapOf>,
    /// Flushes that began in the year, and the logs that had one.
    pub flushes: u32,
    /// Logs that fruited in it.
    pub logs: u32,
    /// Soaks, and those that were answered within four weeks.
    pub soaks: u32,
    /// Those answered.
    pub soaks_answered: u32,
    /// Mean days from a soak to the first picking that answered it.
    pub answer_days: Option<f64>,
    /// Share of the judged weight that was damaged, per cent.
    pub damaged_pct: Option<f64>,
    /// Logs that ended in the year.
    pub ended: u32,
    /// Of these, lost to a competitor.
    pub lost: u32,
    /// Logs laid in it.
    pub laid: u32,
    /// Share of forecasts that came true, per cent; null without any.
    pub forecast_hit_pct: Option<f64>,
    /// Where the figures come from.
    pub from: WhereFrom,
}

/// The year's harvest of these logs; `hits` are the forecasts of the year that came true, and all of them.
pub fn year_of(lives: &[Life], year: i32, southern: bool, hits: Option<(u32, u32)>) -> YearOf {
    let mut heaps = Heaps::default();
    let in_year = |day: i32| date(day).filter(|d| d.year() == year);
    let (mut flushes, mut logs, mut soaks) = (0, 0, (0, 0, 0.0));
    let (mut judged, mut damaged) = (0.0, 0.0);
    for life in lives {
        for pick in &life.picks {
            let Some(day) = date(pick.day) else { continue };
            heaps.add(life, day, pick.grams, year, southern);
            if let (true, Some(g), Some(pct)) = (day.year() == year, pick.grams, pick.damaged_pct) {
                judged += g as f64;
                damaged += g as f64 * pct as f64;
            }
        }
        let begun = flushes_of(life).iter().filter(|f| in_year(f.0).is_some()).count() as u32;
        flushes += begun;
        logs += u32::from(begun > 0);
        for day in life.soaks.iter().filter(|d| in_year(**d).is_some()) {
            soaks.0 += 1;
            let answer = life.picks.iter().find(|p| (0..=super::rates::SOAK_DAYS).contains(&(p.day - day)));
            if let Some(pick) = answer {
                soaks.1 += 1;
                soaks.2 += f64::from(pick.day - day);
            }
        }
    }
    let count = |of: &dyn Fn(&Life) -> bool| lives.iter().filter(|l| of(l)).count() as u32;
    YearOf {
        year,
        years: heaps.years.into_iter().map(|(y, heap)| HeapOf { of: y.to_string(), heap }).collect(),
        months: (1..=12)
            .map(|m| HeapOf {
                of: format!("{year}-{m:02}"),
                heap: heaps.months.remove(&m).unwrap_or_default(),
            })
            .collect(),
        weeks: heaps.weeks.into_iter().map(|(of, heap)| HeapOf { of, heap }).collect(),
        seasons: ["spring", "summer", "autumn", "winter"]
            .into_iter()
            .map(|s| HeapOf { of: s.to_owned(), heap: heaps.seasons.remove(s).unwrap_or_default() })
            .collect(),
        classes: heaps.classes.into_iter().map(|(of, heap)| HeapOf { of, heap }).collect(),
        flushes,
        logs,
        soaks: soaks.0,
        soaks_answered: soaks.1,
        answer_days: (soaks.1 > 0).then(|| soaks.2 / f64::from(soaks.1)),
        damaged_pct: (judged > 0.0).then(|| damaged / judged),
        ended: count(&|l| l.ended && in_year(l.end).is_some()),
        lost: count(&|l| l.lost && in_year(l.end).is_some()),
        laid: count(&|l| l.laid_year() == Some(year)),
        forecast_hit_pct: hits.filter(|h| h.1 > 0).map(|(hit, all)| 100.0 * f64::from(hit) / f64::from(all)),
        from: WhereFrom::new("review_year", Mark::Own, "")
            .of_logs(i64::from(logs))
            .with("gap_days", FLUSH_DAYS),
    }
}

/// A log's flushes: the first and the last day of each.
pub fn flushes_of(life: &Life) -> Vec<(i32, i32)> {
    let mut flushes: Vec<(i32, i32)> = Vec::new();
    for pick in &life.picks {
        match flushes.last_mut() {
            Some((_, last))
                if pick.day - *last < FLUSH_DAYS
                    && !life.soaks.iter().any(|s| *s > *last && *s <= pick.day) =>
            {
                *last = pick.day;
            }
            _ => flushes.push((pick.day, pick.day)),
        }
    }
    flushes
}

#[derive(Default)]
struct Heaps {
    years: BTreeMap<i32, Heap>,
    months: BTreeMap<u32, Heap>,
    weeks: BTreeMap<String, Heap>,
    seasons: BTreeMap<&'static str, Heap>,
    classes: BTreeMap<String, Heap>,
}

impl Heaps {
    fn add(&mut self, life: &Life, day: NaiveDate, grams: Option<i64>, year: i32, southern: bool) {
        self.years.entry(day.year()).or_default().add(grams);
        let week = day.iso_week();
        if week.year() == year {
            self.weeks.entry(format!("{year}-W{:02}", week.week())).or_default().add(grams);
        }
        if day.year() != year {
            return;
        }
        self.months.entry(day.month()).or_default().add(grams);
        self.seasons.entry(season(day.month(), southern)).or_default().add(grams);
        let class = life.class.map_or_else(|| life.mushroom.word(), StrainClass::word);
        self.classes.entry(class.to_owned()).or_default().add(grams);
    }
}

impl Heap {
    fn add(&mut self, grams: Option<i64>) {
        self.pickings += 1;
        self.unweighed += u32::from(grams.is_none());
        self.grams += grams.unwrap_or(0);
    }
}

fn season(month: u32, southern: bool) -> &'static str {
    let quarter = ((month % 12) / 3 + if southern { 2 } else { 0 }) % 4;
    ["winter", "spring", "summer", "autumn"][quarter as usize]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seasons_are_whole_months_and_turn_over_the_equator() {
        assert_eq!(
            [1, 3, 6, 9, 12].map(|m| season(m, false)),
            ["winter", "spring", "summer", "autumn", "winter"]
        );
        assert_eq!([1, 3, 6, 9].map(|m| season(m, true)), ["summer", "autumn", "winter", "spring"]);
    }
}
