//! Commands about strains and spawn lots.
//! Never a comparison of strains: `review` has that, and leaves doubtful lots out.
//! Invariant: what logs or lots are of is not taken out.

use super::rows::{self, LotRow, StrainRow};
use super::rules::{Fruiting, LotFields, StrainClass, StrainFields, fruiting_of, months_of};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::settings::rows::here;
use crate::where_from::{Mark, WhereFrom};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Asks for the strains and spawn lots.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct StrainsShow {}

/// A class of shiitake strains.
#[derive(Debug, Serialize, TS)]
pub struct ClassLine {
    /// The class.
    pub class: StrainClass,
    /// Where its strains fruit unless the grower says otherwise.
    pub fruiting: Fruiting,
    /// First and last month it fruits in by itself, north of the equator; null: all season.
    pub months: Option<(u32, u32)>,
    /// Where these come from.
    pub from: WhereFrom,
}

/// The strains and spawn lots.
#[derive(Debug, Serialize, TS)]
pub struct StrainsView {
    /// The local day.
    pub today: NaiveDate,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
    /// The classes of shiitake.
    pub classes: Vec<ClassLine>,
    /// Named strains, by name.
    pub strains: Vec<StrainRow>,
    /// Spawn lots, the newest first.
    pub lots: Vec<LotRow>,
}

/// `strains_show`
///
/// # Errors
/// The register's own.
pub fn strains_show(book: &Book, _: StrainsShow) -> Result<StrainsView> {
    let line = |class: &StrainClass| ClassLine {
        class: *class,
        fruiting: fruiting_of(*class),
        months: months_of(*class),
        from: WhereFrom::new("fruiting_range", Mark::Common, ""),
    };
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        Ok(StrainsView {
            today: here.today,
            southern: here.southern,
            classes: StrainClass::ALL.iter().map(line).collect(),
            strains: rows::all(conn)?,
            lots: rows::lots(conn)?,
        })
    })
}

/// Adds a strain, or changes one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct StrainSet {
    /// The strain to change; null for a new one.
    #[ts(optional = nullable)]
    pub strain: Option<Id>,
    /// What the grower says of it.
    pub fields: StrainFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    #[serde(default)]
    pub draft: Option<String>,
}

/// `strain_set`
///
/// # Errors
/// `Invalid`, naming the field: on `name` with why `known_strain` when another has it; `Missing`;
/// `Conflict` when nothing changed.
pub fn strain_set(book: &Book, ask: StrainSet) -> Result<Done> {
    let intent = Intent { name: "strain_set", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let fields = ask.fields.checked()?;
        let before = match &ask.strain {
            Some(id) => Some(rows::one(conn, id.as_str())?),
            None => None,
        };
        let other = rows::find(conn, fields.mushroom, &fields.name, fields.class)?;
        let mine = ask.strain.as_ref().map(Id::as_str);
        let mut back = false;
        let id = match (&other, mine) {
            (Some((other, _, void)), mine) if mine != Some(other.as_str()) => {
                // A name that was taken out comes back under its old id, and its logs with it.
                if !*void || mine.is_some() {
                    return Err(Error::invalid_with("name", "known_strain", json!({"name": fields.name})));
                }
                back = true;
                other.clone()
            }
            (_, Some(mine)) => mine.to_owned(),
            (_, None) => book.new_id().to_string(),
        };
        let old = before.as_ref().map(|row| columns(&of(row)));
        let mut changes: Vec<Change> = columns(&fields)
            .into_iter()
            .filter(|pair| old.as_ref().is_none_or(|old| !old.contains(pair)))
            .map(|(name, value)| Change::set("strain", &id, name, value))
            .collect();
        if back {
            changes.push(Change::set("strain", &id, "void", 0));
        }
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        Ok(Plan::new(changes, json!({"strain": id, "name": fields.name, "new": before.is_none()})))
    })
}

fn of(row: &StrainRow) -> StrainFields {
    StrainFields {
        name: row.name.clone(),
        mushroom: row.mushroom.unwrap_or(super::rules::Mushroom::Shiitake),
        class: row.class,
        from_dc: row.from_dc,
        to_dc: row.to_dc,
        note: row.note.clone(),
    }
}

