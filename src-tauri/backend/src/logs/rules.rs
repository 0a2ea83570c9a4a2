//! What a log can be and what its record says of its life today.
//! Never reads the register or the clock: facts and the day come in.
//! Invariant: a log has exactly one state on any day, whatever its record holds.

use crate::error::{Error, Result};
use crate::looks::rules::Stage;
use crate::measure::{self, Rough};
use crate::strains::rules::{Mushroom, StrainClass, fewest_months};
use crate::words::words;
use chrono::{Months, NaiveDate};
use serde_json::json;

words! {
    /// The form the spawn came in.
    pub enum Spawn {
        /// Wooden plugs.
        Plug = "plug",
        /// Sawdust.
        Sawdust = "sawdust",
    }
}

words! {
    /// How the spawn was brought in.
    pub enum Method {
        /// Holes drilled and filled.
        Drilled = "drilled",
        /// Sections stacked with spawn between them.
        Totem = "totem",
    }
}

words! {
    /// Where a log is in its life.
    pub enum State {
        /// Wood waiting to be laid.
        Waiting = "waiting",
        /// Laid, and too young to fruit.
        SpawnRun = "spawn_run",
        /// Old enough; nothing to see.
        MayFruit = "may_fruit",
        /// Pins or knobs seen and not picked since.
        Pins = "pins",
        /// Caps seen and not picked since.
        Fruiting = "fruiting",
        /// Picked; resting before the next flush.
        Resting = "resting",
        /// Ended: nothing more to come.
        Spent = "spent",
        /// Ended: lost to a competitor.
        Lost = "lost",
        /// Ended: thrown out.
        Discarded = "discarded",
    }
}

words! {
    /// Why a log's watch ended.
    pub enum Why {
        /// Nothing more to come.
        Spent = "spent",
        /// Lost to a competitor.
        Lost = "lost",
        /// Thrown out.
        Discarded = "discarded",
    }
}

/// Days after which caps that were seen and neither picked nor seen again are no longer counted as
/// out: from button to full size is a matter of days (common practice, no source).
pub const SEEN_DAYS: i64 = 21;

/// Rest after a picking, days: the lower end of 7–10 weeks (University of Kentucky FOR-85).
pub const REST_DAYS: i64 = 49;

/// What the grower says of a log.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct LogFields {
    /// The label on the log.
    pub tag: String,
    /// The wood's id; null when not known.
    pub wood: Option<String>,
    /// None to three diameters, mm: one; both ends; or end, middle, end.
    pub d_mm: Vec<i64>,
    /// Length, mm.
    pub length_mm: Option<i64>,
    /// When the tree was felled.
    pub felled: Option<Rough>,
    /// What it carries.
    pub mushroom: Mushroom,
    /// The strain's name; null when not known.
    pub strain: Option<String>,
    /// The strain's class; shiitake only.
    pub strain_class: Option<StrainClass>,
    /// The form the spawn came in.
    pub spawn: Option<Spawn>,
    /// How it was brought in.
    pub method: Option<Method>,
    /// When it was inoculated; null: not yet; `XXXX`: nobody knows.
    pub laid: Option<Rough>,
    /// The spot's name.
    pub spot: Option<String>,
    /// Anything else.
    pub note: String,
}

impl LogFields {
    /// The fields with blanks trimmed, or what is wrong with them.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(&self, today: NaiveDate, southern: bool) -> Result<Self> {
        let mut fields = self.clone();
        fields.tag = measure::text_within("tag", &self.tag, measure::TAG_CHARS)?;
        if fields.tag.is_empty() {
            return Err(Error::invalid("tag", "empty"));
        }
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        fields.strain = name("strain", self.strain.as_deref())?;
        fields.spot = name("spot", self.spot.as_deref())?;
        if self.d_mm.len() > measure::DIAMETERS_MAX {
            return Err(Error::invalid_with("d_mm", "too_long", json!({"max": measure::DIAMETERS_MAX})));
        }
        for d in &self.d_mm {
            measure::DIAMETER_MM.check("d_mm", *d)?;
        }
        self.length_mm.map(|l| measure::LENGTH_MM.check("length_mm", l)).transpose()?;
        if let Some(wood) = &self.wood
            && crate::woods::rules::wood(wood).is_none()
        {
            return Err(Error::invalid_with("wood", "unknown_word", json!({"word": wood})));
        }
        if self.mushroom.is_hericium() {
            fields.strain_class = None;
        }
        self.check_dates(today, southern)?;
        Ok(fields)
    }

    fn check_dates(&self, today: NaiveDate, southern: bool) -> Result<()> {
        for (field, date) in [("felled", &self.felled), ("laid", &self.laid)] {
            let Some(date) = date else { continue };
            date.check().map_err(|e| e.at(field))?;
            if date.surely_after(today, southern) {
                return Err(Error::invalid(field, "future"));
            }
        }
        if let (Some(felled), Some(laid)) = (&self.felled, &self.laid)
            && laid.surely_before(felled, southern)
        {
            return Err(Error::invalid_with("laid", "order", json!({"other": "felled"})));
        }
        Ok(())
    }
}

/// A trimmed name; an empty one is none.
fn name(field: &str, text: Option<&str>) -> Result<Option<String>> {
    let text = measure::text_within(field, text.unwrap_or_default(), measure::NAME_CHARS)?;
    Ok(Some(text).filter(|t| !t.is_empty()))
}

