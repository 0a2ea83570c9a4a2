//! The table of woods: ratings for each mushroom, green weight, and the mark and source of both.
//! Never advice in words: the screen says what a rating or a note means.
//! Invariant: every line of `woods.csv` becomes a wood; a line that can't be read fails the tests.
//!
//! Ratings run from 0, unsuitable, to 4, best. Marks: `D`, derived from a published trial named as
//! source; `CP`, common practice without one. Ratings are guidance, no law. Green gravity and
//! moisture: USDA Forest Service, Forest Inventory and Analysis, REF_SPECIES, the row `fia_spcd`;
//! given only where the wood is that species, or all the genus' rows there agree.
//!
//! Life: university extension services give logs 3–6 years, big ones up to ten, and growers reckon a
//! year for each inch of thickness (common practice); see [`life_years`].
//!
//! Trials: Bruhn, Mihail & Pickens 2009, Bioresource Technology 100:6472. HortTechnology 6(4), 1996.
//! Frey et al. 2020, HortTechnology 30:741.

use crate::error::{Error, Result};
use crate::measure::{self, Bounds};
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::HashMap;
use std::sync::LazyLock;

const TABLE: &str = include_str!("woods.csv");

/// How well a mushroom does on a wood: 0 unsuitable to 4 best; a range where sources differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ts_rs::TS)]
#[serde(try_from = "String")]
pub struct Rating {
    /// The least any source gives.
    pub low: u8,
    /// The most any source gives.
    pub high: u8,
}

impl Rating {
    /// One figure for a list: the middle of the range, rounded down.
    pub fn middle(self) -> u8 {
        self.low.midpoint(self.high)
    }
}

impl TryFrom<String> for Rating {
    type Error = String;

    fn try_from(text: String) -> std::result::Result<Self, String> {
        let (low, high) = text.split_once('-').unwrap_or((&text, &text));
        match (low.parse(), high.parse()) {
            (Ok(low), Ok(high)) if low <= high && high <= 4 => Ok(Self { low, high }),
            _ => Err(format!("no rating: {text}")),
        }
    }
}

/// Fresh wood's weight.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Green {
    /// The species' number in REF_SPECIES.
    pub fia_spcd: u32,
    /// Oven-dry weight over green volume, relative to water.
    pub gravity: f64,
    /// Moisture, per cent of the dry weight.
    pub moisture_pct: f64,
}

impl Green {
    /// Its moisture on the wet basis, per cent of the fresh weight: 100·MC/(100 + MC).
    pub fn wet_basis_pct(self) -> f64 {
        100.0 * self.moisture_pct / (100.0 + self.moisture_pct)
    }

    /// Weight of fresh wood without bark, kg/m³ (or g per litre): 1000·G·(1 + MC/100)
    /// (Wood Handbook, chapter 4).
    pub fn density(self) -> f64 {
        1000.0 * self.gravity * (1.0 + self.moisture_pct / 100.0)
    }
}

/// Something about a wood that a rating can't say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ts_rs::TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "WoodNote")]
pub enum Note {
    /// Fruits early and is soon spent.
    ShortLife,
    /// Its bark comes off, and a log without bark dries out.
    BarkStrips,
    /// Sources give ratings far apart.
    SourcesDiffer,
}

/// One wood of the table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Wood {
    /// What the register keeps: lower case and hyphens, never changed once shipped.
    pub id: String,
    /// Common name, lower case.
    pub name: String,
    /// Scientific name; a genus where the wood is not told apart further.
    pub scientific: String,
    /// True for softwoods, on which neither mushroom lives.
    pub conifer: bool,
    /// Shiitake; `None` where no one says.
    pub shiitake: Option<Rating>,
    /// Either Hericium; `None` where no one says.
    pub hericium: Option<Rating>,
    /// What else to know.
    pub note: Option<Note>,
    /// `D` or `CP`, see the head of this file.
    pub mark: String,
    /// Where the ratings come from.
    pub source: String,
    /// Fresh weight, where the table has it.
    pub green: Option<Green>,
}

/// All woods, in the table's order.
pub fn woods() -> &'static [Wood] {
    static WOODS: LazyLock<Vec<Wood>> = LazyLock::new(|| {
        let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
        reader.deserialize().filter_map(|line| line.ok().map(Line::into_wood)).collect()
    });
    &WOODS
}

