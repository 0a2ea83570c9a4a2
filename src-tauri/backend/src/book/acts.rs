//! Doing an act, and reading what has been done.
//! Never what an act means: that is in its plan.
//! Invariant: one request is one act, however often it arrives; an act is whole or absent.

use super::change::{Act, Body, Done, Intent, Plan};
use super::{Book, Moment, apply, keep_stamp, last_stamp};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension, Row};
use serde_json::{Map, Value};
use std::collections::{BTreeSet, HashMap};

/// One act for the list of what was done.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct ActRow {
    /// `device:seq`.
    pub act: String,
    /// The command's name.
    pub name: String,
    /// When, RFC 3339 with the local offset.
    pub at: String,
    /// Values for the sentence on screen.
    #[ts(type = "Record<string, any>")]
    pub said: Map<String, Value>,
    /// Taken back by a later act that still stands.
    pub undone: bool,
    /// May be taken back now.
    pub undoable: bool,
    /// The device it was done on, short enough to tell devices apart by eye.
    pub device: String,
    /// Done on this device.
    pub mine: bool,
}

impl Book {
    /// Does an act: `f` reads what it needs inside the transaction and returns the plan.
    ///
    /// # Errors
    /// Whatever `f` returns, `Invalid` for a request that is no UUID, or the register's own.
    /// On an error nothing is written.
    pub fn act(&self, intent: Intent<'_>, f: impl FnOnce(&Connection) -> Result<Plan>) -> Result<Done> {
        self.act_undoing(intent, None, f)
    }

    pub(super) fn act_undoing(
        &self,
        intent: Intent<'_>,
        undoes: Option<&str>,
        f: impl FnOnce(&Connection) -> Result<Plan>,
    ) -> Result<Done> {
        if uuid::Uuid::parse_str(intent.request).is_err() {
            return Err(Error::invalid("request", "unknown_word"));
        }
        let moment = self.moment();
        self.write(|tx| {
            if let Some(done) = done_before(tx, intent.request)? {
                return Ok(done);
            }
            let plan = f(tx)?;
            let done = self.perform(tx, intent, undoes, moment, plan)?;
            if let Some(draft) = intent.draft {
                tx.execute("DELETE FROM draft WHERE k = ?1", [draft])?;
            }
            Ok(done)
        })
    }

    fn perform(
        &self,
        tx: &Connection,
        intent: Intent<'_>,
        undoes: Option<&str>,
        at: Moment,
        plan: Plan,
    ) -> Result<Done> {
        let stamp = last_stamp(tx)?.next(at.ms);
        let seq: i64 = tx
            .prepare_cached("SELECT coalesce(max(seq), 0) + 1 FROM act WHERE device = ?1")?
            .query_row([self.device()], |r| r.get(0))?;
        let body = Body { said: plan.said, changes: plan.changes };
        let act = Act {
            device: self.device(),
            seq,
            stamp: stamp.to_string(),
            at: at.ms,
            zone: at.zone(),
            name: intent.name.to_owned(),
            undoes: undoes.map(str::to_owned),
            body: serde_json::to_value(&body)?,
        };
        let shape = self.shape();
        let known = apply::understood(&shape, &act)?;
        let n = apply::record(tx, &act, Some(intent.request), true)?;
        let touched = apply::apply(tx, &shape, &act, &known, n)?;
        (self.derive)(tx, &touched)?;
        keep_stamp(tx, stamp)?;
        Ok(Done { act: act.key(), name: act.name, changed: topics(&body), said: body.said, again: false })
    }

    /// The newest `limit` acts of all devices.
    ///
    /// # Errors
    /// The register's own.
    pub fn acts(&self, conn: &Connection, limit: u32) -> Result<Vec<ActRow>> {
        let mut list = conn.prepare_cached(&format!("{ACT} ORDER BY n DESC LIMIT ?1"))?;
        let acts = list.query_map([limit], act_of)?;
        let acts: Vec<Act> = acts.collect::<rusqlite::Result<_>>()?;
        let mut seen = HashMap::new();
        acts.iter().map(|act| self.act_row(conn, act, &mut seen)).collect()
    }