/// What the record says of a log, as far as its state depends on it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// When it was laid.
    pub laid: Option<Rough>,
    /// What it carries.
    pub mushroom: Option<Mushroom>,
    /// Its strain's class.
    pub class: Option<StrainClass>,
    /// What the newest look saw, and when.
    pub seen: Option<(Stage, NaiveDate)>,
    /// Whether that look is newer than the newest picking.
    pub seen_after_picking: bool,
    /// The newest picking's day.
    pub picked: Option<NaiveDate>,
    /// The first day anything fruited or was picked.
    pub first_fruit: Option<NaiveDate>,
    /// Why its watch ended.
    pub ended: Option<Why>,
}

/// The log's state on `today`.
pub fn state(facts: &Facts, today: NaiveDate, southern: bool) -> State {
    if let Some(why) = facts.ended {
        return match why {
            Why::Spent => State::Spent,
            Why::Lost => State::Lost,
            Why::Discarded => State::Discarded,
        };
    }
    if let Some(stage) = caps_out(facts, today) {
        return if stage.is_first_sign() { State::Pins } else { State::Fruiting };
    }
    if facts.picked.is_some_and(|day| (today - day).num_days() < REST_DAYS) {
        return State::Resting;
    }
    if facts.first_fruit.is_some() {
        return State::MayFruit;
    }
    match &facts.laid {
        None => State::Waiting,
        Some(_) if is_young(facts, today, southern) => State::SpawnRun,
        Some(_) => State::MayFruit,
    }
}

/// The stage of caps that were seen lately and not picked since.
pub fn caps_out(facts: &Facts, today: NaiveDate) -> Option<Stage> {
    let (stage, day) = facts.seen?;
    let lately = (today - day).num_days() <= SEEN_DAYS;
    (stage != Stage::Nothing && lately && facts.seen_after_picking && facts.ended.is_none()).then_some(stage)
}

/// Whether it was laid, has not fruited, and is too young to have done so even if it was laid on
/// the first day its rough date allows. A log whose laying nobody knows is not young.
pub fn is_young(facts: &Facts, today: NaiveDate, southern: bool) -> bool {
    let Some((first, _)) = facts.laid.as_ref().and_then(|l| l.span(southern)) else { return false };
    let months = fewest_months(facts.mushroom.unwrap_or(Mushroom::Shiitake), facts.class);
    let ready = first.checked_add_months(Months::new(months));
    facts.first_fruit.is_none() && ready.is_some_and(|day| today < day)
}

/// The tag to offer for the next log: the greatest one that ends in a number, counted on.
pub fn next_tag<'a>(tags: impl Iterator<Item = &'a str>) -> String {
    let last = tags.max_by(|a, b| measure::natural_order(a, b)).unwrap_or("0");
    let head = last.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = &last[head.len()..];
    let width = digits.len();
    match digits.parse::<u64>() {
        Ok(n) => format!("{head}{:0width$}", n + 1),
        Err(_) => format!("{last}2"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn facts(laid: &str) -> Facts {
        Facts { laid: Rough::parse(laid).ok(), mushroom: Some(Mushroom::Shiitake), ..Facts::default() }
    }

    #[test]
    fn a_log_goes_from_spawn_run_to_may_fruit_after_the_fewest_months() {
        let mut log = facts("2025-04-10");
        assert_eq!(state(&log, day("2025-10-09"), false), State::SpawnRun);
        assert_eq!(state(&log, day("2025-10-10"), false), State::MayFruit);
        log.class = Some(StrainClass::Cold);
        assert_eq!(state(&log, day("2025-10-10"), false), State::SpawnRun);
        assert_eq!(state(&log, day("2026-01-10"), false), State::MayFruit);
    }

    #[test]
    fn an_inherited_log_is_never_called_young() {
        assert_eq!(state(&facts("XXXX"), day("2026-05-01"), false), State::MayFruit);
        assert_eq!(state(&Facts::default(), day("2026-05-01"), false), State::Waiting);
    }

    #[test]
    fn caps_seen_count_until_picked_or_three_weeks_old() {
        let mut log = facts("2024-04-01");
        log.seen = Some((Stage::Pin, day("2026-05-01")));
        log.seen_after_picking = true;
        log.first_fruit = Some(day("2026-05-01"));
        assert_eq!(state(&log, day("2026-05-03"), false), State::Pins);
        log.seen = Some((Stage::Cupped, day("2026-05-04")));
        assert_eq!(state(&log, day("2026-05-05"), false), State::Fruiting);
        assert_eq!(state(&log, day("2026-05-26"), false), State::MayFruit);
        log.picked = Some(day("2026-05-05"));
        log.seen_after_picking = false;
        assert_eq!(state(&log, day("2026-05-06"), false), State::Resting);
        assert_eq!(state(&log, day("2026-06-23"), false), State::MayFruit);
        log.ended = Some(Why::Lost);
        assert_eq!(state(&log, day("2026-05-06"), false), State::Lost);
    }

    #[test]
    fn the_next_tag_counts_on() {
        assert_eq!(next_tag([].into_iter()), "1");
        assert_eq!(next_tag(["9", "36", "7"].into_iter()), "37");
        assert_eq!(next_tag(["B009", "A12"].into_iter()), "B010");
        assert_eq!(next_tag(["gate"].into_iter()), "gate2");
    }

    proptest! {
        #[test]
        fn the_next_tag_is_new(tags in prop::collection::vec("[A-C]?[0-9]{0,3}", 0..8)) {
            let next = next_tag(tags.iter().map(String::as_str));
            prop_assert!(!tags.contains(&next), "{next} among {tags:?}");
        }
    }
}
