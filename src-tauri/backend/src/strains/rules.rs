//! Which mushrooms the yard grows and how strains are classed.
//! Never a seller's name: strains are named by the grower.
//! Invariant: only shiitake strains have a class.

use crate::error::{Error, Result};
use crate::logs::rules::Spawn;
use crate::measure::{self, Bounds, Rough};
use crate::where_from::{Mark, WhereFrom};
use crate::words::words;
use chrono::{Datelike, NaiveDate};
use serde_json::json;

words! {
    /// What a log carries.
    pub enum Mushroom {
        /// Lentinula edodes.
        Shiitake = "shiitake",
        /// Hericium erinaceus.
        Erinaceus = "erinaceus",
        /// Hericium americanum.
        Americanum = "americanum",
    }
}

words! {
    /// A shiitake strain's class by the season it fruits in.
    pub enum StrainClass {
        /// Fruits in the cool months.
        Cold = "cold",
        /// Fruits in early summer and early autumn.
        Warm = "warm",
        /// Fruits all season and answers best to forcing.
        Wide = "wide",
    }
}

impl Mushroom {
    /// Whether it is one of the Hericium species.
    pub fn is_hericium(self) -> bool {
        matches!(self, Self::Erinaceus | Self::Americanum)
    }
}

/// Fewest months from laying to a first fruit: wide-range and warm 6, cold 9, shiitake of unknown
/// class 6 (common practice, no source); Hericium 6 (University of Kentucky FOR-85 and University
/// of Maryland RES-11 give 6–18 months for logs in general).
pub fn fewest_months(mushroom: Mushroom, class: Option<StrainClass>) -> u32 {
    match (mushroom, class) {
        (Mushroom::Shiitake, Some(StrainClass::Cold)) => 9,
        _ => 6,
    }
}

/// Temperatures a strain fruits between, tenths of °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct Fruiting {
    /// From.
    #[ts(type = "number")]
    pub from_dc: i64,
    /// To.
    #[ts(type = "number")]
    pub to_dc: i64,
}

/// The fruiting range of a class where the grower gave his strain none: cold 4–21 °C, wide-range
/// 13–25, warm 10–29 (common practice, no source; sellers disagree).
pub fn fruiting_of(class: StrainClass) -> Fruiting {
    match class {
        StrainClass::Cold => Fruiting { from_dc: 40, to_dc: 210 },
        StrainClass::Wide => Fruiting { from_dc: 130, to_dc: 250 },
        StrainClass::Warm => Fruiting { from_dc: 100, to_dc: 290 },
    }
}

/// The first and the last month a class fruits in by itself north of the equator: cold strains in the
/// cool months, here September to May; warm ones from early summer to early autumn, here May to
/// October; wide-range all season (common practice, no source; where a month falls is our choice).
pub fn months_of(class: StrainClass) -> Option<(u32, u32)> {
    match class {
        StrainClass::Cold => Some((9, 5)),
        StrainClass::Warm => Some((5, 10)),
        StrainClass::Wide => None,
    }
}

/// Whether a class fruits by itself in the month of `day`.
pub fn in_season(class: Option<StrainClass>, day: NaiveDate, southern: bool) -> bool {
    let Some((from, to)) = class.and_then(months_of) else { return true };
    let month = if southern { (day.month() + 5) % 12 + 1 } else { day.month() };
    if from <= to { (from..=to).contains(&month) } else { month >= from || month <= to }
}

/// A class that fruits outside its months: the question whether the tag is right.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct OutOfSeason {
    /// The class.
    pub class: StrainClass,
    /// The first and the last month it fruits in by itself, where the yard is.
    pub months: (u32, u32),
    /// Where they come from.
    pub from: WhereFrom,
}

/// The question to ask when a log of this class fruits on `day`; none in season.
pub fn out_of_season(class: Option<StrainClass>, day: NaiveDate, southern: bool) -> Option<OutOfSeason> {
    let class = class.filter(|_| !in_season(class, day, southern))?;
    let (from, to) = months_of(class)?;
    let here = |month: u32| if southern { (month + 5) % 12 + 1 } else { month };
    let source = WhereFrom::new("class_months", Mark::Common, "").with("class", class);
    Some(OutOfSeason { class, months: (here(from), here(to)), from: source })
}

words! {
    /// How a spawn lot is kept until it is used.
    pub enum Kept {
        /// In a refrigerator.
        Cold = "cold",
        /// In a cellar or a cool shed.
        Cool = "cool",
        /// At room temperature.
        Room = "room",
    }
}

/// A temperature that a strain could fruit at, tenths of °C.
const FRUITING_DC: Bounds = Bounds { min: -50, max: 450, unit: "0.1 °C" };

