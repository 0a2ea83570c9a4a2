//! Commands of the picking round: what a log shows, what was picked, what was passed over.
//! Never a sum over logs, and never which stage is ripe: rules have both.
//! Invariant: a stop is one act, with its look, its picking, its photos and its forecast.

use super::super::forecast::Forecast;
use super::super::rows::picking::{self as rows, PickStop};
use super::super::rows::{self as rounds, Round, RoundRow, baskets, checks, fruiting};
use super::super::rules::{Damage, How, RoundKind};
use super::{Finding, check, still_open};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::looks::rules::{Stage, stages};
use crate::photos;
use crate::pickings::rules::{By, PickQuality, Picked};
use crate::settings::rows::here;
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Most photos at one stop.
const PHOTOS_MAX: usize = 20;

/// Asks for a picking round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickRoundShow {
    /// The round.
    pub round: Id,
}

/// A picking round, card by card.
#[derive(Debug, Serialize, TS)]
pub struct PickRoundView {
    /// The round and its sums.
    pub round: RoundRow,
    /// Logs with caps first, by urgency; then all others.
    pub stops: Vec<PickStop>,
    /// How many of them have caps.
    pub asked: usize,
    /// The first stop with caps where nothing was done.
    pub next: Option<usize>,
    /// Baskets of this round, the open one last.
    pub baskets: Vec<baskets::Basket>,
    /// What can have damaged the caps.
    pub by: Vec<By>,
    /// Largest photo, bytes: asked before it is read.
    pub max_bytes: usize,
}

/// `pick_round_show`
///
/// # Errors
/// `Missing` when there is no such round.
pub fn pick_round_show(book: &Book, ask: PickRoundShow) -> Result<PickRoundView> {
    book.read(|conn| {
        let round = picking(conn, &ask.round)?;
        let stops = rows::stops(conn, &round, here(conn, book.moment())?)?;
        let asked = stops.iter().filter(|s| s.stage.is_some()).count();
        let baskets: Vec<_> = baskets::of_round(conn, &round.id)?
            .iter()
            .map(|id| baskets::one(conn, id))
            .collect::<Result<_>>()?;
        Ok(PickRoundView {
            round: rows::row(&round, &stops),
            next: stops.iter().position(|s| s.stage.is_some() && s.done.is_none()),
            asked,
            stops,
            baskets,
            by: By::ALL.to_vec(),
            max_bytes: photos::rules::MAX_BYTES,
        })
    })
}

fn picking(conn: &Connection, id: &Id) -> Result<Round> {
    let round = rounds::one(conn, id.as_str())?;
    if round.kind == RoundKind::Picking { Ok(round) } else { Err(Error::Missing { what: "round" }) }
}

/// Keeps a look of the round: the caps stay on.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickLook {
    /// The round.
    pub round: Id,
    /// The log.
    pub log: Id,
    /// What was seen.
    pub seen: Stage,
    /// The day to look again; null: as the forecast has it.
    #[ts(optional = nullable)]
    pub again: Option<NaiveDate>,
    /// Hashes of photos kept before.
    pub photos: Vec<String>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `pick_look`: with its forecast.
///
/// # Errors
/// `Missing`, `Invalid`, naming the field, or `Conflict` when the round has ended.
pub fn pick_look(book: &Book, ask: PickLook) -> Result<Done> {
    let intent = Intent { name: "pick_look", request: &ask.request, draft: ask.draft.as_deref() };
    let kept = abouts(book, &ask.photos)?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let round = still_open(conn, &ask.round)?;
        let log = logs::one(conn, ask.log.as_str(), here(conn, moment)?)?.row;
        if ask.again.is_some_and(|day| day < round.day) {
            return Err(Error::invalid_with("again", "order", json!({"other": "day"})));
        }
        let (mut changes, forecast) = look(book, conn, &round, (&log, ask.seen), ask.again, &kept)?;
        changes.extend(unsaid(conn, &round, &log.id)?);
        let again = ask.again.or(forecast.as_ref().map(|f| f.look_on));
        let said = json!({"round": round.id, "log": log.id, "tag": log.tag, "seen": ask.seen, "again": again,
            "photos": kept.len()});
        Ok(Plan::new(changes, said))
    })
}

type Photo<'a> = (&'a String, photos::rules::About);

fn abouts<'a>(book: &Book, hashes: &'a [String]) -> Result<Vec<Photo<'a>>> {
    if hashes.len() > PHOTOS_MAX {
        return Err(Error::invalid_with("photos", "too_long", json!({"max": PHOTOS_MAX})));
    }
    hashes.iter().map(|hash| Ok((hash, photos::acts::about(book, hash)?))).collect()
}

