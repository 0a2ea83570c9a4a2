//! Commands about rounds: starting, ticking off, ending, and what they show.
//! Never which log to pick: that is the picking round's, in rules of its own.
//! Invariant: a night round and its checks belong to the evening's day, also past midnight.

use super::rows::{self, Round, RoundRow, Stop};
use super::rules::{Damage, How};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::measure;
use crate::settings::rows::here;
use crate::sun::rules::evening_of;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Starts a night round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundStart {
    /// Makes a double tap one act.
    pub request: String,
}

/// `round_start`: ends an open round of an earlier evening in the same act.
///
/// # Errors
/// `Conflict` when this evening's round is open, `Invalid` when there is no log to walk to.
pub fn round_start(book: &Book, ask: RoundStart) -> Result<Done> {
    let intent = Intent { name: "round_start", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let moment = book.moment();
        let day = evening_of(moment.local().naive_local());
        let mut changes = Vec::new();
        if let Some(open) = rows::open(conn)? {
            if open.day == day {
                return Err(Error::conflict("round_open", json!({"round": open.id})));
            }
            changes.extend(ending(conn, &open, moment)?.0);
        }
        let id = book.new_id();
        let set = |name, value: Value| Change::set("round", id.as_str(), name, value);
        changes.push(set("kind", json!("night")));
        changes.push(set("day", json!(day)));
        changes.push(set("started", json!(moment.ms)));
        changes.push(set("zone", json!(moment.zone())));
        let logs = logs::all(conn, here(conn, moment)?)?.iter().filter(|log| rows::is_walked_to(log)).count();
        if logs == 0 {
            return Err(Error::invalid("round", "empty"));
        }
        Ok(Plan::new(changes, json!({"round": id, "logs": logs, "day": day})))
    })
}

/// Asks for a round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundShow {
    /// The round.
    pub round: Id,
}

/// A round's spot.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct RoundSpot {
    /// Its name; null: logs in no spot.
    pub spot: Option<String>,
    /// Its id.
    pub spot_id: Option<String>,
    /// Logs in it.
    pub logs: usize,
    /// Of these, without a check.
    pub left: usize,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Logs with damage.
    pub damaged: usize,
}

/// A round, card by card.
#[derive(Debug, Serialize, TS)]
pub struct RoundView {
    /// The round and its sums.
    pub round: RoundRow,
    /// In walking order.
    pub stops: Vec<Stop>,
    /// The first stop without a check.
    pub next: Option<usize>,
    /// Spot by spot, in walking order.
    pub spots: Vec<RoundSpot>,
}

/// `round_show`
///
/// # Errors
/// `Missing` when there is no such round.
pub fn round_show(book: &Book, ask: RoundShow) -> Result<RoundView> {
    book.read(|conn| {
        let round = rows::one(conn, ask.round.as_str())?;
        let stops = rows::stops(conn, &round, here(conn, book.moment())?)?;
        Ok(RoundView {
            round: rows::row(&round, &stops),
            next: stops.iter().position(|s| s.check.is_none()),
            spots: by_spot(&stops),
            stops,
        })
    })
}

fn by_spot(stops: &[Stop]) -> Vec<RoundSpot> {
    let mut spots: Vec<RoundSpot> = Vec::new();
    for stop in stops {
        let log = &stop.log;
        if spots.last().is_none_or(|s| s.spot_id != log.spot_id) {
            let (spot, spot_id) = (log.spot.clone(), log.spot_id.clone());
            spots.push(RoundSpot { spot, spot_id, logs: 0, left: 0, slugs: 0, damaged: 0 });
        }
        if let Some(spot) = spots.last_mut() {
            spot.logs += 1;
            spot.left += usize::from(stop.check.is_none());
            spot.slugs += stop.check.as_ref().map_or(0, |c| c.slugs);
            spot.damaged += usize::from(stop.check.as_ref().is_some_and(|c| c.damage != Damage::None));
        }
    }
    spots
}

/// Records what was found at a stop.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundCheck {
    /// The round.
    pub round: Id,
    /// The log.
    pub log: Id,
    /// Seen or skipped.
    pub how: How,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Damage seen.
    pub damage: Damage,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `round_check`: a second check of a log replaces the first.
