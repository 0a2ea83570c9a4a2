//! Commands about the wood: what a look at it found, and what was done for one log or many.
//! Never keeps a photo's bytes: `photos` did that before.
//! Invariant: what was found on a log and its photos are one act; so is one deed on many logs.

use super::rules::{Bark, Competitor, Cracks, Extent, Pecked, Tend, Wax};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::{self, LogRow};
use crate::logs::rules::follows::{Kind, Reason, follows};
use crate::measure::{self, Bounds};
use crate::photos;
use crate::settings::rows::here;
use crate::spots::rows as spots;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::BTreeSet;
use ts_rs::TS;

/// Most photos with one entry.
const PHOTOS_MAX: usize = 20;
/// Logs in one act.
const LOGS: Bounds = Bounds { min: 1, max: 2000, unit: "logs" };

/// Asks for what the form about a log's wood needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ConditionFormAsk {
    /// The log.
    pub log: Id,
}

/// What the form about a log's wood needs.
#[derive(Debug, Serialize, TS)]
pub struct ConditionForm {
    /// The local day.
    pub today: NaiveDate,
    /// The log.
    pub row: LogRow,
    /// Largest photo, bytes: asked before it is read.
    pub max_bytes: usize,
    /// What speaks against writing on it today: its watch has ended, or it left the yard.
    pub asks: Vec<Reason>,
}

/// `condition_form`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn condition_form(book: &Book, ask: ConditionFormAsk) -> Result<ConditionForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let asks = follows(Kind::Condition, &log.facts, here.on(here.today)).asked()?;
        Ok(ConditionForm { today: here.today, row: log.row, asks, max_bytes: photos::rules::MAX_BYTES })
    })
}

/// Records what a look at the wood found. What nobody looked at is null.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ConditionAdd {
    /// The log.
    pub log: Id,
    /// The bark.
    #[ts(optional = nullable)]
    pub bark: Option<Bark>,
    /// Cracks in the ends.
    #[ts(optional = nullable)]
    pub cracks: Option<Cracks>,
    /// The wax.
    #[ts(optional = nullable)]
    pub wax: Option<Wax>,
    /// Plugs pecked out.
    #[ts(optional = nullable)]
    pub pecked: Option<Pecked>,
    /// Another fungus.
    #[ts(optional = nullable)]
    pub competitor: Option<Competitor>,
    /// How far that has spread.
    #[ts(optional = nullable)]
    pub extent: Option<Extent>,
    /// The day; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// Hashes of photos kept before.
    pub photos: Vec<String>,
    /// The grower's words.
    pub note: String,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `condition_add`
///
/// # Errors
/// `Missing`, or `Invalid`: on `condition` when nothing is said at all.
pub fn condition_add(book: &Book, ask: ConditionAdd) -> Result<Done> {
    let intent = Intent { name: "condition_add", request: &ask.request, draft: ask.draft.as_deref() };
    if ask.photos.len() > PHOTOS_MAX {
        return Err(Error::invalid_with("photos", "too_long", json!({"max": PHOTOS_MAX})));
    }
    let kept: Vec<_> =
        ask.photos.iter().map(|hash| Ok((hash, photos::acts::about(book, hash)?))).collect::<Result<_>>()?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let day = past(ask.day, here.today)?;
        let asks = follows(Kind::Condition, &log.facts, here.on(day)).asked()?;
        let log = log.row;
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let extent = ask.extent.filter(|_| ask.competitor.is_some_and(|c| c != Competitor::None));
        let said = json!({"log": log.id, "tag": log.tag, "bark": ask.bark, "cracks": ask.cracks, "wax": ask.wax,
            "pecked": ask.pecked, "competitor": ask.competitor, "extent": extent, "photos": kept.len(), "asks": asks});
        let parts = ["bark", "cracks", "wax", "pecked", "competitor"];
        if parts.iter().all(|part| said[part].is_null()) && note.is_empty() && kept.is_empty() {
            return Err(Error::invalid("condition", "empty"));
        }
        let about = json!({"log": log.id, "day": day, "at": moment.ms, "zone": moment.zone()});
        let mut row = about.clone();
        row["note"] = json!(note);
        for part in parts.iter().chain(&["extent"]) {
            row[part] = said[part].clone();
        }
        let entry = book.new_id();
        let mut changes = vec![Change::put("condition", &entry, row)];
        for (hash, photo) in &kept {
            let mut row = about.clone();
            for (name, value) in [
                ("hash", json!(hash)),
                ("of", json!(entry)),
                ("width", json!(photo.width)),
                ("height", json!(photo.height)),
                ("mime", json!(photo.mime)),
                ("taken", json!(photo.taken)),
            ] {
                row[name] = value;
            }
            changes.push(Change::put("photo", &book.new_id(), row));
        }
        Ok(Plan::new(changes, said))
    })
}

