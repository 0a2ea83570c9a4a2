//! What a column of a grower's spreadsheet can mean, and in what order and units it is written.
//! Never a cell of it.
//! Invariant: one column has one meaning, and what a row cannot do without is matched.

use crate::error::{Error, Result};
use crate::strains::rules::Mushroom;
use crate::words::words;
use serde_json::json;
use std::collections::BTreeMap;

words! {
    /// What a row is.
    pub enum What {
        /// A log.
        Logs = "logs",
        /// A picking.
        Pickings = "pickings",
    }
}

words! {
    /// What a column says.
    pub enum Meaning {
        /// The label on the log.
        Tag = "tag",
        /// Its wood.
        Wood = "wood",
        /// Its diameter, or that of one end.
        D1 = "d1",
        /// The other end's; with three, the middle's.
        D2 = "d2",
        /// With three, the other end's.
        D3 = "d3",
        /// Its length.
        Length = "length",
        /// When the tree was felled.
        Felled = "felled",
        /// What it carries.
        Mushroom = "mushroom",
        /// The strain's name.
        Strain = "strain",
        /// The strain's class.
        StrainClass = "strain_class",
        /// The form the spawn came in.
        Spawn = "spawn",
        /// How it was brought in.
        Method = "method",
        /// When it was inoculated.
        Laid = "laid",
        /// The spot's name.
        Spot = "spot",
        /// The day of a picking.
        Day = "day",
        /// Its weight.
        Weight = "weight",
        /// Its number of caps.
        Caps = "caps",
        /// Its damaged share, per cent.
        DamagedPct = "damaged_pct",
        /// What damaged it.
        By = "by",
        /// Anything else.
        Note = "note",
    }
}

words! {
    /// The order in which the parts of a day are written.
    pub enum DateOrder {
        /// Year, month, day.
        Ymd = "ymd",
        /// Day, month, year.
        Dmy = "dmy",
        /// Month, day, year.
        Mdy = "mdy",
    }
}

words! {
    /// What lengths are written in.
    pub enum LengthUnit {
        /// Millimetres.
        Mm = "mm",
        /// Centimetres.
        Cm = "cm",
        /// Inches.
        In = "in",
    }
}

words! {
    /// What weights are written in.
    pub enum WeightUnit {
        /// Grams.
        G = "g",
        /// Kilograms.
        Kg = "kg",
        /// Ounces.
        Oz = "oz",
        /// Pounds.
        Lb = "lb",
    }
}

impl LengthUnit {
    /// Millimetres in one (the inch by the international yard and pound agreement, 1959).
    pub fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            Self::In => 25.4,
        }
    }
}

impl WeightUnit {
    /// Grams in one (ounce and pound by the international yard and pound agreement, 1959).
    pub fn grams(self) -> f64 {
        match self {
            Self::G => 1.0,
            Self::Kg => 1000.0,
            Self::Oz => 28.349_523_125,
            Self::Lb => 453.592_37,
        }
    }
}

/// Which column says what: its place, counted from 0.
pub type Columns = BTreeMap<Meaning, usize>;

/// How a sheet is to be read.
#[derive(Debug, Clone)]
pub struct Reading {
    /// What a row is.
    pub what: What,
    /// Which column says what.
    pub columns: Columns,
    /// The order of a day's parts.
    pub dates: DateOrder,
    /// What lengths are written in.
    pub lengths: LengthUnit,
    /// What weights are written in.
    pub weights: WeightUnit,
    /// What logs carry where no cell says it.
    pub mushroom: Option<Mushroom>,
    /// The grower's own woods: id, common and scientific name.
    pub own_woods: Vec<(String, String, String)>,
}

impl Reading {
    /// Whether the columns can be read so, in a sheet of `width` columns.
    ///
    /// # Errors
    /// `Invalid` on `columns`, naming the meaning.
    pub fn check(&self, width: usize) -> Result<()> {
        let mut taken = BTreeMap::new();
        for (meaning, column) in &self.columns {
            if !meaning.is_of(self.what) || *column >= width {
                return Err(columns("unknown_word", *meaning));
            }
            if let Some(other) = taken.insert(*column, *meaning) {
                let detail = json!({"word": meaning, "other": other});
                return Err(Error::invalid_with("columns", "twice", detail));
            }
        }
        let needed = match self.what {
            What::Logs if self.mushroom.is_none() => [Meaning::Tag, Meaning::Mushroom],
            What::Logs => [Meaning::Tag; 2],
            What::Pickings => [Meaning::Tag, Meaning::Day],
        };
        match needed.into_iter().find(|m| !self.columns.contains_key(m)) {
            Some(missing) => Err(columns("empty", missing)),
            None => Ok(()),
        }
    }
}

fn columns(why: &'static str, meaning: Meaning) -> Error {
    Error::invalid_with("columns", why, json!({"word": meaning}))
}

impl Meaning {
    /// Whether a row of this kind can say it.
    pub fn is_of(self, what: What) -> bool {
        match self {
            Self::Tag | Self::Note => true,
            Self::Day | Self::Weight | Self::Caps | Self::DamagedPct | Self::By => what == What::Pickings,
            _ => what == What::Logs,
        }
    }

