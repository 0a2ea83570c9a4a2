//! Taking in acts of other devices, in one transaction each time; and starting over from the acts.
//! Never a decision about which value is better: the greatest (stamp, device) wins, in `apply`.
//! Invariant: order never matters, twice is as good as once, and nothing missing means "deleted".

mod exchange;
mod rehearse;
mod segments;

pub(super) use exchange::BLOB_MAX;
pub use rehearse::Coming;

use super::acts::act_of;
use super::apply::Shape;
use super::change::Act;
use super::clock::Stamp;
use super::jobs::Job;
use super::{Book, Touched, apply, keep_stamp, last_stamp};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension, params};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A stamp this far ahead of the clock is put aside: a day, in milliseconds.
const AHEAD_MS: i64 = 24 * 3600 * 1000;
/// Acts taken in by one transaction.
pub const CHUNK: usize = 2_000;

/// Looks a blob of another device over before it is kept: what it is, or why it is refused.
pub type LookOver = fn(&[u8]) -> Result<Value>;

/// What a merge did.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Merged {
    /// Acts that are new here.
    pub acts: usize,
    /// Of these, kept but not understood by this version.
    pub not_understood: usize,
    /// Acts that wait because an earlier one of their device is missing.
    pub waiting: usize,
    /// Devices whose clock is more than a day ahead: their acts were put aside.
    pub ahead: BTreeSet<String>,
    /// Devices whose acts contradict those of the same number here: two copies of one register were
    /// written to. Nothing of them was taken.
    pub forked: BTreeSet<String>,
    /// Files that are not complete or not what their name says; they were passed over.
    pub passed_over: Vec<String>,
    /// Blobs that came along.
    pub blobs: usize,
    /// Acts that went out.
    pub sent: usize,
}

impl Merged {
    fn add(&mut self, more: Self) {
        self.acts += more.acts;
        self.not_understood += more.not_understood;
        self.waiting += more.waiting;
        self.ahead.extend(more.ahead);
        self.forked.extend(more.forked);
        self.passed_over.extend(more.passed_over);
        self.blobs += more.blobs;
        self.sent += more.sent;
    }

    /// What was not taken and why, one line each, for a job's `found`.
    pub fn remarks(&self) -> Vec<String> {
        let passed = self.passed_over.iter().map(|file| format!("passed over {file}"));
        let ahead = self.ahead.iter().map(|device| format!("clock ahead {device}"));
        let forked = self.forked.iter().map(|device| format!("two copies {device}"));
        let waiting = (self.waiting > 0).then(|| format!("waiting {}", self.waiting));
        passed.chain(ahead).chain(forked).chain(waiting).collect()
    }
}

impl Book {
    /// All acts in this book, of all devices, oldest first by device.
    ///
    /// # Errors
    /// The register's own.
    pub fn all_acts(&self) -> Result<Vec<Act>> {
        self.read(|conn| {
            let mut all = Vec::new();
            for device in totals(conn)?.keys() {
                all.extend(acts_of(conn, device, 0, usize::MAX)?);
            }
            Ok(all)
        })
    }

    /// Takes in acts of other devices, in one transaction; those already here are passed over.
    ///
    /// # Errors
    /// The register's own; then nothing was taken.
    pub fn take(&self, acts: &[Act]) -> Result<Merged> {
        let attempt = |pace| {
            self.write(|tx| {
                let mut taking = Taking::begin(self, tx, pace)?;
                taking.take(acts, &mut |_, _| Ok(()))?;
                taking.end()
            })
        };
        attempt(Pace::Together).or_else(|error| error.again(|| attempt(Pace::OneByOne)))
    }

    /// Takes acts in, in chunks, after one snapshot called `snapshot` before the first that is new.
    /// Between chunks it says how far it is and stops when asked to.
    pub(super) fn take_in_chunks(
        &self,
        acts: &[Act],
        keeping: &mut Keeping<'_>,
        merged: &mut Merged,
    ) -> Result<()> {
        for chunk in acts.chunks(CHUNK) {
            if keeping.job.is_cancelled() {
                return Ok(());
            }
            let latest = self.latest();
            let (new, aside) = self.read(|conn| {
                let (plan, aside) = plan(conn, chunk, latest)?;
                Ok((!plan.is_empty(), aside))
            })?;
            if new {
                if let Some(name) = keeping.snapshot.take() {
                    self.snapshot(name)?;
                }
                merged.add(self.take(chunk)?);
            } else {
                merged.add(aside);
            }
            keeping.done += chunk.len();
            keeping.job.step(keeping.done, keeping.total.max(keeping.done));
        }
        Ok(())
    }

