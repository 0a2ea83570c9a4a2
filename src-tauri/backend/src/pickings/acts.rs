//! Commands about pickings.
//! Never a sum: `review` and the log's state have those.
//! Invariant: a weight that was not taken is null, never nought.

use super::rules::{By, Picked};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::Result;
use crate::ids::Id;
use crate::logs::rows::{self, LogRow};
use crate::logs::rules::follows::{Reason, fruit_asks};
use crate::rounds::rules::{RoundWhen, evening};
use crate::settings::rows::here;
use crate::strains::rules::OutOfSeason;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Asks for what the form of a picking needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickingFormAsk {
    /// The log.
    pub log: Id,
}

/// What the form of a picking needs.
#[derive(Debug, Serialize, TS)]
pub struct PickingForm {
    /// The local day.
    pub today: NaiveDate,
    /// The log.
    pub row: LogRow,
    /// What can have damaged the caps.
    pub by: Vec<By>,
    /// What to ask first.
    pub asks: Vec<Reason>,
    /// Set when its class does not fruit in these months: is the tag right?
    pub season: Option<OutOfSeason>,
}

/// `picking_form`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn picking_form(book: &Book, ask: PickingFormAsk) -> Result<PickingForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let (asks, season) = fruit_asks(&log.facts, here.on(here.today));
        Ok(PickingForm { today: here.today, row: log.row, by: By::ALL.to_vec(), asks, season })
    })
}

/// Records a picking.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PickingAdd {
    /// The log.
    pub log: Id,
    /// The day; null: as `when` says.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// Without a day: now, or last night, typed in afterwards; null: now.
    #[serde(default)]
    #[ts(optional = nullable)]
    pub when: Option<RoundWhen>,
    /// Weight, g; null: not weighed.
    #[ts(optional = nullable)]
    pub grams: Option<i64>,
    /// Number of caps; null: not counted.
    #[ts(optional = nullable)]
    pub caps: Option<i64>,
    /// Share damaged, per cent; null: not judged.
    #[ts(optional = nullable)]
    pub damaged_pct: Option<i64>,
    /// By what.
    #[ts(optional = nullable)]
    pub by: Option<By>,
    /// The grower's words.
    pub note: String,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `picking_add`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn picking_add(book: &Book, ask: PickingAdd) -> Result<Done> {
    let intent = Intent { name: "picking_add", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let last_night = ask.when == Some(RoundWhen::LastNight);
        let said_day =
            if last_night { evening(moment.local().naive_local(), RoundWhen::LastNight) } else { here.today };
        let picked = Picked {
            day: ask.day.unwrap_or(said_day),
            grams: ask.grams,
            caps: ask.caps,
            damaged_pct: ask.damaged_pct,
            by: ask.by,
            note: ask.note,
        };
        let picked = picked.checked(here.today, log.facts.laid.as_ref(), here.southern)?;
        let said = json!({"log": log.row.id, "tag": log.row.tag, "grams": picked.grams, "caps": picked.caps,
            "day": picked.day, "when": ask.when});
        let row = picked.row(&log.row.id, moment);
        Ok(Plan::new(vec![Change::put("picking", &book.new_id(), row)], said))
    })
}
