//! Commands about photos: keeping one, finding its log, and handing one out to be shown.
//! Never ties a photo to a log: a look does that, or `tie`, in an act of its own.
//! Invariant: when `photo_keep` returns, the original lies on the disk, whole.

mod caps;
mod room;
mod tie;

pub use caps::{CapAdd, CapForm, CapFormAsk, CapTried, CapTry, cap_add, cap_form, cap_try};
pub use room::{
    OriginalsHome, OriginalsOut, PhotoRoom, PhotoRoomView, originals_home, originals_out, photo_room,
};
pub use tie::{
    LooseList, LooseView, PhotoAdd, PhotoFind, PhotoFound, PhotoTie, PinnedView, PinnedWeek, Taken,
    loose_list, photo_add, photo_find, photo_tie, pinned_week,
};

use super::rules::{self, About, LARGE, SMALL};
use super::share;
use crate::beside::beside;
use crate::book::Book;
use crate::error::{Error, Result};
use base64::Engine;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Keeps a photo. The bytes come beside the request, or in it where only JSON passes.
#[derive(Debug, Default, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoKeep {
    /// The file's bytes, base64, when they do not come raw.
    #[ts(optional = nullable)]
    pub base64: Option<String>,
    /// The file's bytes, raw.
    #[serde(skip)]
    #[ts(skip)]
    pub bytes: Option<Vec<u8>>,
}

/// A photo that was kept.
#[derive(Debug, Serialize, TS)]
pub struct PhotoKept {
    /// The hash of its bytes: its name from now on.
    pub hash: String,
    /// Length, bytes.
    pub bytes: i64,
    /// Width as it is looked at, pixels.
    pub width: u32,
    /// Height as it is looked at, pixels.
    pub height: u32,
    /// The kind of file.
    pub mime: String,
    /// When it was taken, by the camera's own clock.
    pub taken: Option<String>,
    /// The same bytes had been kept before.
    pub already: bool,
    /// Why it is kept but cannot be shown here: `heic` or `too_much_memory`.
    pub unshown: Option<String>,
}

/// `photo_keep`
///
/// # Errors
/// `Invalid` on `photo`, `DiskFull`; then nothing was kept.
pub fn photo_keep(book: &Book, ask: PhotoKeep) -> Result<PhotoKept> {
    let bytes = match (ask.bytes, ask.base64) {
        (Some(bytes), _) => bytes,
        (None, Some(text)) => base64::engine::general_purpose::STANDARD
            .decode(text)
            .map_err(|_| Error::invalid("photo", "not_an_image"))?,
        (None, None) => Vec::new(),
    };
    // What is no photo at all is never written; all else is worked out while the disk writes.
    rules::kind(&bytes)?;
    let (blob, (about, previews)) = book.keep_blob(&bytes, || {
        let seen = rules::see(&bytes)?;
        let previews = beside(|| seen.preview(SMALL), || seen.preview(LARGE));
        Ok((serde_json::to_value(&seen.about)?, (seen.about, previews)))
    })?;
    // Previews can be made again: a full disk here must not unsay that the photo is kept.
    if let Ok((Ok(Some(small)), Ok(Some(large)))) = previews {
        let _later = book.keep_made(&blob.hash, "small", &small);
        let _later = book.keep_made(&blob.hash, "large", &large);
    }
    let About { width, height, mime, taken, unshown } = about;
    Ok(PhotoKept {
        hash: blob.hash,
        bytes: blob.bytes,
        width,
        height,
        mime,
        taken,
        already: blob.already,
        unshown,
    })
}

/// Asks for a photo to hand on.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoShare {
    /// Its hash.
    pub hash: String,
}

/// A photo to hand on.
#[derive(Debug, Serialize, TS)]
pub struct PhotoShared {
    /// A name for the file: of it only the day and the first digits of its hash.
    pub name: String,
    /// Its bytes, without the place and what else a camera wrote into it but the hour.
    pub base64: String,
}

/// `photo_share`
///
/// # Errors
/// `Missing` when it is not here, `Damaged` when its file is not what its name says.
pub fn photo_share(book: &Book, ask: PhotoShare) -> Result<PhotoShared> {
    let shared = share::stripped(&book.blob(&ask.hash)?)?;
    let taken = super::exif::read(&shared).taken.unwrap_or_default();
    let day = taken.get(..10).map(|day| format!("{day}-")).unwrap_or_default();
    let name = format!("log-{day}{}.{}", &ask.hash[..8], share::ending(&shared));
    Ok(PhotoShared { name, base64: base64::engine::general_purpose::STANDARD.encode(&shared) })
}

/// What was found out about a kept photo.
///
/// # Errors
/// `Invalid` on `photos` when it was never kept here.
pub fn about(book: &Book, hash: &str) -> Result<About> {
    let unknown = |_| Error::invalid("photos", "unknown_word");
    serde_json::from_value(book.about_blob(hash).map_err(unknown)?).map_err(Error::from)
}

/// A photo to be shown: `HASH.small`, `HASH.large` or `HASH.whole`. Returns its kind and bytes.
///
/// # Errors
/// `Missing` when it is not here, `Damaged` when its file is not what its name says.
pub fn show(book: &Book, name: &str) -> Result<(String, Vec<u8>)> {
    let missing = || Error::Missing { what: "photo" };
    let (hash, size) = name.split_once('.').ok_or_else(missing)?;
    let preview = |edge| {
        let made =
            book.made_from(hash, size, |bytes| rules::see(bytes)?.preview(edge)?.ok_or_else(missing))?;
        Ok(("image/jpeg".to_owned(), made))
    };
    match size {
        "small" => preview(SMALL),
        "large" => preview(LARGE),
        "whole" => {
            let bytes = book.blob(hash)?;
            // What cannot be shown is not handed to the page's own decoder either.
            if rules::look_over(&bytes).is_ok_and(|about| about.unshown.is_some()) {
                return Err(missing());
            }
            let kind = image::guess_format(&bytes).map_err(|_| missing())?;
            Ok((kind.to_mime_type().to_owned(), bytes))
        }
        _ => Err(missing()),
    }
}
