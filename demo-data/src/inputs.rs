//! The tables this yard is made from, read once.
//! Never a number that decides what happens: those stand in the tables.
//! Invariant: a line that can't be read fails the build of the yard, it is never left out.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use shadeyard_backend::error::{Error, Result};

/// One log, as its owner would write it down.
#[derive(Debug, Clone, Deserialize)]
pub struct LogLine {
    pub tag: String,
    pub wood: String,
    pub mushroom: String,
    pub strain: String,
    pub spawn: String,
    pub method: String,
    pub spot: String,
    pub d_mm: String,
    pub length_mm: Option<i64>,
    pub felled: String,
    pub laid: String,
    pub added: String,
    /// The day a log that was entered as waiting got its spawn.
    pub lay_later: String,
    /// A word and a day.
    pub ending: String,
    pub note: String,
}

/// One strain.
#[derive(Debug, Clone, Deserialize)]
pub struct StrainLine {
    pub name: String,
    pub mushroom: String,
    pub class: Option<String>,
    /// Where it fruits by the grower's word, tenths of °C.
    pub from_dc: Option<i64>,
    pub to_dc: Option<i64>,
}

/// Wood felled together, and the tags of its logs.
#[derive(Debug, Clone, Deserialize)]
pub struct BatchLine {
    pub name: String,
    pub wood: String,
    pub felled: String,
    pub source: String,
    pub disc_wet_g: Option<i64>,
    pub disc_dry_g: Option<i64>,
    pub doubtful: u8,
    pub tags: String,
}

/// Spawn that came together, and the tags of the logs laid with it.
#[derive(Debug, Clone, Deserialize)]
pub struct LotLine {
    pub name: String,
    pub strain: String,
    pub form: String,
    pub source: String,
    pub received: String,
    pub kept: String,
    pub doubtful: u8,
    pub tags: String,
}

/// One spot, in walking order: how many slugs it has beside the others, and how much drier it is.
#[derive(Debug, Clone, Deserialize)]
pub struct SpotLine {
    pub name: String,
    pub slugs: f64,
    pub dry: f64,
}

/// The truth about one wood: what one log of 14 litres bears in its whole life.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct WoodLine {
    /// The backend's word for the wood.
    pub wood: String,
    /// What grows on it.
    pub mushroom: String,
    /// Mean yield of a life, grams fresh.
    pub life_g: f64,
    /// How that falls on the years from the first fruit, per cent.
    pub shares: String,
}

/// When a class of strain fruits.
#[derive(Debug, Clone, Deserialize)]
pub struct FruitingLine {
    pub class: String,
    pub first_from: f64,
    pub first_to: f64,
    pub flushes_from: i64,
    pub flushes_to: i64,
    jan: f64,
    feb: f64,
    mar: f64,
    apr: f64,
    may: f64,
    jun: f64,
    jul: f64,
    aug: f64,
    sep: f64,
    oct: f64,
    nov: f64,
    dec: f64,
}

impl FruitingLine {
    /// Weights of the months, January first.
    pub fn months(&self) -> [f64; 12] {
        [
            self.jan, self.feb, self.mar, self.apr, self.may, self.jun, self.jul, self.aug, self.sep,
            self.oct, self.nov, self.dec,
        ]
    }
}

/// One month of every year, and how often the grower comes by.
#[derive(Debug, Clone, Deserialize)]
pub struct MonthLine {
    pub mean_c: f64,
    pub wet: f64,
    pub visit_every: i64,
    pub nothing_looks: i64,
    pub round_share: f64,
    pub round_at: String,
}

/// How one season differed from the others.
#[derive(Debug, Clone, Deserialize)]
pub struct SeasonLine {
    pub warmer_c: f64,
    pub wetter: f64,
    pub yield_factor: f64,
}

/// A remark the grower may write.
#[derive(Debug, Clone, Deserialize)]
pub struct NoteLine {
    pub about: String,
    pub text: String,
}

/// Something done for spots or logs besides growing.
#[derive(Debug, Clone, Deserialize)]
pub struct UpkeepLine {
    /// The day it was entered.
    pub day: String,
    /// `spot`, `move`, `tend` or `condition`.
    pub deed: String,
    /// Tags; of two logs with one tag the first.
    pub logs: String,
    /// Words: of a spot its shade, ground, water, rain, winter sun and heat; of the wood its bark, cracks, wax,
    /// pecked plugs, competitor and extent.
    pub what: String,
    /// Which spot, or where to.
    pub spot: String,
    /// A remark.
    pub note: String,
}

/// All tables.
#[derive(Debug)]
pub struct Inputs {
    pub logs: Vec<LogLine>,
    pub strains: Vec<StrainLine>,
    pub batches: Vec<BatchLine>,
    pub lots: Vec<LotLine>,
    pub spots: Vec<SpotLine>,
    pub woods: Vec<WoodLine>,
    pub fruiting: Vec<FruitingLine>,
    pub months: Vec<MonthLine>,
    pub seasons: Vec<SeasonLine>,
    pub notes: Vec<NoteLine>,
    pub upkeep: Vec<UpkeepLine>,
}

impl Inputs {
    /// Reads them.
    ///
    /// # Errors
    /// `Bug` with the table's name when a line can't be read.
    pub fn read() -> Result<Self> {
        Ok(Self {
            logs: table("logs.csv", include_str!("../logs.csv"))?,
            strains: table("strains.csv", include_str!("../strains.csv"))?,
            batches: table("batches.csv", include_str!("../batches.csv"))?,
            lots: table("lots.csv", include_str!("../lots.csv"))?,
            spots: table("spots.csv", include_str!("../spots.csv"))?,
            woods: woods()?,
            fruiting: table("fruiting.csv", include_str!("../fruiting.csv"))?,
            months: table("weather.csv", include_str!("../weather.csv"))?,
            seasons: table("seasons.csv", include_str!("../seasons.csv"))?,
            notes: table("notes.csv", include_str!("../notes.csv"))?,
            upkeep: table("upkeep.csv", include_str!("../upkeep.csv"))?,
        })
    }
}

/// The true yields of the woods, which the records only show through noise.
///
/// # Errors
/// `Bug` when the table can't be read.
pub fn woods() -> Result<Vec<WoodLine>> {
    table("woods.csv", include_str!("../woods.csv"))
}

fn table<T: DeserializeOwned>(name: &str, text: &str) -> Result<Vec<T>> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .map(|line| line.map_err(|error| Error::Bug(format!("{name}: {error}"))))
        .collect()
}
