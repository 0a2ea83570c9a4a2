//! The only place that opens a connection, and the order in which a register is opened.
//! Never a query of the trade.
//! Invariant: a file that is not ours, is newer, or is damaged is never written to.

use super::{Book, Clock, Derive, Inner, Readers, ReadingOnly, Standing, apply, backup, blobs, check, jobs};
use crate::error::{Error, Result};
use rusqlite::{Connection, OpenFlags, OptionalExtension};
use rusqlite_migration::{M, Migrations};
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, RwLock};
use std::time::Duration;

/// `application_id` of a register: the letters SHYD.
const APPLICATION_ID: i64 = 0x5348_5944;
pub(super) const FILE: &str = "register.sqlite";
/// How often, and after what pause each, the lock is asked for: two seconds in all.
const LOCK_TRIES: u32 = 40;
const LOCK_PAUSE: Duration = Duration::from_millis(50);
const STEPS: &[M] = &[
    M::up(include_str!("migrations/0001.sql")),
    M::up(include_str!("migrations/0002.sql")),
    M::up(include_str!("migrations/0003.sql")),
    M::up(include_str!("migrations/0004.sql")),
    M::up(include_str!("migrations/0005.sql")),
    M::up(include_str!("migrations/0006.sql")),
    M::up(include_str!("migrations/0007.sql")),
    M::up(include_str!("migrations/0008.sql")),
    M::up(include_str!("migrations/0009.sql")),
];

/// Newest schema version this program knows.
pub(super) fn known() -> i64 {
    i64::try_from(STEPS.len()).unwrap_or(i64::MAX)
}

/// How often what is derived was worked out in another way since version 9. Raised by one, every register derives
/// anew when it is next opened.
const DERIVED: i64 = 0;

/// Stands for what this program understands and how it derives.
pub(super) fn understanding() -> i64 {
    known() * 100 + DERIVED
}

impl Book {
    /// Opens the register in `folder`, making both when absent.
    ///
    /// The order: lock; whose file is it; is it newer; check it after an unclean close, before
    /// migrating, or when the last check found damage; snapshot; migrate, SQL and version in one
    /// transaction. A newer or damaged register is opened for reading only.
    ///
    /// # Errors
    /// `Conflict` when another window holds the yard; `TooNew` or `Damaged` when nothing of it can
    /// be read or the file is not a register; `DiskFull`.
    #[allow(clippy::disallowed_methods, reason = "book/open makes the folder and holds its lock")]
    pub fn open(folder: &Path, clock: Clock, derive: Derive) -> Result<Self> {
        blobs::make_folder(folder)?;
        let lock = lock(folder)?;
        let file = folder.join(FILE);
        let opened = match look(&file)? {
            Look { closed: Some(why), version } => for_reading(&file, version, why)?,
            Look { version, .. } => match for_writing(folder, version, &clock) {
                Err(Error::Damaged { what }) => for_reading(&file, version, ReadingOnly::Damaged { what })?,
                other => other?,
            },
        };
        let book = Self(Arc::new(Inner {
            folder: folder.to_owned(),
            standing: RwLock::new(opened.standing),
            writer: Mutex::new(opened.conn),
            readers: Mutex::new(Readers { spare: Vec::new(), age: 0, source: opened.source }),
            clock,
            derive,
            jobs: jobs::Jobs::default(),
            _lock: lock,
        }));
        if book.reading_only().is_none() {
            book.understand(understanding())?;
        }
        Ok(book)
    }
}

/// What a book is made of once its register is open.
pub(super) struct Opened {
    pub conn: Connection,
    pub source: Source,
    pub standing: Standing,
}

/// Where readers come from.
#[derive(Debug)]
pub(super) enum Source {
    /// The register itself.
    Live(PathBuf),
    /// The register, read as a file that nobody changes: no lock, no journal, no file beside it.
    Untouched(PathBuf),
    /// A copy of the register with its write-ahead log, in a folder that goes with the book.
    Copied(tempfile::TempDir),
}

impl Source {
    /// A connection for reading only.
    pub(super) fn reader(&self) -> Result<Connection> {
        let conn = match self {
            Self::Live(file) => connect(file, OpenFlags::SQLITE_OPEN_READ_WRITE)?,
            Self::Copied(folder) => connect(&folder.path().join(FILE), OpenFlags::SQLITE_OPEN_READ_WRITE)?,
            Self::Untouched(file) => untouched(file)?,
        };
        conn.pragma_update(None, "query_only", true)?;
        Ok(conn)
    }
}

/// Opens for writing: migrates, and gives a new register its first facts.
pub(super) fn for_writing(folder: &Path, version: Option<i64>, clock: &Clock) -> Result<Opened> {
    let file = folder.join(FILE);
    if version.is_none() {
        new(folder, clock)?;
    }
    let mut conn = writer(&file)?;
    if let Some(from) = version.filter(|v| *v < known()) {
        backup::snapshot(&conn, folder, &format!("before-version-{}-from-{from}", known()))?;
    }
    migrate(&mut conn)?;
    first_facts(&conn, clock.moment().ms)?;
    let standing = standing(&conn)?;
    Ok(Opened { conn, source: Source::Live(file), standing })
}

