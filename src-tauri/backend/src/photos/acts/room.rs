//! The room that photos take on this device: how much, what lies there without a record, what was moved out.
//! Never drops an original that was not read back whole elsewhere.
//! Invariant: an original is in the yard or in a folder that is named.

use crate::book::Book;
use crate::book::jobs::JobStarted;
use crate::book::moved::Orphan;
use crate::error::{Error, Result};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use ts_rs::TS;

/// Asks for the room photos take.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoRoom {}

/// The room photos take.
#[derive(Debug, Serialize, TS)]
pub struct PhotoRoomView {
    /// Originals on this device.
    pub here: i64,
    /// Their bytes.
    pub here_bytes: i64,
    /// Originals that were moved out from this device.
    pub moved: i64,
    /// Their bytes.
    pub moved_bytes: i64,
    /// The folders they were moved to.
    pub folders: Vec<String>,
    /// Previews, bytes.
    pub made_bytes: i64,
    /// Files that lie among the photos without a record of them. They are listed, never swept.
    pub orphans: Vec<Orphan>,
    /// Photos that belong to no log.
    pub loose: i64,
}

/// `photo_room`
///
/// # Errors
/// The register's own.
pub fn photo_room(book: &Book, _: PhotoRoom) -> Result<PhotoRoomView> {
    let orphans = book.orphans()?;
    let made_bytes = book.sizes().made;
    book.read(|conn| {
        let (here, here_bytes) = crate::book::moved::kept_here(conn)?;
        let (moved, moved_bytes, folders) = crate::book::moved::kept_there(conn)?;
        Ok(PhotoRoomView {
            here,
            here_bytes,
            moved,
            moved_bytes,
            folders,
            made_bytes,
            orphans: orphans.clone(),
            loose: super::super::rows::loose_count(conn)?,
        })
    })
}

/// Moves originals out to a folder, the oldest first, until no more than so many bytes are here.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct OriginalsOut {
    /// The folder: a card, a disk.
    pub folder: String,
    /// Bytes of originals to keep here.
    #[ts(type = "number")]
    pub keep_bytes: i64,
    /// The job's id, made by the screen.
    pub request: String,
}

/// `originals_out`: each is copied, forced to the disk, read back by its hash, and only then let go of here.
/// Previews stay.
///
/// # Errors
/// `Invalid` on `folder` or `keep_bytes`.
pub fn originals_out(book: &Book, ask: OriginalsOut) -> Result<JobStarted> {
    if ask.keep_bytes < 0 {
        return Err(Error::invalid("keep_bytes", "range"));
    }
    let job = book.move_out(&folder(&ask.folder)?, ask.keep_bytes, &ask.request)?;
    Ok(JobStarted { job })
}

/// Brings originals back from the folders they were moved to.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct OriginalsHome {
    /// The job's id, made by the screen.
    pub request: String,
}

/// `originals_home`: what can't be read whole there stays there and is said.
///
/// # Errors
/// `Invalid` on `request`.
pub fn originals_home(book: &Book, ask: OriginalsHome) -> Result<JobStarted> {
    Ok(JobStarted { job: book.move_home(&ask.request)? })
}

fn folder(text: &str) -> Result<PathBuf> {
    let path = PathBuf::from(text.trim());
    if text.trim().is_empty() {
        return Err(Error::invalid("folder", "empty"));
    }
    if path.is_absolute() { Ok(path) } else { Err(Error::invalid("folder", "no_folder")) }
}
