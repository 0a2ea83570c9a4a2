//! Commands about logs: the yard's list, a log's page, adding one and many, changing, ending, a lost tag.
//! Never what grows on a log: looks, pickings and rounds have that.
//! Invariant: a log is told as it is; only what cannot be true is refused.

use super::naming::Naming;
use super::record::{self, Entry};
use super::rows::{self, Here, Log, LogRow};
use super::rules::first_fruit::{Alike, Window, nearest, wait, window};
use super::rules::follows::{Kind, follows};
use super::rules::{LogFields, State, Why, next_tag};
use crate::batches::rows as batches;
use crate::batches::rules::{Freshness, freshness};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::measure;
use crate::moves::rules::MoveWhy;
use crate::photos::growth::Growth;
use crate::photos::rows as photos;
use crate::settings::rows::here;
use crate::spots::rows as spots;
use crate::strains::rows as strains;
use crate::where_from::{Mark, WhereFrom};
use crate::woods::rows as woods;
use crate::woods::rules::{Life, Rating, life_of, life_years};
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

mod lost;
mod many;
mod yard;

pub use lost::{Candidate, LogRetag, LostTagFind, LostTagView, log_retag, lost_tag_find};
pub use many::{LogsAdd, Size, logs_add};
pub use yard::{Choice, YardChoices, YardList, YardView, yard_list};

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
    /// Whether it is one of the grower's own.
    pub own: bool,
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
    /// Batches of wood, the newest first.
    pub batches: Vec<batches::BatchRow>,
    /// Spawn lots, the newest first.
    pub lots: Vec<strains::LotRow>,
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
            woods: wood_choices(conn)?,
            strains: strains::all(conn)?,
            spots: spots::all(conn)?,
            batches: batches::all(conn)?,
            lots: strains::lots(conn)?,
            next_tag: next_tag(all.iter().map(|l| l.row.tag.as_str())),
            fields,
        })
    })
}

fn wood_choices(conn: &Connection) -> Result<Vec<WoodChoice>> {
    let woods = woods::all(conn)?.into_iter();
    Ok(woods
        .map(|w| WoodChoice {
            own: w.own.is_some(),
            id: w.id,
            name: w.name,
            scientific: w.scientific,
            conifer: w.conifer,
            shiitake: w.shiitake.map(Rating::middle),
            hericium: w.hericium.map(Rating::middle),
        })
        .collect())
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
        plannable(conn, &fields, None)?;
        let columns = naming.columns(&fields)?;
        let mut changes = naming.changes;
        // Every field is set, also to null: then undo knows that the log was born here.
        changes.extend(columns.into_iter().map(|(name, value)| Change::set("log", id.as_str(), name, value)));
        let said = json!({
            "log": id, "tag": fields.tag, "mushroom": fields.mushroom.word(),
            "same_tag": rows::same_tag(conn, &fields.tag, id.as_str())?.len(),
            "conifer": is_conifer(conn, &fields)?,
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
        let log = rows::one(conn, id, here)?;
        let before = rows::fields(conn, &log)?;
        let fields = ask.fields.checked(here.today, here.southern)?;
        plannable(conn, &fields, Some(&before))?;
        let new_id = || book.new_id();
        let old = Naming::new(conn, &new_id).columns(&before)?;
        let mut naming = Naming::new(conn, &new_id);
        let new = naming.columns(&fields)?;
        let mut changes = naming.changes;
        let mut changed = Vec::new();
        for ((name, old), (_, new)) in old.into_iter().zip(new) {
            if old == new {
                continue;
            }
            changes.push(match name {
                "spot" => Change::put("move", &book.new_id(), put_right(&log, &new, here, book.moment())),
                _ => Change::set("log", id, name, new),
            });
            changed.push(name);
        }
        if before.strain_class != fields.strain_class {
            changed.push("strain_class");
        }
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        let same = rows::same_tag(conn, &fields.tag, id)?.len();
        let said = json!({"log": id, "tag": fields.tag, "fields": changed, "same_tag": same,
            "conifer": is_conifer(conn, &fields)?});
        Ok(Plan::new(changes, said))
    })
}

/// Where a log lies is said by its moves alone, so that each can be taken back by itself: another spot on its page is
/// one too, on the last day that it lay here.
fn put_right(log: &Log, spot: &Value, here: Here, moment: Moment) -> Value {
    let day = log.ended.unwrap_or(here.today);
    json!({"log": log.row.id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": "", "spot": spot,
        "why": MoveWhy::Corrected})
}

fn is_conifer(conn: &Connection, fields: &LogFields) -> Result<bool> {
    let Some(id) = &fields.wood else { return Ok(false) };
    Ok(woods::one(conn, id)?.is_some_and(|w| w.conifer))
}

/// Wood that waits to be laid is a plan, and no conifer is planned for; a laid one is told as it is, and one that
/// waited before may be changed in other ways.
fn plannable(conn: &Connection, fields: &LogFields, before: Option<&LogFields>) -> Result<()> {
    let waited_before = before.is_some_and(|b| b.laid.is_none() && b.wood == fields.wood);
    if fields.laid.is_some() || waited_before {
        return Ok(());
    }
    let Some(id) = &fields.wood else { return Ok(()) };
    match woods::one(conn, id)? {
        Some(wood) if wood.conifer => Err(Error::invalid_with("wood", "conifer", json!({"name": wood.name}))),
        _ => Ok(()),
    }
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
        let here = here(conn, moment)?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let day = ask.day.unwrap_or(here.today);
        if day > here.today {
            return Err(Error::invalid("day", "future"));
        }
        follows(Kind::Ending, &log.facts, here.on(day)).asked()?;
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let row = json!({"log": log.row.id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
            "why": ask.why});
        let said = json!({"log": log.row.id, "tag": log.row.tag, "why": ask.why});
        Ok(Plan::new(vec![Change::put("ending", &book.new_id(), row)], said))
    })
}

