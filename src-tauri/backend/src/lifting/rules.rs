//! A screen for lifting: the revised NIOSH lifting equation.
//! Never advice on a person's back: it says what the equation says, and what it does not cover.
//! Invariant: worse conditions never give a greater recommended weight.
//!
//! Source: Waters, Putz-Anderson & Garg, Applications Manual for the Revised NIOSH Lifting Equation (1994):
//! RWL = 23 kg · HM · VM · DM · AM · FM · CM; the formulas and its table of frequencies, from memory; its
//! frequency adjustment (10 lifts a minute for 8 of 15 minutes: 5.33) and example 1 are checked in the tests.

use crate::error::Result;
use crate::measure::Bounds;
use crate::where_from::{Mark, WhereFrom};
use crate::words::words;

words! {
    /// How long it goes on, with the rest after it.
    pub enum Spell {
        /// An hour at most.
        Short = "short",
        /// Two hours at most.
        Moderate = "moderate",
        /// Eight hours at most.
        Long = "long",
    }
}

words! {
    /// How well it can be gripped.
    pub enum Grip {
        /// Handles.
        Good = "good",
        /// The fingers bend around it.
        Fair = "fair",
        /// Round, wet or slippery: a log.
        Poor = "poor",
    }
}

/// Load constant, kg.
pub const LOAD_KG: f64 = 23.0;
/// Hands in front of the ankles, mm.
pub const H_MM: Bounds = Bounds { min: 100, max: 1500, unit: "mm" };
/// Hands above the ground, mm.
pub const V_MM: Bounds = Bounds { min: 0, max: 2500, unit: "mm" };
/// Turn of the body, degrees.
pub const TURN_DEG: Bounds = Bounds { min: 0, max: 180, unit: "degrees" };
/// Lifts a minute, tenths.
pub const LIFTS_TENTHS: Bounds = Bounds { min: 0, max: 300, unit: "tenths" };

/// One lift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lifted {
    /// Hands in front of the ankles, cm.
    pub h_cm: f64,
    /// Hands above the ground where it begins, cm.
    pub from_cm: f64,
    /// Where it ends, cm.
    pub to_cm: f64,
    /// Turn of the body, degrees.
    pub turn_deg: f64,
    /// Lifts a minute.
    pub per_min: f64,
    /// How long it goes on.
    pub spell: Spell,
    /// How well it can be gripped.
    pub grip: Grip,
    /// In whose units the equation is worked out.
    pub form: Form,
}

/// The equation's constants. The manual gives it in two forms, each with round figures in its own units; they
/// differ by up to 3 %, and the metric one allows less.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Form {
    /// The load constant, kg.
    load_kg: f64,
    /// Hands this far in front lose nothing, cm; beyond the second figure nothing may be lifted.
    reach_cm: (f64, f64),
    /// Hands at this height lose nothing, cm, and what each cm away costs; above the third nothing may be lifted.
    height_cm: (f64, f64, f64),
    /// What a lift's way adds to 0.82, times cm; up to the second a way counts as that long, beyond the third none.
    way_cm: (f64, f64, f64),
}

/// In centimetres and kilograms.
pub const METRIC: Form = Form {
    load_kg: LOAD_KG,
    reach_cm: (25.0, 63.0),
    height_cm: (75.0, 0.003, 175.0),
    way_cm: (4.5, 25.0, 175.0),
};

const INCH: f64 = 2.54;

/// In inches and pounds: 51 lb, 10 in, 0.0075 an inch from 30 in, 0.82 + 1.8/D.
pub const CUSTOMARY: Form = Form {
    load_kg: 51.0 * 0.453_592_37,
    reach_cm: (10.0 * INCH, 25.0 * INCH),
    height_cm: (30.0 * INCH, 0.0075 / INCH, 70.0 * INCH),
    way_cm: (1.8 * INCH, 10.0 * INCH, 70.0 * INCH),
};

/// The equation's factors at one end of a lift.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Factors {
    /// Horizontal.
    pub hm: f64,
    /// Vertical.
    pub vm: f64,
    /// Distance.
    pub dm: f64,
    /// Asymmetry.
    pub am: f64,
    /// Frequency.
    pub fm: f64,
    /// Coupling.
    pub cm: f64,
    /// Recommended weight limit, kg.
    pub rwl_kg: f64,
}

/// Lifts a minute as the equation counts them when work and lighter work take turns within a quarter of an hour:
/// lifts a minute of work times minutes of work in 15, over 15.
pub fn adjusted_frequency(per_min: f64, work_min: f64) -> f64 {
    per_min * work_min.clamp(0.0, 15.0) / 15.0
}