/// The look, its photos, its forecast.
fn look(
    book: &Book,
    conn: &Connection,
    round: &Round,
    (log, seen): (&logs::LogRow, Stage),
    again: Option<NaiveDate>,
    kept: &[Photo<'_>],
) -> Result<(Vec<Change>, Option<Forecast>)> {
    if !stages(log.mushroom).contains(&seen) {
        return Err(Error::invalid_with("seen", "unknown_word", json!({"word": seen})));
    }
    let moment = book.moment();
    let id = book.new_id();
    let found = match round.later {
        true => None,
        false => fruiting::kept_with(conn, (&log.id, seen), (&id, &book.new_id()), moment)?,
    };
    let again = again.or(found.as_ref().map(|(_, forecast)| forecast.look_on));
    let row = json!({"log": log.id, "day": round.day, "at": moment.ms, "zone": moment.zone(), "seen": seen,
        "round": round.id, "again": again});
    let mut changes = vec![Change::put("look", &id, row)];
    changes.extend(shots(book, &log.id, &id, round.day, moment, kept));
    let (kept, forecast) = found.unzip();
    changes.extend(kept);
    Ok((changes, forecast))
}

fn shots(book: &Book, log: &str, of: &Id, day: NaiveDate, moment: Moment, kept: &[Photo<'_>]) -> Vec<Change> {
    let put = |(hash, about): &Photo<'_>| {
        let row = json!({"log": log, "day": day, "at": moment.ms, "zone": moment.zone(), "hash": hash,
            "of": of, "width": about.width, "height": about.height, "mime": about.mime, "taken": about.taken});
        Change::put("photo", &book.new_id(), row)
    };
    kept.iter().map(put).collect()
}

/// That a log was skipped is no longer true once something was done at it.
fn unsaid(conn: &Connection, round: &Round, log: &str) -> Result<Vec<Change>> {
    Ok(checks::checks_of(conn, &round.id, log)?.iter().map(|old| Change::void(old)).collect())
}

/// Keeps a picking of the round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickTake {
    /// The round.
    pub round: Id,
    /// The log.
    pub log: Id,
    /// The caps as they were picked; null: not said.
    #[ts(optional = nullable)]
    pub seen: Option<Stage>,
    /// Weight, g; null: not weighed, or weighed later.
    #[ts(optional = nullable)]
    pub grams: Option<i64>,
    /// It went into the basket that is weighed in the kitchen.
    pub basket: bool,
    /// Number of caps; null: not counted.
    #[ts(optional = nullable)]
    pub caps: Option<i64>,
    /// Share damaged, per cent; null: not judged.
    #[ts(optional = nullable)]
    pub damaged_pct: Option<i64>,
    /// By what.
    #[ts(optional = nullable)]
    pub by: Option<By>,
    /// How good they were.
    #[ts(optional = nullable)]
    pub quality: Option<PickQuality>,
    /// Hashes of photos kept before.
    pub photos: Vec<String>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `pick_take`
///
/// # Errors
/// `Missing`, `Invalid`, naming the field, or `Conflict` when the round has ended.
pub fn pick_take(book: &Book, ask: PickTake) -> Result<Done> {
    let intent = Intent { name: "pick_take", request: &ask.request, draft: ask.draft.as_deref() };
    let kept = abouts(book, &ask.photos)?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let round = still_open(conn, &ask.round)?;
        let log = logs::one(conn, ask.log.as_str(), here)?;
        let mut changes = match ask.seen {
            Some(seen) => look(book, conn, &round, (&log.row, seen), None, &[])?.0,
            None => Vec::new(),
        };
        // The caps are off: nothing is left to forecast or to look at again.
        changes.retain(|change| change.topic() != "forecast");
        let picked = Picked {
            day: round.day,
            grams: ask.grams.filter(|_| !ask.basket),
            caps: ask.caps,
            damaged_pct: ask.damaged_pct,
            by: ask.by,
            note: String::new(),
        };
        let picked = picked.checked(here.today, log.facts.laid.as_ref(), here.southern)?;
        let basket =
            if ask.basket { Some(basket_of(book, conn, &round, moment, &mut changes)?) } else { None };
        let id = book.new_id();
        let mut row = picked.row(&log.row.id, moment);
        row["round"] = json!(round.id);
        row["basket"] = json!(basket);
        row["stage"] = json!(ask.seen);
        row["quality"] = json!(ask.quality);
        changes.push(Change::put("picking", &id, row));
        changes.extend(shots(book, &log.row.id, &id, round.day, moment, &kept));
        changes.extend(unsaid(conn, &round, &log.row.id)?);
        let said = json!({"round": round.id, "log": log.row.id, "tag": log.row.tag, "grams": picked.grams,
            "caps": picked.caps, "basket": basket, "seen": ask.seen, "day": round.day});
        Ok(Plan::new(changes, said))
    })
}

/// The open basket of the round, begun when there is none.
fn basket_of(
    book: &Book,
    conn: &Connection,
    round: &Round,
    moment: Moment,
    changes: &mut Vec<Change>,
) -> Result<String> {
    if let Some(open) = baskets::open_of(conn, &round.id)? {
        return Ok(open);
    }
    let id = book.new_id();
    let set = |name, value: Value| Change::set("basket", id.as_str(), name, value);
    changes.push(set("day", json!(round.day)));
    changes.push(set("opened", json!(moment.ms)));
    changes.push(set("zone", json!(moment.zone())));
    changes.push(set("round", json!(round.id)));
    Ok(id.to_string())
}

/// Passes over a log of a picking round.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickSkip {
    /// The round.
    pub round: Id,
    /// The log.
    pub log: Id,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `pick_skip`
///
/// # Errors
/// `Missing`, or `Conflict` when the round has ended.
pub fn pick_skip(book: &Book, ask: PickSkip) -> Result<Done> {
    let intent = Intent { name: "pick_skip", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let round = still_open(conn, &ask.round)?;
        let tag = logs::tag(conn, ask.log.as_str())?;
        let mut changes = unsaid(conn, &round, ask.log.as_str())?;
        changes.push(check(
            book,
            &round,
            ask.log.as_str(),
            &Finding::plain(How::Skipped, 0, Damage::None),
            None,
        ));
        Ok(Plan::new(changes, json!({"round": round.id, "log": ask.log, "tag": tag})))
    })
}
