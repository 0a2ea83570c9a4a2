//! The command that shows what slugs and others cost, and how forecasts came out.
//! Never a figure of its own: rules have them all.
//! Invariant: one read, one moment.

use super::super::forecast::{Score, score};
use super::super::losses::{By, EarlyOrLate, Evening, Group, early_or_late, evenings, groups};
use super::super::rows::records::{Sighting, sightings};
use super::super::rows::{costs as rows, followed};
use crate::book::Book;
use crate::error::Result;
use crate::settings::rows::{here, settings};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the losses.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CostsShow {}

/// What slugs and others cost.
#[derive(Debug, Serialize, TS)]
pub struct CostsView {
    /// The local day.
    pub today: NaiveDate,
    /// By spot, as logs lie now.
    pub by_spot: Vec<Group>,
    /// By season.
    pub by_season: Vec<Group>,
    /// By hours after dark.
    pub by_hours: Vec<Group>,
    /// By days since pins.
    pub by_pins: Vec<Group>,
    /// By what was last done at the spot in the two weeks before.
    pub by_control: Vec<Group>,
    /// Slugs by evening.
    pub evenings: Vec<Evening>,
    /// Early against late pickings.
    pub early: EarlyOrLate,
    /// How forecasts came out.
    pub forecasts: Score,
    /// Sightings outside rounds, newest first.
    pub sightings: Vec<Sighting>,
}

/// `costs_show`
///
/// # Errors
/// The register's own.
pub fn costs_show(book: &Book, _: CostsShow) -> Result<CostsView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let seen = rows::seen(conn, &settings(conn)?)?;
        let by = |what| groups(&seen, what, here.southern);
        Ok(CostsView {
            today: here.today,
            by_spot: by(By::Spot),
            by_season: by(By::Season),
            by_hours: by(By::Hours),
            by_pins: by(By::Pins),
            by_control: by(By::Control),
            evenings: evenings(&seen),
            early: early_or_late(&rows::judged(conn)?),
            forecasts: score(&followed::kept(conn, None)?),
            sightings: sightings(conn, None, 50)?,
        })
    })
}
