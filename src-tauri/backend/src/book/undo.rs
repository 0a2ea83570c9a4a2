//! Taking an act back: computed from the act's own body, and itself an act.
//! Never an exception for some command: every act can be taken back the same way.
//! Invariant: a field that another act has set since is left as it is, and said.

use super::acts::{find, is_undone, said};
use super::change::{Act, Body, Change, Done, Intent, Plan};
use super::{Book, acts};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::{Value, json};
use std::collections::{BTreeSet, HashMap};

impl Book {
    /// Takes back the act named `key`, or this device's last one that can be (`None`).
    /// Undoing an undo does the act again.
    ///
    /// # Errors
    /// `Missing` when there is nothing to take back, `Conflict` when it is taken back already.
    pub fn undo(&self, intent: Intent<'_>, key: Option<&str>) -> Result<Done> {
        let key = match key {
            Some(key) => key.to_owned(),
            None => match self.read(|conn| self.repeated_or_last(conn, intent.request))? {
                Some(key) => key,
                None => return Err(Error::Missing { what: "act" }),
            },
        };
        self.act_undoing(intent, Some(&key), |conn| plan(conn, &key))
    }

    /// For a request that was already done: the act it took back then; else the last undoable one.
    fn repeated_or_last(&self, conn: &Connection, request: &str) -> Result<Option<String>> {
        let before: Option<Option<String>> = conn
            .query_row("SELECT undoes FROM act WHERE request = ?1", [request], |r| r.get(0))
            .optional()?;
        if let Some(Some(key)) = before {
            return Ok(Some(key));
        }
        let mut seen = HashMap::new();
        let mut list = conn.prepare(
            "SELECT device || ':' || seq FROM act WHERE device = ?1 AND undoes IS NULL AND applied = 1 ORDER BY n DESC",
        )?;
        let keys = list.query_map([self.device()], |r| r.get::<_, String>(0))?;
        for key in keys {
            let key = key?;
            if !is_undone(conn, &key, &mut seen)? {
                return Ok(Some(key));
            }
        }
        Ok(None)
    }
}

fn plan(conn: &Connection, key: &str) -> Result<Plan> {
    let act = find(conn, key)?.ok_or(Error::Missing { what: "act" })?;
    if is_undone(conn, key, &mut HashMap::new())? {
        return Err(Error::conflict("undone_already", Value::Null));
    }
    let body: Body = serde_json::from_value(act.body.clone())?;
    let mut changes = Vec::new();
    let mut kept = BTreeSet::new();
    let mut born = BTreeSet::new();
    for change in &body.changes {
        match change {
            Change::Put { id, .. } => changes.push(Change::void(id)),
            Change::Set { kind, id, name, .. } => {
                if kind != "entry" && is_born_here(conn, &act, id)? {
                    if born.insert(id.clone()) {
                        changes.push(Change::set(kind, id, "void", 1));
                    }
                } else if stands(conn, &act, id, name)? {
                    changes.push(Change::set(kind, id, name, before(conn, &act, id, name)?));
                } else {
                    kept.insert(name.clone());
                }
            }
        }
    }
    let undone = json!({"name": act.name, "said": said(&act)});
    Ok(Plan::new(changes, json!({"undone": undone, "act": key, "kept": kept})))
}

/// The changes, and with them the things they set that were taken out, brought back. For things named by what they
/// are (a setting, a day): set again after an undo, they are the same thing, and what is void is not read.
///
/// # Errors
/// The register's own.
pub fn revived(conn: &Connection, mut changes: Vec<Change>) -> Result<Vec<Change>> {
    let set = |change: &Change| match change {
        Change::Set { kind, id, .. } if kind != "entry" => Some((kind.clone(), id.clone())),
        _ => None,
    };
    let things: BTreeSet<(String, String)> = changes.iter().filter_map(set).collect();
    for (kind, id) in things {
        let void: Option<i64> = conn
            .prepare_cached(&format!("SELECT void FROM \"{kind}\" WHERE id = ?1"))?
            .query_row([&id], |r| r.get(0))
            .optional()?;
        if void == Some(1) {
            changes.push(Change::set(&kind, &id, "void", 0));
        }
    }
    Ok(changes)
}

/// Whether the thing had no field before this act: then taking the act back takes the thing out.
fn is_born_here(conn: &Connection, act: &Act, thing: &str) -> Result<bool> {
    let earlier: bool = conn
        .prepare_cached("SELECT EXISTS(SELECT 1 FROM field WHERE thing = ?1 AND (stamp, device) < (?2, ?3))")?
        .query_row(params![thing, act.stamp, act.device], |r| r.get(0))?;
    Ok(!earlier)
}

/// Whether the act's value is still the one that stands.
fn stands(conn: &Connection, act: &Act, thing: &str, name: &str) -> Result<bool> {
    let later: bool = conn
        .prepare_cached(
            "SELECT EXISTS(SELECT 1 FROM field WHERE thing = ?1 AND name = ?2 AND (stamp, device) > (?3, ?4))",
        )?
        .query_row(params![thing, name, act.stamp, act.device], |r| r.get(0))?;
    Ok(!later)
}

/// The value that stood before the act.
fn before(conn: &Connection, act: &Act, thing: &str, name: &str) -> Result<Value> {
    let found: Option<rusqlite::types::Value> = conn
        .prepare_cached(
            "SELECT value FROM field WHERE thing = ?1 AND name = ?2 AND (stamp, device) < (?3, ?4)
             ORDER BY stamp DESC, device DESC LIMIT 1",
        )?
        .query_row(params![thing, name, act.stamp, act.device], |r| r.get(0))
        .optional()?;
    Ok(match found {
        Some(rusqlite::types::Value::Integer(i)) => json!(i),
        Some(rusqlite::types::Value::Text(t)) => json!(t),
        // A thing or entry that was never voided was not void.
        _ if name == "void" => json!(0),
        _ => Value::Null,
    })
}

/// The last act that can be taken back, for the line that offers it.
///
/// # Errors
/// The register's own.
pub fn last(book: &Book, conn: &Connection) -> Result<Option<acts::ActRow>> {
    book.last_undoable(conn, 20)
}
