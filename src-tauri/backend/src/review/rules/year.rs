//! The harvest through the year: by week, month and season, by class; flushes; soaks; damage.
//! Never which group is better: `compare` asks that.
//! Invariant: what nobody weighed is counted beside the sums, never into them as 0.

use super::life::{Life, Pick};
use super::question::{date, number};
use super::season::Seasons;
use crate::strains::rules::StrainClass;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Datelike, NaiveDate};
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

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

/// The harvest of one season: a year from the day that seasons begin on.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct YearOf {
    /// The year its first day lies in.
    pub year: i32,
    /// Its first day.
    pub first: NaiveDate,
    /// Its last day.
    pub last: NaiveDate,
    /// All seasons with a picking, oldest first.
    pub years: Vec<HeapOf>,
    /// Its months, all of them; the first and the last of thirteen in part where it begins within a month.
    pub months: Vec<HeapOf>,
    /// Its ISO weeks with a picking.
    pub weeks: Vec<HeapOf>,
    /// Its spring, summer, autumn and winter, meteorological.
    pub seasons: Vec<HeapOf>,
    /// By the strains' classes; other mushrooms by their own word.
    pub classes: Vec<HeapOf>,
    /// Flushes that began in it.
    pub flushes: u32,
    /// Logs that had one.
    pub logs: u32,
    /// Soaks, and those that were answered within four weeks.
    pub soaks: u32,
    /// Those answered.
    pub soaks_answered: u32,
    /// Mean days from a soak to the first picking that answered it.
    pub answer_days: Option<f64>,
    /// Share of the judged weight that was damaged, per cent.
    pub damaged_pct: Option<f64>,
    /// Logs that ended in it.
    pub ended: u32,
    /// Of these, lost to a competitor.
    pub lost: u32,
    /// Logs laid in it.
    pub laid: u32,
    /// Where the figures come from.
    pub from: WhereFrom,
}

/// A season's harvest of these logs; pickings `gap_days` apart are flushes of their own.
pub fn year_of(lives: &[Life], seasons: Seasons, year: i32, southern: bool, gap_days: i64) -> YearOf {
    let mut heaps = Heaps::of(southern);
    let (first, last) = (seasons.first(year), seasons.last(year));
    let bounds = number(first)..=number(last);
    let in_year = |day: i32| bounds.contains(&day);
    let (mut flushes, mut logs, mut soaks) = (0, 0, (0, 0, 0.0));
    let (mut judged, mut damaged) = (0.0, 0.0);
    for life in lives {
        for pick in &life.picks {
            heaps.years.add(pick, seasons);
            if !in_year(pick.day) {
                continue;
            }
            heaps.add(life, pick);
            if let (Some(g), Some(pct)) = (pick.grams, pick.damaged_pct) {
                judged += g as f64;
                damaged += g as f64 * pct as f64;
            }
        }
        let begun = life.flushes(gap_days).iter().filter(|day| in_year(**day)).count() as u32;
        flushes += begun;
        logs += u32::from(begun > 0);
        for day in life.soaks.iter().filter(|d| in_year(**d)) {
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
        first,
        last,
        years: heaps.years.told(),
        months: seasons
            .months(year)
            .into_iter()
            .map(|(y, m)| HeapOf {
                of: format!("{y}-{m:02}"),
                heap: heaps.months.remove(&(y, m)).unwrap_or_default(),
            })
            .collect(),
        weeks: heaps.weeks.into_iter().map(week).collect(),
        seasons: quarters(heaps.seasons),
        classes: heaps.classes.into_iter().map(|(of, heap)| HeapOf { of: of.to_owned(), heap }).collect(),
        flushes,
        logs,
        soaks: soaks.0,
        soaks_answered: soaks.1,
        answer_days: (soaks.1 > 0).then(|| soaks.2 / f64::from(soaks.1)),
        damaged_pct: (judged > 0.0).then(|| damaged / judged),
        ended: count(&|l| l.ended && in_year(l.end)),
        lost: count(&|l| l.lost && in_year(l.end)),
        laid: count(&|l| l.laid_mid().is_some_and(in_year)),
        from: WhereFrom::new("review_year", Mark::Own, "")
            .of_logs(i64::from(logs))
            .with("gap_days", gap_days),
    }
}

struct Heaps {
    southern: bool,
    /// All that was ever picked; the others hold the season asked for.
    years: Years,
    months: BTreeMap<(i32, u32), Heap>,
    weeks: BTreeMap<(i32, u32), Heap>,
    seasons: BTreeMap<&'static str, Heap>,
    classes: BTreeMap<&'static str, Heap>,
}

impl Heaps {
    fn of(southern: bool) -> Self {
        let (months, weeks) = (BTreeMap::new(), BTreeMap::new());
        let (seasons, classes) = (BTreeMap::new(), BTreeMap::new());
        Self { southern, years: Years::default(), months, weeks, seasons, classes }
    }

    /// Adds a picking of the season asked for.
    fn add(&mut self, life: &Life, pick: &Pick) {
        let (Some(day), grams) = (date(pick.day), pick.grams) else { return };
        let week = day.iso_week();
        self.weeks.entry((week.year(), week.week())).or_default().add(grams);
        self.months.entry((day.year(), day.month())).or_default().add(grams);
        self.seasons.entry(season(day.month(), self.southern)).or_default().add(grams);
        let class = life.class.map_or_else(|| life.mushroom.word(), StrainClass::word);
        self.classes.entry(class).or_default().add(grams);
    }
}

fn quarters(mut seasons: BTreeMap<&'static str, Heap>) -> Vec<HeapOf> {
    let heap = |of: &str| HeapOf { of: of.to_owned(), heap: seasons.remove(of).unwrap_or_default() };
    ["spring", "summer", "autumn", "winter"].map(heap).into()
}

/// The heaps of all seasons.
#[derive(Default)]
struct Years {
    heaps: BTreeMap<i32, Heap>,
    /// First and last day of the season of the picking before, and its year: the next lies mostly in the same.
    last: Option<(i32, i32, i32)>,
}

impl Years {
    fn add(&mut self, pick: &Pick, seasons: Seasons) {
        if self.last.is_none_or(|(first, last, _)| pick.day < first || last < pick.day) {
            let Some(year) = date(pick.day).map(|day| seasons.year_of(day)) else { return };
            self.last = Some((number(seasons.first(year)), number(seasons.last(year)), year));
        }
        if let Some((_, _, year)) = self.last {
            self.heaps.entry(year).or_default().add(pick.grams);
        }
    }

    fn told(self) -> Vec<HeapOf> {
        self.heaps.into_iter().map(|(year, heap)| HeapOf { of: year.to_string(), heap }).collect()
    }
}

impl Heap {
    fn add(&mut self, grams: Option<i64>) {
        self.pickings += 1;
        self.unweighed += u32::from(grams.is_none());
        self.grams += grams.unwrap_or(0);
    }
}

/// The heap of an ISO week, by its name.
fn week(((year, week), heap): ((i32, u32), Heap)) -> HeapOf {
    HeapOf { of: format!("{year}-W{week:02}"), heap }
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
