//! Originals moved out of the yard to a folder of the grower's, and back; and files that no row names.
//! Never lets go of a file here before the one there was read back and is what its name says.
//! Invariant: a blob's row says where its file is: here, in a named folder, or not on this device.

use super::jobs::Job;
use super::{Book, blobs};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension, params};
use std::collections::HashSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A file among the blobs that no row names: a kill came between the file and its row.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Orphan {
    /// The hash that is its name.
    pub hash: String,
    /// Length, bytes.
    pub bytes: i64,
}

/// How many files are here, and their bytes.
///
/// # Errors
/// The register's own.
pub fn kept_here(conn: &Connection) -> Result<(i64, i64)> {
    let sql = "SELECT count(*), coalesce(sum(bytes), 0) FROM blob WHERE here = 1";
    Ok(conn.query_row(sql, [], |r| Ok((r.get(0)?, r.get(1)?)))?)
}

/// How many files were moved out, their bytes, and the folders.
///
/// # Errors
/// The register's own.
pub fn kept_there(conn: &Connection) -> Result<(i64, i64, Vec<String>)> {
    let sql = "SELECT count(*), coalesce(sum(bytes), 0) FROM blob WHERE here = 0 AND moved IS NOT NULL";
    let (count, bytes) = conn.query_row(sql, [], |r| Ok((r.get(0)?, r.get(1)?)))?;
    let mut list =
        conn.prepare("SELECT DISTINCT moved FROM blob WHERE here = 0 AND moved IS NOT NULL ORDER BY moved")?;
    let folders = list.query_map([], |r| r.get(0))?;
    Ok((count, bytes, folders.collect::<rusqlite::Result<_>>()?))
}

