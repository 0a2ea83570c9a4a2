//! What can be asked: which of a kind did best, by what measure, among which logs.
//! Never an answer.
//! Invariant: every measure knows which way is better.

use super::life::Life;
use crate::strains::rules::Mushroom;
use crate::words::words;
use chrono::{DateTime, Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use ts_rs::TS;

words! {
    /// What logs are told apart by.
    pub enum GroupBy {
        /// The wood.
        Wood = "wood",
        /// The strain.
        Strain = "strain",
        /// The strain's class.
        Class = "class",
        /// How the spawn was brought in.
        Method = "method",
        /// The form the spawn came in.
        Spawn = "spawn",
        /// Where the log lies.
        Spot = "spot",
        /// How thick it is.
        Thickness = "thickness",
        /// The month it was laid in.
        LaidMonth = "laid_month",
        /// The year it was laid in.
        LaidYear = "laid_year",
        /// Where the wood came from.
        WoodSource = "wood_source",
        /// Where the spawn came from.
        SpawnSource = "spawn_source",
        /// What it carries.
        Mushroom = "mushroom",
    }
}

words! {
    /// What best means.
    pub enum Measure {
        /// Most grams for a log and year.
        LogYear = "log_year",
        /// Most grams for a litre of wood, over a whole life.
        Litre = "litre",
        /// Most fresh mushroom for its weight of dry wood, over a whole life: biological efficiency.
        DryKg = "dry_kg",
        /// Most grams after a soak.
        Soak = "soak",
        /// Most grams over a whole life.
        Life = "life",
        /// Soonest to fruit.
        Soonest = "soonest",
        /// Longest alive.
        Longest = "longest",
        /// Least eaten by slugs and others.
        Damage = "damage",
        /// Least met by competitors.
        Competitors = "competitors",
    }
}

impl Measure {
    /// Whether it asks for a time, so that the curves of Kaplan and Meier answer it.
    pub fn is_time(self) -> bool {
        matches!(self, Self::Soonest | Self::Longest | Self::Competitors)
    }

    /// Whether more of what is fitted is better. Times are fitted as how often the event comes.
    pub fn more_is_better(self) -> bool {
        !matches!(self, Self::Damage | Self::Longest | Self::Competitors)
    }

    /// Whether the log's size is a reason to give more, or less.
    pub fn size_power(self) -> Option<f64> {
        match self {
            Self::LogYear | Self::Soak | Self::Life => Some(super::priors::SIZE_POWER),
            Self::Litre | Self::DryKg => Some(super::priors::SIZE_POWER - 1.0),
            _ => None,
        }
    }
}

/// A question. Null filters let all logs in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// What logs are told apart by.
    pub by: GroupBy,
    /// What best means.
    pub measure: Measure,
    /// Logs that carry this.
    #[ts(optional = nullable)]
    pub mushroom: Option<Mushroom>,
    /// Laid in this year or later.
    #[ts(optional = nullable)]
    pub from: Option<i32>,
    /// Laid in this year or before.
    #[ts(optional = nullable)]
    pub to: Option<i32>,
    /// In the spot of this name.
    #[ts(optional = nullable)]
    pub spot: Option<String>,
}

impl Question {
    /// Whether the question is about this log.
    pub fn asks(&self, life: &Life) -> bool {
        let year = life.laid_year();
        self.mushroom.is_none_or(|m| m == life.mushroom)
            && self.from.is_none_or(|from| year.is_some_and(|y| y >= from))
            && self.to.is_none_or(|to| year.is_some_and(|y| y <= to))
            && self.spot.as_ref().is_none_or(|spot| life.spot.as_ref() == Some(spot))
    }
}

/// Upper ends of the thickness classes, mm: 3–8 in is the usual range (Oklahoma F-5029, Ohio F-0039),
/// cut into inches of the usual logs.
const THICK_MM: [f64; 4] = [100.0, 125.0, 150.0, 200.0];

/// The log's group: a key, and the name it is shown by. `None`: nobody knows.
pub fn group_of(by: GroupBy, life: &Life) -> Option<(Cow<'_, str>, Cow<'_, str>)> {
    fn same(text: &str) -> (Cow<'_, str>, Cow<'_, str>) {
        (text.into(), text.into())
    }
    let made = |text: String| (text.clone().into(), text.into());
    match by {
        GroupBy::Wood => {
            life.wood.as_deref().map(|w| (w.into(), life.wood_name.as_deref().unwrap_or(w).into()))
        }
        GroupBy::Strain => life.strain.as_deref().map(same),
        GroupBy::Class => life.class.map(|c| same(c.word())),
        GroupBy::Method => life.method.map(|m| same(m.word())),
        GroupBy::Spawn => life.spawn.map(|s| same(s.word())),
        GroupBy::Spot => life.spot.as_deref().map(same),
        GroupBy::WoodSource => life.wood_source.as_deref().map(same),
        GroupBy::SpawnSource => life.spawn_source.as_deref().map(same),
        GroupBy::Mushroom => Some(same(life.mushroom.word())),
        GroupBy::Thickness => life.thick_mm.map(|d| {
            let class = THICK_MM.iter().take_while(|end| d >= **end).count();
            same(["under_100_mm", "100_to_125_mm", "125_to_150_mm", "150_to_200_mm", "over_200_mm"][class])
        }),
        GroupBy::LaidYear => life.laid_year().map(|y| made(y.to_string())),
        GroupBy::LaidMonth => {
            let (first, last) = life.laid?;
            let (a, b) = (date(first)?, date(last)?);
            ((a.year(), a.month()) == (b.year(), b.month())).then(|| made(format!("{:02}", a.month())))
        }
    }
}

/// The calendar day that is so many days after 1 January 1970.
pub fn date(day: i32) -> Option<NaiveDate> {
    DateTime::from_timestamp(i64::from(day) * 86_400, 0).map(|t| t.date_naive())
}

/// Days since 1 January 1970.
pub fn number(day: NaiveDate) -> i32 {
    i32::try_from((day - NaiveDate::default()).num_days()).unwrap_or(0)
}
