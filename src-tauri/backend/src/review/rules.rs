//! Woods side by side: what each wood's logs gave, how surely that is known, and which did best.
//! Never reads the register or the clock: lives, the day and the hemisphere come in.
//! Invariant: every log is counted in exactly one wood, and no sum leaves a weight out.
//!
//! How a log enters its wood's rate, grams per log-year:
//! - Log-years run from laying to the log's end, or to today. A rough laying date gives a low and a
//!   high count; the rate uses the middle of the two.
//! - A log still in its spawn run says nothing yet. It is left out, its log-years too, until it
//!   could have fruited; else a wood laid last spring would look barren. A log that ended first
//!   stays in: its nothing is final.
//! - A log whose laying nobody knows has no log-years. It still counts per litre.
//! - Pickings that nobody weighed count as that log's own mean picking. A log with pickings and no
//!   weight at all is left out; where those outnumber the fruited logs with weights, the logs that
//!   gave nothing would pull the rate down, so the wood is not told. Sums add what was weighed only.
//! - Each log weighs the same, old or young: the question is what the next log of a wood may give.
//!
//! Intervals are Student's t at 90 %, cut off at 0. Two woods are told apart by Welch's t test,
//! two-sided at 10 %, not adjusted for the number of woods. All of it takes the logs of one wood as
//! a fair sample; who laid the thick ones in the best shade compares shade.

use crate::measure::Rough;
use crate::woods::rules::wood;
use crate::words::words;
use chrono::NaiveDate;
use serde::Serialize;
use std::cmp::Ordering;
use std::collections::BTreeMap;
use ts_rs::TS;

pub mod spread;
pub use spread::Range;
use spread::{Sample, more_logs, told_apart};

/// Fewer logs than this behind a rate tell nothing.
pub const FEWEST_LOGS: usize = 3;
const DAYS_A_YEAR: f64 = 365.25;

/// One log's life as far as the comparison needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct LogLife {
    /// The wood's id; `None` when not known.
    pub wood: Option<String>,
    /// `None`: not laid yet.
    pub laid: Option<Rough>,
    /// The day its watch ended.
    pub ended: Option<NaiveDate>,
    /// The first day anything fruited.
    pub first_fruit: Option<NaiveDate>,
    /// Weight of all weighed pickings, g.
    pub grams: i64,
    /// All pickings.
    pub pickings: u32,
    /// Pickings without a weight, at most `pickings`.
    pub unweighed: u32,
    /// Volume, litres.
    pub litres: Option<f64>,
    /// Too young to have fruited.
    pub young: bool,
}

/// Log-years when rough laying dates are taken as late, and as early, as they can be.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct LogYears {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

words! {
    /// Why a wood can't be told yet.
    pub enum Untold {
        /// Fewer than [`FEWEST_LOGS`] logs behind the rate.
        FewLogs = "few_logs",
        /// Every laid log is still in its spawn run.
        TooYoung = "too_young",
        /// There would be enough, had their pickings been weighed.
        NoWeights = "no_weights",
    }
}

/// One wood's logs.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct WoodRow {
    /// The wood's id; `None` for logs of a wood nobody named.
    pub wood: Option<String>,
    /// Its common name.
    pub name: Option<String>,
    /// Logs, wood waiting to be laid included.
    pub logs: u32,
    /// Logs that fruited.
    pub fruited: u32,
    /// Laid logs too young to have fruited.
    pub spawn_run: u32,
    /// Logs whose watch ended.
    pub ended: u32,
    /// Log-years of dated logs past their spawn run; `None` without such logs.
    pub log_years: Option<LogYears>,
    /// Laid logs whose laying nobody knows.
    pub undated: u32,
    /// Weighed, g: at least this much was picked.
    #[ts(type = "number")]
    pub grams: i64,
    /// Pickings.
    pub pickings: u32,
    /// Pickings without a weight.
    pub unweighed: u32,
    /// Laid logs without a size: left out of `per_litre`.
    pub unmeasured: u32,
    /// g per log-year.
    pub per_log_year: Option<Range>,
    /// g per litre of wood over the life so far.
    pub per_litre: Option<Range>,
    /// Whether the rate stands on enough.
    pub tell: bool,
    /// Why not.
    pub why: Option<Untold>,
}

