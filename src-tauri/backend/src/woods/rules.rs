//! The table of woods: ratings for each mushroom, green weight, and the mark and source of both.
//! Never advice in words: the screen says what a rating or a note means.
//! Invariant: every line of `woods.csv` becomes a wood; a line that can't be read fails the tests.
//!
//! Ratings run from 0, unsuitable, to 4, best. Marks: `D`, derived from a published trial named as
//! source; `CP`, common practice without one. Ratings are guidance, no law. Green gravity and
//! moisture: USDA Forest Service, Forest Inventory and Analysis, REF_SPECIES, the row `fia_spcd`;
//! given only where the wood is that species, or all the genus' rows there agree.
//!
//! Trials: Bruhn, Mihail & Pickens 2009, Bioresource Technology 100:6472. HortTechnology 6(4), 1996.
//! Frey et al. 2020, HortTechnology 30:741.

use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

const TABLE: &str = include_str!("woods.csv");

/// How well a mushroom does on a wood: 0 unsuitable to 4 best; a range where sources differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
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

    fn try_from(text: String) -> Result<Self, String> {
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
    /// Weight of fresh wood without bark, kg/m³ (or g per litre): 1000·G·(1 + MC/100)
    /// (Wood Handbook, chapter 4).
    pub fn density(self) -> f64 {
        1000.0 * self.gravity * (1.0 + self.moisture_pct / 100.0)
    }
}

/// Something about a wood that a rating can't say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
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
    woods().iter().find(|wood| wood.id == id)
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
    fn what_is_no_rating_is_refused() {
        for bad in ["5", "4-2", "-1", "a", "1-5", ""] {
            assert!(Rating::try_from(bad.to_owned()).is_err(), "{bad}");
        }
    }
}
