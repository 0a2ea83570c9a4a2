//! The only place that opens a connection, and the order in which a register is opened.
//! Never a query of the trade.
//! Invariant: a file that is not ours, is newer, or is damaged is never written to.

use super::{Book, Clock, Derive, apply, backup, jobs};
use crate::error::{Error, Result};
use rusqlite::{Connection, OpenFlags};
use rusqlite_migration::{M, Migrations};
use std::fs::File;
use std::path::Path;
use std::sync::Mutex;
use std::time::Duration;

/// `application_id` of a register: the letters SHYD.
const APPLICATION_ID: i64 = 0x5348_5944;
const FILE: &str = "register.sqlite";
/// How often, and after what pause each, the lock is asked for: two seconds in all.
const LOCK_TRIES: u32 = 40;
const LOCK_PAUSE: Duration = Duration::from_millis(50);
const STEPS: &[M] = &[M::up(include_str!("migrations/0001.sql"))];

impl Book {
    /// Opens the register in `folder`, making both when absent.
    ///
    /// The order: lock; whose file is it; refuse a newer one; check it after an unclean close or
    /// before migrating; snapshot; migrate, SQL and version in one transaction.
    ///
    /// # Errors
    /// `Conflict` when another window holds the yard, `TooNew`, `Damaged`, `DiskFull`.
    #[allow(clippy::disallowed_methods, reason = "book/open makes the folder and holds its lock")]
    pub fn open(folder: &Path, clock: Clock, derive: Derive) -> Result<Self> {
        std::fs::create_dir_all(folder)?;
        let lock = lock(folder)?;
        let file = folder.join(FILE);
        let unclean = std::fs::metadata(folder.join(format!("{FILE}-wal"))).is_ok_and(|m| m.len() > 0);
        let version = inspect(&file)?;
        let mut conn = writer(&file)?;
        let known = i64::try_from(STEPS.len()).unwrap_or(i64::MAX);
        let behind = version.is_some_and(|v| v < known);
        if unclean || behind {
            quick_check(&conn)?;
        }
        if let (Some(from), true) = (version, behind) {
            backup::snapshot(&conn, folder, &format!("before-version-{known}-from-{from}"))?;
        }
        Migrations::from_slice(STEPS).to_latest(&mut conn).map_err(migration_error)?;
        let moment = clock.moment();
        first_facts(&conn, moment.ms)?;
        let device = conn.query_row("SELECT v FROM meta WHERE k = 'device'", [], |r| r.get(0))?;
        Ok(Self {
            folder: folder.to_owned(),
            device,
            shape: apply::Shape::read(&conn)?,
            writer: Mutex::new(conn),
            readers: Mutex::new(Vec::new()),
            clock,
            derive,
            jobs: jobs::Jobs::default(),
            _lock: lock,
        })
    }
}

/// The schema as it is after all steps, for holding `schema.sql` against it.
///
/// # Errors
/// The register's own.
#[allow(clippy::disallowed_methods, reason = "only book/open opens a connection")]
pub fn fresh_schema() -> Result<String> {
    let mut conn = Connection::open_in_memory()?;
    Migrations::from_slice(STEPS).to_latest(&mut conn).map_err(migration_error)?;
    let mut list = conn.prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY rowid")?;
    let all = list.query_map([], |r| r.get::<_, String>(0))?;
    let all: Vec<String> = all.collect::<rusqlite::Result<_>>()?;
    Ok(all.join(";\n"))
}

/// A connection for reading only.
pub(super) fn reader(folder: &Path) -> Result<Connection> {
    let conn = connect(&folder.join(FILE), OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    conn.pragma_update(None, "query_only", true)?;
    Ok(conn)
}

#[allow(clippy::disallowed_methods, reason = "the lock file that marks a yard as open")]
fn lock(folder: &Path) -> Result<File> {
    let path = folder.join("register.lock");
    let file = File::options().create(true).truncate(false).read(true).write(true).open(path)?;
    // A killed app lets go of its lock a moment after it is gone: a restart must not call that
    // moment another window.
    for _ in 0..LOCK_TRIES {
        if fs4::FileExt::try_lock(&file).is_ok() {
            return Ok(file);
        }
        std::thread::sleep(LOCK_PAUSE);
    }
    Err(Error::conflict("locked", serde_json::Value::Null))
}

/// Looks at an existing file without writing. `None`: there is none, or it is empty.
#[allow(clippy::disallowed_methods, reason = "asks only whether the file is there")]
fn inspect(file: &Path) -> Result<Option<i64>> {
    if !std::fs::metadata(file).is_ok_and(|m| m.len() > 0) {
        return Ok(None);
    }
    let conn = connect(file, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    let owner: i64 = conn.query_row("PRAGMA application_id", [], |r| r.get(0))?;
    let version: i64 = conn.query_row("PRAGMA user_version", [], |r| r.get(0))?;
    let known = i64::try_from(STEPS.len()).unwrap_or(i64::MAX);
    if owner != APPLICATION_ID {
        return Err(Error::Damaged { what: "not_a_register".into() });
    }
    if version > known {
        return Err(Error::TooNew { found: version, known });
    }
    Ok(Some(version))
}

fn writer(file: &Path) -> Result<Connection> {
    let conn = connect(file, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE)?;
    let owner: i64 = conn.query_row("PRAGMA application_id", [], |r| r.get(0))?;
    if owner == 0 {
        conn.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    conn.pragma_update(None, "journal_mode", "WAL")?;
    conn.pragma_update(None, "synchronous", "FULL")?;
    Ok(conn)
}

#[allow(clippy::disallowed_methods, reason = "only book/open opens a connection")]
fn connect(file: &Path, flags: OpenFlags) -> Result<Connection> {
    let conn = Connection::open_with_flags(file, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    conn.busy_timeout(Duration::from_secs(5))?;
    conn.pragma_update(None, "trusted_schema", false)?;
    conn.pragma_update(None, "cell_size_check", true)?;
    conn.pragma_update(None, "mmap_size", 0)?;
    conn.pragma_update(None, "foreign_keys", true)?;
    conn.set_prepared_statement_cache_capacity(128);
    Ok(conn)
}

fn quick_check(conn: &Connection) -> Result<()> {
    let answer: String = conn.query_row("PRAGMA quick_check(1)", [], |r| r.get(0))?;
    if answer == "ok" { Ok(()) } else { Err(Error::Damaged { what: answer }) }
}

fn first_facts(conn: &Connection, ms: i64) -> Result<()> {
    let known: bool =
        conn.query_row("SELECT EXISTS(SELECT 1 FROM meta WHERE k = 'device')", [], |r| r.get(0))?;
    if !known {
        let new = || crate::ids::Id::new(ms).to_string();
        let stamp = super::clock::Stamp::default().to_string();
        conn.execute(
            "INSERT INTO meta(k, v) VALUES ('register', ?1), ('device', ?2), ('stamp', ?3)",
            [new(), new(), stamp],
        )?;
    }
    Ok(())
}

fn migration_error(error: rusqlite_migration::Error) -> Error {
    match error {
        rusqlite_migration::Error::RusqliteError { err, .. } => err.into(),
        other => Error::Bug(other.to_string()),
    }
}