words! {
    /// What can be said about the best wood.
    pub enum Verdict {
        /// The yard is empty.
        NoLogs = "no_logs",
        /// Nothing has fruited.
        NoneFruited = "none_fruited",
        /// No named wood that gave anything can be told.
        TooFew = "too_few",
        /// Only one named wood can be told.
        OneWood = "one_wood",
        /// Set apart from every other wood that can be told.
        Best = "best",
        /// In front, but `close` may be as good.
        Close = "close",
    }
}

/// Which wood did best.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Answer {
    /// What can be said.
    pub kind: Verdict,
    /// The wood in front.
    pub wood: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// Names of woods it can't be told apart from, best first.
    pub close: Vec<String>,
    /// How many more logs, of each of the two, would likely tell the wood in front from the next.
    pub need: Option<u32>,
}

/// The woods of some logs, and what follows from them. Best first; woods that can't be told last,
/// the one with most logs first. Logs of a wood nobody named make a row, but never the answer.
pub fn side_by_side(lives: &[LogLife], today: NaiveDate, southern: bool) -> (Answer, Vec<WoodRow>) {
    let mut groups: BTreeMap<Option<&str>, Vec<&LogLife>> = BTreeMap::new();
    for life in lives {
        groups.entry(life.wood.as_deref()).or_default().push(life);
    }
    let mut woods: Vec<(WoodRow, Option<Sample>)> =
        groups.iter().map(|(id, group)| wood_row(*id, group, today, southern)).collect();
    woods.sort_by(|(a, _), (b, _)| best_first(a, b));
    let answer = answer(&woods);
    (answer, woods.into_iter().map(|(row, _)| row).collect())
}

fn best_first(a: &WoodRow, b: &WoodRow) -> Ordering {
    let mean = |row: &WoodRow| row.per_log_year.as_ref().filter(|_| row.tell).map_or(-1.0, |r| r.mean);
    let logs = if a.tell { Ordering::Equal } else { b.logs.cmp(&a.logs) };
    mean(b).total_cmp(&mean(a)).then(logs).then_with(|| a.wood.cmp(&b.wood))
}

fn wood_row(
    id: Option<&str>,
    group: &[&LogLife],
    today: NaiveDate,
    southern: bool,
) -> (WoodRow, Option<Sample>) {
    let count = |which: fn(&LogLife) -> bool| group.iter().filter(|l| which(l)).count() as u32;
    let grown: Vec<&LogLife> = group.iter().copied().filter(|l| l.is_grown()).collect();
    let years: Vec<LogYears> = grown.iter().filter_map(|l| l.years(today, southern)).collect();
    let yearly = grown.iter().filter_map(|l| l.per_log_year(today, southern)).collect();
    let sample = Sample::of(yearly);
    let why = untold(group, &grown, sample.as_ref(), today, southern);
    let row = WoodRow {
        wood: id.map(str::to_owned),
        name: id.map(|id| wood(id).map_or(id, |w| w.name.as_str()).to_owned()),
        logs: group.len() as u32,
        fruited: count(LogLife::has_fruited),
        spawn_run: count(LogLife::in_spawn_run),
        ended: count(|l| l.ended.is_some()),
        log_years: LogYears::sum(years),
        undated: count(|l| l.laid.as_ref().is_some_and(Rough::is_unknown)),
        grams: group.iter().map(|l| l.grams).sum(),
        pickings: group.iter().map(|l| l.pickings).sum(),
        unweighed: group.iter().map(|l| l.unweighed).sum(),
        unmeasured: count(|l| l.laid.is_some() && l.size().is_none()),
        per_log_year: sample.as_ref().and_then(Sample::range),
        per_litre: Sample::of(grown.iter().filter_map(|l| l.per_litre()).collect()).and_then(|s| s.range()),
        tell: why.is_none(),
        why,
    };
    (row, sample.filter(|_| why.is_none()))
}

