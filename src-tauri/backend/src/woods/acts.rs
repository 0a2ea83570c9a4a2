//! Commands about woods: the list, and the grower's own.
//! Never a change to the table: it is part of the program.
//! Invariant: a wood that logs or batches are of is not taken out.

use super::rows::{self, WoodLine};
use super::rules::WoodFields;
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Asks for the woods.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WoodsShow {}

/// The woods.
#[derive(Debug, Serialize, TS)]
pub struct WoodsView {
    /// By name, the grower's own among them.
    pub woods: Vec<WoodLine>,
}

/// `woods_show`
///
/// # Errors
/// The register's own.
pub fn woods_show(book: &Book, _: WoodsShow) -> Result<WoodsView> {
    book.read(|conn| Ok(WoodsView { woods: rows::all(conn)? }))
}

/// Adds an own wood, or changes one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WoodSet {
    /// The wood to change; null for a new one.
    #[ts(optional = nullable)]
    pub wood: Option<Id>,
    /// What the grower says of it.
    pub fields: WoodFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    #[serde(default)]
    pub draft: Option<String>,
}

/// `wood_set`
///
/// # Errors
/// `Missing` when it is none of the grower's own; `Invalid`, naming the field; `Conflict` on a name
/// that another own wood has, or when nothing changed.
pub fn wood_set(book: &Book, ask: WoodSet) -> Result<Done> {
    let intent = Intent { name: "wood_set", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let fields = ask.fields.checked()?;
        let id = match &ask.wood {
            Some(id) => id.to_string(),
            None => book.new_id().to_string(),
        };
        let before = match &ask.wood {
            Some(id) => Some(rows::own(conn, id.as_str())?.ok_or(Error::Missing { what: "wood" })?),
            None => None,
        };
        let same = |name: &str| name.to_lowercase() == fields.name.to_lowercase();
        if rows::own_names(conn)?.iter().any(|(other, name, _)| *other != id && same(name)) {
            return Err(Error::invalid_with("name", "known_wood", json!({"name": fields.name})));
        }
        let old = before.as_ref().map(columns);
        let changes: Vec<Change> = columns(&fields)
            .into_iter()
            .enumerate()
            .filter(|(n, (_, value))| {
                old.as_ref().is_none_or(|old| old.get(*n).is_none_or(|o| o.1 != *value))
            })
            .map(|(_, (name, value))| Change::set("wood", &id, name, value))
            .collect();
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        Ok(Plan::new(changes, json!({"wood": id, "name": fields.name, "new": before.is_none()})))
    })
}

fn columns(fields: &WoodFields) -> Vec<(&'static str, Value)> {
    vec![
        ("name", json!(fields.name)),
        ("scientific", json!(fields.scientific)),
        ("conifer", json!(i64::from(fields.conifer))),
        ("shiitake", json!(fields.shiitake)),
        ("hericium", json!(fields.hericium)),
        ("density_kg_m3", json!(fields.density_kg_m3)),
        ("moisture_pct", json!(fields.moisture_pct)),
        ("note", json!(fields.note)),
    ]
}

/// Takes an own wood out of the list.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WoodOut {
    /// The wood.
    pub wood: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `wood_out`
///
/// # Errors
/// `Missing` when it is none of the grower's own; `Conflict` when logs or batches are of it.
pub fn wood_out(book: &Book, ask: WoodOut) -> Result<Done> {
    let intent = Intent { name: "wood_out", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let id = ask.wood.as_str();
        let fields = rows::own(conn, id)?.ok_or(Error::Missing { what: "wood" })?;
        let (logs, batches) = rows::used(conn, id)?;
        if logs + batches > 0 {
            return Err(Error::conflict("in_use", json!({"logs": logs, "batches": batches})));
        }
        Ok(Plan::new(vec![Change::set("wood", id, "void", 1)], json!({"wood": id, "name": fields.name})))
    })
}
