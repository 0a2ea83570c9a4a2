//! Commands about what is seen outside rounds, and about a log's flushes.
//! Never a stop of a round.
//! Invariant: a sighting and its photos are one act.

use super::super::rows::records::{self as rows, Flush, Sighting};
use super::super::rules::{Did, Hid, RoundWhen, evening, kept_words};
use super::super::sightings::{LossView, Reach, Sighted};
use crate::book::{Book, Change, Done, Intent, Plan, revived};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::{self as logs, LogRow};
use crate::measure;
use crate::photos;
use crate::pickings::rules::FlushHow;
use crate::settings::rows::here;
use crate::spots::rows as spots;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Most photos with one sighting.
const PHOTOS_MAX: usize = 20;

/// Asks for what the form of a sighting needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SightingFormAsk {
    /// The log; null: not on a log.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
}

/// What the form of a sighting needs.
#[derive(Debug, Serialize, TS)]
pub struct SightingForm {
    /// The local day.
    pub today: NaiveDate,
    /// The log.
    pub row: Option<LogRow>,
    /// Spots, in walking order: id and name.
    pub spots: Vec<(String, String)>,
    /// What can be seen.
    pub what: Vec<Sighted>,
    /// Largest photo, bytes: asked before it is read.
    pub max_bytes: usize,
}

/// `sighting_form`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn sighting_form(book: &Book, ask: SightingFormAsk) -> Result<SightingForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let row = ask.log.as_ref().map(|log| logs::one(conn, log.as_str(), here)).transpose()?;
        Ok(SightingForm {
            today: here.today,
            row: row.map(|log| log.row),
            spots: spots::all(conn)?.into_iter().map(|spot| (spot.id, spot.name)).collect(),
            what: Sighted::ALL.to_vec(),
            max_bytes: photos::rules::MAX_BYTES,
        })
    })
}

/// Records a sighting.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SightingAdd {
    /// The log; null: not on a log.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
    /// The spot, where it was on no log.
    #[ts(optional = nullable)]
    pub spot: Option<Id>,
    /// What was seen.
    pub what: Sighted,
    /// Now, or last night.
    pub when: RoundWhen,
    /// How many; null: not counted.
    #[ts(optional = nullable)]
    pub n: Option<i64>,
    /// How much of the log a competitor holds.
    #[ts(optional = nullable)]
    pub extent: Option<Reach>,
    /// Where it hid.
    pub hid: Vec<Hid>,
    /// What was done.
    pub did: Vec<Did>,
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

/// `sighting_add`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn sighting_add(book: &Book, ask: SightingAdd) -> Result<Done> {
    let intent = Intent { name: "sighting_add", request: &ask.request, draft: ask.draft.as_deref() };
    if ask.photos.len() > PHOTOS_MAX {
        return Err(Error::invalid_with("photos", "too_long", json!({"max": PHOTOS_MAX})));
    }
    if ask.what.is_competitor() && ask.log.is_none() {
        return Err(Error::invalid("log", "empty"));
    }
    let kept: Vec<_> =
        ask.photos.iter().map(|hash| Ok((hash, photos::acts::about(book, hash)?))).collect::<Result<_>>()?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let tag = ask.log.as_ref().map(|log| logs::tag(conn, log.as_str())).transpose()?;
        let day = match ask.when {
            RoundWhen::Now => moment.day(),
            RoundWhen::LastNight => evening(moment.local().naive_local(), ask.when),
        };
        let n = ask.n.map(|n| measure::SLUGS.check("n", n)).transpose()?;
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let id = book.new_id();
        let (hid, did) = (ask.hid.iter().map(|w| w.word()), ask.did.iter().map(|w| w.word()));
        let (hid, did): (Vec<_>, Vec<_>) = (hid.collect(), did.collect());
        let row = json!({"log": ask.log, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
            "what": ask.what, "n": n, "extent": ask.extent.filter(|_| ask.what.is_competitor()),
            "hid": kept_words(&hid), "did": kept_words(&did), "spot": ask.spot});
        let mut changes = vec![Change::put("sighting", &id, row)];
        for (hash, about) in &kept {
            let row = json!({"log": ask.log, "day": day, "at": moment.ms, "zone": moment.zone(), "hash": hash,
                "of": id, "width": about.width, "height": about.height, "mime": about.mime, "taken": about.taken});
            changes.push(Change::put("photo", &book.new_id(), row));
        }
        let said = json!({"log": ask.log, "tag": tag, "what": ask.what, "n": n, "photos": kept.len()});
        Ok(Plan::new(changes, said))
    })
}

/// Asks for a log's flushes and sightings.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct FlushesShow {
    /// The log.
    pub log: Id,
}

/// A log's flushes and sightings.
#[derive(Debug, Serialize, TS)]
pub struct FlushesView {
    /// Flushes, oldest first.
    pub flushes: Vec<Flush>,
    /// Pickings less than so many days apart, with no soak between, are one.
    pub gap_days: i64,
    /// Sightings, newest first.
    pub sightings: Vec<Sighting>,
    /// How likely it is lost to another fungus, and why.
    pub risk: Option<LossView>,
}

/// `flushes_show`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn flushes_show(book: &Book, ask: FlushesShow) -> Result<FlushesView> {
    book.read(|conn| {
        let log = ask.log.as_str();
        logs::tag(conn, log)?;
        Ok(FlushesView {
            flushes: rows::flushes_of(conn, log)?,
            gap_days: rows::gap_days(conn)?,
            sightings: rows::sightings(conn, Some(log), 200)?,
            risk: rows::risk_of(conn, log)?,
        })
    })
}

/// Parts a flush at a picking, or joins it with the one before.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct FlushMark {
    /// The picking.
    pub picking: Id,
    /// How; null: by the gap again.
    #[ts(optional = nullable)]
    pub how: Option<FlushHow>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `flush_mark`
///
/// # Errors
/// `Missing` when there is no such picking.
pub fn flush_mark(book: &Book, ask: FlushMark) -> Result<Done> {
    let intent = Intent { name: "flush_mark", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let picking = super::super::rows::baskets::whole(conn, ask.picking.as_str())?;
        let tag = logs::tag(conn, &picking.log)?;
        let changes = vec![Change::set("flush", ask.picking.as_str(), "how", json!(ask.how))];
        Ok(Plan::new(
            revived(conn, changes)?,
            json!({"log": picking.log, "tag": tag, "day": picking.day, "how": ask.how}),
        ))
    })
}
