//! What slugs and others cost: damage by spot, season, hour and days since pins, by what was done against it,
//! slugs over time, and whether early picking paid.
//! Never a verdict on few figures: each group says how many stops it stands on.
//! Invariant: a stop that was skipped, or where nobody judged damage, counts in no share of damage.

use super::rules::{Damage, Did, How};
use crate::looks::rules::Stage;
use chrono::{Datelike, NaiveDate};
use std::collections::BTreeMap;

/// Fewer stops, rounds or pickings than this are called few.
pub const FEW: usize = 10;

/// A stop of a round, with what is known around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// The evening.
    pub day: NaiveDate,
    /// The round.
    pub round: String,
    /// The spot's name as it is now.
    pub spot: Option<String>,
    /// How it was done.
    pub how: How,
    /// Slugs found.
    pub slugs: i64,
    /// Damage.
    pub damage: Damage,
    /// Hours from dark; none: entered afterwards, or no dusk is known.
    pub hours: Option<f64>,
    /// Days since pins were first seen; none: no caps out.
    pub pins_days: Option<i64>,
    /// What was last done against slugs at its spot in the two weeks before.
    pub control: Option<Did>,
}

/// A group of stops.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "LossGroup")]
pub struct Group {
    /// Its key: a name, a season such as `2026-23`, an hour or days such as `0-1`, a word; empty: none.
    pub key: String,
    /// Stops where damage was judged.
    pub stops: usize,
    /// Of these, damaged.
    pub damaged: usize,
    /// Slugs found at all its stops.
    pub slugs: i64,
    /// Too few to tell.
    pub few: bool,
}

/// One evening.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "SlugEvening")]
pub struct Evening {
    /// The evening's day.
    pub day: NaiveDate,
    /// Slugs found.
    pub slugs: i64,
    /// Stops.
    pub stops: usize,
}

/// By what stops are put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Spot.
    Spot,
    /// Season of the year.
    Season,
    /// Hours after dark.
    Hours,
    /// Days since pins.
    Pins,
    /// What was done before.
    Control,
}

/// The stops in groups; the greatest share of damage last of none: groups stand in order of their key.
pub fn groups(seen: &[Seen], by: By, southern: bool) -> Vec<Group> {
    let mut found: BTreeMap<String, Group> = BTreeMap::new();
    for stop in seen.iter().filter(|s| s.how != How::Skipped) {
        let Some(key) = key(stop, by, southern) else { continue };
        let group =
            found.entry(key.clone()).or_insert(Group { key, stops: 0, damaged: 0, slugs: 0, few: true });
        group.slugs += stop.slugs;
        if stop.how != How::Tallied {
            group.stops += 1;
            group.damaged += usize::from(stop.damage != Damage::None);
        }
    }
    let mut groups: Vec<Group> = found.into_values().collect();
    for group in &mut groups {
        group.few = group.stops < FEW;
    }
    groups
}

fn key(stop: &Seen, by: By, southern: bool) -> Option<String> {
    Some(match by {
        By::Spot => stop.spot.clone().unwrap_or_default(),
        By::Season => season(stop.day, southern),
        By::Hours => match stop.hours? {
            h if h < 0.0 => "before".to_owned(),
            h if h < 1.0 => "0-1".to_owned(),
            h if h < 2.0 => "1-2".to_owned(),
            h if h < 3.0 => "2-3".to_owned(),
            _ => "3".to_owned(),
        },
        By::Pins => match stop.pins_days? {
            ..=2 => "0-2".to_owned(),
            3..=5 => "3-5".to_owned(),
            6..=9 => "6-9".to_owned(),
            _ => "more".to_owned(),
        },
        By::Control => stop.control.map_or_else(String::new, |did| did.word().to_owned()),
    })
}

/// The season of a day as a rough date has it: whole months, and a winter named by the year it begins in.
pub fn season(day: NaiveDate, southern: bool) -> String {
    let month = day.month0();
    // December is the first month of a quarter.
    let quarter = (month + 1) / 3 % 4;
    let year = if month < 2 { day.year() - 1 } else { day.year() };
    let number = match (quarter + if southern { 2 } else { 0 }) % 4 {
        0 => 24,
        1 => 21,
        2 => 22,
        _ => 23,
    };
    format!("{year:04}-{number}")
}

/// Evenings in order, rounds of one evening together.
pub fn evenings(seen: &[Seen]) -> Vec<Evening> {
    let mut found: BTreeMap<NaiveDate, Evening> = BTreeMap::new();
    for stop in seen.iter().filter(|s| s.how != How::Skipped) {
        let evening = found.entry(stop.day).or_insert(Evening { day: stop.day, slugs: 0, stops: 0 });
        evening.slugs += stop.slugs;
        evening.stops += 1;
    }
    found.into_values().collect()
}

