//! Taking whole copies of the register while it is open, and their photos.
//! Never a plain file copy of a live database: that loses what is still in the write-ahead log.
//! Invariant: a copy either stands whole and read back under its final name or not at all.

use super::clock::Moment;
use super::copies::{self, CopyFile, FOLDER, Place};
use super::jobs::Job;
use super::{Book, blobs, drafts, hold, open, thin};
use crate::error::{Error, Result};
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// The first part of a backup's name.
pub(super) const LABEL: &str = "register";
/// The device fact that holds the last backup that was read back and found whole.
pub(super) const GOOD: &str = "backup_good";

/// The last good backup of this device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Good {
    /// Its file's name.
    pub name: String,
    /// Where it lies.
    pub folder: PathBuf,
    /// When it was taken, milliseconds since 1970.
    pub ms: i64,
    /// The number of the newest act in it.
    pub n: i64,
}

impl Book {
    /// Takes a backup: a copy of the register, then the photos that are not there yet; then lets go
    /// of what has grown old. Photos that are not whole are named in the job. Returns its name,
    /// `None` when asked to stop.
    ///
    /// # Errors
    /// `DiskFull`; `Damaged` when the copy is not what was copied; `TooNew` and `Damaged` when the
    /// register is open for reading only.
    pub fn backup(&self, job: &Job) -> Result<Option<String>> {
        self.may_write()?;
        let folder = self.copies_folder(Place::Backups)?;
        if !folder.starts_with(&self.folder) && !folder.is_dir() {
            // A drive that is not plugged in: its place must not be filled here instead.
            return Err(Error::invalid("folder", "not_there"));
        }
        let at = self.moment();
        let conn = open::apart(&self.folder.join(open::FILE))?;
        let (name, n) = take(&conn, &folder, LABEL, &self.device(), at)?;
        if !self.mirror(&folder, job)? {
            return Ok(None);
        }
        let good = Good { name: name.clone(), folder: folder.clone(), ms: at.ms, n };
        self.set_device_fact(GOOD, &serde_json::to_string(&good)?)?;
        self.thin(&folder, LABEL)?;
        Ok(Some(name))
    }

    /// Takes a copy beside the register before something that changes much; `why` begins with
    /// `before-` and is the first part of its name. Returns the name.
    ///
    /// # Errors
    /// As [`Book::backup`].
    pub fn snapshot(&self, why: &str) -> Result<String> {
        let conn = hold(&self.writer);
        let name = self.snapshot_of(&conn, why)?;
        drop(conn);
        self.thin(&self.folder.join("snapshots"), why)?;
        Ok(name)
    }

    /// The same for one who holds the writer already.
    pub(super) fn snapshot_of(&self, conn: &Connection, why: &str) -> Result<String> {
        self.may_write()?;
        let (name, _) = take(conn, &self.folder.join("snapshots"), why, &self.device(), self.moment())?;
        Ok(name)
    }

    /// Chooses the folder for backups; `None`: beside the register.
    ///
    /// # Errors
    /// `Invalid` when nothing can be written there.
    #[allow(clippy::disallowed_methods, reason = "a folder is chosen when something can be written there")]
    pub fn choose_backup_folder(&self, folder: Option<&str>) -> Result<()> {
        self.may_write()?;
        let Some(text) = folder else { return self.forget_device_fact(FOLDER) };
        let folder = Path::new(text);
        let refused = |why| Error::invalid("folder", why);
        if !folder.is_absolute() {
            return Err(refused("not_a_folder"));
        }
        std::fs::create_dir_all(folder).map_err(|_| refused("not_writable"))?;
        // The file goes with its handle.
        tempfile::tempfile_in(folder).map_err(|_| refused("not_writable"))?;
        self.set_device_fact(FOLDER, text)
    }

    /// The last good backup, unless its folder is there and it is not. A folder that is not there
    /// may be a drive that is not plugged in.
    ///
    /// # Errors
    /// The register's own.
    pub fn last_good(&self, conn: &Connection) -> Result<Option<Good>> {
        let kept = drafts::device_fact(conn, GOOD)?;
        let good: Option<Good> = kept.and_then(|text| serde_json::from_str(&text).ok());
        Ok(good.filter(|g| !g.folder.is_dir() || g.folder.join(&g.name).is_file()))
    }

    /// Copies photos that are not in `folder` yet, each read back by its hash. False: asked to stop.
    fn mirror(&self, folder: &Path, job: &Job) -> Result<bool> {
        let all = self.read(|conn| {
            let mut list = conn.prepare("SELECT hash, bytes FROM blob WHERE here = 1 ORDER BY hash")?;
            let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, i64>(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<Vec<_>>>()?)
        })?;
        for (n, (hash, bytes)) in all.iter().enumerate() {
            if job.is_cancelled() {
                return Ok(false);
            }
            job.step(n, all.len() + 1);
            let target = blobs::path(folder, hash);
            if std::fs::metadata(&target).is_ok_and(|m| i64::try_from(m.len()) == Ok(*bytes)) {
                continue;
            }
            match self.blob(hash) {
                Ok(whole) => self.put_beside(&target, hash, &whole)?,
                Err(Error::Missing { .. }) => job.found(format!("missing {hash}")),
                Err(Error::Damaged { .. }) => job.found(format!("swapped {hash}")),
                Err(other) => return Err(other),
            }
        }
        job.step(all.len() + 1, all.len() + 1);
        Ok(true)
    }

