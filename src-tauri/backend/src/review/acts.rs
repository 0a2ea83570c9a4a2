//! Commands of the review.
//! Never a sum: that is in rules.
//! Invariant: it reads one moment of the register and writes nothing.

use super::rules::{Answer, LogLife, WoodRow, side_by_side};
use crate::book::Book;
use crate::error::Result;
use crate::logs::rows::{self, Here, Log};
use crate::logs::rules::is_young;
use crate::measure;
use crate::settings::rows::here;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the woods side by side.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ReviewWoods {
    /// Logs that carry this; null: all.
    #[ts(optional = nullable)]
    pub mushroom: Option<Mushroom>,
}

/// The woods side by side.
#[derive(Debug, Serialize, TS)]
pub struct ReviewView {
    /// The local day.
    pub today: NaiveDate,
    /// What was asked for.
    pub mushroom: Option<Mushroom>,
    /// Mushrooms that the yard's logs carry.
    pub mushrooms: Vec<Mushroom>,
    /// Which wood did best, or why that can't be told.
    pub answer: Answer,
    /// Best first; those that can't be told last.
    pub woods: Vec<WoodRow>,
}

/// `review_woods`
///
/// # Errors
/// The register's own.
pub fn review_woods(book: &Book, ask: ReviewWoods) -> Result<ReviewView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let logs = rows::all(conn, here)?;
        let mut mushrooms: Vec<Mushroom> = logs.iter().map(|l| l.row.mushroom).collect();
        mushrooms.sort_unstable();
        mushrooms.dedup();
        let lives: Vec<LogLife> = logs
            .iter()
            .filter(|log| ask.mushroom.is_none_or(|m| m == log.row.mushroom))
            .map(|log| life(log, here))
            .collect();
        let (answer, woods) = side_by_side(&lives, here.today, here.southern);
        Ok(ReviewView { today: here.today, mushroom: ask.mushroom, mushrooms, answer, woods })
    })
}

fn life(log: &Log, here: Here) -> LogLife {
    let count = |n: i64| u32::try_from(n).unwrap_or(0);
    LogLife {
        wood: log.row.wood.clone(),
        laid: log.row.laid.clone(),
        ended: log.ended,
        first_fruit: log.facts.first_fruit,
        grams: log.row.grams,
        pickings: count(log.row.pickings),
        unweighed: count(log.row.unweighed),
        litres: measure::litres(&log.row.d_mm, log.row.length_mm),
        young: is_young(&log.facts, here.today, here.southern),
    }
}
