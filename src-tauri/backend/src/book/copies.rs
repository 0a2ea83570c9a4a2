//! The copies of a register that lie in a folder: their names, whether they are sound, what is in them.
//! Never written to here, and never a file whose name is not one of ours.
//! Invariant: a copy is opened as a file that nobody changes; its name holds the hash of its bytes.

use super::clock::Moment;
use super::{Book, drafts, open};
use crate::error::{Error, Result};
use chrono::{NaiveDateTime, TimeDelta};
use rusqlite::Connection;
use std::path::{Path, PathBuf};

/// Which copies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// In the backup folder.
    Backups,
    /// Beside the register, taken before something that changes much.
    Snapshots,
}

/// A copy of the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CopyFile {
    /// Its file's name.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
    /// When it was taken.
    pub at: Moment,
    /// Its length.
    pub bytes: i64,
    /// What it was taken for: the first part of its name.
    pub(super) label: String,
    /// The first 16 hexadecimal digits of its bytes' hash, where its name has them.
    hash: Option<String>,
}

/// The device fact that holds the folder chosen for backups.
pub(super) const FOLDER: &str = "backup_folder";
const STAMP: &str = "%Y%m%dT%H%M%SZ";
const HASH_DIGITS: usize = 16;

impl Book {
    /// Where copies lie: the folder of choice, or one beside the register.
    ///
    /// # Errors
    /// The register's own.
    pub fn copies_folder(&self, place: Place) -> Result<PathBuf> {
        match place {
            Place::Snapshots => Ok(self.folder.join("snapshots")),
            Place::Backups => {
                // A damaged register may not tell its facts; its backups must be found all the same.
                let chosen = match self.read(|conn| drafts::device_fact(conn, FOLDER)) {
                    Err(Error::Damaged { .. }) => None,
                    other => other?,
                };
                Ok(chosen.map_or_else(|| self.folder.join("backups"), PathBuf::from))
            }
        }
    }

    /// All copies, newest first.
    ///
    /// # Errors
    /// The file system's own; a folder that is not there holds none.
    pub fn copies(&self, place: Place) -> Result<Vec<CopyFile>> {
        listed(&self.copies_folder(place)?, self.moment().offset_min)
    }

    /// The copy of that name, opened and compared with its name.
    ///
    /// # Errors
    /// `Missing`, `Damaged` naming the file, `TooNew`.
    pub fn sound_copy(&self, place: Place, name: &str) -> Result<CopyFile> {
        let copy = self.copies(place)?.into_iter().find(|c| c.name == name);
        let copy = copy.ok_or(Error::Missing { what: "backup" })?;
        copy.check()?;
        Ok(copy)
    }
}

impl CopyFile {
    /// The name of a copy of these bytes' hash, taken at `at`.
    pub(super) fn named(label: &str, at: Moment, hash: &str) -> String {
        let utc = at.local().naive_utc().format(STAMP);
        format!("{label}-{utc}-{}.sqlite", &hash[..HASH_DIGITS.min(hash.len())])
    }

    fn of(path: PathBuf, offset_min: i32) -> Option<Self> {
        let name = path.file_name()?.to_str()?.to_owned();
        let stem = name.strip_suffix(".sqlite")?;
        let about = std::fs::metadata(&path).ok().filter(std::fs::Metadata::is_file)?;
        let bytes = i64::try_from(about.len()).unwrap_or(i64::MAX);
        let (label, ms, hash) = match parts(stem) {
            Some((label, ms, hash)) => (label, ms, Some(hash)),
            // Copies before a migration are named by versions alone.
            None if stem.starts_with("before-") => (stem.to_owned(), written(&about), None),
            None => return None,
        };
        Some(Self { name, path, at: Moment { ms, offset_min }, bytes, label, hash })
    }

    /// Reads the copy.
    ///
    /// # Errors
    /// Whatever `f` returns, or the file's own.
    pub fn read<T>(&self, f: impl FnOnce(&Connection) -> Result<T>) -> Result<T> {
        f(&open::untouched(&self.path)?)
    }

    /// Opens the copy and holds it against its name.
    ///
    /// # Errors
    /// `Damaged` naming the file; `TooNew`.
    pub fn check(&self) -> Result<()> {
        let damaged = || Error::Damaged { what: self.name.clone() };
        if let Some(hash) = &self.hash
            && !hash_of(&self.path)?.starts_with(hash.as_str())
        {
            return Err(damaged());
        }
        let conn = open::untouched(&self.path)?;
        let found = open::version_of_ours(&conn).map_err(|_| damaged())?;
        if found > open::known() {
            return Err(Error::TooNew { found, known: open::known() });
        }
        if open::quick_check(&conn)?.is_some() { Err(damaged()) } else { Ok(()) }
    }

    /// The register it is a copy of; `None` when it can't be told.
    pub(super) fn register(&self) -> Option<String> {
        self.read(register_of).ok()
    }
}

/// The register's own id, which a restore keeps.
pub(super) fn register_of(conn: &Connection) -> Result<String> {
    Ok(conn.query_row("SELECT v FROM meta WHERE k = 'register'", [], |r| r.get(0))?)
}

/// BLAKE3 of a file's bytes.
#[allow(clippy::disallowed_methods, reason = "reads a copy to compare it with its name")]
pub(super) fn hash_of(path: &Path) -> Result<String> {
    let mut hasher = blake3::Hasher::new();
    hasher.update_reader(std::fs::File::open(path)?)?;
    Ok(hasher.finalize().to_hex().to_string())
}

#[allow(clippy::disallowed_methods, reason = "lists the copies in their folder")]
pub(super) fn listed(folder: &Path, offset_min: i32) -> Result<Vec<CopyFile>> {
    let list = match std::fs::read_dir(folder) {
        Ok(list) => list,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(e) => return Err(e.into()),
    };
    let mut copies = Vec::new();
    for file in list {
        copies.extend(CopyFile::of(file?.path(), offset_min));
    }
    copies.sort_by(|a, b| (b.at.ms, &b.name).cmp(&(a.at.ms, &a.name)));
    Ok(copies)
}

/// `LABEL-STAMP-HASH`.
fn parts(stem: &str) -> Option<(String, i64, String)> {
    let (rest, hash) = stem.rsplit_once('-')?;
    let (label, stamp) = rest.rsplit_once('-')?;
    let hex = hash.len() == HASH_DIGITS && hash.bytes().all(|b| b.is_ascii_hexdigit());
    let ours = label == super::backup::LABEL || label.starts_with("before-");
    let at = NaiveDateTime::parse_from_str(stamp, STAMP).ok()?;
    (hex && ours).then(|| (label.to_owned(), at.and_utc().timestamp_millis(), hash.to_owned()))
}

fn written(about: &std::fs::Metadata) -> i64 {
    let since = about.modified().ok().and_then(|t| t.duration_since(std::time::UNIX_EPOCH).ok());
    since.and_then(|s| TimeDelta::from_std(s).ok()).map_or(0, |d| d.num_milliseconds())
}