/// Makes a new register aside and puts it in its place whole: when the power goes before that, there
/// is none, and the next start makes one.
#[allow(clippy::disallowed_methods, reason = "what a broken-off start left aside holds no record")]
fn new(folder: &Path, clock: &Clock) -> Result<()> {
    let (file, aside) = (folder.join(FILE), folder.join(format!("{FILE}.new")));
    // The log of a register that is gone may be all that is left of it, and a new one would empty it.
    if is_unclean(&file) {
        return Err(Error::Damaged { what: "only its log is left".into() });
    }
    for end in ["", "-journal", "-wal", "-shm"] {
        let _gone = std::fs::remove_file(beside(&aside, end));
    }
    let mut conn = connect(&aside, OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE)?;
    conn.pragma_update(None, "application_id", APPLICATION_ID)?;
    migrate(&mut conn)?;
    first_facts(&conn, clock.moment().ms)?;
    // Only now, with nothing more to write: a log that could not be emptied would stay behind.
    conn.pragma_update(None, "journal_mode", "WAL")?;
    conn.close().map_err(|(_conn, error)| error)?;
    if is_unclean(&aside) {
        return Err(Error::DiskFull);
    }
    File::options().write(true).open(&aside)?.sync_all()?;
    std::fs::rename(&aside, &file)?;
    blobs::sync_folder(folder)
}

/// What is read from a register that is open for writing.
pub(super) fn standing(conn: &Connection) -> Result<Standing> {
    let device = conn.query_row("SELECT v FROM meta WHERE k = 'device'", [], |r| r.get(0))?;
    Ok(Standing { device, shape: Arc::new(apply::Shape::read(conn)?), closed: None })
}

/// Opens for reading only. What still lies in a write-ahead log can't be read without writing an
/// index beside it, and passing it over would show an older yard: so then a copy is read. Without
/// one the file itself is read, which needs no room and also reads what a bad disk still gives. Of an
/// older version a copy is read too, brought to the newest as far as the damage allows.
fn for_reading(file: &Path, version: Option<i64>, why: ReadingOnly) -> Result<Opened> {
    let source = match copied_anew(file, version) {
        Some(source) => source,
        None if is_unclean(file) => copied(file)?,
        None => Source::Untouched(file.to_owned()),
    };
    let conn = source.reader()?;
    let device: Option<String> =
        conn.query_row("SELECT v FROM meta WHERE k = 'device'", [], |r| r.get(0)).optional()?;
    let shape = Arc::new(apply::Shape::read(&conn).map_err(|_| why.refusal())?);
    let standing = Standing { device: device.unwrap_or_default(), shape, closed: Some(why) };
    Ok(Opened { conn, source, standing })
}

#[allow(clippy::disallowed_methods, reason = "a register that may not be written is read as a copy")]
fn copied(file: &Path) -> Result<Source> {
    let folder = file.parent().ok_or_else(|| Error::Bug("a path without a folder".into()))?;
    let place = tempfile::Builder::new().prefix("reading-").tempdir_in(folder)?;
    std::fs::copy(file, place.path().join(FILE))?;
    if is_unclean(file) {
        std::fs::copy(beside(file, "-wal"), place.path().join(format!("{FILE}-wal")))?;
    }
    Ok(Source::Copied(place))
}

/// A copy of an older register that could be brought to the newest version; `None`: it is none, or could not.
fn copied_anew(file: &Path, version: Option<i64>) -> Option<Source> {
    version.filter(|found| *found < known())?;
    let copy = copied(file).ok()?;
    let Source::Copied(place) = &copy else { return None };
    let mut conn = writer(&place.path().join(FILE)).ok()?;
    migrate(&mut conn).ok()?;
    Some(copy)
}

/// What stands in the folder, found out without writing.
struct Look {
    version: Option<i64>,
    closed: Option<ReadingOnly>,
}

/// Looks at an existing file without writing. No version: there is none, or it is empty.
fn look(file: &Path) -> Result<Look> {
    if !std::fs::metadata(file).is_ok_and(|m| m.len() > 0) {
        return Ok(Look { version: None, closed: None });
    }
    let unclean = is_unclean(file);
    let conn = if unclean { connect(file, OpenFlags::SQLITE_OPEN_READ_ONLY)? } else { untouched(file)? };
    let version = version_of_ours(&conn)?;
    let closed = if version > known() {
        Some(ReadingOnly::Newer { found: version, known: known() })
    } else if unclean || version < known() || check::found_damage(&conn) {
        quick_check(&conn)?.map(|what| ReadingOnly::Damaged { what })
    } else {
        None
    };
    Ok(Look { version: Some(version), closed })
}

