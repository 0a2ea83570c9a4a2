//! All that the rooms' rules need to know of one log: what it is, its facts, and what was measured on it.
//! Never a figure worked out from them.
//! Invariant: what is not known is `None`, never 0.

use super::{Facts, Method, State};
use crate::due::DueLog;
use crate::measure::{self, Rough};
use crate::moisture::rules::RainReach;
use crate::rounds::rules::OnLog;
use crate::strains::rules::{Mushroom, StrainClass};
use chrono::NaiveDate;

/// One log as the rules see it.
#[derive(Debug, Clone)]
pub struct Known {
    /// Its id.
    pub id: String,
    /// The label on it.
    pub tag: String,
    /// Its state today.
    pub state: State,
    /// What it carries.
    pub mushroom: Mushroom,
    /// The strain's class.
    pub class: Option<StrainClass>,
    /// The strain fruits between these, tenths of °C, where the grower said so.
    pub range_dc: Option<(i64, i64)>,
    /// How it was inoculated.
    pub method: Option<Method>,
    /// The wood's id.
    pub wood: Option<String>,
    /// An own wood's fresh weight, kg/m³.
    pub own_density: Option<i64>,
    /// An own wood's fresh moisture, per cent of the wet weight.
    pub own_moisture: Option<i64>,
    /// Diameters, mm.
    pub d_mm: Vec<i64>,
    /// Length, mm.
    pub length_mm: Option<i64>,
    /// When the tree was felled.
    pub felled: Option<Rough>,
    /// The spot's id.
    pub spot_id: Option<String>,
    /// The spot's name.
    pub spot: Option<String>,
    /// Whether rain reaches the spot.
    pub rain: Option<RainReach>,
    /// Whether the spot is kept from frost.
    pub heated: bool,
    /// What its state follows from.
    pub facts: Facts,
    /// The newest day it went into the tank.
    pub soaked_in: Option<NaiveDate>,
    /// When on that day, milliseconds since 1970, where that is known.
    pub soaked_in_ms: Option<i64>,
    /// The newest day it came out.
    pub soaked_out: Option<NaiveDate>,
    /// Whether it is in the tank.
    pub in_tank: bool,
    /// Times it was soaked.
    pub soaks: i64,
    /// Its weight when it last came out, g.
    pub soaked_grams: Option<i64>,
    /// Its first weight, g, and the day.
    pub first: Option<(i64, NaiveDate)>,
    /// Its newest weight, g, and the day.
    pub last: Option<(i64, NaiveDate)>,
    /// The newest watering's day.
    pub watered: Option<NaiveDate>,
    /// Its batch.
    pub batch: Option<String>,
    /// The batch's sample disc, g wet and g oven-dry.
    pub disc: Option<(i64, i64)>,
    /// Competitors seen on it, oldest first.
    pub competitors: Vec<OnLog>,
}

impl Known {
    /// Its id and tag for a chore.
    pub fn due(&self) -> DueLog {
        DueLog { id: self.id.clone(), tag: self.tag.clone() }
    }

    /// Its volume, litres.
    pub fn litres(&self) -> Option<f64> {
        measure::litres(&self.d_mm, self.length_mm)
    }

    /// Whether its watch goes on.
    pub fn is_live(&self) -> bool {
        self.facts.ended.is_none()
    }

    /// Whether it is laid and has not fruited: the time in which its wood still weighs what it did.
    pub fn in_spawn_run(&self) -> bool {
        self.is_live() && self.facts.laid.is_some() && self.facts.first_fruit.is_none() && self.soaks == 0
    }
}
