//! Files kept by the hash of their bytes (BLAKE3), and what is rebuilt from them.
//! Never looks inside a file: what it is comes in as a value.
//! Invariant: a row exists only after its file is whole on the disk; bytes that do not match
//! their name are never handed out.

use super::Book;
use crate::beside::beside;
use crate::error::{Error, Result};
use rusqlite::{OptionalExtension, params};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// What is forced to the disk at the same time.
const SIDE_BY_SIDE: usize = 8;

/// Most blobs that are acknowledged together.
const GROUP: usize = 64;
/// Bytes written out together.
pub(super) const TOGETHER: usize = 32 << 20;

/// A kept blob.
#[derive(Debug, Clone, PartialEq)]
pub struct Blob {
    /// BLAKE3 of the bytes, 64 hexadecimal digits.
    pub hash: String,
    /// Length in bytes.
    pub bytes: i64,
    /// What was found out about it when it was kept.
    pub about: Value,
    /// It had been kept before.
    pub already: bool,
}

impl Book {
    /// Keeps bytes durably: temporary file, fsync, rename, fsync of the folder, then the row. `look` finds out
    /// what they are while they are written; what it refuses leaves nothing behind.
    ///
    /// # Errors
    /// Those of `look`, `DiskFull` and the file system's own; then nothing is acknowledged.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    pub fn keep_blob<T: Send>(
        &self,
        bytes: &[u8],
        look: impl FnOnce() -> Result<(Value, T)> + Send,
    ) -> Result<(Blob, T)> {
        self.may_write()?;
        let (seen, written) = beside(look, || self.written(bytes))?;
        let (about, seen) = seen?;
        let (hash, file) = written?;
        let whole = file.is_none();
        if let Some(file) = file {
            name(file, &path(&self.folder, &hash))?;
        }
        let length = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
        let already = self.write(|tx| {
            let known = tx
                .query_row("SELECT here FROM blob WHERE hash = ?1", [&hash], |r| r.get::<_, bool>(0))
                .optional()?;
            tx.execute(
                "INSERT INTO blob(hash, bytes, here, about) VALUES (?1, ?2, 1, ?3)
                 ON CONFLICT(hash) DO UPDATE SET here = 1, bytes = ?2, about = ?3, moved = NULL",
                params![hash, length, about.to_string()],
            )?;
            Ok(known == Some(true))
        })?;
        Ok((Blob { hash, bytes: length, about, already: already && whole }, seen))
    }

    /// The bytes' hash, and a file of them that has no name yet; none when they lie here whole.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    fn written(&self, bytes: &[u8]) -> Result<(String, Option<tempfile::NamedTempFile>)> {
        let hash = blake3::hash(bytes).to_hex().to_string();
        let path = path(&self.folder, &hash);
        let whole = fs::metadata(&path).is_ok_and(|m| m.len() == bytes.len() as u64)
            && fs::read(&path).is_ok_and(|old| blake3::hash(&old).to_hex().as_str() == hash);
        let file = if whole { None } else { Some(set_down(&path, bytes)?) };
        Ok((hash, file))
    }

    /// Keeps many blobs, each as durably as one. Returns how many were not here before.
    ///
    /// # Errors
    /// `DiskFull` and the file system's own; those before may be kept then.
    pub fn keep_blobs(&self, blobs: Vec<(Vec<u8>, Value)>) -> Result<usize> {
        self.keep_as_they_come(blobs.into_iter())
    }

    /// Keeps blobs as they come: each is written while its bytes are still at hand, and forced to the
    /// disk, named and acknowledged in groups by a thread beside. Returns how many were not here
    /// before.
    ///
    /// # Errors
    /// As [`Book::keep_blobs`]; the groups before are kept then.
    pub(super) fn keep_as_they_come(&self, blobs: impl Iterator<Item = (Vec<u8>, Value)>) -> Result<usize> {
        self.may_write()?;
        std::thread::scope(|scope| {
            let (send, parts) = std::sync::mpsc::sync_channel::<Part>(GROUP);
            let keeping = scope.spawn(move || {
                let mut new = 0;
                while let Ok(first) = parts.recv() {
                    let more = std::iter::from_fn(|| parts.try_recv().ok()).take(GROUP);
                    new += self.keep_parts(std::iter::once(first).chain(more).collect())?;
                }
                Ok(new)
            });
            // Each is written and handed on; when nobody takes it any more, the thread's own error says why.
            let handed_on = |blob: Result<Part>| blob.map(|part| send.send(part).is_ok());
            let mut written = Ok(true);
            for (bytes, about) in blobs {
                written = handed_on(self.part(&bytes, about));
                if !matches!(written, Ok(true)) {
                    break;
                }
            }
            drop(send);
            let kept = keeping.join().unwrap_or_else(|_| Err(Error::Bug("keeping stopped".into())));
            written.and(kept)
        })
    }

    /// A blob's bytes in a file without its name yet.
    fn part(&self, bytes: &[u8], about: Value) -> Result<Part> {
        let hash = blake3::hash(bytes).to_hex().to_string();
        let path = path(&self.folder, &hash);
        let folder = path.parent().ok_or_else(|| Error::Bug("a path without a folder".into()))?;
        make_folder(folder.parent().unwrap_or(folder))?;
        // Its own name is forced to the disk with the group's, before anything is acknowledged.
        fs::create_dir_all(folder)?;
        let mut file = tempfile::NamedTempFile::new_in(folder)?;
        file.write_all(bytes)?;
        Ok(Part { row: Row { hash, bytes: bytes.len(), about }, file, path })
    }

    fn keep_parts(&self, parts: Vec<Part>) -> Result<usize> {
        side_by_side(&parts, |part| Ok(part.file.as_file().sync_data()?))?;
        let (mut folders, mut rows) = (BTreeSet::new(), Vec::new());
        for part in parts {
            part.file.persist(&part.path).map_err(|e| e.error)?;
            folders.extend(part.path.ancestors().skip(1).take(2).map(Path::to_owned));
            rows.push(part.row);
        }
        side_by_side(&folders.into_iter().collect::<Vec<_>>(), |folder| sync_folder(folder))?;
        self.acknowledge_blobs(&rows)
    }

    /// The rows of blobs whose files are whole on the disk. Returns how many were not here before.
    fn acknowledge_blobs(&self, rows: &[Row]) -> Result<usize> {
        self.write(|tx| {
            let mut new = 0;
            let mut known =
                tx.prepare_cached("SELECT EXISTS(SELECT 1 FROM blob WHERE hash = ?1 AND here = 1)")?;
            let mut keep = tx.prepare_cached(
                "INSERT INTO blob(hash, bytes, here, about) VALUES (?1, ?2, 1, ?3)
                 ON CONFLICT(hash) DO UPDATE SET here = 1, bytes = ?2, about = ?3, moved = NULL",
            )?;
            for row in rows {
                let here: bool = known.query_row([&row.hash], |r| r.get(0))?;
                new += usize::from(!here);
                let length = i64::try_from(row.bytes).unwrap_or(i64::MAX);
                keep.execute(params![row.hash, length, row.about.to_string()])?;
            }
            Ok(new)
        })
    }

    /// The bytes of a blob.
    ///
    /// # Errors
    /// `Missing` when it is not here (yet), `Damaged` when the file is not what its name says.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    pub fn blob(&self, hash: &str) -> Result<Vec<u8>> {
        check_name(hash)?;
        let bytes = match fs::read(path(&self.folder, hash)) {
            Ok(bytes) => bytes,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return self.moved(hash),
            Err(e) => return Err(e.into()),
        };
        if blake3::hash(&bytes).to_hex().as_str() == hash {
            Ok(bytes)
        } else {
            Err(Error::Damaged { what: "photo".into() })
        }
    }

    /// Something made from a blob, kept beside it and made again whenever it is not whole.
    /// The first 32 bytes of the kept file are its sum.
    ///
    /// # Errors
    /// Whatever `make` or reading the blob returns.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    pub fn made_from(
        &self,
        hash: &str,
        name: &str,
        make: impl FnOnce(&[u8]) -> Result<Vec<u8>>,
    ) -> Result<Vec<u8>> {
        check_name(hash)?;
        let path = self.folder.join("made").join(&hash[..2]).join(format!("{hash}.{name}"));
        if let Ok(kept) = fs::read(&path)
            && let Some((sum, rest)) = kept.split_at_checked(32)
            && sum_of(hash, name, rest).as_bytes() == sum
        {
            return Ok(rest.to_vec());
        }
        let made = make(&self.blob(hash)?)?;
        self.keep_made(hash, name, &made)?;
        Ok(made)
    }

    /// Keeps something made from a blob. It can be made again, so it is not forced to the disk.
    ///
    /// # Errors
    /// The file system's own.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    pub fn keep_made(&self, hash: &str, name: &str, made: &[u8]) -> Result<()> {
        check_name(hash)?;
        let folder = self.folder.join("made").join(&hash[..2]);
        fs::create_dir_all(&folder)?;
        let mut file = tempfile::NamedTempFile::new_in(&folder)?;
        file.write_all(sum_of(hash, name, made).as_bytes())?;
        file.write_all(made)?;
        file.persist(folder.join(format!("{hash}.{name}"))).map_err(|e| e.error)?;
        Ok(())
    }

    /// What was found out about a blob when it was kept here.
    ///
    /// # Errors
    /// `Missing` when it was never kept here.
    pub fn about_blob(&self, hash: &str) -> Result<Value> {
        let about: Option<String> = self.read(|conn| {
            let sql = "SELECT about FROM blob WHERE hash = ?1 AND (here = 1 OR moved IS NOT NULL)";
            Ok(conn.query_row(sql, [hash], |r| r.get(0)).optional()?.flatten())
        })?;
        match about {
            Some(text) => Ok(serde_json::from_str(&text)?),
            None => Err(Error::Missing { what: "photo" }),
        }
    }
}