    /// In the yard's own folder a second name is enough and takes no room; elsewhere, a copy.
    fn put_beside(&self, target: &Path, hash: &str, bytes: &[u8]) -> Result<()> {
        if let (true, Some(folder)) = (target.starts_with(&self.folder), target.parent()) {
            std::fs::create_dir_all(folder)?;
            if std::fs::hard_link(blobs::path(&self.folder, hash), target).is_ok() {
                return blobs::sync_folder(folder);
            }
        }
        blobs::write_durably(target, bytes)
    }

    /// Lets go of copies of this register that have grown old. Before anything goes, those that
    /// stay in its place are read.
    #[allow(clippy::disallowed_methods, reason = "the rule gives up only copies that a newer one stands for")]
    pub(super) fn thin(&self, folder: &Path, label: &str) -> Result<()> {
        let now = self.moment();
        let ours = self.read(copies::register_of)?;
        let all: Vec<CopyFile> =
            copies::listed(folder, now.offset_min)?.into_iter().filter(|c| c.label == label).collect();
        let weigh = |sound: &dyn Fn(&CopyFile) -> bool| {
            let kept: Vec<thin::Kept> = all
                .iter()
                .map(|c| thin::Kept { name: c.name.clone(), ms: c.at.ms, sound: sound(c) })
                .collect();
            thin::given_up(&kept, now)
        };
        if weigh(&|_| true).is_empty() {
            return Ok(());
        }
        let is_ours = |copy: &CopyFile| copy.check().is_ok() && copy.register().as_ref() == Some(&ours);
        for name in weigh(&is_ours) {
            std::fs::remove_file(folder.join(name))?;
        }
        Ok(())
    }
}

/// Writes a copy before a migration into `folder/snapshots/NAME.sqlite`. One of that name that
/// already stands is left as it is and a number is added.
#[allow(clippy::disallowed_methods, reason = "book/backup is one of the rooms that touch files")]
pub(super) fn snapshot(conn: &Connection, folder: &Path, name: &str) -> Result<PathBuf> {
    let place = folder.join("snapshots");
    std::fs::create_dir_all(&place)?;
    let mut target = place.join(format!("{name}.sqlite"));
    let mut number = 2;
    while target.exists() {
        target = place.join(format!("{name}-{number}.sqlite"));
        number += 1;
    }
    let part = target.with_extension("part");
    write_part(conn, &part)?;
    std::fs::rename(&part, &target)?;
    blobs::sync_folder(&place)?;
    Ok(target)
}

/// A copy under its final name, read back. Returns the name and the number of its newest act.
#[allow(clippy::disallowed_methods, reason = "book/backup is one of the rooms that touch files")]
fn take(conn: &Connection, folder: &Path, label: &str, device: &str, at: Moment) -> Result<(String, i64)> {
    std::fs::create_dir_all(folder)?;
    // Two devices may share the folder: each has a part file of its own.
    let part = folder.join(format!("{label}-{device}.part"));
    let whole = write_part(conn, &part).and_then(|()| read_back(&part, conn));
    if whole.is_err() && part.exists() {
        // What is left of it would take the room that is missing.
        std::fs::remove_file(&part)?;
    }
    let n = whole?;
    let name = CopyFile::named(label, at, &copies::hash_of(&part)?);
    std::fs::rename(&part, folder.join(&name))?;
    blobs::sync_folder(folder)?;
    Ok((name, n))
}

#[allow(clippy::disallowed_methods, reason = "book/backup is one of the rooms that touch files")]
fn write_part(conn: &Connection, part: &Path) -> Result<()> {
    if part.exists() {
        std::fs::remove_file(part)?;
    }
    conn.execute("VACUUM INTO ?1", [part.to_string_lossy()])?;
    std::fs::File::options().write(true).open(part)?.sync_all()?;
    Ok(())
}

/// Opens a copy and counts what is in it: as many acts and entries as the register had up to the
/// copy's newest act. The register may have grown since; acts are numbered and never change.
fn read_back(part: &Path, live: &Connection) -> Result<i64> {
    let copy = open::untouched(part)?;
    let damaged = |what: &str| Error::Damaged { what: format!("backup: {what}") };
    open::version_of_ours(&copy)?;
    if let Some(what) = open::quick_check(&copy)? {
        return Err(damaged(&what));
    }
    let n: i64 = copy.query_row("SELECT coalesce(max(n), 0) FROM act", [], |r| r.get(0))?;
    let count = |conn: &Connection| -> Result<(i64, i64)> {
        let sql =
            "SELECT (SELECT count(*) FROM act WHERE n <= ?1), (SELECT count(*) FROM entry WHERE act <= ?1)";
        Ok(conn.query_row(sql, [n], |r| Ok((r.get(0)?, r.get(1)?)))?)
    };
    if count(&copy)? == count(live)? { Ok(n) } else { Err(damaged("counts")) }
}