    /// The meaning behind the name of a log's or a picking's field.
    pub fn of_field(field: &str) -> Option<Self> {
        match field {
            "d_mm" => Some(Self::D1),
            "length_mm" => Some(Self::Length),
            "grams" => Some(Self::Weight),
            other => Self::of(other),
        }
    }

    /// Plain words that growers head such a column with.
    fn headings(self) -> &'static [&'static str] {
        match self {
            Self::Tag => &["tag", "log", "log tag", "label", "log number", "log no", "number", "no", "id"],
            Self::Wood => &["wood", "wood species", "tree", "tree species", "species"],
            Self::D1 => &["diameter", "diameter 1", "d1", "d", "dia", "end diameter", "thickness"],
            Self::D2 => &["diameter 2", "d2", "middle diameter"],
            Self::D3 => &["diameter 3", "d3", "other end diameter"],
            Self::Length => &["length", "log length", "l"],
            Self::Felled => &["felled", "date felled", "cut", "date cut", "felling date"],
            Self::Mushroom => &["mushroom", "fungus", "mushroom species"],
            Self::Strain => &["strain", "strain name", "variety"],
            Self::StrainClass => &["strain class", "class", "strain type", "season class"],
            Self::Spawn => &["spawn", "spawn form", "spawn type"],
            Self::Method => &["method", "inoculation method"],
            Self::Laid => &["laid", "date laid", "inoculated", "date inoculated", "inoculation date"],
            Self::Spot => &["spot", "place", "location", "row", "stack", "bed"],
            Self::Day => &["day", "date", "picked", "date picked", "harvested", "harvest date"],
            Self::Weight => &["weight", "grams", "harvest", "yield", "harvest weight"],
            Self::Caps => &["caps", "number of caps", "mushrooms", "count"],
            Self::DamagedPct => &["damaged", "damage", "damaged pct", "damaged share", "percent damaged"],
            Self::By => &["by", "damaged by", "culprit"],
            Self::Note => &["note", "notes", "remarks", "comment", "comments"],
        }
    }
}

/// What the headers seem to say; the grower has the last word.
pub fn guess(headers: &[String]) -> Columns {
    let plain: Vec<String> = headers.iter().map(|header| heading(header)).collect();
    let mut found = Columns::new();
    for meaning in Meaning::ALL {
        let fits = |name: &String| meaning.headings().contains(&name.as_str());
        if let Some(column) = plain.iter().position(fits) {
            found.insert(*meaning, column);
        }
    }
    found
}

/// `Diameter (cm)`, `diameter_cm` and `DIAMETER, cm` are all `diameter`.
fn heading(text: &str) -> String {
    let text = text.split('(').next().unwrap_or_default().to_lowercase();
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
    let mut words: Vec<&str> = words.collect();
    let unit = |w: &&str| LengthUnit::of(w).is_some() || WeightUnit::of(w).is_some();
    if words.len() > 1 && words.last().is_some_and(unit) {
        words.pop();
    }
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_guessed_whatever_their_case_and_unit() {
        let headers =
            ["Log No.", "Tree species", "Diameter (cm)", "length_mm", "Date inoculated", "Notes", ""];
        let found = guess(&headers.map(str::to_owned));
        let expected = [
            (Meaning::Tag, 0),
            (Meaning::Wood, 1),
            (Meaning::D1, 2),
            (Meaning::Length, 3),
            (Meaning::Laid, 4),
            (Meaning::Note, 5),
        ];
        assert_eq!(found, BTreeMap::from(expected));
    }

    #[test]
    fn no_heading_stands_for_two_meanings() {
        let mut seen = BTreeMap::new();
        for meaning in Meaning::ALL {
            for name in meaning.headings() {
                assert_eq!(heading(name), *name, "as it is compared");
                assert_eq!(seen.insert(*name, *meaning), None, "{name}");
            }
        }
    }

    #[test]
    fn columns_that_cannot_be_read_are_refused() {
        let reading = |what, columns: &[(Meaning, usize)], mushroom| Reading {
            what,
            columns: columns.iter().copied().collect(),
            dates: DateOrder::Ymd,
            lengths: LengthUnit::Mm,
            weights: WeightUnit::G,
            mushroom,
            own_woods: Vec::new(),
        };
        let why = |reading: Reading| match reading.check(3) {
            Ok(()) => "fine".to_owned(),
            Err(error) => {
                let detail = &error.reply()["detail"];
                format!("{} {}", detail["why"], detail["word"]).replace('"', "")
            }
        };
        let shiitake = Some(Mushroom::Shiitake);
        assert_eq!(why(reading(What::Logs, &[(Meaning::Tag, 0)], shiitake)), "fine");
        assert_eq!(why(reading(What::Logs, &[(Meaning::Tag, 0)], None)), "empty mushroom");
        assert_eq!(why(reading(What::Logs, &[(Meaning::Wood, 0)], shiitake)), "empty tag");
        assert_eq!(why(reading(What::Logs, &[(Meaning::Tag, 3)], shiitake)), "unknown_word tag");
        assert_eq!(
            why(reading(What::Logs, &[(Meaning::Tag, 0), (Meaning::Caps, 1)], shiitake)),
            "unknown_word caps"
        );
        assert_eq!(why(reading(What::Pickings, &[(Meaning::Tag, 0)], None)), "empty day");
        assert_eq!(why(reading(What::Pickings, &[(Meaning::Tag, 1), (Meaning::Day, 1)], None)), "twice day");
    }
}