impl Book {
    /// Files among the blobs that no row names, by name.
    ///
    /// # Errors
    /// The register's own; a folder that can't be read has none.
    #[allow(clippy::disallowed_methods, reason = "looks through the blobs' own folders")]
    pub fn orphans(&self) -> Result<Vec<Orphan>> {
        let known: HashSet<String> = self.read(|conn| {
            let mut list = conn.prepare("SELECT hash FROM blob WHERE here = 1")?;
            let rows = list.query_map([], |r| r.get(0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })?;
        let entries = |path: &Path| fs::read_dir(path).into_iter().flatten().flatten();
        let files = entries(&self.folder.join("blobs")).flat_map(|folder| entries(&folder.path()));
        let orphan = |file: fs::DirEntry| {
            let hash = file.file_name().to_string_lossy().into_owned();
            let whole = blobs::check_name(&hash).is_ok() && !known.contains(&hash);
            let bytes = i64::try_from(file.metadata().ok()?.len()).unwrap_or(i64::MAX);
            whole.then_some(Orphan { hash, bytes })
        };
        let mut found: Vec<Orphan> = files.filter_map(orphan).collect();
        found.sort_by(|a, b| a.hash.cmp(&b.hash));
        Ok(found)
    }

    /// Starts moving files out to `folder`, those kept first, until no more than `keep` bytes are here. Returns
    /// the job's id.
    ///
    /// # Errors
    /// `Invalid` on `folder` when it is not there, on `request` when it is no UUID.
    pub fn move_out(&self, folder: &Path, keep: i64, request: &str) -> Result<String> {
        self.may_write()?;
        if !folder.is_dir() || folder.starts_with(&self.folder) {
            return Err(Error::invalid("folder", "no_folder"));
        }
        let (book, folder) = (self.clone(), folder.to_owned());
        self.jobs.start_for(request, move |job| book.out(job, &folder, keep))
    }

    fn out(&self, job: &Job, folder: &Path, keep: i64) -> Result<()> {
        self.left_behind()?;
        // Ids grow with time: a blob's row is as old as its rowid.
        let all: Vec<(String, i64)> = self.read(|conn| {
            let mut list = conn.prepare("SELECT hash, bytes FROM blob WHERE here = 1 ORDER BY rowid")?;
            let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })?;
        let mut here: i64 = all.iter().map(|(_, bytes)| bytes).sum();
        let mut going = Vec::new();
        for (hash, bytes) in all {
            if here <= keep {
                break;
            }
            here -= bytes;
            going.push(hash);
        }
        let (total, mut moved) = (going.len(), 0);
        for (n, hash) in going.iter().enumerate() {
            if job.is_cancelled() {
                break;
            }
            match self.one_out(hash, folder) {
                Ok(()) => moved += 1,
                // What is not whole here stays where it is: nothing better is known of it.
                Err(Error::Damaged { .. }) => job.found(format!("swapped {hash}")),
                Err(Error::Missing { .. }) => job.found(format!("missing {hash}")),
                Err(error) => return Err(error),
            }
            job.step(n + 1, total);
        }
        job.result(serde_json::json!({"moved": moved, "of": total}).to_string());
        Ok(())
    }

    /// Lets go of files whose rows say that they were moved out: a kill came before.
    #[allow(clippy::disallowed_methods, reason = "lets go of files that were read back whole elsewhere")]
    fn left_behind(&self) -> Result<()> {
        let moved: Vec<(String, String)> = self.read(|conn| {
            let mut list =
                conn.prepare("SELECT hash, moved FROM blob WHERE here = 0 AND moved IS NOT NULL")?;
            let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })?;
        for (hash, folder) in moved {
            let here = blobs::path(&self.folder, &hash);
            if here.exists() && is_whole(&Path::new(&folder).join(&hash), &hash) {
                fs::remove_file(&here)?;
            }
        }
        Ok(())
    }

    #[allow(clippy::disallowed_methods, reason = "lets go of a file that was read back whole elsewhere")]
    fn one_out(&self, hash: &str, folder: &Path) -> Result<()> {
        let here = blobs::path(&self.folder, hash);
        let bytes = self.blob(hash)?;
        let there = folder.join(hash);
        if !is_whole(&there, hash) {
            blobs::write_durably(&there, &bytes)?;
            if !is_whole(&there, hash) {
                return Err(Error::conflict("not_read_back", serde_json::json!({"hash": hash})));
            }
        }
        let moved = folder.to_string_lossy().into_owned();
        self.write(|tx| {
            tx.execute("UPDATE blob SET here = 0, moved = ?2 WHERE hash = ?1", params![hash, moved])?;
            Ok(())
        })?;
        // The row is on the disk: a kill from here on leaves a file too many, never one too few.
        fs::remove_file(&here)?;
        Ok(())
    }

    /// Starts bringing all files back that were moved out. Returns the job's id.
    ///
    /// # Errors
    /// `Invalid` on `request` when it is no UUID.
    pub fn move_home(&self, request: &str) -> Result<String> {
        self.may_write()?;
        let book = self.clone();
        self.jobs.start_for(request, move |job| book.home(job))
    }

    fn home(&self, job: &Job) -> Result<()> {
        let all: Vec<String> = self.read(|conn| {
            let mut list =
                conn.prepare("SELECT hash FROM blob WHERE here = 0 AND moved IS NOT NULL ORDER BY rowid")?;
            let rows = list.query_map([], |r| r.get(0))?;
            Ok(rows.collect::<rusqlite::Result<_>>()?)
        })?;
        let (total, mut back) = (all.len(), 0);
        for (n, hash) in all.iter().enumerate() {
            if job.is_cancelled() {
                break;
            }
            match self.moved(hash) {
                Ok(bytes) => {
                    blobs::write_durably(&blobs::path(&self.folder, hash), &bytes)?;
                    self.write(|tx| {
                        tx.execute("UPDATE blob SET here = 1, moved = NULL WHERE hash = ?1", [hash])?;
                        Ok(())
                    })?;
                    back += 1;
                }
                Err(Error::Damaged { .. }) => job.found(format!("swapped {hash}")),
                Err(_) => job.found(format!("missing {hash}")),
            }
            job.step(n + 1, total);
        }
        job.result(serde_json::json!({"moved": back, "of": total}).to_string());
        Ok(())
    }

    /// The bytes of a file that was moved out, when its folder is at hand.
    ///
    /// # Errors
    /// `Missing` with the folder's name gone or never there, `Damaged` when the file is not what its name says.
    #[allow(clippy::disallowed_methods, reason = "reads what this room moved out")]
    pub(super) fn moved(&self, hash: &str) -> Result<Vec<u8>> {
        blobs::check_name(hash)?;
        let folder: Option<String> = self.read(|conn| {
            let sql = "SELECT moved FROM blob WHERE hash = ?1 AND here = 0";
            Ok(conn.query_row(sql, [hash], |r| r.get(0)).optional()?.flatten())
        })?;
        let missing = || Error::Missing { what: "photo" };
        let path = PathBuf::from(folder.ok_or_else(missing)?).join(hash);
        let bytes = fs::read(path).map_err(|_| missing())?;
        if blake3::hash(&bytes).to_hex().as_str() == hash {
            Ok(bytes)
        } else {
            Err(Error::Damaged { what: "photo".into() })
        }
    }
}

#[allow(clippy::disallowed_methods, reason = "reads back what was written there")]
fn is_whole(path: &Path, hash: &str) -> bool {
    fs::read(path).is_ok_and(|bytes| blake3::hash(&bytes).to_hex().as_str() == hash)
}