/// A picking whose damage was judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The stage it was picked at, or that the look before it saw.
    pub stage: Stage,
    /// Share damaged, per cent.
    pub damaged_pct: i64,
    /// Grams, when weighed.
    pub grams: Option<i64>,
}

/// Whether early picking paid.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct EarlyOrLate {
    /// Pickings up to cupped (Hericium: up to long spines).
    pub early: usize,
    /// Their mean damage, per cent.
    pub early_pct: Option<f64>,
    /// Their mean weight, g, of those weighed.
    pub early_g: Option<f64>,
    /// Later pickings.
    pub late: usize,
    /// Their mean damage, per cent.
    pub late_pct: Option<f64>,
    /// Their mean weight, g, of those weighed.
    pub late_g: Option<f64>,
    /// Either side too few to tell.
    pub few: bool,
}

/// Early against late pickings.
pub fn early_or_late(pickings: &[Judged]) -> EarlyOrLate {
    let is_early = |p: &&Judged| {
        matches!(
            p.stage,
            Stage::Pin | Stage::Button | Stage::Cupped | Stage::Knob | Stage::ShortSpines | Stage::LongSpines
        )
    };
    let known = || pickings.iter().filter(|p| p.stage != Stage::Nothing);
    let early: Vec<&Judged> = known().filter(is_early).collect();
    let late: Vec<&Judged> = known().filter(|p| !is_early(p)).collect();
    let mean =
        |values: Vec<f64>| (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64);
    let pct = |side: &[&Judged]| mean(side.iter().map(|p| p.damaged_pct as f64).collect());
    let g = |side: &[&Judged]| mean(side.iter().filter_map(|p| p.grams.map(|g| g as f64)).collect());
    EarlyOrLate {
        early: early.len(),
        early_pct: pct(&early),
        early_g: g(&early),
        late: late.len(),
        late_pct: pct(&late),
        late_g: g(&late),
        few: early.len().min(late.len()) < FEW,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn stop(how: How, slugs: i64, damage: Damage) -> Seen {
        let (day, spot) = (day("2026-10-03"), Some("Ditch".to_owned()));
        let round = String::new();
        Seen { day, round, spot, how, slugs, damage, hours: Some(1.5), pins_days: Some(4), control: None }
    }

    #[test]
    fn seasons_are_named_as_rough_dates_are() {
        assert_eq!(season(day("2026-10-03"), false), "2026-23");
        assert_eq!(season(day("2026-12-01"), false), "2026-24");
        assert_eq!(season(day("2027-02-28"), false), "2026-24");
        assert_eq!(season(day("2027-03-01"), false), "2027-21");
        assert_eq!(season(day("2027-01-15"), true), "2026-22");
        assert_eq!(season(day("2026-10-03"), true), "2026-21");
    }

    #[test]
    fn a_skipped_stop_counts_nowhere_and_a_childs_only_in_slugs() {
        let seen = [
            stop(How::Seen, 4, Damage::Some),
            stop(How::Clean, 0, Damage::None),
            stop(How::Skipped, 0, Damage::None),
            stop(How::Tallied, 3, Damage::None),
        ];
        let group = Group { key: "Ditch".into(), stops: 2, damaged: 1, slugs: 7, few: true };
        assert_eq!(groups(&seen, By::Spot, false), [group]);
        let keys = |by| groups(&seen, by, false).into_iter().map(|g| g.key).collect::<Vec<_>>();
        assert_eq!(keys(By::Hours), ["1-2"]);
        assert_eq!(keys(By::Pins), ["3-5"]);
        assert_eq!(keys(By::Control), [""]);
        assert_eq!(evenings(&seen), [Evening { day: day("2026-10-03"), slugs: 7, stops: 3 }]);
    }

    #[test]
    fn early_and_late_pickings_are_told_apart_by_stage() {
        let picking = |stage, damaged_pct, grams| Judged { stage, damaged_pct, grams };
        let both = [
            picking(Stage::Cupped, 0, Some(200)),
            picking(Stage::Cupped, 10, None),
            picking(Stage::Flat, 40, Some(300)),
            picking(Stage::Nothing, 90, None),
        ];
        let found = early_or_late(&both);
        assert_eq!((found.early, found.early_pct, found.early_g), (2, Some(5.0), Some(200.0)));
        assert_eq!((found.late, found.late_pct, found.few), (1, Some(40.0), true));
    }
}
