//! The command of the first screen.
//! Never decides what is due: rules of each room do.
//! Invariant: one read, one moment.

use super::rows;
use super::rules::{self, Tonight, tonight};
use crate::batches::rows as batches;
use crate::book::acts::ActRow;
use crate::book::drafts::{self, DraftRow};
use crate::book::{Book, Change, Done, Intent, Plan, ReadingOnly, check, revived, undo_last};
use crate::care::rows as care;
use crate::care::rules::backup_old;
use crate::due::Due;
use crate::error::{Error, Result};
use crate::logs::known;
use crate::logs::rows::{self as logs, Log, LogRow};
use crate::logs::rules::caps_out;
use crate::measure;
use crate::rounds::rows::{self as rounds, RoundRow, walk};
use crate::rounds::rules::RoundKind;
use crate::settings::rows::{here, settings};
use crate::sun::rules::evening_of;
use crate::weather::rows as weather;
use chrono::{Days, NaiveDate};
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::BTreeMap;
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
    /// What is due, the most urgent first.
    pub due: Vec<Due>,
    /// What is due and was put off, with the day it comes back.
    pub put_off: Vec<PutOff>,
    /// Logs in the tank.
    pub in_tank: usize,
    /// Logs with pins or caps that were seen and not picked since; the oldest sight first.
    pub caps_out: Vec<LogRow>,
    /// How many such logs there are: the list stops at forty.
    pub caps_out_n: usize,
    /// The last act that can be taken back.
    pub last: Option<ActRow>,
    /// What was being typed and is not saved.
    pub drafts: Vec<DraftRow>,
    /// Days for which acts have had no good backup, when they are too many.
    pub backup_old: Option<i64>,
    /// What the last full check found; empty when sound.
    pub trouble: Vec<String>,
}

/// A chore that was put off.
#[derive(Debug, Serialize, TS)]
pub struct PutOff {
    /// The chore.
    pub due: Due,
    /// The day it comes back.
    pub until: NaiveDate,
}

/// Days looked back on: rain and watering matter for a month.
const BACK_DAYS: u64 = 31;
/// Days ahead that may have been typed in.
const AHEAD_DAYS: u64 = 7;
/// Most logs with caps that are listed one by one; a round walks them all.
const CAPS_MAX: usize = 40;
/// The furthest a chore can be put off.
const PUT_OFF_DAYS: i64 = 366;

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
        let mut out: Vec<&Log> =
            all.iter().filter(|log| caps_out(&log.facts, here.today).is_some()).collect();
        out.sort_by_key(|log| log.row.last_seen_day);
        let caps_out_n = out.len();
        let caps_out: Vec<LogRow> = out.into_iter().take(CAPS_MAX).map(|log| log.row.clone()).collect();
        let round = match rounds::open(conn, RoundKind::Night, &book.device())? {
            Some(round) => Some(rounds::row(&round, &walk::stops(conn, &round, here)?)),
            None => None,
        };
        let good = book.last_good(conn)?.map(|good| (good.ms, good.n));
        let standing = care::standing(conn, good)?;
        let backup_old = backup_old(standing, moment.ms);
        let set = settings(conn)?;
        let tonight = tonight(&set, evening, moment.offset_min);
        let logs = known::of(conn, all)?;
        let from = here.today.checked_sub_days(Days::new(BACK_DAYS)).unwrap_or(here.today);
        let to = here.today.checked_add_days(Days::new(AHEAD_DAYS)).unwrap_or(here.today);
        let days = weather::between(conn, from, to)?;
        let facts = rules::Facts {
            today: here.today,
            evening,
            now_ms: moment.ms,
            noon_ms: &|day| moment.noon_of(day),
            southern: here.southern,
            logs: &logs,
            piles: &batches::unlogged(conn)?,
            days: &days,
            settings: &set,
            tonight: &tonight,
            backup_old,
        };
        let (due, put_off) = parted(rules::chores(&facts), &rows::put_off(conn, here.today)?);
        Ok(ChoresView {
            today: here.today,
            evening,
            total,
            tonight,
            due,
            put_off,
            in_tank: logs.iter().filter(|log| log.in_tank).count(),
            round,
            caps_out,
            caps_out_n,
            last: undo_last(book, conn)?,
            drafts: drafts::all(conn)?,
            backup_old,
            trouble: trouble(book, conn)?,
        })
    })
}

/// What is due now, and what was put off.
fn parted(all: Vec<Due>, off: &BTreeMap<String, NaiveDate>) -> (Vec<Due>, Vec<PutOff>) {
    let (mut due, mut put_off) = (Vec::new(), Vec::new());
    for one in all {
        match off.get(&one.key) {
            Some(until) => put_off.push(PutOff { due: one, until: *until }),
            None => due.push(one),
        }
    }
    (due, put_off)
}

/// Puts a chore off till a day.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ChorePutOff {
    /// The chore's key.
    pub key: String,
    /// The day it comes back; null: now.
    #[ts(optional = nullable)]
    pub until: Option<NaiveDate>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `chore_put_off`
///
/// # Errors
/// `Invalid` on `key` or `until`.
pub fn chore_put_off(book: &Book, ask: ChorePutOff) -> Result<Done> {
    let today = book.moment().day();
    let key = measure::text_within("key", &ask.key, measure::NAME_CHARS * 2)?;
    if key.is_empty() {
        return Err(Error::invalid("key", "empty"));
    }
    if let Some(until) = ask.until {
        let days = (until - today).num_days();
        if !(1..=PUT_OFF_DAYS).contains(&days) {
            return Err(Error::invalid_with(
                "until",
                "range",
                json!({"min": 1, "max": PUT_OFF_DAYS, "unit": "days"}),
            ));
        }
    }
    let intent = Intent { name: "chore_put_off", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let changes = vec![Change::set("put_off", &key, "until", json!(ask.until))];
        Ok(Plan::new(revived(conn, changes)?, json!({"key": key, "until": ask.until})))
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