/// Takes a log's ending back: a lent log is here again, a stolen one was found, a spent one fruits.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogUnend {
    /// The log.
    pub log: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `log_unend`
///
/// # Errors
/// `Missing`, or `Conflict` when it has not ended.
pub fn log_unend(book: &Book, ask: LogUnend) -> Result<Done> {
    let intent = Intent { name: "log_unend", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        follows(Kind::Unending, &log.facts, here.on(here.today)).asked()?;
        let changes = rows::endings(conn, &log.row.id)?.iter().map(|id| Change::void(id)).collect();
        let said = json!({"log": log.row.id, "tag": log.row.tag, "why": log.facts.ended});
        Ok(Plan::new(changes, said))
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
    /// When first fruit may be expected; null once it fruited, or when its laying is not known.
    pub first_fruit: Option<Window>,
    /// Years it is expected to bear.
    pub life: Expected,
    /// How long its wood can still wait; empty once it is laid, or when nobody knows the felling.
    pub fresh: Vec<Freshness>,
    /// Its batch's name.
    pub batch_name: Option<String>,
    /// Its spawn lot's name.
    pub lot_name: Option<String>,
    /// How fast its caps grow, when they were measured in photos.
    pub growth: Option<Growth>,
}

/// Years that a log is expected to bear, counted from laying.
#[derive(Debug, Serialize, TS)]
pub struct Expected {
    /// How many.
    pub years: Life,
    /// Where they come from.
    pub from: WhereFrom,
}

/// `log_show`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn log_show(book: &Book, ask: LogShow) -> Result<LogView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = rows::one(conn, ask.log.as_str(), here)?;
        let lot = log.lot.as_deref().map(|id| strains::lot(conn, id)).transpose()?;
        let batch = log.batch.as_deref().map(|id| batches::one(conn, id)).transpose()?.flatten();
        let waits = log.row.state == State::Waiting;
        let felled = log.felled.as_ref().or(batch.as_ref().and_then(|b| b.fields.felled.as_ref()));
        Ok(LogView {
            first_fruit: first_fruit(conn, &log, here)?,
            life: expected(conn, &log)?,
            fresh: if waits { freshness(felled, here.today, here.southern) } else { Vec::new() },
            batch_name: batch.map(|b| b.fields.name),
            lot_name: lot.map(|l| l.fields.name),
            today: here.today,
            litres: measure::litres(&log.row.d_mm, log.row.length_mm),
            same_tag: rows::same_tag(conn, &log.row.tag, &log.row.id)?,
            fields: rows::fields(conn, &log)?,
            entries: record::of(conn, &log.row.id)?,
            growth: photos::growth(conn, &log.row.id)?,
            row: log.row,
        })
    })
}

/// When first fruit may be expected of a laid log that never fruited, by what the yard's logs alike did.
fn first_fruit(conn: &Connection, log: &Log, here: Here) -> Result<Option<Window>> {
    let Some(laid) = log.facts.laid.as_ref().filter(|_| log.facts.first_fruit.is_none()) else {
        return Ok(None);
    };
    if log.ended.is_some() {
        return Ok(None);
    }
    let mine = alike(log);
    let others = rows::all(conn, here)?;
    let others = others.iter().filter(|other| other.row.id != log.row.id && mine.tells_of(&alike(other)));
    let waits = others.filter_map(|o| Some((o.spawn, wait(&o.facts, here.today, here.southern)?)));
    let (own, same_form) = nearest(&mine, &waits.collect::<Vec<_>>());
    let mut window = window(&mine, laid, &own, here.southern);
    if let (Some(window), Some(form), true) = (&mut window, mine.spawn, same_form) {
        window.source = window.source.clone().with("spawn", json!(form));
    }
    Ok(window)
}

fn alike(log: &Log) -> Alike {
    Alike {
        mushroom: log.row.mushroom,
        class: log.row.strain_class,
        method: log.row.method,
        spawn: log.spawn,
    }
}

/// Years it is expected to bear: by its thickness when that was measured, else the published range.
fn expected(conn: &Connection, log: &Log) -> Result<Expected> {
    let wood = log.row.wood.as_deref().map(|id| woods::one(conn, id)).transpose()?.flatten();
    let note = wood.as_ref().and_then(|w| w.note);
    let n = log.row.d_mm.len();
    if n == 0 {
        let source = "University extension guides: 3–6 years";
        return Ok(Expected {
            years: life_of(note),
            from: WhereFrom::new("life_published", Mark::Published, source),
        });
    }
    let mean = log.row.d_mm.iter().sum::<i64>() as f64 / n as f64;
    let from = WhereFrom::new("life_by_thickness", Mark::Common, "").with("mean_mm", mean.round());
    Ok(Expected { years: life_years(mean, note), from })
}