/// A day that is not to come; none: today.
fn past(day: Option<NaiveDate>, today: NaiveDate) -> Result<NaiveDate> {
    let day = day.unwrap_or(today);
    if day > today { Err(Error::invalid("day", "future")) } else { Ok(day) }
}

/// Asks for the logs that something could be done for.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TendFormAsk {
    /// One log.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
    /// All logs of one spot.
    #[ts(optional = nullable)]
    pub spot: Option<Id>,
}

/// The logs that something could be done for.
#[derive(Debug, Serialize, TS)]
pub struct TendForm {
    /// The local day.
    pub today: NaiveDate,
    /// The spot, when it was asked for.
    pub spot: Option<String>,
    /// The live logs, by tag.
    pub logs: Vec<LogRow>,
    /// What can be done, and for how many of them.
    pub deeds: Vec<Deed>,
}

/// Something that can be done.
#[derive(Debug, Serialize, TS)]
pub struct Deed {
    /// What.
    pub what: Tend,
    /// For how many of the logs.
    pub logs: usize,
}

/// `tend_form`
///
/// # Errors
/// `Missing`; `Invalid` when neither a log nor a spot is named.
pub fn tend_form(book: &Book, ask: TendFormAsk) -> Result<TendForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let (spot, logs) = match (&ask.log, &ask.spot) {
            (Some(log), _) => (None, vec![rows::one(conn, log.as_str(), here)?]),
            (None, Some(spot)) => {
                let name = spots::fields(conn, spot.as_str())?.name;
                (Some(name), rows::at_spot(conn, spot.as_str(), here)?)
            }
            (None, None) => return Err(Error::invalid("logs", "empty")),
        };
        let logs: Vec<LogRow> =
            logs.into_iter().filter(|log| log.ended.is_none()).map(|log| log.row).collect();
        let deeds = Tend::ALL
            .iter()
            .map(|what| Deed { what: *what, logs: logs.iter().filter(|log| what.fits(log.method)).count() })
            .filter(|deed| deed.logs > 0)
            .collect();
        Ok(TendForm { today: here.today, spot, logs, deeds })
    })
}

/// Records what was done for logs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TendAdd {
    /// The logs.
    pub logs: Vec<Id>,
    /// What was done. Logs that it cannot be done to are passed over, and counted.
    pub what: Tend,
    /// The day; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// The grower's words.
    pub note: String,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `tend_add`
///
/// # Errors
/// `Missing`; `Invalid`, on `what` when it can be done to none of them; `Conflict` when one has ended.
pub fn tend_add(book: &Book, ask: TendAdd) -> Result<Done> {
    let intent = Intent { name: "tend_add", request: &ask.request, draft: ask.draft.as_deref() };
    let logs: BTreeSet<&str> = ask.logs.iter().map(Id::as_str).collect();
    LOGS.check("logs", i64::try_from(logs.len()).unwrap_or(i64::MAX))?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let day = past(ask.day, here.today)?;
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let (mut changes, mut passed, mut rows_done) = (Vec::new(), 0, Vec::new());
        for log in &logs {
            let log = rows::one(conn, log, here)?;
            follows(Kind::Tending, &log.facts, here.on(day)).asked()?;
            if !ask.what.fits(log.row.method) {
                passed += 1;
                continue;
            }
            let row = json!({"log": log.row.id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
                "what": ask.what});
            changes.push(Change::put("tending", &book.new_id(), row));
            rows_done.push(log.row);
        }
        let Some(first) = rows_done.first() else {
            return Err(Error::invalid_with("what", "unfit", json!({"word": ask.what})));
        };
        let tag = (rows_done.len() == 1).then_some(&first.tag);
        let one_spot = rows_done.iter().all(|row| row.spot_id == first.spot_id);
        let spot = first.spot.as_ref().filter(|_| one_spot);
        let said = json!({"n": rows_done.len(), "tag": tag, "spot": spot, "what": ask.what, "passed": passed});
        Ok(Plan::new(changes, said))
    })
}
