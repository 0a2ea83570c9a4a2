//! What a merge would bring: it is done inside a transaction, looked at, and rolled back.
//! Never a second way of counting: what is shown is what the merge itself would do.
//! Invariant: nothing is written, neither to the register nor to the folder.

use super::super::change::{Act, Body, Change};
use super::super::{Book, hold};
use super::{Merged, Pace, Taking, exchange, segments};
use crate::error::Result;
use rusqlite::types::Value as Sql;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior};
use serde::Deserialize;
use std::collections::{BTreeMap, HashSet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::Path;

/// What would come and go.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Coming {
    /// What the merge itself would say.
    pub merged: Merged,
    /// Observations by kind, and things that are new here by kind.
    pub by_kind: BTreeMap<String, usize>,
    /// Fields that have a value here and would have another.
    pub changed_fields: usize,
    /// Acts that would go out.
    pub to_send: usize,
}

impl Book {
    /// What merging with `folder` would bring. `look` reads the register as it would then be.
    ///
    /// # Errors
    /// `Missing` when there is no such folder; the register's or the file system's own.
    pub fn rehearse_merge<T>(
        &self,
        folder: &Path,
        look: impl Fn(&Connection) -> Result<T>,
    ) -> Result<(Coming, T)> {
        let folder = exchange::existing(folder)?;
        let (found, strange) = segments::all(&folder)?;
        let mut passed_over = Vec::new();
        let (mut coming, seen) = self.rehearse(
            |take| {
                passed_over.clone_from(&strange);
                for segment in &found {
                    match segment.read() {
                        Ok(acts) => take(&acts)?,
                        Err(_) => passed_over.push(segments::within(&folder, &segment.path)),
                    }
                }
                Ok(())
            },
            look,
        )?;
        coming.merged.passed_over = passed_over;
        coming.merged.blobs = self.lacking(&folder)?.len();
        let out = self.unsent(&folder)?;
        coming.to_send = out.iter().map(|(_, after, have)| usize::try_from(have - after).unwrap_or(0)).sum();
        Ok((coming, seen))
    }

    /// Takes in what `feed` hands over, lets `look` see the register, and takes it all back. `feed` may
    /// be asked a second time.
    ///
    /// # Errors
    /// Whatever `feed` and `look` return, or the register's own.
    pub(in super::super) fn rehearse<T>(
        &self,
        mut feed: impl FnMut(&mut dyn FnMut(&[Act]) -> Result<()>) -> Result<()>,
        look: impl Fn(&Connection) -> Result<T>,
    ) -> Result<(Coming, T)> {
        let mut attempt = |pace| {
            let mut conn = hold(&self.writer);
            self.may_write()?;
            // Dropped without a commit: rolled back, also when something fails on the way.
            let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let mut taking = Taking::begin(self, &tx, pace)?;
            let mut before = Before::default();
            feed(&mut |acts| taking.take(acts, &mut |conn, act| before.see(conn, act)))?;
            let merged = taking.end()?;
            let changed_fields = before.changed(&tx)?;
            let seen = look(&tx)?;
            Ok((Coming { merged, by_kind: before.by_kind, changed_fields, to_send: 0 }, seen))
        };
        let first: Result<(Coming, T)> = attempt(Pace::Together);
        first.or_else(|error| error.again(|| attempt(Pace::OneByOne)))
    }
}

/// What stood before the acts that come.
#[derive(Default)]
struct Before {
    by_kind: BTreeMap<String, usize>,
    /// Fields and things seen so far, by the hash of their names: a first merge brings millions.
    seen: HashSet<u64>,
    stood: Vec<(String, String, Sql)>,
}

impl Before {
    fn see(&mut self, conn: &Connection, act: &Act) -> Result<()> {
        let Ok(body) = Body::deserialize(&act.body) else { return Ok(()) };
        for change in &body.changes {
            match change {
                Change::Put { kind, .. } => *self.by_kind.entry(kind.clone()).or_default() += 1,
                Change::Set { kind, id, name, .. } => self.set(conn, kind, id, name)?,
            }
        }
        Ok(())
    }

    fn set(&mut self, conn: &Connection, kind: &str, id: &str, name: &str) -> Result<()> {
        if self.seen.insert(hash(&(kind, id))) && kind != "entry" {
            let known: bool = conn
                .prepare_cached("SELECT EXISTS(SELECT 1 FROM field WHERE thing = ?1)")?
                .query_row([id], |r| r.get(0))?;
            *self.by_kind.entry(kind.to_owned()).or_default() += usize::from(!known);
        }
        if self.seen.insert(hash(&(id, name, kind)))
            && let Some(value) = standing(conn, id, name)?
        {
            self.stood.push((id.to_owned(), name.to_owned(), value));
        }
        Ok(())
    }

    fn changed(&self, conn: &Connection) -> Result<usize> {
        let mut changed = 0;
        for (id, name, before) in &self.stood {
            changed += usize::from(standing(conn, id, name)?.is_some_and(|now| now != *before));
        }
        Ok(changed)
    }
}

fn standing(conn: &Connection, thing: &str, name: &str) -> Result<Option<Sql>> {
    let found = conn
        .prepare_cached(
            "SELECT value FROM field WHERE thing = ?1 AND name = ?2 ORDER BY stamp DESC, device DESC LIMIT 1",
        )?
        .query_row([thing, name], |r| r.get(0))
        .optional()?;
    Ok(found)
}

fn hash(of: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    of.hash(&mut hasher);
    hasher.finish()
}
