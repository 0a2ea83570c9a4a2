//! The command that screens a lift.
//! Never writes.
//! Invariant: what was not said is taken as for a log: from the ground to the hip, close to the body, a poor grip.

use super::rules::{self, Grip, Lifted, Screened, Spell};
use crate::book::Book;
use crate::error::Result;
use crate::ids::Id;
use crate::logs::known;
use crate::moisture::rules::about_grams;
use crate::settings::rows::{here, settings};
use crate::settings::rules::Units;
use crate::soaking::rules::LOG_GRAMS;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks whether a log can be lifted.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LiftScreen {
    /// The log; null: only the weight counts.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
    /// The weight, g; null: the log's last weight, or what size and wood give.
    #[ts(optional = nullable)]
    pub grams: Option<i64>,
    /// Hands in front of the ankles, mm.
    pub h_mm: i64,
    /// Hands above the ground where it begins, mm.
    pub from_mm: i64,
    /// Where it ends, mm.
    pub to_mm: i64,
    /// Turn of the body, degrees.
    pub turn_deg: i64,
    /// Lifts a minute of lifting, tenths.
    pub lifts_tenths: i64,
    /// Minutes of lifting in each quarter of an hour.
    pub work_min: i64,
    /// How long it goes on.
    pub spell: Spell,
    /// How well it can be gripped.
    pub grip: Grip,
}

/// What the screen says.
#[derive(Debug, Serialize, TS)]
pub struct LiftView {
    /// The log's tag.
    pub tag: Option<String>,
    /// The weight it was asked with, g; null: not known.
    pub grams: Option<i64>,
    /// `typed`, `weighed` or `about`.
    pub grams_are: String,
    /// Lifts a minute as the equation counts them.
    pub per_min: f64,
    /// The answer; null without a weight.
    pub screened: Option<Screened>,
}

/// `lift_screen`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn lift_screen(book: &Book, ask: LiftScreen) -> Result<LiftView> {
    let work =
        rules::within("work_min", ask.work_min, crate::measure::Bounds { min: 0, max: 15, unit: "min" })?;
    let lifts = rules::within("lifts_tenths", ask.lifts_tenths, rules::LIFTS_TENTHS)? / 10.0;
    let per_min = rules::adjusted_frequency(lifts, work);
    let mut lift = Lifted {
        h_cm: rules::within("h_mm", ask.h_mm, rules::H_MM)? / 10.0,
        from_cm: rules::within("from_mm", ask.from_mm, rules::V_MM)? / 10.0,
        to_cm: rules::within("to_mm", ask.to_mm, rules::V_MM)? / 10.0,
        turn_deg: rules::within("turn_deg", ask.turn_deg, rules::TURN_DEG)?,
        per_min,
        spell: ask.spell,
        grip: ask.grip,
        form: rules::METRIC,
    };
    ask.grams.map(|g| LOG_GRAMS.check("grams", g)).transpose()?;
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        if settings(conn)?.units == Units::Us {
            lift.form = rules::CUSTOMARY;
        }
        let log = ask.log.as_ref().map(|id| known::one(conn, id.as_str(), here)).transpose()?;
        let weighed = log.as_ref().and_then(|log| log.last).map(|(grams, _)| grams);
        let about = log.as_ref().and_then(about_grams);
        let (grams, grams_are) = match (ask.grams, weighed, about) {
            (Some(typed), ..) => (Some(typed), "typed"),
            (None, Some(weighed), _) => (Some(weighed), "weighed"),
            (None, None, about) => (about, "about"),
        };
        Ok(LiftView {
            tag: log.map(|log| log.tag),
            grams,
            grams_are: grams_are.to_owned(),
            per_min,
            screened: grams.map(|grams| rules::screen(&lift, grams)),
        })
    })
}