/// The version of a register; a file that is not one is refused.
pub(super) fn version_of_ours(conn: &Connection) -> Result<i64> {
    let owner: i64 = conn.query_row("PRAGMA application_id", [], |r| r.get(0))?;
    if owner != APPLICATION_ID {
        return Err(Error::Damaged { what: "not_a_register".into() });
    }
    Ok(conn.query_row("PRAGMA user_version", [], |r| r.get(0))?)
}

/// What is wrong with the tables, if anything.
pub(super) fn quick_check(conn: &Connection) -> Result<Option<String>> {
    match conn.query_row("PRAGMA quick_check(1)", [], |r| r.get::<_, String>(0)) {
        Ok(answer) => Ok(Some(answer).filter(|a| a != "ok")),
        Err(error) => match Error::from(error) {
            Error::Damaged { what } => Ok(Some(what)),
            other => Err(other),
        },
    }
}

/// Brings a register to the newest version, SQL and version in one transaction.
pub(super) fn migrate(conn: &mut Connection) -> Result<()> {
    Migrations::from_slice(STEPS).to_latest(conn).map_err(migration_error)
}

/// Whether something is left in the write-ahead log: the register was not closed.
fn is_unclean(file: &Path) -> bool {
    std::fs::metadata(beside(file, "-wal")).is_ok_and(|m| m.len() > 0)
}

/// The file's companion, e.g. its write-ahead log.
pub(super) fn beside(file: &Path, end: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}

/// The schema as it is after all steps, without the tables that a full-text index makes for itself, for holding `schema.sql` against it.
///
/// # Errors
/// The register's own.
#[allow(clippy::disallowed_methods, reason = "only book/open opens a connection")]
pub fn fresh_schema() -> Result<String> {
    let mut conn = Connection::open_in_memory()?;
    migrate(&mut conn)?;
    let mut list = conn.prepare(
        "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL
         AND tbl_name NOT IN (SELECT name FROM pragma_table_list WHERE type = 'shadow') ORDER BY rowid",
    )?;
    let all = list.query_map([], |r| r.get::<_, String>(0))?;
    let all: Vec<String> = all.collect::<rusqlite::Result<_>>()?;
    Ok(all.join(";\n"))
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

/// A connection to a file that nobody changes: `immutable` keeps SQLite from making files beside it.
pub(super) fn untouched(file: &Path) -> Result<Connection> {
    let mut uri = String::from(if cfg!(windows) { "file:/" } else { "file:" });
    for byte in file.as_os_str().as_encoded_bytes() {
        match byte {
            b'\\' if cfg!(windows) => uri.push('/'),
            b'/' | b'-' | b'.' | b'_' => uri.push(char::from(*byte)),
            b if b.is_ascii_alphanumeric() => uri.push(char::from(*b)),
            b => uri.push_str(&format!("%{b:02X}")),
        }
    }
    uri.push_str("?immutable=1");
    connect(Path::new(&uri), OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI)
}

/// A connection to nothing, while a register is put in another's place.
#[allow(clippy::disallowed_methods, reason = "only book/open opens a connection")]
pub(super) fn nothing() -> Result<Connection> {
    Ok(Connection::open_in_memory()?)
}

/// A connection that may write, to a file that exists and that no book holds open.
pub(super) fn apart(file: &Path) -> Result<Connection> {
    connect(file, OpenFlags::SQLITE_OPEN_READ_WRITE)
}

fn writer(file: &Path) -> Result<Connection> {
    let conn = connect(file, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
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
    // Kibibytes: what one chunk of a merge touches, and the facts of two thousand logs.
    conn.pragma_update(None, "cache_size", -16_384)?;
    conn.set_prepared_statement_cache_capacity(128);
    Ok(conn)
}

/// Who it is and which device this is, once. A register that has facts or acts but not its device is
/// damaged: a second device made up for it would number its acts from 1 again.
fn first_facts(conn: &Connection, ms: i64) -> Result<()> {
    let sql = "SELECT EXISTS(SELECT 1 FROM meta WHERE k = 'device'),
        EXISTS(SELECT 1 FROM meta) OR EXISTS(SELECT 1 FROM act)";
    match conn.query_row(sql, [], |r| Ok((r.get(0)?, r.get(1)?)))? {
        (true, _) => return Ok(()),
        (false, true) => return Err(Error::Damaged { what: "meta".into() }),
        (false, false) => {}
    }
    let new = || crate::ids::Id::new(ms).to_string();
    let stamp = super::clock::Stamp::default().to_string();
    conn.execute(
        "INSERT INTO meta(k, v) VALUES ('register', ?1), ('device', ?2), ('stamp', ?3)",
        [new(), new(), stamp],
    )?;
    Ok(())
}

fn migration_error(error: rusqlite_migration::Error) -> Error {
    match error {
        rusqlite_migration::Error::RusqliteError { err, .. } => err.into(),
        other => Error::Bug(other.to_string()),
    }
}