/// The sum of something made from a blob: of what it was made from, too, so that another's file in
/// its place is not taken for it.
fn sum_of(hash: &str, name: &str, made: &[u8]) -> blake3::Hash {
    let mut sum = blake3::Hasher::new();
    sum.update(format!("{hash}.{name}\n").as_bytes()).update(made);
    sum.finalize()
}

/// A blob written and not yet acknowledged; dropped, it leaves nothing.
struct Part {
    row: Row,
    file: tempfile::NamedTempFile,
    path: PathBuf,
}

/// What the register keeps of a blob.
struct Row {
    hash: String,
    bytes: usize,
    about: Value,
}

/// Where a blob lies: two digits of its hash, then the whole.
pub(super) fn path(folder: &Path, hash: &str) -> PathBuf {
    folder.join("blobs").join(&hash[..2]).join(hash)
}

/// A hash is 64 lower-case hexadecimal digits; anything else never reaches a path.
pub(super) fn check_name(hash: &str) -> Result<()> {
    let good = hash.len() == 64 && hash.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    if good { Ok(()) } else { Err(Error::Missing { what: "photo" }) }
}

/// Temporary file in the same folder, fsync, rename, fsync of the folder.
pub(super) fn write_durably(path: &Path, bytes: &[u8]) -> Result<()> {
    name(set_down(path, bytes)?, path)
}