    /// The newest act that can be taken back, among the newest `limit`. One act is read at a time: a large one is
    /// megabytes, and as a rule the first will do.
    ///
    /// # Errors
    /// The register's own.
    pub fn last_undoable(&self, conn: &Connection, limit: u32) -> Result<Option<ActRow>> {
        let mut list = conn.prepare_cached(&format!("{ACT} ORDER BY n DESC LIMIT ?1"))?;
        let mut seen = HashMap::new();
        for act in list.query_map([limit], act_of)? {
            let act = act?;
            if act.name == "undo" {
                continue;
            }
            let row = self.act_row(conn, &act, &mut seen)?;
            if row.undoable {
                return Ok(Some(row));
            }
        }
        Ok(None)
    }

    fn act_row(&self, conn: &Connection, act: &Act, seen: &mut HashMap<String, bool>) -> Result<ActRow> {
        let undone = is_undone(conn, &act.key(), seen)?;
        Ok(ActRow {
            act: act.key(),
            name: act.name.clone(),
            at: Moment::from_parts(act.at, &act.zone).rfc3339(),
            said: said(act),
            undone,
            undoable: !undone,
            device: short(&act.device),
            mine: act.device == self.device(),
        })
    }
}

/// A device's id in six digits: the last ones, as the first are those of the day it was set up.
pub fn short(device: &str) -> String {
    let from = device.char_indices().rev().nth(5).map_or(0, |(at, _)| at);
    device[from..].to_owned()
}

const ACT: &str = "SELECT device, seq, stamp, at, zone, name, undoes, body FROM act";

pub(super) fn act_of(row: &Row<'_>) -> rusqlite::Result<Act> {
    let body: String = row.get(7)?;
    Ok(Act {
        device: row.get(0)?,
        seq: row.get(1)?,
        stamp: row.get(2)?,
        at: row.get(3)?,
        zone: row.get(4)?,
        name: row.get(5)?,
        undoes: row.get(6)?,
        body: serde_json::from_str(&body).unwrap_or(Value::Null),
    })
}

/// The act named `device:seq`.
pub(super) fn find(conn: &Connection, key: &str) -> Result<Option<Act>> {
    let Some((device, seq)) = key.rsplit_once(':') else { return Ok(None) };
    let sql = format!("{ACT} WHERE device = ?1 AND seq = CAST(?2 AS INTEGER)");
    Ok(conn.prepare_cached(&sql)?.query_row([device, seq], act_of).optional()?)
}

pub(super) fn said(act: &Act) -> Map<String, Value> {
    act.body.get("said").and_then(Value::as_object).cloned().unwrap_or_default()
}

/// An act about which it is asked whether it is undone, and the acts that take it back.
struct Asked {
    key: String,
    undoers: Vec<String>,
    undone: bool,
}

/// Whether a later act takes this one back and is not itself taken back. Chains may be as long as
/// another device likes, so they are walked without recursion.
pub(super) fn is_undone(conn: &Connection, key: &str, seen: &mut HashMap<String, bool>) -> Result<bool> {
    if let Some(known) = seen.get(key) {
        return Ok(*known);
    }
    let mut asked = vec![ask(conn, key, seen)?];
    while let Some(mut top) = asked.pop() {
        if let Some(undoer) = top.undoers.pop() {
            let known = seen.get(&undoer).copied();
            top.undone |= known == Some(false);
            asked.push(top);
            if known.is_none() {
                asked.push(ask(conn, &undoer, seen)?);
            }
        } else {
            seen.insert(top.key, top.undone);
            match asked.last_mut() {
                Some(below) => below.undone |= !top.undone,
                None => return Ok(top.undone),
            }
        }
    }
    Ok(false)
}

/// An act can only be taken back by a later one, so asking ends; a made-up circle counts as standing.
fn ask(conn: &Connection, key: &str, seen: &mut HashMap<String, bool>) -> Result<Asked> {
    seen.insert(key.to_owned(), false);
    let undoers = conn
        .prepare_cached("SELECT device || ':' || seq FROM act WHERE undoes = ?1 AND applied = 1")?
        .query_map([key], |r| r.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    Ok(Asked { key: key.to_owned(), undoers, undone: false })
}

fn done_before(conn: &Connection, request: &str) -> Result<Option<Done>> {
    let found =
        conn.prepare_cached(&format!("{ACT} WHERE request = ?1"))?.query_row([request], act_of).optional()?;
    let Some(act) = found else { return Ok(None) };
    let body: Body = serde_json::from_value(act.body.clone())?;
    Ok(Some(Done { act: act.key(), name: act.name, changed: topics(&body), said: body.said, again: true }))
}

fn topics(body: &Body) -> Vec<String> {
    let all: BTreeSet<&str> = body.changes.iter().map(super::Change::topic).collect();
    all.into_iter().map(str::to_owned).collect()
}