    /// Empties every shared table and applies all acts again. What stands afterwards must be what
    /// stood before.
    ///
    /// # Errors
    /// The register's own; then nothing changed.
    pub fn rebuild(&self) -> Result<()> {
        self.write(|tx| {
            tx.execute_batch("PRAGMA defer_foreign_keys = ON")?;
            let shape = self.shape();
            for table in shape.tables() {
                tx.execute(&format!("DELETE FROM \"{table}\""), [])?;
            }
            tx.execute_batch("DELETE FROM field; UPDATE act SET applied = 0")?;
            replay(self, tx)
        })
    }

    /// Applies what an earlier version kept without understanding it, once for each version of the
    /// schema and of what is derived: what this one understands counts from now on. What is derived is worked out anew.
    pub(super) fn understand(&self, version: i64) -> Result<()> {
        let seen: Option<i64> = self.read(|conn| {
            let sql = "SELECT v FROM meta WHERE k = 'understood'";
            Ok(conn.query_row(sql, [], |r| r.get(0)).optional()?)
        })?;
        if seen == Some(version) {
            return Ok(());
        }
        self.write(|tx| {
            replay(self, tx)?;
            (self.derive)(tx, &everything(tx, &self.shape())?)?;
            tx.execute("INSERT OR REPLACE INTO meta(k, v) VALUES ('understood', ?1)", [version])?;
            Ok(())
        })
    }

    /// The latest stamp, in milliseconds, that is not put aside now.
    fn latest(&self) -> i64 {
        self.moment().ms.saturating_add(AHEAD_MS)
    }
}

/// Every thing and entry of the register.
fn everything(conn: &Connection, shape: &Shape) -> Result<Touched> {
    let mut all = Touched::default();
    for kind in shape.things() {
        let mut list = conn.prepare(&format!("SELECT id FROM \"{kind}\""))?;
        for id in list.query_map([], |r| r.get(0))? {
            all.things.insert((kind.to_owned(), id?));
        }
    }
    let mut list = conn.prepare("SELECT id FROM entry")?;
    for id in list.query_map([], |r| r.get(0))? {
        all.entries.insert(id?);
    }
    Ok(all)
}

/// How long work that takes acts in is watched.
pub(super) struct Keeping<'a> {
    pub(super) job: &'a Job,
    /// The name of the snapshot still to be taken before anything is written.
    pub(super) snapshot: Option<&'a str>,
    pub(super) done: usize,
    pub(super) total: usize,
}

/// Applies all acts that are not applied, oldest first.
fn replay(book: &Book, tx: &Connection) -> Result<()> {
    let shape = book.shape();
    let mut touched = Touched::default();
    let mut after = 0;
    loop {
        let acts: Vec<(i64, Act)> = tx
            .prepare_cached(
                "SELECT device, seq, stamp, at, zone, name, undoes, body, n FROM act
                 WHERE applied = 0 AND n > ?1 ORDER BY n LIMIT 1000",
            )?
            .query_map([after], |r| Ok((r.get(8)?, act_of(r)?)))?
            .collect::<rusqlite::Result<_>>()?;
        let Some((last, _)) = acts.last() else { break };
        after = *last;
        for (n, act) in acts {
            if let Some(more) = apply::apply_foreign(tx, &shape, &act, n)? {
                touched.add(more);
            }
        }
    }
    (book.derive)(tx, &touched)
}

/// An act that can't be applied although all its words are known (a day is missing, say) must not
/// keep the others out. To take back it alone costs time at every act, so it is first tried without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Pace {
    /// All or none.
    Together,
    /// Each act by itself.
    OneByOne,
}

impl Error {
    /// Whether it was one act's own fault: then once more, one by one.
    fn again<T>(self, attempt: impl FnOnce() -> Result<T>) -> Result<T> {
        if matches!(self, Self::Bug(_)) { attempt() } else { Err(self) }
    }
}

/// Acts being taken in, inside one open transaction.
struct Taking<'a> {
    book: &'a Book,
    tx: &'a Connection,
    shape: Arc<Shape>,
    pace: Pace,
    latest: i64,
    last: Stamp,
    merged: Merged,
    touched: Touched,
}

