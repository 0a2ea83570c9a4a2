//! Commands about looks: what a log shows, with its photos.
//! Never keeps a photo's bytes: `photos` did that before.
//! Invariant: a look and its photos are one act.

use super::rules::{Stage, stages};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::{self, LogRow};
use crate::logs::rules::follows::{Reason, fruit_asks};
use crate::measure;
use crate::photos;
use crate::rounds::rows::fruiting;
use crate::rounds::rules::{RoundWhen, evening};
use crate::settings::rows::here;
use crate::strains::rules::OutOfSeason;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Most photos with one look.
const PHOTOS_MAX: usize = 20;

/// Asks for what the form of a look needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LookFormAsk {
    /// The log.
    pub log: Id,
}

/// What the form of a look needs.
#[derive(Debug, Serialize, TS)]
pub struct LookForm {
    /// The local day.
    pub today: NaiveDate,
    /// The log.
    pub row: LogRow,
    /// What can be seen on it, `nothing` first.
    pub stages: Vec<Stage>,
    /// Largest photo, bytes: asked before it is read.
    pub max_bytes: usize,
    /// What to ask first when fruit is seen.
    pub asks: Vec<Reason>,
    /// Set when its class does not fruit in these months: is the tag right?
    pub season: Option<OutOfSeason>,
}

/// `look_form`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn look_form(book: &Book, ask: LookFormAsk) -> Result<LookForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let (asks, season) = fruit_asks(&log.facts, here.on(here.today));
        let (row, max_bytes) = (log.row, photos::rules::MAX_BYTES);
        let stages = stages(row.mushroom).to_vec();
        Ok(LookForm { today: here.today, row, stages, max_bytes, asks, season })
    })
}

/// Records what a log shows.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LookAdd {
    /// The log.
    pub log: Id,
    /// What was seen.
    pub seen: Stage,
    /// Hashes of photos kept before.
    pub photos: Vec<String>,
    /// The grower's words.
    pub note: String,
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

/// `look_add`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn look_add(book: &Book, ask: LookAdd) -> Result<Done> {
    let intent = Intent { name: "look_add", request: &ask.request, draft: ask.draft.as_deref() };
    if ask.photos.len() > PHOTOS_MAX {
        return Err(Error::invalid_with("photos", "too_long", json!({"max": PHOTOS_MAX})));
    }
    let kept: Vec<_> =
        ask.photos.iter().map(|hash| Ok((hash, photos::acts::about(book, hash)?))).collect::<Result<_>>()?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let log = rows::one(conn, ask.log.as_str(), here(conn, moment)?)?.row;
        if !stages(log.mushroom).contains(&ask.seen) {
            return Err(Error::invalid_with("seen", "unknown_word", json!({"word": ask.seen})));
        }
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let when = ask.when.unwrap_or(RoundWhen::Now);
        let zone = moment.zone();
        let day = match when {
            RoundWhen::Now => moment.day(),
            RoundWhen::LastNight => evening(moment.local().naive_local(), when),
        };
        let look = book.new_id();
        let row = json!({"log": log.id, "day": day, "at": moment.ms, "zone": zone, "note": note, "seen": ask.seen});
        let mut changes = vec![Change::put("look", &look, row)];
        for (hash, about) in &kept {
            let row = json!({"log": log.id, "day": day, "at": moment.ms, "zone": zone, "hash": hash, "of": look,
                "width": about.width, "height": about.height, "mime": about.mime, "taken": about.taken});
            changes.push(Change::put("photo", &book.new_id(), row));
        }
        // What it forecasts is kept with it, to be scored later. A past night's look would forecast the past.
        if when == RoundWhen::Now {
            let forecast = fruiting::kept_with(conn, (&log.id, ask.seen), (&look, &book.new_id()), moment)?;
            changes.extend(forecast.map(|(kept, _)| kept));
        }
        let said = json!({"log": log.id, "tag": log.tag, "seen": ask.seen, "photos": kept.len(), "when": when});
        Ok(Plan::new(changes, said))
    })
}