fn columns(fields: &StrainFields) -> Vec<(&'static str, Value)> {
    vec![
        ("name", json!(fields.name)),
        ("mushroom", json!(fields.mushroom)),
        ("class", json!(fields.class)),
        ("from_dc", json!(fields.from_dc)),
        ("to_dc", json!(fields.to_dc)),
        ("note", json!(fields.note)),
    ]
}

/// Takes a strain out.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct StrainOut {
    /// The strain.
    pub strain: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `strain_out`
///
/// # Errors
/// `Missing`; `Conflict` when logs or lots are of it.
pub fn strain_out(book: &Book, ask: StrainOut) -> Result<Done> {
    let intent = Intent { name: "strain_out", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let row = rows::one(conn, ask.strain.as_str())?;
        let lots = rows::lots_of(conn, &row.id)?;
        if row.logs + lots > 0 {
            return Err(Error::conflict("in_use", json!({"logs": row.logs, "lots": lots})));
        }
        let said = json!({"strain": row.id, "name": row.name});
        Ok(Plan::new(vec![Change::set("strain", &row.id, "void", 1)], said))
    })
}

/// Adds a spawn lot, or changes one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LotSet {
    /// The lot to change; null for a new one.
    #[ts(optional = nullable)]
    pub lot: Option<Id>,
    /// What the grower says of it.
    pub fields: LotFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    #[serde(default)]
    pub draft: Option<String>,
}

/// `lot_set`
///
/// # Errors
/// `Invalid`, naming the field; `Missing`; `Conflict` when nothing changed.
pub fn lot_set(book: &Book, ask: LotSet) -> Result<Done> {
    let intent = Intent { name: "lot_set", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let fields = ask.fields.checked(here.today, here.southern)?;
        if let Some(strain) = &fields.strain {
            rows::one(conn, strain)?;
        }
        let before = match &ask.lot {
            Some(id) => Some(rows::lot(conn, id.as_str())?),
            None => None,
        };
        let id = ask.lot.as_ref().map_or_else(|| book.new_id().to_string(), Id::to_string);
        let old = before.as_ref().map(|row| lot_columns(&row.fields));
        let changes: Vec<Change> = lot_columns(&fields)
            .into_iter()
            .filter(|pair| old.as_ref().is_none_or(|old| !old.contains(pair)))
            .map(|(name, value)| Change::set("lot", &id, name, value))
            .collect();
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        let logs = before.as_ref().map_or(0, |row| row.logs);
        let doubtful = before.as_ref().map(|row| row.fields.doubtful) != Some(fields.doubtful);
        let said = json!({"lot": id, "name": fields.name, "new": before.is_none(), "logs": logs,
            "doubtful": doubtful.then_some(fields.doubtful)});
        Ok(Plan::new(changes, said))
    })
}

fn lot_columns(fields: &LotFields) -> Vec<(&'static str, Value)> {
    vec![
        ("name", json!(fields.name)),
        ("strain", json!(fields.strain)),
        ("form", json!(fields.form)),
        ("source", json!(fields.source)),
        ("received", json!(fields.received)),
        ("kept", json!(fields.kept)),
        ("doubtful", json!(i64::from(fields.doubtful))),
        ("note", json!(fields.note)),
    ]
}

/// Takes a spawn lot out.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LotOut {
    /// The lot.
    pub lot: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `lot_out`
///
/// # Errors
/// `Missing`; `Conflict` when logs were laid with it.
pub fn lot_out(book: &Book, ask: LotOut) -> Result<Done> {
    let intent = Intent { name: "lot_out", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let row = rows::lot(conn, ask.lot.as_str())?;
        if row.logs > 0 {
            return Err(Error::conflict("in_use", json!({"logs": row.logs})));
        }
        let said = json!({"lot": row.id, "name": row.fields.name});
        Ok(Plan::new(vec![Change::set("lot", &row.id, "void", 1)], said))
    })
}