/// What the grower says of a strain.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct StrainFields {
    /// The grower's name for it.
    pub name: String,
    /// What it is a strain of.
    pub mushroom: Mushroom,
    /// Its class; shiitake only.
    pub class: Option<StrainClass>,
    /// Fruits from here, tenths of °C; null: as its class.
    #[ts(type = "number | null")]
    pub from_dc: Option<i64>,
    /// To here.
    #[ts(type = "number | null")]
    pub to_dc: Option<i64>,
    /// The grower's words.
    pub note: String,
}

impl StrainFields {
    /// The fields with blanks trimmed, or what is wrong with them.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(&self) -> Result<Self> {
        let mut fields = self.clone();
        fields.name = measure::text_within("name", &self.name, measure::NAME_CHARS)?;
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        if fields.name.is_empty() {
            return Err(Error::invalid("name", "empty"));
        }
        if self.mushroom.is_hericium() {
            fields.class = None;
        }
        self.from_dc.map(|dc| FRUITING_DC.check("from_dc", dc)).transpose()?;
        self.to_dc.map(|dc| FRUITING_DC.check("to_dc", dc)).transpose()?;
        match (self.from_dc, self.to_dc) {
            (Some(_), None) => Err(Error::invalid("to_dc", "empty")),
            (None, Some(_)) => Err(Error::invalid("from_dc", "empty")),
            (Some(from), Some(to)) if to <= from => {
                Err(Error::invalid_with("to_dc", "order", json!({"other": "from_dc"})))
            }
            _ => Ok(fields),
        }
    }

    /// Its fruiting range: the grower's own, else its class's.
    pub fn fruiting(&self) -> Option<Fruiting> {
        match (self.from_dc, self.to_dc) {
            (Some(from_dc), Some(to_dc)) => Some(Fruiting { from_dc, to_dc }),
            _ => self.class.map(fruiting_of),
        }
    }
}

/// What the grower says of a spawn lot.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct LotFields {
    /// The grower's name for it.
    pub name: String,
    /// The strain's id; null when not known.
    pub strain: Option<String>,
    /// The form it comes in.
    pub form: Option<Spawn>,
    /// From where it came.
    pub source: String,
    /// When it was received or made.
    pub received: Option<Rough>,
    /// How it is kept.
    pub kept: Option<Kept>,
    /// Whether it is doubtful what it is: its logs stay out of comparisons of strains.
    pub doubtful: bool,
    /// The grower's words.
    pub note: String,
}

impl LotFields {
    /// The fields with blanks trimmed, or what is wrong with them.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(&self, today: NaiveDate, southern: bool) -> Result<Self> {
        let mut fields = self.clone();
        fields.name = measure::text_within("name", &self.name, measure::NAME_CHARS)?;
        fields.source = measure::text_within("source", &self.source, measure::NAME_CHARS)?;
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        if fields.name.is_empty() {
            return Err(Error::invalid("name", "empty"));
        }
        if let Some(received) = &self.received {
            received.check().map_err(|e| e.at("received"))?;
            if received.surely_after(today, southern) {
                return Err(Error::invalid("received", "future"));
            }
        }
        Ok(fields)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(month: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, month, 15).unwrap_or_default()
    }

    #[test]
    fn a_class_fruits_in_its_months_and_south_of_the_equator_half_a_year_on() {
        let months = |class, southern| -> Vec<u32> {
            (1..=12).filter(|m| in_season(Some(class), day(*m), southern)).collect()
        };
        assert_eq!(months(StrainClass::Cold, false), [1, 2, 3, 4, 5, 9, 10, 11, 12]);
        assert_eq!(months(StrainClass::Warm, false), [5, 6, 7, 8, 9, 10]);
        assert_eq!(months(StrainClass::Warm, true), [1, 2, 3, 4, 11, 12]);
        assert_eq!(months(StrainClass::Wide, false).len(), 12);
        assert!(in_season(None, day(1), false));
    }

    #[test]
    fn a_strain_keeps_its_own_range_and_else_has_its_class_one() {
        let mut strain = StrainFields {
            name: "Grey Door".into(),
            mushroom: Mushroom::Shiitake,
            class: Some(StrainClass::Cold),
            from_dc: None,
            to_dc: None,
            note: String::new(),
        };
        assert_eq!(strain.fruiting(), Some(Fruiting { from_dc: 40, to_dc: 210 }));
        (strain.from_dc, strain.to_dc) = (Some(80), Some(160));
        assert_eq!(strain.checked().unwrap().fruiting(), Some(Fruiting { from_dc: 80, to_dc: 160 }));
        strain.to_dc = Some(80);
        assert_eq!(strain.checked().unwrap_err().reply()["detail"]["why"], "order");
        strain.to_dc = None;
        assert_eq!(strain.checked().unwrap_err().reply()["field"], "to_dc");
        let hericium = StrainFields { mushroom: Mushroom::Erinaceus, from_dc: None, ..strain };
        assert_eq!(hericium.checked().unwrap().class, None);
    }
}
