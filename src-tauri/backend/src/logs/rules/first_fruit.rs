//! When a laid log may be expected to fruit first: from published ranges, narrowed by the yard's own.
//! Never a promise; and never of a log whose laying day nobody knows well.
//! Invariant: the window never begins before the fewest months its mushroom and class need.
//!
//! The published window: 6–18 months from laying (University of Kentucky FOR-85; University of
//! Maryland RES-11), 9 at least for cold strains, 24 at most for drilled Hericium (common practice: up
//! to 18 months, often 2 years on drilled logs). Ohio F-0042 gives 6–24: a log without fruit after 24
//! months is called late. A class fruits by itself only in its months, so a window that begins
//! outside them begins with the next such month, and one that ends outside them ends with the
//! last such month before, or the first after when there is none between.
//!
//! No guide gives a range for each form of spawn; growers say that sawdust runs sooner than plugs (common
//! practice). So the form counts only through the yard's own logs.
//!
//! The yard's own: months from laying to first fruit of its logs of the same mushroom, and of the same class
//! (shiitake) or method (Hericium), and of the same form of spawn once five of those fruited, by Kaplan and Meier, so that logs still waiting count for as
//! long as they have waited. From five first fruits on, the tenth and the ninetieth of a hundred
//! logs are drawn towards the published ends as if those stood for five logs: own · n/(n + 5) +
//! published · 5/(n + 5). Five is our own choice.

use super::{Facts, Method, Spawn};
use crate::measure::Rough;
use crate::strains::rules::{Mushroom, StrainClass, fewest_months, in_season};
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, Months, NaiveDate};
use serde_json::json;

/// Months after which a log without fruit is late (Ohio State University Extension F-0042: 6–24).
pub const LATE_MONTHS: u32 = 24;

/// First fruits of the yard's own from which on they count; and what the published range weighs.
pub const FEWEST_OWN: usize = 5;

/// A rough laying date that spans more days than this is no start to count from.
const ROUGH_DAYS: i64 = 92;

/// Days in a month, on average.
const MONTH_DAYS: f64 = 30.4375;

/// What of a log matters to its first fruit.
#[derive(Debug, Clone, PartialEq)]
pub struct Alike {
    /// What it carries.
    pub mushroom: Mushroom,
    /// Its strain's class.
    pub class: Option<StrainClass>,
    /// How it was inoculated.
    pub method: Option<Method>,
    /// The form its spawn came in.
    pub spawn: Option<Spawn>,
}

impl Alike {
    /// Whether the other log's first fruit tells something of this one's.
    pub fn tells_of(&self, other: &Self) -> bool {
        self.mushroom == other.mushroom
            && if self.mushroom.is_hericium() {
                self.method == other.method
            } else {
                self.class == other.class
            }
    }
}

/// One log's wait: how many months, and whether it fruited at their end or still had not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// Months from laying.
    pub months: f64,
    /// It fruited then; else it was last known without fruit.
    pub fruited: bool,
}

/// Of the yard's waits, each with the form of its spawn, those that tell most of a log: of its own form when enough
/// of them fruited, else all; and whether they are of its form.
pub fn nearest(log: &Alike, all: &[(Option<Spawn>, Wait)]) -> (Vec<Wait>, bool) {
    let same = |form: &Option<Spawn>| log.spawn.is_some() && *form == log.spawn;
    let own: Vec<Wait> = all.iter().filter(|(form, _)| same(form)).map(|(_, wait)| *wait).collect();
    if own.iter().filter(|wait| wait.fruited).count() >= FEWEST_OWN {
        return (own, true);
    }
    (all.iter().map(|(_, wait)| *wait).collect(), false)
}

/// When first fruit may be expected.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Window {
    /// The first day.
    pub from: NaiveDate,
    /// The last day.
    pub to: NaiveDate,
    /// After this day a log without fruit is late.
    pub late: NaiveDate,
    /// Months from laying, fewest and most, before the class's season is looked at.
    pub months: (f64, f64),
    /// Where they come from.
    pub source: WhereFrom,
}

/// The wait of a log until `today`, or until its watch ended on `ended`; `None` when its laying is too
/// roughly known or lies ahead.
pub fn wait(facts: &Facts, today: NaiveDate, southern: bool) -> Option<Wait> {
    let (first, last) = facts.laid.as_ref()?.span(southern)?;
    if (last - first).num_days() > ROUGH_DAYS {
        return None;
    }
    let laid = first + (last - first) / 2;
    let until = facts.first_fruit.or(facts.ended_day).unwrap_or(today);
    let days = (until - laid).num_days();
    (days > 0).then(|| Wait { months: days as f64 / MONTH_DAYS, fruited: facts.first_fruit.is_some() })
}

/// The smallest wait at which Kaplan and Meier's share of logs without fruit is at most `1 - share`;
/// `None` when it never falls so far.
pub fn quantile(waits: &[Wait], share: f64) -> Option<f64> {
    survival(waits).into_iter().find(|(_, left)| *left <= 1.0 - share + 1e-12).map(|(months, _)| months)
}