///
/// # Errors
/// `Missing`, `Invalid`, or `Conflict` when the round has ended.
pub fn round_check(book: &Book, ask: RoundCheck) -> Result<Done> {
    let intent = Intent { name: "round_check", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let round = still_open(conn, &ask.round)?;
        let tag = logs::tag(conn, ask.log.as_str())?;
        let slugs = measure::SLUGS.check("slugs", ask.slugs)?;
        if ask.how == How::Skipped && (slugs > 0 || ask.damage != Damage::None) {
            return Err(Error::invalid_with("how", "unknown_word", json!({"word": "skipped"})));
        }
        let before = rows::check_of(conn, &round.id, ask.log.as_str())?;
        let mut changes =
            vec![check(book, &round, ask.log.as_str(), ask.how, slugs, ask.damage, before.as_deref())];
        changes.extend(before.as_deref().map(Change::void));
        let said = json!({"round": round.id, "log": ask.log, "tag": tag, "how": ask.how, "slugs": slugs,
            "damage": ask.damage});
        Ok(Plan::new(changes, said))
    })
}

fn still_open(conn: &Connection, id: &Id) -> Result<Round> {
    let round = rows::one(conn, id.as_str())?;
    if round.is_open() { Ok(round) } else { Err(Error::conflict("round_ended", Value::Null)) }
}

fn check(
    book: &Book,
    round: &Round,
    log: &str,
    how: How,
    slugs: i64,
    damage: Damage,
    replaces: Option<&str>,
) -> Change {
    let moment = book.moment();
    let row = json!({"log": log, "day": round.day, "at": moment.ms, "zone": moment.zone(), "replaces": replaces,
        "round": round.id, "how": how, "slugs": slugs, "damage": damage});
    Change::put("check", &book.new_id(), row)
}

/// Ticks the rest of a spot clean.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundSpotClean {
    /// The round.
    pub round: Id,
    /// The spot; null: logs in no spot.
    #[ts(optional = nullable)]
    pub spot_id: Option<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `round_spot_clean`
///
/// # Errors
/// `Missing`, `Conflict` when the round has ended, `Invalid` when nothing is left there.
pub fn round_spot_clean(book: &Book, ask: RoundSpotClean) -> Result<Done> {
    let intent = Intent { name: "round_spot_clean", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let round = still_open(conn, &ask.round)?;
        let stops = rows::stops(conn, &round, here(conn, book.moment())?)?;
        let left: Vec<_> = rows::unchecked_in(&stops, ask.spot_id.as_ref().map(Id::as_str)).collect();
        let Some(first) = left.first() else { return Err(Error::invalid("spot_id", "empty")) };
        let changes: Vec<Change> =
            left.iter().map(|log| check(book, &round, &log.id, How::Clean, 0, Damage::None, None)).collect();
        let said = json!({"round": round.id, "spot": first.spot, "n": changes.len()});
        Ok(Plan::new(changes, said))
    })
}

/// Ends a round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundEnd {
    /// The round.
    pub round: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `round_end`
///
/// # Errors
/// `Missing`, or `Conflict` when it has ended already.
pub fn round_end(book: &Book, ask: RoundEnd) -> Result<Done> {
    let intent = Intent { name: "round_end", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let round = still_open(conn, &ask.round)?;
        let (changes, row) = ending(conn, &round, book.moment())?;
        let said = json!({"round": row.id, "day": row.day, "slugs": row.slugs, "logs": row.logs, "done": row.done,
            "skipped": row.skipped, "left": row.left});
        Ok(Plan::new(changes, said))
    })
}

fn ending(conn: &Connection, round: &Round, moment: Moment) -> Result<(Vec<Change>, RoundRow)> {
    let stops = rows::stops(conn, round, here(conn, moment)?)?;
    let row = rows::row(round, &stops);
    let left = i64::try_from(row.left).unwrap_or(i64::MAX);
    let set = |name, value: i64| Change::set("round", &round.id, name, value);
    Ok((vec![set("ended", moment.ms), set("left", left)], row))
}
