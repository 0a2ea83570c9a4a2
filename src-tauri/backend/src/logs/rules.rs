//! What a log can be: its words, and what the grower says of it.
//! Never reads the register or the clock. Where it is in its life: `life`; what may happen to it: `follows`.
//! Invariant: only what cannot be true of a log is refused.

pub mod first_fruit;
pub mod follows;
pub mod life;

pub use life::{
    Facts, REST_DAYS, SEEN_DAYS, SOAKED_DAYS, When, caps_out, in_tank, is_young, rest_until, state,
};

pub mod due;
pub mod known;

use crate::error::{Error, Result};
use crate::measure::{self, Rough};
use crate::strains::rules::{Mushroom, StrainClass};
use crate::words::words;
use chrono::NaiveDate;
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
        /// In the tank.
        Soaking = "soaking",
        /// Out of the tank; pins are awaited.
        Soaked = "soaked",
        /// Pins or knobs seen and not picked since.
        Pins = "pins",
        /// Caps seen and not picked since.
        Fruiting = "fruiting",
        /// Picked or soaked; resting before the next flush.
        Resting = "resting",
        /// Ended: nothing more to come.
        Spent = "spent",
        /// Ended: lost to a competitor.
        Lost = "lost",
        /// Ended: thrown out.
        Discarded = "discarded",
        /// Left: given away.
        Given = "given",
        /// Left: sold.
        Sold = "sold",
        /// Left: lent, and expected back.
        Lent = "lent",
        /// Left: stolen.
        Stolen = "stolen",
    }
}

words! {
    /// Why a log's watch ended. The first three end its life too; the others say how it left, and it
    /// may live on where it is now.
    pub enum Why {
        /// Nothing more to come.
        Spent = "spent",
        /// Lost to a competitor.
        Lost = "lost",
        /// Thrown out.
        Discarded = "discarded",
        /// Given away.
        Given = "given",
        /// Sold.
        Sold = "sold",
        /// Lent, and expected back.
        Lent = "lent",
        /// Stolen.
        Stolen = "stolen",
    }
}

impl Why {
    /// Whether the log left the yard alive: then its watch ended, not its life.
    pub fn left(self) -> bool {
        matches!(self, Self::Given | Self::Sold | Self::Lent | Self::Stolen)
    }

    /// The state of a log whose watch ended so.
    pub fn state(self) -> State {
        match self {
            Self::Spent => State::Spent,
            Self::Lost => State::Lost,
            Self::Discarded => State::Discarded,
            Self::Given => State::Given,
            Self::Sold => State::Sold,
            Self::Lent => State::Lent,
            Self::Stolen => State::Stolen,
        }
    }
}

impl State {
    /// Whether the log's watch has ended.
    pub fn is_ended(self) -> bool {
        Why::ALL.iter().any(|why| why.state() == self)
    }
}

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
    /// The batch of wood it was cut with, by id.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub batch: Option<String>,
    /// The spawn lot it was laid with, by id.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub lot: Option<String>,
    /// Anything else.
    pub note: String,
}

impl LogFields {
    /// The fields with blanks trimmed, or what is wrong with them. Whether its wood, batch and lot
    /// are in the register is for whoever writes them to see.
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