/// The factors with the hands at this height, cm.
pub fn factors(lift: &Lifted, height_cm: f64) -> Factors {
    let Form { load_kg, reach_cm: (reach, reach_most), height_cm: (height, slope, height_most), way_cm } =
        lift.form;
    let hm = if lift.h_cm > reach_most { 0.0 } else { reach / lift.h_cm.max(reach) };
    let vm = if height_cm > height_most { 0.0 } else { 1.0 - slope * (height_cm - height).abs() };
    let way = (lift.to_cm - lift.from_cm).abs().max(way_cm.1);
    let dm = if way > way_cm.2 { 0.0 } else { (0.82 + way_cm.0 / way).min(1.0) };
    let am = if lift.turn_deg > 135.0 { 0.0 } else { 1.0 - 0.0032 * lift.turn_deg };
    let fm = frequency(lift.per_min, lift.spell, lift.from_cm < height);
    let cm = coupling(lift.grip, height_cm < height);
    Factors { hm, vm, dm, am, fm, cm, rwl_kg: load_kg * hm * vm * dm * am * fm * cm }
}

fn coupling(grip: Grip, low: bool) -> f64 {
    match (grip, low) {
        (Grip::Good, _) | (Grip::Fair, false) => 1.0,
        (Grip::Fair, true) => 0.95,
        (Grip::Poor, _) => 0.9,
    }
}

/// Lifts a minute, and the factors for an hour, two hours and eight (hands low), then where they differ with hands
/// at 75 cm and higher.
const FREQUENCY: [(f64, [f64; 3], [f64; 3]); 17] = [
    (0.2, [1.0, 0.95, 0.85], [1.0, 0.95, 0.85]),
    (0.5, [0.97, 0.92, 0.81], [0.97, 0.92, 0.81]),
    (1.0, [0.94, 0.88, 0.75], [0.94, 0.88, 0.75]),
    (2.0, [0.91, 0.84, 0.65], [0.91, 0.84, 0.65]),
    (3.0, [0.88, 0.79, 0.55], [0.88, 0.79, 0.55]),
    (4.0, [0.84, 0.72, 0.45], [0.84, 0.72, 0.45]),
    (5.0, [0.80, 0.60, 0.35], [0.80, 0.60, 0.35]),
    (6.0, [0.75, 0.50, 0.27], [0.75, 0.50, 0.27]),
    (7.0, [0.70, 0.42, 0.22], [0.70, 0.42, 0.22]),
    (8.0, [0.60, 0.35, 0.18], [0.60, 0.35, 0.18]),
    (9.0, [0.52, 0.30, 0.0], [0.52, 0.30, 0.15]),
    (10.0, [0.45, 0.26, 0.0], [0.45, 0.26, 0.13]),
    (11.0, [0.41, 0.0, 0.0], [0.41, 0.23, 0.0]),
    (12.0, [0.37, 0.0, 0.0], [0.37, 0.21, 0.0]),
    (13.0, [0.0, 0.0, 0.0], [0.34, 0.0, 0.0]),
    (14.0, [0.0, 0.0, 0.0], [0.31, 0.0, 0.0]),
    (15.0, [0.0, 0.0, 0.0], [0.28, 0.0, 0.0]),
];

/// The frequency factor, straight between the table's lines; 0 beyond its last.
fn frequency(per_min: f64, spell: Spell, low: bool) -> f64 {
    let column = match spell {
        Spell::Short => 0,
        Spell::Moderate => 1,
        Spell::Long => 2,
    };
    let at = |row: &(f64, [f64; 3], [f64; 3])| if low { row.1[column] } else { row.2[column] };
    let mut before = (0.0, 1.0_f64.min(at(&FREQUENCY[0])));
    for row in &FREQUENCY {
        let here = at(row);
        if per_min <= row.0 {
            // Past the last lift that is allowed there is nothing between it and none.
            let share = (per_min - before.0) / (row.0 - before.0);
            return if here == 0.0 && share > 0.0 { 0.0 } else { before.1 + (here - before.1) * share };
        }
        before = (row.0, here);
    }
    0.0
}

/// What the screen says of a lift.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Screened {
    /// Where it begins.
    pub start: Factors,
    /// Where it ends, when it must be set down with care.
    pub end: Factors,
    /// The smaller limit of the two, g.
    pub limit_g: i64,
    /// The load over the limit; null where the limit is 0: such a lift is out of the question.
    pub index: Option<f64>,
    /// Where it comes from.
    pub from: WhereFrom,
}

/// Screens a load of `load_g`.
pub fn screen(lift: &Lifted, load_g: i64) -> Screened {
    let (start, end) = (factors(lift, lift.from_cm), factors(lift, lift.to_cm));
    let limit = start.rwl_kg.min(end.rwl_kg) * 1000.0;
    let source = "Waters, Putz-Anderson & Garg 1994, Applications Manual for the Revised NIOSH Lifting Equation \
                  (its figures from memory)";
    let from = WhereFrom::new("niosh", Mark::Memory, source).with("load_g", load_g);
    #[allow(clippy::cast_possible_truncation, reason = "at most 23 kg")]
    let limit_g = limit.round() as i64;
    Screened { start, end, limit_g, index: (limit > 0.0).then(|| load_g as f64 / limit), from }
}

/// A value within its bounds.
///
/// # Errors
/// `Invalid`, naming the field.
pub fn within(field: &str, value: i64, bounds: Bounds) -> Result<f64> {
    Ok(bounds.check(field, value)? as f64)
}
