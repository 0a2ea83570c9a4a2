//! The record book: acts, fields, entries, blobs, drafts. It knows no word of the trade.
//! Never a rule about logs or mushrooms; those come in as changes and go out as rows.
//! Invariant: everything shared is written by `apply`, inside one transaction per act.

pub mod acts;
mod apply;
mod backup;
pub mod blobs;
pub mod change;
mod check;
pub mod clock;
pub mod drafts;
pub mod jobs;
pub mod merge;
mod open;
mod undo;

pub use change::{Change, Done, Intent, Plan, Touched};
pub use clock::{Clock, Moment};
pub use open::fresh_schema;
pub use undo::last as undo_last;

use crate::error::{Error, Result};
use crate::ids::Id;
use apply::Shape;
use clock::Stamp;
use rusqlite::{Connection, TransactionBehavior};
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// What is worked out from the record after each application, e.g. a log's state.
/// It gets the open transaction and may write derived tables only.
pub type Derive = fn(&Connection, &Touched) -> Result<()>;

/// An open register.
#[derive(Debug)]
pub struct Book {
    folder: PathBuf,
    device: String,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
    clock: Clock,
    shape: Shape,
    derive: Derive,
    jobs: jobs::Jobs,
    _lock: File,
}

impl Book {
    /// The folder the register lies in.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// This device's id.
    pub fn device(&self) -> &str {
        &self.device
    }

    /// Now, by the book's clock.
    pub fn moment(&self) -> Moment {
        self.clock.moment()
    }

    /// A new id.
    pub fn new_id(&self) -> Id {
        Id::new(self.clock.moment().ms)
    }

    /// The register's long-running jobs.
    pub fn jobs(&self) -> &jobs::Jobs {
        &self.jobs
    }

    /// Runs `f` in one read transaction on a connection that cannot write.
    ///
    /// # Errors
    /// Whatever `f` returns, or the register's own.
    pub fn read<T>(&self, f: impl FnOnce(&Connection) -> Result<T>) -> Result<T> {
        let spare = hold(&self.readers).pop();
        let mut conn = match spare {
            Some(conn) => conn,
            None => open::reader(&self.folder)?,
        };
        let outcome = {
            let tx = conn.transaction_with_behavior(TransactionBehavior::Deferred)?;
            f(&tx)
        };
        hold(&self.readers).push(conn);
        outcome
    }

    /// Runs `f` in one immediate transaction of the single writer; commits when it returns `Ok`.
    fn write<T>(&self, f: impl FnOnce(&Connection) -> Result<T>) -> Result<T> {
        let mut conn = hold(&self.writer);
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let out = f(&tx)?;
        tx.commit()?;
        Ok(out)
    }
}

/// A lock survives a panicked holder: the transaction it held was rolled back.
fn hold<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

fn last_stamp(conn: &Connection) -> Result<Stamp> {
    let text: String = conn.query_row("SELECT v FROM meta WHERE k = 'stamp'", [], |r| r.get(0))?;
    Stamp::parse(&text).ok_or_else(|| Error::Damaged { what: "stamp".into() })
}

fn keep_stamp(conn: &Connection, stamp: Stamp) -> Result<()> {
    conn.execute("UPDATE meta SET v = ?1 WHERE k = 'stamp'", [stamp.to_string()])?;
    Ok(())
}