/// The wood with this id.
pub fn wood(id: &str) -> Option<&'static Wood> {
    static BY_ID: LazyLock<HashMap<&str, &Wood>> =
        LazyLock::new(|| woods().iter().map(|wood| (wood.id.as_str(), wood)).collect());
    BY_ID.get(id).copied()
}

/// Years a log is expected to bear, counted from laying.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ts_rs::TS)]
pub struct Life {
    /// Fewest.
    pub from: u32,
    /// Most.
    pub to: u32,
}

/// Years that university extension services give a log.
pub const LIFE: Life = Life { from: 3, to: 6 };

/// Years up to which big logs are said to bear (common practice, no source).
const LIFE_BIG: u32 = 10;

/// A thickness of one inch, mm.
const INCH_MM: f64 = 25.4;

/// Years that a log of this wood bears, for a screen about the wood: the published 3–6; a wood that
/// is called short-lived gets the lower half of it (our own choice: no source has a figure).
pub fn life_of(note: Option<Note>) -> Life {
    match note {
        Some(Note::ShortLife) => Life { from: LIFE.from, to: LIFE.from.midpoint(LIFE.to) },
        _ => LIFE,
    }
}

/// Years that a log of this mean thickness bears: about a year for each inch (common practice, no
/// source), a year either way, and never under three nor over ten; of a short-lived wood no more
/// than [`life_of`] says.
pub fn life_years(mean_mm: f64, note: Option<Note>) -> Life {
    let inches = (mean_mm / INCH_MM).round().clamp(f64::from(LIFE.from), f64::from(LIFE_BIG)) as u32;
    let most = if note == Some(Note::ShortLife) { life_of(note).to } else { LIFE_BIG };
    let to = (inches + 1).min(most);
    Life { from: (inches - 1).max(LIFE.from).min(to), to }
}

/// A wood the grower added.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct WoodFields {
    /// Common name.
    pub name: String,
    /// Scientific name; empty when not known.
    pub scientific: String,
    /// Whether it is a softwood.
    pub conifer: bool,
    /// The grower's rating for shiitake, 0 unsuitable to 4 best; null: not rated.
    #[ts(type = "number | null")]
    pub shiitake: Option<i64>,
    /// The grower's rating for Hericium.
    #[ts(type = "number | null")]
    pub hericium: Option<i64>,
    /// Weight of fresh wood, kg/m³; null: not known.
    #[ts(type = "number | null")]
    pub density_kg_m3: Option<i64>,
    /// Moisture of fresh wood, per cent of its fresh weight; null: not known.
    #[ts(type = "number | null")]
    pub moisture_pct: Option<i64>,
    /// The grower's words.
    pub note: String,
}

/// A rating.
const RATING: Bounds = Bounds { min: 0, max: 4, unit: "of 4" };
/// Fresh wood, kg/m³: balsa's dry wood has about 150, and soaked ironwood sinks (from memory).
const DENSITY: Bounds = Bounds { min: 150, max: 1600, unit: "kg/m³" };
/// Moisture on the wet basis, per cent.
const MOISTURE: Bounds = Bounds { min: 5, max: 80, unit: "%" };

impl WoodFields {
    /// The fields with blanks trimmed, or what is wrong with them. A softwood's ratings are nought.
    ///
    /// # Errors
    /// `Invalid`, naming the field; on `name` with why `known_wood` when the table has it.
    pub fn checked(&self) -> Result<Self> {
        let mut fields = self.clone();
        fields.name = measure::text_within("name", &self.name, measure::NAME_CHARS)?;
        fields.scientific = measure::text_within("scientific", &self.scientific, measure::NAME_CHARS)?;
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        if fields.name.is_empty() {
            return Err(Error::invalid("name", "empty"));
        }
        let same = |a: &str| a.to_lowercase() == fields.name.to_lowercase();
        if woods().iter().any(|w| same(&w.name) || same(&w.id)) {
            return Err(Error::invalid_with("name", "known_wood", json!({"name": fields.name})));
        }
        let check =
            |field, value: Option<i64>, bounds: Bounds| value.map(|v| bounds.check(field, v)).transpose();
        check("shiitake", self.shiitake, RATING)?;
        check("hericium", self.hericium, RATING)?;
        check("density_kg_m3", self.density_kg_m3, DENSITY)?;
        check("moisture_pct", self.moisture_pct, MOISTURE)?;
        if fields.conifer {
            (fields.shiitake, fields.hericium) = (Some(0), Some(0));
        }
        Ok(fields)
    }
}

