//! The one writer of shared tables: local acts, undo, merging and rebuilding all come through here.
//! Never a decision about the trade.
//! Invariant: the same set of acts gives the same tables, in whatever order they are applied.

use super::change::{Act, Body, Change, Touched};
use crate::error::{Error, Result};
use rusqlite::types::Value as Sql;
use rusqlite::{Connection, OptionalExtension, params};
use serde::Deserialize;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

/// The shared tables and their columns, read from the register itself.
#[derive(Debug, Clone)]
pub struct Shape {
    things: BTreeMap<String, BTreeSet<String>>,
    kinds: BTreeMap<String, BTreeSet<String>>,
    entry: BTreeSet<String>,
}

impl Shape {
    /// Reads which tables are shared (`kind`) and what columns they have.
    pub fn read(conn: &Connection) -> Result<Self> {
        let mut shape =
            Self { things: BTreeMap::new(), kinds: BTreeMap::new(), entry: columns(conn, "entry")? };
        let mut list = conn.prepare("SELECT name, sort FROM kind")?;
        let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, String>(1)?)))?;
        for row in rows {
            let (name, sort) = row?;
            let found = columns(conn, &name)?;
            if sort == "thing" {
                shape.things.insert(name, found);
            } else {
                shape.kinds.insert(name, found);
            }
        }
        Ok(shape)
    }

    /// Names of the shared tables, children before parents, so that they can be emptied in order.
    pub(super) fn tables(&self) -> impl Iterator<Item = &str> {
        let kinds = self.kinds.keys().map(String::as_str);
        kinds.chain(["entry"]).chain(self.things.keys().map(String::as_str))
    }

    /// Names of the kinds of things.
    pub(super) fn things(&self) -> impl Iterator<Item = &str> {
        self.things.keys().map(String::as_str)
    }

    fn thing_has(&self, kind: &str, column: &str) -> bool {
        column != "id" && self.things.get(kind).is_some_and(|c| c.contains(column))
    }
}

fn columns(conn: &Connection, table: &str) -> Result<BTreeSet<String>> {
    let mut list = conn.prepare("SELECT name FROM pragma_table_info(?1)")?;
    let names = list.query_map([table], |r| r.get(0))?;
    Ok(names.collect::<rusqlite::Result<_>>()?)
}

