//! Commands about logs: the yard's list, a log's page, adding, changing, ending.
//! Never what grows on a log: looks, pickings and rounds have that.
//! Invariant: a log is told as it is; only what cannot be true is refused.

use super::naming::Naming;
use super::record::{self, Entry};
use super::rows::{self, Log, LogRow};
use super::rules::{LogFields, Why, next_tag};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::measure::{self, natural_order};
use crate::settings::rows::here;
use crate::spots::rows as spots;
use crate::strains::rows as strains;
use crate::woods::rules as woods;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Asks for the yard's logs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct YardList {
    /// Part of a tag; empty for all.
    pub search: String,
}

/// The yard's logs.
#[derive(Debug, Serialize, TS)]
pub struct YardView {
    /// The local day.
    pub today: NaiveDate,
    /// Logs in the register.
    pub total: usize,
    /// Those asked for, by tag; an exact match first.
    pub logs: Vec<LogRow>,
}

/// `yard_list`
///
/// # Errors
/// The register's own.
pub fn yard_list(book: &Book, ask: YardList) -> Result<YardView> {
    let search = ask.search.trim().to_lowercase();
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let all = rows::all(conn, here)?;
        let total = all.len();
        let found = |log: &Log| log.row.tag.to_lowercase().contains(&search);
        let mut logs: Vec<LogRow> = all.into_iter().filter(found).map(|l| l.row).collect();
        logs.sort_by_key(|row| row.tag.to_lowercase() != search);
        Ok(YardView { today: here.today, total, logs })
    })
}

/// Asks for what the form about a log needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogFormAsk {
    /// The log to change; null for a new one.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
}

/// A wood to choose from.
#[derive(Debug, Serialize, TS)]
pub struct WoodChoice {
    /// Its id.
    pub id: String,
    /// Common name, lower case.
    pub name: String,
    /// Scientific name.
    pub scientific: String,
    /// Conifers carry none of the yard's mushrooms.
    pub conifer: bool,
    /// Fitness for shiitake, 0 unsuitable to 4 best; null: nobody says.
    pub shiitake: Option<u8>,
    /// Fitness for Hericium.
    pub hericium: Option<u8>,
}

/// What the form about a log needs.
#[derive(Debug, Serialize, TS)]
pub struct LogForm {
    /// The local day.
    pub today: NaiveDate,
    /// Woods by name.
    pub woods: Vec<WoodChoice>,
    /// Strains the yard knows.
    pub strains: Vec<strains::StrainRow>,
    /// Spots in walking order.
    pub spots: Vec<spots::SpotRow>,
    /// A tag that is free.
    pub next_tag: String,
    /// The log's fields when one is changed.
    pub fields: Option<LogFields>,
}

/// `log_form`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn log_form(book: &Book, ask: LogFormAsk) -> Result<LogForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let all = rows::all(conn, here)?;
        let fields = match &ask.log {
            Some(id) => Some(rows::fields(conn, &rows::one(conn, id.as_str(), here)?)?),
            None => None,
        };
        Ok(LogForm {
            today: here.today,
            woods: wood_choices(),
            strains: strains::all(conn)?,
            spots: spots::all(conn)?,
            next_tag: next_tag(all.iter().map(|l| l.row.tag.as_str())),
            fields,
        })
    })
}

fn wood_choices() -> Vec<WoodChoice> {
    let mut all: Vec<WoodChoice> = woods::woods()
        .iter()
        .map(|w| WoodChoice {
            id: w.id.clone(),
            name: w.name.clone(),
            scientific: w.scientific.clone(),
            conifer: w.conifer,
            shiitake: w.shiitake.map(woods::Rating::middle),
            hericium: w.hericium.map(woods::Rating::middle),
        })
        .collect();
    all.sort_by(|a, b| natural_order(&a.name, &b.name));
    all
}

/// Adds a log.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogAdd {
    /// What the grower says of it.
    pub fields: LogFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `log_add`
