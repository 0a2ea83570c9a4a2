//! Commands about rounds: starting, ticking off, ending, and what they show.
//! Never which log to pick: that is the picking round's, in rules of its own.
//! Invariant: a round and what is entered on it belong to the evening's day, also past midnight.

mod baskets;
mod costs;
mod picking;
mod sheet;
mod sightings;
mod tonight;

pub use baskets::{
    BasketAnswer, BasketPairAnswer, BasketShow, BasketWeigh, Share, basket_answer, basket_pair_answer,
    basket_show, basket_weigh,
};
pub use costs::{CostsShow, CostsView, costs_show};
pub use picking::{
    PickLook, PickRoundShow, PickRoundView, PickSkip, PickTake, pick_look, pick_round_show, pick_skip,
    pick_take,
};
pub use sheet::{RoundSheet, SheetLine, SheetShow, SheetView, round_sheet, sheet_show};
pub use sightings::{
    FlushMark, FlushesShow, FlushesView, SightingAdd, SightingForm, SightingFormAsk, flush_mark,
    flushes_show, sighting_add, sighting_form,
};
pub use tonight::{CalendarFile, CalendarView, RoundsShow, RoundsView, calendar_file, rounds_show};

use super::rows::walk::{self, Stop};
use super::rows::{self, Round, RoundRow, checks, picking as picking_rows};
use super::rules::{Damage, Did, Hid, How, OtherSeen, RoundKind, RoundWhen, evening, is_over, kept_words};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::measure;
use crate::settings::rows::here;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Starts a round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundStart {
    /// What for; null: slugs by night.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub kind: Option<RoundKind>,
    /// When it is walked; null: now. One of last night is typed in afterwards.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub when: Option<RoundWhen>,
    /// The spots it walks to; null: all.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub spots: Option<Vec<Id>>,
    /// A child's: it only tallies.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub child: Option<bool>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `round_start`: ends an open round of its kind of an earlier evening in the same act.
///
/// # Errors
/// `Conflict` when this evening's round is open, `Invalid` when there is no log to walk to.
pub fn round_start(book: &Book, ask: RoundStart) -> Result<Done> {
    let intent = Intent { name: "round_start", request: &ask.request, draft: None };
    let kind = ask.kind.unwrap_or(RoundKind::Night);
    let when = ask.when.unwrap_or(RoundWhen::Now);
    book.act(intent, |conn| {
        let moment = book.moment();
        let local = moment.local().naive_local();
        // Caps are picked by day: a picking round belongs to its own day from midnight on.
        let day = if kind == RoundKind::Picking && when == RoundWhen::Now {
            local.date()
        } else {
            evening(local, when)
        };
        let mut changes = Vec::new();
        if let Some(open) = rows::open(conn, kind, &book.device())? {
            if open.day == day && rows::is_mine(conn, &open.id, &book.device())? {
                return Err(Error::conflict("round_open", json!({"round": open.id})));
            }
            if open.day < day {
                changes.extend(ending(conn, &open, moment)?.0);
            }
        }
        let spots: Vec<&str> = ask.spots.iter().flatten().map(Id::as_str).collect();
        let id = book.new_id();
        let set = |name, value: Value| Change::set("round", id.as_str(), name, value);
        changes.push(set("kind", json!(kind)));
        changes.push(set("day", json!(day)));
        changes.push(set("started", json!(moment.ms)));
        changes.push(set("zone", json!(moment.zone())));
        if let Some(spots) = kept_words(&spots) {
            changes.push(set("spots", json!(spots)));
        }
        if ask.child == Some(true) {
            changes.push(set("child", json!(1)));
        }
        if when == RoundWhen::LastNight {
            changes.push(set("later", json!(1)));
        }
        let taken =
            |spot: &Option<String>| spots.is_empty() || spot.as_deref().is_some_and(|s| spots.contains(&s));
        let all = logs::all(conn, here(conn, moment)?)?;
        let logs = all.iter().filter(|log| walk::is_walked_to(log) && taken(&log.row.spot_id)).count();
        if logs == 0 {
            return Err(Error::invalid("round", "empty"));
        }
        Ok(Plan::new(changes, json!({"round": id, "kind": kind, "logs": logs, "day": day})))
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
    /// The round's night is over: what is entered now was most likely seen last night.
    pub afterwards: bool,
}

/// `round_show`
///
/// # Errors
/// `Missing` when there is no such round.
pub fn round_show(book: &Book, ask: RoundShow) -> Result<RoundView> {
    book.read(|conn| {
        let round = rows::one(conn, ask.round.as_str())?;
        let stops = walk::stops(conn, &round, here(conn, book.moment())?)?;
        Ok(RoundView {
            round: rows::row(&round, &stops),
            next: stops.iter().position(|s| s.check.is_none()),
            spots: by_spot(&stops),
            afterwards: is_over(book.moment().local().naive_local(), round.day),
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
    /// Other animals seen.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub others: Option<Vec<OtherSeen>>,
    /// Where slugs hid.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub hid: Option<Vec<Hid>>,
    /// What was done.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub did: Option<Vec<Did>>,
    /// Now, or last night, typed in afterwards; null: now.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub when: Option<RoundWhen>,
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
        let before = checks::checks_of(conn, &round.id, ask.log.as_str())?;
        // A child counts; who judged before that is not unsaid.
        let how = if round.child && ask.how == How::Seen { How::Tallied } else { ask.how };
        let finding = Finding {
            how,
            slugs,
            damage: ask.damage,
            others: kept_words(&words(&ask.others, OtherSeen::word)),
            hid: kept_words(&words(&ask.hid, Hid::word)),
            did: kept_words(&words(&ask.did, Did::word)),
            later: is_afterwards(book, &round, ask.when)?,
        };
        let mut changes =
            vec![check(book, &round, ask.log.as_str(), &finding, before.last().map(String::as_str))];
        changes.extend(before.iter().map(|old| Change::void(old)));
        let said = json!({"round": round.id, "log": ask.log, "tag": tag, "how": how, "slugs": slugs,
            "damage": ask.damage, "others": ask.others, "hid": ask.hid, "did": ask.did, "when": ask.when});
        Ok(Plan::new(changes, said))
    })
}

fn still_open(conn: &Connection, id: &Id) -> Result<Round> {
    let round = rows::one(conn, id.as_str())?;
    if round.is_open() { Ok(round) } else { Err(Error::conflict("round_ended", Value::Null)) }
}

/// Whether what is entered was seen last night and is typed in afterwards. Last night must be the round's.
fn is_afterwards(book: &Book, round: &Round, when: Option<RoundWhen>) -> Result<bool> {
    if when != Some(RoundWhen::LastNight) {
        return Ok(false);
    }
    let last = evening(book.moment().local().naive_local(), RoundWhen::LastNight);
    if last == round.day {
        Ok(true)
    } else {
        Err(Error::invalid_with("when", "other_evening", json!({"day": round.day})))
    }
}

fn words<T: Copy>(list: &Option<Vec<T>>, word: impl Fn(T) -> &'static str) -> Vec<&'static str> {
    list.iter().flatten().map(|one| word(*one)).collect()
}

/// What stands in a check.
struct Finding {
    how: How,
    slugs: i64,
    damage: Damage,
    others: Option<String>,
    hid: Option<String>,
    did: Option<String>,
    /// It was seen before it was entered, so that its hour is not known.
    later: bool,
}

impl Finding {
    fn plain(how: How, slugs: i64, damage: Damage) -> Self {
        Self { how, slugs, damage, others: None, hid: None, did: None, later: false }
    }
}

fn check(book: &Book, round: &Round, log: &str, found: &Finding, replaces: Option<&str>) -> Change {
    let moment = book.moment();
    let row = json!({"log": log, "day": round.day, "at": moment.ms, "zone": moment.zone(), "replaces": replaces,
        "round": round.id, "how": found.how, "slugs": found.slugs, "damage": found.damage,
        "later": (round.later || found.later).then_some(1), "others": found.others, "hid": found.hid, "did": found.did});
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
    /// Now, or last night, typed in afterwards; null: now.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub when: Option<RoundWhen>,
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
        let stops = walk::stops(conn, &round, here(conn, book.moment())?)?;
        let left: Vec<_> = walk::unchecked_in(&stops, ask.spot_id.as_ref().map(Id::as_str)).collect();
        let later = is_afterwards(book, &round, ask.when)?;
        let clean = Finding { later, ..Finding::plain(How::Clean, 0, Damage::None) };
        let Some(first) = left.first() else { return Err(Error::invalid("spot_id", "empty")) };
        let changes: Vec<Change> =
            left.iter().map(|log| check(book, &round, &log.id, &clean, None)).collect();
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
        let said = json!({"round": row.id, "kind": row.kind, "day": row.day, "slugs": row.slugs, "logs": row.logs, "done": row.done,
            "skipped": row.skipped, "left": row.left});
        Ok(Plan::new(changes, said))
    })
}

fn ending(conn: &Connection, round: &Round, moment: Moment) -> Result<(Vec<Change>, RoundRow)> {
    let here = here(conn, moment)?;
    let row = match round.kind {
        RoundKind::Night => rows::row(round, &walk::stops(conn, round, here)?),
        RoundKind::Picking => picking_rows::row(round, &picking_rows::stops(conn, round, here)?),
    };
    let left = i64::try_from(row.left).unwrap_or(i64::MAX);
    let set = |name, value: i64| Change::set("round", &round.id, name, value);
    Ok((vec![set("ended", moment.ms), set("left", left)], row))
}
