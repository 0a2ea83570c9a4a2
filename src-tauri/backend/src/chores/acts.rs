//! The command of the first screen.
//! Never decides what is due: rules of each room do.
//! Invariant: one read, one moment.

use super::rules::{Tonight, tonight};
use crate::book::acts::ActRow;
use crate::book::drafts::{self, DraftRow};
use crate::book::{Book, ReadingOnly, check, undo_last};
use crate::care::rows as care;
use crate::care::rules::backup_old;
use crate::error::Result;
use crate::logs::rows::{self as logs, LogRow};
use crate::logs::rules::caps_out;
use crate::rounds::rows::{self as rounds, RoundRow};
use crate::settings::rows::{here, settings};
use crate::sun::rules::evening_of;
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the chores.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ChoresShow {}

/// What the yard asks for now.
#[derive(Debug, Serialize, TS)]
pub struct ChoresView {
    /// The local day.
    pub today: NaiveDate,
    /// The day whose evening it is: before noon still yesterday's.
    pub evening: NaiveDate,
    /// Logs in the register.
    pub total: usize,
    /// When tonight's round is due.
    pub tonight: Tonight,
    /// A round that is still open.
    pub round: Option<RoundRow>,
    /// Logs with pins or caps that were seen and not picked since; the oldest sight first.
    pub caps_out: Vec<LogRow>,
    /// The last act that can be taken back.
    pub last: Option<ActRow>,
    /// What was being typed and is not saved.
    pub drafts: Vec<DraftRow>,
    /// Days for which acts have had no good backup, when they are too many.
    pub backup_old: Option<i64>,
    /// What the last full check found; empty when sound.
    pub trouble: Vec<String>,
}

/// `chores_show`
///
/// # Errors
/// The register's own.
pub fn chores_show(book: &Book, _: ChoresShow) -> Result<ChoresView> {
    let moment = book.moment();
    let evening = evening_of(moment.local().naive_local());
    book.read(|conn| {
        let here = here(conn, moment)?;
        let all = logs::all(conn, here)?;
        let total = all.len();
        let out = all.into_iter().filter(|log| caps_out(&log.facts, here.today).is_some());
        let mut caps_out: Vec<LogRow> = out.map(|log| log.row).collect();
        caps_out.sort_by_key(|row| row.last_seen_day);
        let round = match rounds::open(conn)? {
            Some(round) => Some(rounds::row(&round, &rounds::stops(conn, &round, here)?)),
            None => None,
        };
        let good = book.last_good(conn)?.map(|good| (good.ms, good.n));
        let standing = care::standing(conn, good)?;
        Ok(ChoresView {
            today: here.today,
            evening,
            total,
            tonight: tonight(&settings(conn)?, evening, moment.offset_min),
            round,
            caps_out,
            last: undo_last(book, conn)?,
            drafts: drafts::all(conn)?,
            backup_old: backup_old(standing, moment.ms),
            trouble: trouble(book, conn)?,
        })
    })
}

/// What the last check found, and what made the register open for reading only.
fn trouble(book: &Book, conn: &Connection) -> Result<Vec<String>> {
    let mut found = check::last(conn)?.map_or_else(Vec::new, |outcome| outcome.found);
    if let (Some(ReadingOnly::Damaged { what }), true) = (book.reading_only(), found.is_empty()) {
        found.push(what);
    }
    Ok(found)
}
