//! What a log's life asks for: wood to lay before it is stale, a look in its season, one that never fruited.
//! Never moisture, soaking or picking: those rooms say it.
//! Invariant: an ended log asks for nothing.

use super::Method;
use super::State;
use super::first_fruit::{LATE_MONTHS, late_after};
use super::known::Known;
use crate::due::{Chore, Due, Tap, Urgency};
use crate::measure::Rough;
use crate::strains::rules::StrainClass;
use crate::weather::rules::{Day, week_mean};
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, NaiveDate};

/// Days from felling within which wood is laid: about a month (common practice).
pub const LAY_DAYS: i64 = 30;
/// The same for Hericium totems: three months (extension forest farming).
pub const LAY_TOTEM_DAYS: i64 = 90;
/// It presses from so many days before (chosen).
const LAY_PRESSES_DAYS: i64 = 7;
/// Days without a look after which a log that may fruit is looked at in its season (chosen).
const UNSEEN_DAYS: i64 = 14;

/// The last day to lay wood on, by the latest day its rough felling date can mean.
pub fn lay_until(log: &Known, southern: bool) -> Option<NaiveDate> {
    let (_, last) = log.felled.as_ref()?.span(southern)?;
    let totem = log.mushroom.is_hericium() && log.method == Some(Method::Totem);
    last.checked_add_days(Days::new(if totem { LAY_TOTEM_DAYS } else { LAY_DAYS }.unsigned_abs()))
}

/// Air a log fruits in, tenths of °C: the strain's own, or its class's (common practice; sellers disagree).
pub fn range_dc(log: &Known) -> (i64, i64) {
    log.range_dc.unwrap_or(match log.class {
        _ if log.mushroom.is_hericium() => (100, 240),
        Some(StrainClass::Cold) => (40, 210),
        Some(StrainClass::Warm) => (100, 290),
        _ => (130, 250),
    })
}

/// A batch of felled wood of which no log is in the register yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pile {
    /// The batch's id.
    pub batch: String,
    /// Its name.
    pub name: String,
    /// When it was felled.
    pub felled: Option<Rough>,
}

/// What logs, and wood that is none yet, ask for by their life.
pub fn dues(logs: &[Known], piles: &[Pile], days: &[Day], today: NaiveDate, southern: bool) -> Vec<Due> {
    let mut all = Vec::new();
    all.extend(lay_due(logs, today, southern));
    all.extend(piles.iter().map(|pile| pile_due(pile, today, southern)));
    all.extend(season_due(logs, days, today));
    all.extend(late_due(logs, today, southern));
    all
}

fn lay_due(logs: &[Known], today: NaiveDate, southern: bool) -> Option<Due> {
    let waiting: Vec<&Known> = logs.iter().filter(|log| log.is_live() && log.facts.laid.is_none()).collect();
    let until = |log: &&Known| lay_until(log, southern);
    let first = waiting.iter().filter_map(until).min();
    if waiting.is_empty() {
        return None;
    }
    let tap = match waiting.as_slice() {
        [one] => Tap::screen("log-edit", &[("log", &one.id)]),
        _ => Tap::screen("wood-waiting", &[]),
    };
    let key = format!("lay:{}", first.map_or_else(|| "unknown".to_owned(), |day| day.to_string()));
    let mut due = lay(key, first, today, tap)
        .since(first.and_then(|day| day.checked_sub_days(Days::new(LAY_DAYS.unsigned_abs()))));
    due.logs = waiting.iter().map(|log| log.due()).collect();
    Some(due)
}