fn untold(
    group: &[&LogLife],
    grown: &[&LogLife],
    sample: Option<&Sample>,
    today: NaiveDate,
    southern: bool,
) -> Option<Untold> {
    let usable = sample.map_or(0, |s| s.n);
    let dated = || grown.iter().filter(|l| l.years(today, southern).is_some_and(|y| y.high > 0.0));
    let weightless = dated().filter(|l| l.yield_g().is_none()).count();
    let weighed = dated().filter(|l| l.pickings > 0).count() - weightless;
    if usable >= FEWEST_LOGS && weightless <= weighed {
        None
    } else if weightless > 0 && usable + weightless >= FEWEST_LOGS {
        Some(Untold::NoWeights)
    } else if grown.is_empty() && group.iter().any(|l| l.in_spawn_run()) {
        Some(Untold::TooYoung)
    } else {
        Some(Untold::FewLogs)
    }
}

impl LogLife {
    fn has_fruited(&self) -> bool {
        self.first_fruit.is_some() || self.pickings > 0
    }

    fn in_spawn_run(&self) -> bool {
        self.laid.is_some() && self.young && !self.has_fruited() && self.ended.is_none()
    }

    fn is_grown(&self) -> bool {
        self.laid.is_some() && !self.in_spawn_run()
    }

    fn size(&self) -> Option<f64> {
        self.litres.filter(|l| l.is_finite() && *l > 0.0)
    }

    fn years(&self, today: NaiveDate, southern: bool) -> Option<LogYears> {
        let (first, last) = self.laid.as_ref()?.span(southern)?;
        let end = self.ended.map_or(today, |day| day.min(today));
        let since = |day: NaiveDate| (end - day).num_days().max(0) as f64 / DAYS_A_YEAR;
        Some(LogYears { low: since(last), high: since(first) })
    }

    /// What the log gave, g, unweighed pickings counted as its own mean one.
    fn yield_g(&self) -> Option<f64> {
        let weighed = self.pickings.saturating_sub(self.unweighed);
        match (self.pickings, weighed) {
            (0, _) => Some(self.grams as f64),
            (_, 0) => None,
            _ => Some(self.grams as f64 * f64::from(self.pickings) / f64::from(weighed)),
        }
    }

    fn per_log_year(&self, today: NaiveDate, southern: bool) -> Option<f64> {
        let years = self.years(today, southern)?;
        let middle = f64::midpoint(years.low, years.high);
        (middle > 0.0).then_some(self.yield_g()? / middle)
    }

    fn per_litre(&self) -> Option<f64> {
        Some(self.yield_g()? / self.size()?)
    }
}

impl LogYears {
    fn sum(mut years: Vec<Self>) -> Option<Self> {
        years.sort_by(|a, b| a.low.total_cmp(&b.low).then(a.high.total_cmp(&b.high)));
        let sum = |of: fn(&Self) -> f64| years.iter().map(of).sum();
        (!years.is_empty()).then(|| Self { low: sum(|y| y.low), high: sum(|y| y.high) })
    }
}

fn answer(woods: &[(WoodRow, Option<Sample>)]) -> Answer {
    let bare = |kind| Answer { kind, wood: None, name: None, close: Vec::new(), need: None };
    if woods.is_empty() {
        return bare(Verdict::NoLogs);
    }
    if woods.iter().all(|(row, _)| row.fruited == 0) {
        return bare(Verdict::NoneFruited);
    }
    let told: Vec<(&WoodRow, &Sample)> = woods
        .iter()
        .filter(|(row, _)| row.wood.is_some())
        .filter_map(|(r, s)| Some((r, s.as_ref()?)))
        .collect();
    let [(row, best), others @ ..] = told.as_slice() else { return bare(Verdict::TooFew) };
    if best.mean <= 0.0 {
        return bare(Verdict::TooFew);
    }
    let close: Vec<_> = others.iter().filter(|(_, other)| !told_apart(best, other)).collect();
    let kind = match (others.len(), close.len()) {
        (0, _) => Verdict::OneWood,
        (_, 0) => Verdict::Best,
        _ => Verdict::Close,
    };
    Answer {
        kind,
        wood: row.wood.clone(),
        name: row.name.clone(),
        close: close.iter().filter_map(|(row, _)| row.name.clone()).collect(),
        need: close.first().and_then(|(_, next)| more_logs(best, next)),
    }
}

#[cfg(test)]
mod tests;
