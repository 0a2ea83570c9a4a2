//! The record book: acts, fields, entries, blobs, drafts. It knows no word of the trade.
//! Never a rule about logs or mushrooms; those come in as changes and go out as rows.
//! Invariant: everything shared is written by `apply`, inside one transaction per act.

pub mod acts;
mod apply;
pub mod archive;
pub mod backup;
pub mod blobs;
pub mod change;
pub mod check;
pub mod clock;
pub mod copies;
pub mod drafts;
pub mod jobs;
mod kept;
pub mod merge;
pub mod moved;
mod open;
mod restore;
mod thin;
mod undo;

pub use change::{Change, Done, Intent, Nothing, Plan, Touched};
pub use clock::{Clock, Moment};
pub use kept::Kept;
pub use open::fresh_schema;
pub use undo::{last as undo_last, revived};

use crate::error::{Error, Result};
use crate::ids::Id;
use apply::Shape;
use clock::Stamp;
use open::Source;
use rusqlite::{Connection, TransactionBehavior};
use std::fs::File;
use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};

/// What is worked out from the record after each application, e.g. a log's state.
/// It gets the open transaction and may write derived tables only.
pub type Derive = fn(&Connection, &Touched) -> Result<()>;

/// An open register. Clones are handles on the same one, for work on other threads; the last
/// handle to go closes it.
#[derive(Debug, Clone)]
pub struct Book(Arc<Inner>);

/// What the handles share. Connections stand before the lock, so that they close first.
#[doc(hidden)]
#[derive(Debug)]
pub struct Inner {
    folder: PathBuf,
    standing: RwLock<Standing>,
    writer: Mutex<Connection>,
    readers: Mutex<Readers>,
    clock: Clock,
    derive: Derive,
    jobs: jobs::Jobs,
    _lock: File,
}

/// What a restore changes under an open book. It changes only while the writer is held.
#[derive(Debug, Clone)]
struct Standing {
    device: String,
    shape: Arc<Shape>,
    closed: Option<ReadingOnly>,
}

/// Spare reading connections, and where new ones come from. A reader of an older `age` is let go.
#[derive(Debug)]
struct Readers {
    spare: Vec<(Connection, Kept)>,
    age: u64,
    source: Source,
}

/// Why a register is open for reading only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ReadingOnly {
    /// A newer version of the program wrote it.
    Newer {
        /// Schema version in the file.
        found: i64,
        /// Newest schema version this program knows.
        known: i64,
    },
    /// Its check found damage.
    Damaged {
        /// What was found.
        what: String,
    },
}

impl ReadingOnly {
    /// What a write is told.
    pub fn refusal(&self) -> Error {
        match self {
            Self::Newer { found, known } => Error::TooNew { found: *found, known: *known },
            Self::Damaged { what } => Error::Damaged { what: what.clone() },
        }
    }
}

impl Deref for Book {
    type Target = Inner;

    fn deref(&self) -> &Inner {
        &self.0
    }
}

impl Book {
    /// The folder the register lies in.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// This device's id. A restore gives a new one: inside a write, ask again.
    pub fn device(&self) -> String {
        self.standing().device
    }

    /// Why nothing can be written; `None` when it can.
    pub fn reading_only(&self) -> Option<ReadingOnly> {
        self.standing().closed
    }

    /// Refuses when the register is open for reading only. Ask before anything else is written.
    ///
    /// # Errors
    /// `TooNew` or `Damaged`.
    pub fn may_write(&self) -> Result<()> {
        self.reading_only().map_or(Ok(()), |closed| Err(closed.refusal()))
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

    /// Starts `work` on a thread of its own with a handle on this book; returns the job's id.
    pub fn start(&self, work: impl FnOnce(&Self, &jobs::Job) -> Result<()> + Send + 'static) -> String {
        let book = self.clone();
        self.jobs.start(move |job| work(&book, job))
    }

    /// The same for a request made once by the screen: a double tap finds the job already begun.
    ///
    /// # Errors
    /// `Invalid` for a request that is no UUID.
    pub fn start_for(
        &self,
        request: &str,
        work: impl FnOnce(&Self, &jobs::Job) -> Result<()> + Send + 'static,
    ) -> Result<String> {
        let book = self.clone();
        self.jobs.start_for(request, move |job| work(&book, job))
    }

    /// Runs `f` in one read transaction on a connection that cannot write.
    ///
    /// # Errors
    /// Whatever `f` returns, or the register's own.
    pub fn read<T>(&self, f: impl FnOnce(&Connection) -> Result<T>) -> Result<T> {
        self.read_keeping(|conn, _| f(conn))
    }

    /// The same, with what was kept from readings before.
    ///
    /// # Errors
    /// As [`Book::read`].
    pub fn read_keeping<T>(&self, f: impl FnOnce(&Connection, &mut Kept) -> Result<T>) -> Result<T> {
        let (spare, age) = {
            let mut readers = hold(&self.readers);
            (readers.spare.pop(), readers.age)
        };
        let (mut conn, mut kept) = match spare {
            Some(spare) => spare,
            None => (self.reader()?, Kept::default()),
        };
        let outcome = {
            let tx = conn.transaction_with_behavior(TransactionBehavior::Deferred)?;
            f(&tx, &mut kept)
        };
        let mut readers = hold(&self.readers);
        if readers.age == age {
            readers.spare.push((conn, kept));
        }
        outcome
    }

    /// A reading connection of one's own, for long work.
    fn reader(&self) -> Result<Connection> {
        hold(&self.readers).source.reader()
    }

    /// Runs `f` in one immediate transaction of the single writer; commits when it returns `Ok`.
    fn write<T>(&self, f: impl FnOnce(&Connection) -> Result<T>) -> Result<T> {
        let mut conn = hold(&self.writer);
        self.may_write()?;
        let outcome = (|| {
            let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
            let out = f(&tx)?;
            tx.commit()?;
            Ok(out)
        })();
        if let Err(Error::Damaged { what }) = &outcome
            && what == "register"
        {
            self.close_for_writing(ReadingOnly::Damaged { what: what.clone() });
        }
        outcome
    }

    fn standing(&self) -> Standing {
        self.standing.read().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The shared tables. A restore reads them anew: inside a write, ask again.
    fn shape(&self) -> Arc<Shape> {
        self.standing().shape
    }

    /// From here on nothing more is written: what is damaged is not made worse.
    fn close_for_writing(&self, why: ReadingOnly) {
        self.standing.write().unwrap_or_else(PoisonError::into_inner).closed = Some(why);
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
