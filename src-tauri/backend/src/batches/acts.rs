//! Commands about batches of wood and the wood that waits to be laid.
//! Never a log's own fields: logs have those.
//! Invariant: a conifer is not planned for; a batch that logs are of is not taken out.

use super::rows::{self, BatchRow, WaitingRow};
use super::rules::BatchFields;
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::settings::rows::here;
use crate::woods::rows::{self as woods, WoodLine};
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Asks for the wood that waits.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WoodWaiting {}

/// The wood that waits, and all batches.
#[derive(Debug, Serialize, TS)]
pub struct WaitingView {
    /// The local day.
    pub today: NaiveDate,
    /// What has to be laid first comes first.
    pub waiting: Vec<WaitingRow>,
    /// Batches all of whose logs are laid or gone.
    pub laid: Vec<BatchRow>,
}

/// `wood_waiting`
///
/// # Errors
/// The register's own.
pub fn wood_waiting(book: &Book, _: WoodWaiting) -> Result<WaitingView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let waiting = rows::waiting(conn, &logs::all(conn, here)?, here)?;
        let waits = |batch: &BatchRow| waiting.iter().any(|row| row.batch.as_deref() == Some(&batch.id));
        let laid = rows::all(conn)?.into_iter().filter(|batch| !waits(batch)).collect();
        Ok(WaitingView { today: here.today, waiting, laid })
    })
}

/// Asks for what the form about a batch needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BatchFormAsk {
    /// The batch to change; null for a new one.
    #[ts(optional = nullable)]
    pub batch: Option<Id>,
}

/// What the form about a batch needs.
#[derive(Debug, Serialize, TS)]
pub struct BatchForm {
    /// The local day.
    pub today: NaiveDate,
    /// Woods by name.
    pub woods: Vec<WoodLine>,
    /// The batch when one is changed.
    pub batch: Option<BatchRow>,
    /// The disc's moisture, per cent of its fresh weight.
    pub moisture_pct: Option<f64>,
}

/// `batch_form`
///
/// # Errors
/// `Missing` when there is no such batch.
pub fn batch_form(book: &Book, ask: BatchFormAsk) -> Result<BatchForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let batch = match &ask.batch {
            Some(id) => Some(kept(conn, id)?),
            None => None,
        };
        let moisture_pct = batch.as_ref().and_then(|b| b.fields.moisture_pct());
        Ok(BatchForm { today: here.today, woods: woods::all(conn)?, batch, moisture_pct })
    })
}

fn kept(conn: &Connection, id: &Id) -> Result<BatchRow> {
    rows::one(conn, id.as_str())?.ok_or(Error::Missing { what: "batch" })
}

/// Adds a batch, or changes one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BatchSet {
    /// The batch to change; null for a new one.
    #[ts(optional = nullable)]
    pub batch: Option<Id>,
    /// What the grower says of it.
    pub fields: BatchFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `batch_set`
///
/// # Errors
/// `Invalid`, naming the field: on `wood` with why `conifer` when nothing would grow on it; `Missing`;
/// `Conflict` when nothing changed.
pub fn batch_set(book: &Book, ask: BatchSet) -> Result<Done> {
    let intent = Intent { name: "batch_set", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let fields = ask.fields.checked(here.today, here.southern)?;
        let before = match &ask.batch {
            Some(id) => Some(kept(conn, id)?),
            None => None,
        };
        plannable(conn, &fields, before.as_ref())?;
        let id = ask.batch.as_ref().map_or_else(|| book.new_id().to_string(), Id::to_string);
        let old = before.as_ref().map(|b| columns(&b.fields));
        let new = columns(&fields);
        let changes: Vec<Change> = new
            .into_iter()
            .filter(|pair| old.as_ref().is_none_or(|old| !old.contains(pair)))
            .map(|(name, value)| Change::set("batch", &id, name, value))
            .collect();
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        Ok(Plan::new(changes, json!({"batch": id, "name": fields.name, "new": before.is_none()})))
    })
}

/// The wood is known, and something can grow on it. A batch that was of a conifer before may stay so.
fn plannable(conn: &Connection, fields: &BatchFields, before: Option<&BatchRow>) -> Result<()> {
    let Some(id) = &fields.wood else { return Ok(()) };
    let Some(wood) = woods::one(conn, id)? else {
        return Err(Error::invalid_with("wood", "unknown_word", json!({"word": id})));
    };
    if wood.conifer && before.is_none_or(|b| b.fields.wood.as_ref() != Some(id)) {
        return Err(Error::invalid_with("wood", "conifer", json!({"name": wood.name})));
    }
    Ok(())
}

fn columns(fields: &BatchFields) -> Vec<(&'static str, Value)> {
    vec![
        ("name", json!(fields.name)),
        ("wood", json!(fields.wood)),
        ("felled", json!(fields.felled)),
        ("source", json!(fields.source)),
        ("disc_wet_g", json!(fields.disc_wet_g)),
        ("disc_dry_g", json!(fields.disc_dry_g)),
        ("doubtful", json!(i64::from(fields.doubtful))),
        ("note", json!(fields.note)),
    ]
}

/// Takes a batch out.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BatchOut {
    /// The batch.
    pub batch: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `batch_out`
///
/// # Errors
/// `Missing`; `Conflict` when logs are of it.
pub fn batch_out(book: &Book, ask: BatchOut) -> Result<Done> {
    let intent = Intent { name: "batch_out", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let batch = kept(conn, &ask.batch)?;
        if batch.logs > 0 {
            return Err(Error::conflict("in_use", json!({"logs": batch.logs})));
        }
        let said = json!({"batch": batch.id, "name": batch.fields.name});
        Ok(Plan::new(vec![Change::set("batch", &batch.id, "void", 1)], said))
    })
}