#[derive(Deserialize)]
struct Line {
    id: String,
    name: String,
    scientific: String,
    conifer: u8,
    shiitake: Option<Rating>,
    hericium: Option<Rating>,
    note: Option<Note>,
    mark: String,
    source: String,
    fia_spcd: Option<u32>,
    sg_green: Option<f64>,
    mc_green_pct: Option<f64>,
}

impl Line {
    fn into_wood(self) -> Wood {
        let green = match (self.fia_spcd, self.sg_green, self.mc_green_pct) {
            (Some(fia_spcd), Some(gravity), Some(moisture_pct)) => {
                Some(Green { fia_spcd, gravity, moisture_pct })
            }
            _ => None,
        };
        Wood {
            id: self.id,
            name: self.name,
            scientific: self.scientific,
            conifer: self.conifer == 1,
            shiitake: self.shiitake,
            hericium: self.hericium,
            note: self.note,
            mark: self.mark,
            source: self.source,
            green,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_line_of_the_table_becomes_a_wood() {
        assert_eq!(woods().len(), TABLE.lines().count() - 1);
        let ids: BTreeSet<&str> = woods().iter().map(|w| w.id.as_str()).collect();
        assert_eq!(ids.len(), woods().len(), "two woods share an id");
    }

    #[test]
    fn no_wood_stands_without_mark_source_or_a_clean_name() {
        for wood in woods() {
            assert!(["D", "CP"].contains(&wood.mark.as_str()), "{wood:?}");
            assert!(!wood.source.is_empty() && !wood.scientific.is_empty(), "{wood:?}");
            assert!(wood.id.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'), "{wood:?}");
            assert_eq!(wood.name, wood.name.to_lowercase());
            assert_eq!(wood.mark == "CP", wood.source == "common practice", "{wood:?}");
        }
    }

    #[test]
    fn a_wood_is_found_by_its_id_only() {
        assert_eq!(wood("sugar-maple").map(|w| w.name.as_str()), Some("sugar maple"));
        assert_eq!(wood("sugar maple"), None);
        assert_eq!(wood("beech").and_then(|w| w.shiitake), Some(Rating { low: 2, high: 4 }));
        assert_eq!(wood("mulberry").and_then(|w| w.shiitake), None);
    }

    #[test]
    fn a_log_lives_about_a_year_for_each_inch() {
        assert_eq!(life_years(127.0, None), Life { from: 4, to: 6 });
        assert_eq!(life_years(60.0, None), Life { from: 3, to: 4 });
        assert_eq!(life_years(400.0, None), Life { from: 9, to: 10 });
        assert_eq!(life_years(200.0, Some(Note::ShortLife)), Life { from: 4, to: 4 });
        assert_eq!(life_of(Some(Note::ShortLife)), Life { from: 3, to: 4 });
    }

    #[test]
    fn an_own_wood_is_refused_by_its_reason_and_a_softwood_is_rated_nought() {
        let plum = WoodFields {
            name: " Plum ".into(),
            scientific: String::new(),
            conifer: false,
            shiitake: Some(2),
            hericium: None,
            density_kg_m3: None,
            moisture_pct: None,
            note: String::new(),
        };
        assert_eq!(plum.checked().unwrap().name, "Plum");
        let why = |fields: WoodFields| fields.checked().unwrap_err().reply()["detail"]["why"].clone();
        assert_eq!(why(WoodFields { name: "White Oak".into(), ..plum.clone() }), "known_wood");
        assert_eq!(why(WoodFields { name: "  ".into(), ..plum.clone() }), "empty");
        assert_eq!(why(WoodFields { shiitake: Some(5), ..plum.clone() }), "range");
        assert_eq!(why(WoodFields { moisture_pct: Some(120), ..plum.clone() }), "range");
        let yew = WoodFields { name: "yew".into(), conifer: true, ..plum };
        assert_eq!(yew.checked().unwrap().shiitake, Some(0));
    }

    #[test]
    fn what_is_no_rating_is_refused() {
        for bad in ["5", "4-2", "-1", "a", "1-5", ""] {
            assert!(Rating::try_from(bad.to_owned()).is_err(), "{bad}");
        }
    }
}