/// Kaplan and Meier's share of logs still without fruit after each wait at which one fruited
/// (J. Am. Stat. Assoc. 53, 1958). A log that fruits at the end of another's watch comes first.
pub fn survival(waits: &[Wait]) -> Vec<(f64, f64)> {
    let mut sorted = waits.to_vec();
    sorted.sort_by(|a, b| a.months.total_cmp(&b.months).then(b.fruited.cmp(&a.fruited)));
    let mut left = 1.0;
    let mut steps: Vec<(f64, f64)> = Vec::new();
    let mut at = 0;
    while let Some(wait) = sorted.get(at) {
        let same = sorted.iter().skip(at).take_while(|w| w.months.total_cmp(&wait.months).is_eq());
        let (ties, fruited) = same.fold((0, 0), |(n, f), w| (n + 1, f + usize::from(w.fruited)));
        if fruited > 0 {
            left *= 1.0 - fruited as f64 / (sorted.len() - at) as f64;
            steps.push((wait.months, left));
        }
        at += ties;
    }
    steps
}

/// Published months from laying to first fruit, fewest and most.
pub fn published(log: &Alike) -> (u32, u32) {
    let most = match (log.mushroom.is_hericium(), log.method) {
        (true, Some(Method::Totem)) | (false, _) => 18,
        (true, _) => 24,
    };
    (fewest_months(log.mushroom, log.class), most)
}

/// When a log laid then may be expected to fruit; `own` are the waits of the yard's logs alike.
/// `None` when the laying day is not known.
pub fn window(log: &Alike, laid: &Rough, own: &[Wait], southern: bool) -> Option<Window> {
    let (first, last) = laid.span(southern)?;
    let (fewest, most) = published(log);
    let (from, to, source) = narrowed(log, own, (f64::from(fewest), f64::from(most)));
    let starts = plus(first, from.max(f64::from(fewest)))?;
    let ends = plus(last, to)?.max(starts);
    let (starts, ends) = within_season(log.class, starts, ends, southern)?;
    let late = late_after(laid, southern)?.max(ends);
    let source =
        source.with("laid", json!(laid.as_str())).with("fewest_months", fewest).with("most_months", most);
    Some(Window { from: starts, to: ends, late, months: (from, to), source })
}

/// The day after which a log laid then and still without fruit is late; `None` when its laying is not known.
pub fn late_after(laid: &Rough, southern: bool) -> Option<NaiveDate> {
    laid.span(southern)?.1.checked_add_months(Months::new(LATE_MONTHS))
}

fn narrowed(log: &Alike, own: &[Wait], (fewest, most): (f64, f64)) -> (f64, f64, WhereFrom) {
    let n = own.iter().filter(|w| w.fruited).count();
    let ends = quantile(own, 0.1).zip(quantile(own, 0.9));
    let Some((low, high)) = ends.filter(|_| n >= FEWEST_OWN) else {
        let hericium = log.mushroom.is_hericium();
        let how = if hericium { "first_fruit_hericium" } else { "first_fruit_published" };
        let (mark, source) = match (hericium, log.class) {
            (true, _) => (Mark::Common, ""),
            (false, Some(StrainClass::Cold)) => (
                Mark::Derived,
                "University of Kentucky FOR-85 (6–18 months); 9 months for cold strains: common practice",
            ),
            _ => (Mark::Published, "University of Kentucky FOR-85; University of Maryland RES-11"),
        };
        return (fewest, most, WhereFrom::new(how, mark, source).with("own_first_fruits", n));
    };
    let weight = n as f64 / (n + FEWEST_OWN) as f64;
    let drawn = |own: f64, published: f64| own * weight + published * (1.0 - weight);
    let logs = i64::try_from(own.len()).unwrap_or(i64::MAX);
    let source = WhereFrom::new("first_fruit_own", Mark::Own, "").of_logs(logs).with("own_first_fruits", n);
    let source = source.with("own_tenth_months", tenth(low)).with("own_ninetieth_months", tenth(high));
    (drawn(low, fewest), drawn(high, most), source)
}