/// Wood too old to drill may still be stacked as Hericium totems.
fn pile_due(pile: &Pile, today: NaiveDate, southern: bool) -> Due {
    let last = pile.felled.as_ref().and_then(|felled| felled.span(southern)).map(|(_, last)| last);
    let after = |days: i64| last?.checked_add_days(Days::new(days.unsigned_abs()));
    let totem = after(LAY_DAYS).is_some_and(|day| day < today);
    let until = after(if totem { LAY_TOTEM_DAYS } else { LAY_DAYS });
    let key =
        format!("lay:{}:{}", pile.batch, until.map_or_else(|| "unknown".to_owned(), |day| day.to_string()));
    lay(key, until, today, Tap::screen("wood-waiting", &[]))
        .with("name", pile.name.as_str())
        .with("totem", totem)
        .since(last)
}

/// To lay wood until a day; `None`: nobody knows when it was felled.
fn lay(key: String, until: Option<NaiveDate>, today: NaiveDate, tap: Tap) -> Due {
    let left = until.map(|day| (day - today).num_days());
    let urgency = match left {
        Some(left) if left < 0 => Urgency::Now,
        Some(left) if left <= LAY_PRESSES_DAYS => Urgency::Today,
        Some(_) => Urgency::Soon,
        None => Urgency::Can,
    };
    let from = WhereFrom::new(
        "lay_by",
        Mark::Common,
        "within 3 months for Hericium totems: published, extension forest farming",
    )
    .with("within_days", LAY_DAYS)
    .with("totem_days", LAY_TOTEM_DAYS);
    Due::new(key, Chore::Lay, urgency, from, tap)
        .with("until", until.map(|day| day.to_string()))
        .with("left", left)
}

/// Logs that may fruit in the air of the last week and were not looked at for a fortnight.
fn season_due(logs: &[Known], days: &[Day], today: NaiveDate) -> Option<Due> {
    let mean = week_mean(days, today)?;
    let due = |log: &&Known| {
        let (from, to) = range_dc(log);
        let unseen = log.facts.seen.map(|(_, day)| day).max(log.facts.picked).max(log.soaked_out);
        log.state == State::MayFruit
            && (from..=to).contains(&mean)
            && unseen.is_none_or(|day| (today - day).num_days() >= UNSEEN_DAYS)
    };
    let found: Vec<&Known> = logs.iter().filter(due).collect();
    if found.is_empty() {
        return None;
    }
    let from = WhereFrom::new("look_season", Mark::Common, "")
        .with("mean_dc", mean)
        .with("unseen_days", UNSEEN_DAYS);
    let tap = match found.as_slice() {
        [one] => Tap::screen("look", &[("log", &one.id)]),
        _ => Tap::screen("yard", &[("state", State::MayFruit.word())]),
    };
    // Put off once, it does not come back with each log whose fortnight is over: it is about the season.
    let key = format!("look_season:{}", today.format("%G-%V"));
    let mut all = Due::new(key, Chore::LookSeason, Urgency::Can, from, tap).with("mean_dc", mean);
    all.logs = found.iter().map(|log| log.due()).collect();
    Some(all)
}

/// Logs that are past the latest first fruit that is published, and never fruited.
fn late_due(logs: &[Known], today: NaiveDate, southern: bool) -> Option<Due> {
    let late = |log: &&Known| {
        let by = log.facts.laid.as_ref().and_then(|laid| late_after(laid, southern));
        log.is_live() && log.facts.first_fruit.is_none() && by.is_some_and(|by| by < today)
    };
    let found: Vec<&Known> = logs.iter().filter(late).collect();
    let newest = found.iter().filter_map(|log| log.facts.laid.as_ref()).map(ToString::to_string).max()?;
    let from = WhereFrom::new("late", Mark::Published, "Ohio State University Extension F-0042: 6–24 months")
        .with("late_months", LATE_MONTHS);
    let tap = match found.as_slice() {
        [one] => Tap::screen("log", &[("log", &one.id)]),
        _ => Tap::screen("yard", &[]),
    };
    let mut due = Due::new(format!("overdue:{newest}"), Chore::Overdue, Urgency::Can, from, tap);
    due.logs = found.iter().map(|log| log.due()).collect();
    Some(due)
}