/// The bytes, forced to the disk in the folder of their name, but without it: dropped, they are gone.
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
fn set_down(path: &Path, bytes: &[u8]) -> Result<tempfile::NamedTempFile> {
    let folder = path.parent().ok_or_else(|| Error::Bug("a path without a folder".into()))?;
    make_folder(folder)?;
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}

/// Gives a file its name, and forces the name to the disk.
fn name(file: tempfile::NamedTempFile, path: &Path) -> Result<()> {
    file.persist(path).map_err(|e| e.error)?;
    path.ancestors().skip(1).take(2).try_for_each(sync_folder)
}

/// Many files, each whole or absent: written, forced to the disk side by side (a disk takes many
/// at once nearly as fast as one), renamed, and each folder forced once.
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
pub(super) fn write_all_durably(files: &[(PathBuf, &[u8])]) -> Result<()> {
    let mut folders = BTreeSet::new();
    for (path, _) in files {
        let folder = path.parent().ok_or_else(|| Error::Bug("a path without a folder".into()))?;
        if folders.insert(folder) {
            make_folder(folder)?;
        }
    }
    side_by_side(files, |(path, bytes)| write_one(path, bytes))?;
    let above: BTreeSet<&Path> = folders.iter().filter_map(|folder| folder.parent()).collect();
    folders.into_iter().chain(above).try_for_each(sync_folder)
}

#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
fn write_one(path: &Path, bytes: &[u8]) -> Result<()> {
    let mut file = tempfile::NamedTempFile::new_in(path.parent().unwrap_or(path))?;
    file.write_all(bytes)?;
    file.as_file().sync_data()?;
    file.persist(path).map_err(|e| e.error)?;
    Ok(())
}

/// Does `work` for all, several at a time: a disk forces many things out nearly as fast as one.
fn side_by_side<T: Sync>(all: &[T], work: impl Fn(&T) -> Result<()> + Sync) -> Result<()> {
    let share = all.len().div_ceil(SIDE_BY_SIDE).max(1);
    std::thread::scope(|scope| {
        let work = &work;
        let threads: Vec<_> =
            all.chunks(share).map(|part| scope.spawn(move || part.iter().try_for_each(work))).collect();
        let stopped = |_| Err(Error::Bug("a thread stopped".into()));
        threads.into_iter().try_for_each(|thread| thread.join().unwrap_or_else(stopped))
    })
}

/// Makes a folder and those above it and forces each new name to the disk: a file in a folder whose
/// own name was lost with the power is lost with it.
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
pub(super) fn make_folder(folder: &Path) -> Result<()> {
    let Some(above) = folder.parent().filter(|_| !folder.is_dir()) else { return Ok(()) };
    let above = if above.as_os_str().is_empty() { Path::new(".") } else { above };
    make_folder(above)?;
    match fs::create_dir(folder) {
        Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {}
        made => made?,
    }
    sync_folder(above)
}

/// A rename is on the disk only when its folder is; where folders can't be opened (Windows) the
/// system does it by itself.
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
pub(super) fn sync_folder(folder: &Path) -> Result<()> {
    #[cfg(unix)]
    fs::File::open(folder)?.sync_all()?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}