fn tenth(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

fn plus(day: NaiveDate, months: f64) -> Option<NaiveDate> {
    let whole = months.floor();
    let days = ((months - whole) * MONTH_DAYS).round();
    day.checked_add_months(Months::new(whole as u32))?.checked_add_days(Days::new(days as u64))
}

/// The window cut to the months in which the class fruits by itself.
fn within_season(
    class: Option<StrainClass>,
    from: NaiveDate,
    to: NaiveDate,
    southern: bool,
) -> Option<(NaiveDate, NaiveDate)> {
    let on = |day: &NaiveDate| in_season(class, *day, southern);
    const YEAR: usize = 366;
    let starts = from.iter_days().take(YEAR).find(on)?;
    if starts > to {
        // Nothing of its season between: the whole of the next one.
        let ends = starts.iter_days().take(YEAR).take_while(on).last()?;
        return Some((starts, ends));
    }
    let back = (0..=YEAR as u64).filter_map(|n| to.checked_sub_days(Days::new(n))).find(on)?;
    Some((starts, back.max(starts)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn shiitake(class: Option<StrainClass>) -> Alike {
        Alike { mushroom: Mushroom::Shiitake, class, method: Some(Method::Drilled), spawn: Some(Spawn::Plug) }
    }

    fn span(log: &Alike, laid: &str, own: &[Wait]) -> (String, String) {
        let laid = Rough::parse(laid).unwrap();
        let window = window(log, &laid, own, false).unwrap();
        (window.from.to_string(), window.to.to_string())
    }

    fn days(from: &str, to: &str) -> (String, String) {
        (from.to_owned(), to.to_owned())
    }

    #[test]
    fn without_own_records_the_published_range_counts() {
        assert_eq!(span(&shiitake(None), "2025-04-10", &[]), days("2025-10-10", "2026-10-10"));
        assert_eq!(
            span(&shiitake(Some(StrainClass::Cold)), "2025-04-10", &[]),
            days("2026-01-10", "2026-10-10")
        );
        let totem =
            Alike { mushroom: Mushroom::Erinaceus, class: None, method: Some(Method::Totem), spawn: None };
        assert_eq!(span(&totem, "2025-04-10", &[]), days("2025-10-10", "2026-10-10"));
        let drilled = Alike { method: Some(Method::Drilled), ..totem };
        assert_eq!(span(&drilled, "2025-04-10", &[]), days("2025-10-10", "2027-04-10"));
    }

    #[test]
    fn a_window_is_cut_to_the_months_its_class_fruits_in() {
        let warm = shiitake(Some(StrainClass::Warm));
        assert_eq!(span(&warm, "2025-06-10", &[]), days("2026-05-01", "2026-10-31"), "not in the winter");
        let cold = shiitake(Some(StrainClass::Cold));
        assert_eq!(span(&cold, "2025-01-20", &[]), days("2025-10-20", "2026-05-31"), "not in July");
    }

    #[test]
    fn own_first_fruits_narrow_it_as_they_come() {
        let wait = |months, fruited| Wait { months, fruited };
        let four = [wait(8.0, true), wait(8.0, true), wait(9.0, true), wait(9.0, true), wait(3.0, false)];
        let log = shiitake(None);
        assert_eq!(span(&log, "2025-04-10", &four), span(&log, "2025-04-10", &[]), "four are too few");
        let five: Vec<Wait> = four.into_iter().chain([wait(10.0, true)]).collect();
        let laid = Rough::parse("2025-04-10").unwrap();
        let window = window(&log, &laid, &five, false).unwrap();
        // Half own, half published: (8 + 6)/2 and (10 + 18)/2 months.
        assert_eq!(window.months, (7.0, 14.0));
        assert_eq!(
            (window.from, window.to, window.late),
            (day("2025-11-10"), day("2026-06-10"), day("2027-04-10"))
        );
        assert_eq!((window.source.mark, window.source.logs), (Mark::Own, Some(6)));
    }

    #[test]
    fn logs_of_the_same_form_of_spawn_tell_more_once_five_of_them_fruited() {
        let fruited = |months| Wait { months, fruited: true };
        let plugs = |n: usize| vec![(Some(Spawn::Plug), fruited(12.0)); n];
        let sawdust = vec![(Some(Spawn::Sawdust), fruited(7.0)); 6];
        let log = shiitake(None);
        let (own, same) = nearest(&log, &[plugs(5), sawdust.clone()].concat());
        assert_eq!((own.len(), same), (5, true));
        assert!(own.iter().all(|wait| wait.months > 11.0), "plugs alone");
        let (all, same) = nearest(&log, &[plugs(4), sawdust.clone()].concat());
        assert_eq!((all.len(), same), (10, false), "four are too few");
        let unknown = Alike { spawn: None, ..log };
        let nobody_knows = vec![(None, fruited(9.0)); 7];
        assert_eq!(nearest(&unknown, &[nobody_knows, sawdust].concat()).0.len(), 13, "unknown is no form");
    }

    #[test]
    fn a_log_that_waits_counts_as_long_as_it_has_waited() {
        let mut facts = Facts { laid: Rough::parse("2025-04").ok(), ..Facts::default() };
        let found = wait(&facts, day("2026-04-15"), false).unwrap();
        assert!(!found.fruited && (found.months - 12.0).abs() < 0.05, "{found:?}");
        facts.first_fruit = Some(day("2025-12-15"));
        assert!(wait(&facts, day("2026-04-15"), false).unwrap().fruited);
        facts.laid = Rough::parse("2025").ok();
        assert_eq!(wait(&facts, day("2026-04-15"), false), None, "a year is too rough");
    }
}