impl<'a> Taking<'a> {
    fn begin(book: &'a Book, tx: &'a Connection, pace: Pace) -> Result<Self> {
        let (latest, last) = (book.latest(), last_stamp(tx)?);
        let (merged, touched) = (Merged::default(), Touched::default());
        Ok(Self { book, tx, shape: book.shape(), pace, latest, last, merged, touched })
    }

    /// Takes what is new of `acts`; `before` sees each of them just before it is applied.
    fn take(&mut self, acts: &[Act], before: &mut dyn FnMut(&Connection, &Act) -> Result<()>) -> Result<()> {
        let (plan, aside) = plan(self.tx, acts, self.latest)?;
        self.merged.add(aside);
        for (act, stamp) in plan {
            before(self.tx, act)?;
            self.last = self.last.max(stamp);
            self.merged.acts += 1;
            match self.apply(act)? {
                Some(more) => self.touched.add(more),
                None => self.merged.not_understood += 1,
            }
        }
        Ok(())
    }

    /// `None`: kept, not understood.
    fn apply(&self, act: &Act) -> Result<Option<Touched>> {
        let known = apply::understood(&self.shape, act).ok();
        let n = apply::record(self.tx, act, None, known.is_some())?;
        match known {
            Some(body) if self.pace == Pace::Together => {
                apply::apply(self.tx, &self.shape, act, &body, n).map(Some)
            }
            Some(_) => apply::apply_foreign(self.tx, &self.shape, act, n),
            None => Ok(None),
        }
    }

    fn end(self) -> Result<Merged> {
        if self.merged.acts > 0 {
            (self.book.derive)(self.tx, &self.touched)?;
            keep_stamp(self.tx, self.last)?;
        }
        Ok(self.merged)
    }
}

/// Which of `acts` would be taken, in order; and what is put aside and why. Writes nothing.
fn plan<'a>(conn: &Connection, acts: &'a [Act], latest: i64) -> Result<(Vec<(&'a Act, Stamp)>, Merged)> {
    let mut by_device: BTreeMap<&str, BTreeMap<i64, &Act>> = BTreeMap::new();
    for act in acts {
        by_device.entry(&act.device).or_default().entry(act.seq).or_insert(act);
    }
    let (mut plan, mut aside) = (Vec::new(), Merged::default());
    for (device, acts) in by_device {
        let have = have(conn, device)?;
        if let Some((_, known)) = acts.range(..=have).next_back()
            && stamp_of(conn, device, known.seq)?.is_some_and(|stamp| stamp != known.stamp)
        {
            aside.forked.insert(device.to_owned());
            continue;
        }
        for ((seq, act), next) in acts.range(have + 1..).zip(have + 1..) {
            let stamp = act.check().ok().filter(|_| *seq == next);
            match stamp {
                Some(stamp) if stamp.ms() <= latest => plan.push((*act, stamp)),
                Some(_) => {
                    aside.ahead.insert(device.to_owned());
                    break;
                }
                None => {
                    aside.waiting += acts.range(seq..).count();
                    break;
                }
            }
        }
    }
    Ok((plan, aside))
}

/// Acts of a device after its `after`-th, at most `most`.
fn acts_of(conn: &Connection, device: &str, after: i64, most: usize) -> Result<Vec<Act>> {
    let mut list = conn.prepare_cached(
        "SELECT device, seq, stamp, at, zone, name, undoes, body FROM act
         WHERE device = ?1 AND seq > ?2 ORDER BY seq LIMIT ?3",
    )?;
    let most = i64::try_from(most).unwrap_or(-1);
    let rows = list.query_map(params![device, after, most], act_of)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn have(conn: &Connection, device: &str) -> Result<i64> {
    let have = conn
        .prepare_cached("SELECT coalesce(max(seq), 0) FROM act WHERE device = ?1")?
        .query_row([device], |r| r.get(0))?;
    Ok(have)
}

fn stamp_of(conn: &Connection, device: &str, seq: i64) -> Result<Option<String>> {
    let found = conn
        .prepare_cached("SELECT stamp FROM act WHERE device = ?1 AND seq = ?2")?
        .query_row(params![device, seq], |r| r.get(0))
        .optional()?;
    Ok(found)
}

/// How far this book knows each device.
fn totals(conn: &Connection) -> Result<BTreeMap<String, i64>> {
    let mut list = conn.prepare_cached("SELECT device, max(seq) FROM act GROUP BY device")?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
