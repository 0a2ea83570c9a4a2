//! What a grower says of a spot: its shade and ground, what waters it, how much rain comes through.
//! Never which log lies where, and never the register.
//! Invariant: what is not said stays not said; nothing about a spot is guessed from its name.

use crate::error::{Error, Result};
use crate::measure;
use crate::words::words;

words! {
    /// How much sun comes through in the growing season.
    pub enum Shade {
        /// No sun at all.
        Deep = "deep",
        /// Spots of sun that move.
        Dappled = "dappled",
        /// Sun for a part of the day.
        Half = "half",
        /// Sun for most of the day.
        Open = "open",
    }
}

words! {
    /// What the logs lie or lean on.
    pub enum Ground {
        /// Bare soil.
        Soil = "soil",
        /// Leaf litter.
        Litter = "litter",
        /// Grass.
        Grass = "grass",
        /// Gravel or sand.
        Gravel = "gravel",
        /// Rails, pallets or stones that keep the logs off the soil.
        Rails = "rails",
        /// A floor.
        Floor = "floor",
    }
}

words! {
    /// What waters the spot beside rain.
    pub enum Water {
        /// Nothing.
        None = "none",
        /// Cans, carried.
        Can = "can",
        /// A hose.
        Hose = "hose",
        /// A sprinkler.
        Sprinkler = "sprinkler",
    }
}

words! {
    /// How much of the rain reaches the logs.
    pub enum Rain {
        /// All of it.
        All = "all",
        /// Leaves keep some off.
        Some = "some",
        /// None: there is a roof.
        None = "none",
    }
}

/// What the grower says of a spot.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct SpotFields {
    /// Its name.
    pub name: String,
    /// Shade in the growing season.
    pub shade: Option<Shade>,
    /// What the logs lie on.
    pub ground: Option<Ground>,
    /// What waters it.
    pub water: Option<Water>,
    /// How much rain comes through.
    pub rain: Option<Rain>,
    /// Bare of shade when the leaves are down.
    pub winter_sun: Option<bool>,
    /// Kept from frost.
    pub heated: Option<bool>,
    /// Anything else.
    pub note: String,
}

impl SpotFields {
    /// The fields with blanks trimmed.
    ///
    /// # Errors
    /// `Invalid` on `name` or `note`.
    pub fn checked(&self) -> Result<Self> {
        let mut fields = self.clone();
        fields.name = measure::text_within("name", &self.name, measure::NAME_CHARS)?;
        if fields.name.is_empty() {
            return Err(Error::invalid("name", "empty"));
        }
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        Ok(fields)
    }
}
