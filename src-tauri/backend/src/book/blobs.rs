//! Files kept by the hash of their bytes (BLAKE3), and what is rebuilt from them.
//! Never looks inside a file: what it is comes in as a value.
//! Invariant: a row exists only after its file is whole on the disk; bytes that do not match
//! their name are never handed out.

use super::{Book, hold};
use crate::error::{Error, Result};
use rusqlite::{OptionalExtension, params};
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

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
    /// Keeps bytes durably: temporary file, fsync, rename, fsync of the folder, then the row.
    ///
    /// # Errors
    /// `DiskFull` and the file system's own; then nothing is acknowledged.
    #[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
    pub fn keep_blob(&self, bytes: &[u8], about: &Value) -> Result<Blob> {
        let hash = blake3::hash(bytes).to_hex().to_string();
        let length = i64::try_from(bytes.len()).unwrap_or(i64::MAX);
        let path = path(&self.folder, &hash);
        let whole = fs::metadata(&path).is_ok_and(|m| m.len() == bytes.len() as u64)
            && fs::read(&path).is_ok_and(|old| blake3::hash(&old).to_hex().as_str() == hash);
        if !whole {
            write_durably(&path, bytes)?;
        }
        let already = self.write(|tx| {
            let known = tx
                .query_row("SELECT here FROM blob WHERE hash = ?1", [&hash], |r| r.get::<_, bool>(0))
                .optional()?;
            tx.execute(
                "INSERT INTO blob(hash, bytes, here, about) VALUES (?1, ?2, 1, ?3)
                 ON CONFLICT(hash) DO UPDATE SET here = 1, bytes = ?2, about = ?3",
                params![hash, length, about.to_string()],
            )?;
            Ok(known == Some(true))
        })?;
        Ok(Blob { hash, bytes: length, about: about.clone(), already: already && whole })
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
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                return Err(Error::Missing { what: "photo" });
            }
            Err(e) => return Err(e.into()),
        };
        if blake3::hash(&bytes).to_hex().as_str() == hash {
            Ok(bytes)
        } else {
            Err(Error::Damaged { what: "photo".into() })
        }
    }

    /// Something made from a blob, kept beside it and made again whenever it is not whole.
    /// The first 32 bytes of the kept file are the hash of the rest.
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
            && blake3::hash(rest).as_bytes() == sum
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
        file.write_all(blake3::hash(made).as_bytes())?;
        file.write_all(made)?;
        file.persist(folder.join(format!("{hash}.{name}"))).map_err(|e| e.error)?;
        Ok(())
    }

    /// What was found out about a blob when it was kept here.
    ///
    /// # Errors
    /// `Missing` when it was never kept here.
    pub fn about_blob(&self, hash: &str) -> Result<Value> {
        let conn = hold(&self.writer);
        let about: Option<String> = conn
            .query_row("SELECT about FROM blob WHERE hash = ?1 AND here = 1", [hash], |r| r.get(0))
            .optional()?
            .flatten();
        match about {
            Some(text) => Ok(serde_json::from_str(&text)?),
            None => Err(Error::Missing { what: "photo" }),
        }
    }
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
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
pub(super) fn write_durably(path: &Path, bytes: &[u8]) -> Result<()> {
    let folder = path.parent().ok_or_else(|| Error::Bug("a path without a folder".into()))?;
    fs::create_dir_all(folder)?;
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|e| e.error)?;
    sync_folder(folder)?;
    if let Some(above) = folder.parent() {
        sync_folder(above)?;
    }
    Ok(())
}

/// A rename is on the disk only when its folder is; where folders can't be opened (Windows) the
/// system does it by itself.
#[allow(clippy::disallowed_methods, reason = "book/blobs is one of the rooms that touch files")]
fn sync_folder(folder: &Path) -> Result<()> {
    #[cfg(unix)]
    fs::File::open(folder)?.sync_all()?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}