/// Keeps an act's row; `applied`: its changes follow in the same transaction. Returns its number.
pub(super) fn record(conn: &Connection, act: &Act, request: Option<&str>, applied: bool) -> Result<i64> {
    conn.prepare_cached(
        "INSERT INTO act(device, seq, stamp, at, zone, name, request, undoes, body, applied)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?
    .execute(params![
        act.device,
        act.seq,
        act.stamp,
        act.at,
        act.zone,
        act.name,
        request,
        act.undoes,
        act.body.to_string(),
        applied
    ])?;
    Ok(conn.last_insert_rowid())
}

/// The body of an act, when this version knows every kind, column and sort of value in it. Half an
/// act is no act.
pub(super) fn understood(shape: &Shape, act: &Act) -> Result<Body> {
    let body = Body::deserialize(&act.body)?;
    for change in &body.changes {
        match change {
            Change::Put { kind, row, .. } => {
                let own = shape.kinds.get(kind).ok_or_else(|| not_understood(kind))?;
                for (name, value) in row {
                    let known = shape.entry.contains(name) || own.contains(name);
                    if !known || ["id", "kind", "act", "void", "entry"].contains(&name.as_str()) {
                        return Err(not_understood(name));
                    }
                    sql(value)?;
                }
            }
            Change::Set { kind, name, value, .. } => {
                if !is_void_of_entry(kind, name) && !shape.thing_has(kind, name) {
                    return Err(not_understood(name));
                }
                sql(value)?;
            }
        }
    }
    Ok(body)
}

/// Applies the changes of the act in row `n`: all of them, or an error.
/// Call it inside a transaction that is rolled back on an error.
pub(super) fn apply(conn: &Connection, shape: &Shape, act: &Act, body: &Body, n: i64) -> Result<Touched> {
    let mut touched = Touched::default();
    for change in &body.changes {
        match change {
            Change::Put { kind, id, row } => {
                put(conn, shape, n, kind, id, row)?;
                touched.entries.insert(id.clone());
            }
            Change::Set { kind, id, name, value } => {
                set(conn, act, kind, id, name, value)?;
                if kind == "entry" {
                    touched.entries.insert(id.clone());
                } else {
                    touched.things.insert((kind.clone(), id.clone()));
                }
            }
        }
    }
    Ok(touched)
}

/// Applies an act that another program version may have written, and notes in its row whether it
/// could be. One that could not changes nothing and stays in the book: then `None`.
pub(super) fn apply_foreign(conn: &Connection, shape: &Shape, act: &Act, n: i64) -> Result<Option<Touched>> {
    let run = |sql: &str| conn.prepare_cached(sql)?.execute([]);
    run("SAVEPOINT foreign_act")?;
    let outcome = understood(shape, act).and_then(|body| apply(conn, shape, act, &body, n));
    let outcome = match outcome {
        Ok(touched) => Some(touched),
        Err(error @ (Error::DiskFull | Error::Damaged { .. })) => return Err(error),
        Err(_) => {
            run("ROLLBACK TO foreign_act")?;
            None
        }
    };
    run("RELEASE foreign_act")?;
    conn.prepare_cached("UPDATE act SET applied = ?2 WHERE n = ?1 AND applied <> ?2")?
        .execute(params![n, outcome.is_some()])?;
    Ok(outcome)
}

fn put(
    conn: &Connection,
    shape: &Shape,
    n: i64,
    kind: &str,
    id: &str,
    row: &Map<String, Value>,
) -> Result<()> {
    let own = shape.kinds.get(kind).ok_or_else(|| not_understood(kind))?;
    let mut entry: Vec<(&str, Sql)> = vec![("id", text(id)), ("kind", text(kind)), ("act", Sql::Integer(n))];
    let mut part: Vec<(&str, Sql)> = vec![("entry", text(id))];
    for (name, value) in row {
        if shape.entry.contains(name) {
            entry.push((name, sql(value)?));
        } else if own.contains(name) {
            part.push((name, sql(value)?));
        } else {
            return Err(not_understood(name));
        }
    }
    if insert(conn, "entry", &entry)? {
        insert(conn, kind, &part)?;
    }
    // A void may have come before the entry itself.
    if let Some(value) = winner(conn, id, "void")? {
        conn.prepare_cached("UPDATE entry SET void = ?2 WHERE id = ?1")?.execute(params![id, value])?;
    }
    Ok(())
}

fn insert(conn: &Connection, table: &str, row: &[(&str, Sql)]) -> Result<bool> {
    let names: Vec<String> = row.iter().map(|(n, _)| format!("\"{n}\"")).collect();
    let marks: Vec<String> = (1..=row.len()).map(|i| format!("?{i}")).collect();
    let sql = format!(
        "INSERT INTO \"{table}\"({}) VALUES ({}) ON CONFLICT DO NOTHING",
        names.join(", "),
        marks.join(", ")
    );
    let values = rusqlite::params_from_iter(row.iter().map(|(_, v)| v));
    Ok(conn.prepare_cached(&sql)?.execute(values)? > 0)
}

fn set(conn: &Connection, act: &Act, kind: &str, id: &str, name: &str, value: &Value) -> Result<()> {
    let on_entry = is_void_of_entry(kind, name);
    conn.prepare_cached(
        "INSERT OR REPLACE INTO field(thing, name, stamp, device, value) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?
    .execute(params![id, name, act.stamp, act.device, sql(value)?])?;
    if !on_entry {
        let stub = format!("INSERT INTO \"{kind}\"(id) VALUES (?1) ON CONFLICT DO NOTHING");
        conn.prepare_cached(&stub)?.execute([id])?;
    }
    let winning = winner(conn, id, name)?.unwrap_or(Sql::Null);
    let update = format!("UPDATE \"{kind}\" SET \"{name}\" = ?2 WHERE id = ?1");
    conn.prepare_cached(&update)?.execute(params![id, winning])?;
    Ok(())
}

/// The value that stands: the one with the greatest (stamp, device).
fn winner(conn: &Connection, thing: &str, name: &str) -> Result<Option<Sql>> {
    let found = conn
        .prepare_cached(
            "SELECT value FROM field WHERE thing = ?1 AND name = ?2 ORDER BY stamp DESC, device DESC LIMIT 1",
        )?
        .query_row([thing, name], |r| r.get(0))
        .optional()?;
    Ok(found)
}

/// The one field of an observation.
fn is_void_of_entry(kind: &str, name: &str) -> bool {
    kind == "entry" && name == "void"
}

fn text(value: &str) -> Sql {
    Sql::Text(value.to_owned())
}

/// Whole numbers and text only: the register holds no fractions and no nested values.
fn sql(value: &Value) -> Result<Sql> {
    match value {
        Value::Null => Ok(Sql::Null),
        Value::Bool(b) => Ok(Sql::Integer(i64::from(*b))),
        Value::Number(n) => n.as_i64().map(Sql::Integer).ok_or_else(|| not_understood("number")),
        Value::String(s) => Ok(text(s)),
        Value::Array(_) | Value::Object(_) => Err(not_understood("value")),
    }
}

fn not_understood(what: &str) -> Error {
    Error::Bug(format!("not understood: {what}"))
}