///
/// # Errors
/// `Invalid`, naming the field.
pub fn log_add(book: &Book, ask: LogAdd) -> Result<Done> {
    let intent = Intent { name: "log_add", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let fields = ask.fields.checked(here.today, here.southern)?;
        let id = book.new_id();
        let new_id = || book.new_id();
        let mut naming = Naming::new(conn, &new_id);
        let columns = naming.columns(&fields)?;
        let mut changes = naming.changes;
        // Every field is set, also to null: then undo knows that the log was born here.
        changes.extend(columns.into_iter().map(|(name, value)| Change::set("log", id.as_str(), name, value)));
        let said = json!({
            "log": id, "tag": fields.tag, "mushroom": fields.mushroom.word(),
            "same_tag": rows::same_tag(conn, &fields.tag, id.as_str())?.len(),
            "conifer": is_conifer(&fields),
        });
        Ok(Plan::new(changes, said))
    })
}

/// Changes what is said of a log.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogEdit {
    /// The log.
    pub log: Id,
    /// All its fields as they should be.
    pub fields: LogFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `log_edit`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn log_edit(book: &Book, ask: LogEdit) -> Result<Done> {
    let intent = Intent { name: "log_edit", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let id = ask.log.as_str();
        let before = rows::fields(conn, &rows::one(conn, id, here)?)?;
        let fields = ask.fields.checked(here.today, here.southern)?;
        let new_id = || book.new_id();
        let old = Naming::new(conn, &new_id).columns(&before)?;
        let mut naming = Naming::new(conn, &new_id);
        let new = naming.columns(&fields)?;
        let mut changes = naming.changes;
        let mut changed = Vec::new();
        for ((name, old), (_, new)) in old.into_iter().zip(new) {
            if old != new {
                changes.push(Change::set("log", id, name, new));
                changed.push(name);
            }
        }
        if before.strain_class != fields.strain_class {
            changed.push("strain_class");
        }
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        let same = rows::same_tag(conn, &fields.tag, id)?.len();
        let said = json!({"log": id, "tag": fields.tag, "fields": changed, "same_tag": same,
            "conifer": is_conifer(&fields)});
        Ok(Plan::new(changes, said))
    })
}

fn is_conifer(fields: &LogFields) -> bool {
    fields.wood.as_deref().and_then(woods::wood).is_some_and(|w| w.conifer)
}

/// Ends a log's watch.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogEnd {
    /// The log.
    pub log: Id,
    /// Why.
    pub why: Why,
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

/// `log_end`
///
/// # Errors
/// `Missing`, `Invalid`, or `Conflict` when it has ended already.
pub fn log_end(book: &Book, ask: LogEnd) -> Result<Done> {
    let intent = Intent { name: "log_end", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let moment = book.moment();
        let log = rows::one(conn, ask.log.as_str(), here(conn, moment)?)?;
        if log.ended.is_some() {
            return Err(Error::conflict("ended_already", Value::Null));
        }
        let day = ask.day.unwrap_or_else(|| moment.day());
        if day > moment.day() {
            return Err(Error::invalid("day", "future"));
        }
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let row = json!({"log": log.row.id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
            "why": ask.why});
        let said = json!({"log": log.row.id, "tag": log.row.tag, "why": ask.why});
        Ok(Plan::new(vec![Change::put("ending", &book.new_id(), row)], said))
    })
}

/// Asks for a log's page.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogShow {
    /// The log.
    pub log: Id,
}

/// A log's page.
#[derive(Debug, Serialize, TS)]
pub struct LogView {
    /// The local day.
    pub today: NaiveDate,
    /// What lists show.
    pub row: LogRow,
    /// All that the grower says of it.
    pub fields: LogFields,
    /// Volume from diameters and length, litres.
    pub litres: Option<f64>,
    /// Other live logs with the same tag.
    pub same_tag: Vec<String>,
    /// Its record, newest first.
    pub entries: Vec<Entry>,
}

/// `log_show`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn log_show(book: &Book, ask: LogShow) -> Result<LogView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        Ok(LogView {
            today: here.today,
            litres: measure::litres(&log.row.d_mm, log.row.length_mm),
            same_tag: rows::same_tag(conn, &log.row.tag, &log.row.id)?,
            fields: rows::fields(conn, &log)?,
            entries: record::of(conn, &log.row.id)?,
            row: log.row,
        })
    })
}
