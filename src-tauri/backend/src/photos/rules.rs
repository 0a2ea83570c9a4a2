//! What a photo may be, decided from its first bytes and its size; and its previews.
//! Never touches a file and never trusts what a header claims before it is bounded.
//! Invariant: nothing is decoded whose claimed size is over the bounds.

use super::decode::{self, MAX_EDGE, refused};
use super::exif::{self, Exif};
use super::pack;
use crate::error::{Error, Result};
use fast_image_resize::{ResizeAlg, ResizeOptions, Resizer};
use image::{DynamicImage, GrayImage, ImageFormat, ImageReader};
use serde_json::json;
use std::io::Cursor;

/// Largest file, bytes.
pub const MAX_BYTES: usize = 64 << 20;
/// Most pixels: a 64-megapixel camera, and a little room.
const MAX_PIXELS: u64 = 68_000_000;
/// Longest edge of the small preview, pixels.
pub const SMALL: u32 = 512;
/// Longest edge of the large preview, pixels.
pub const LARGE: u32 = 1600;
/// Longest edge at which codes are looked for, pixels: a 12-megapixel photo as it is.
const LOOKED: u32 = 3600;
/// How HEIC calls itself (ISO/IEC 23008-12).
pub const HEIC: &str = "image/heic";

/// What was found out about a photo.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct About {
    /// Width as it is looked at, pixels; 0: the file does not say it where it is looked for.
    pub width: u32,
    /// Height as it is looked at, pixels.
    pub height: u32,
    /// `image/jpeg`, `image/png`, `image/webp` or `image/heic`.
    pub mime: String,
    /// When it was taken, `YYYY-MM-DDThh:mm:ss` with an offset where the camera wrote one.
    pub taken: Option<String>,
    /// Why it is kept but cannot be shown here: `heic` or `too_much_memory`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unshown: Option<String>,
}

/// A photo that was looked over and decoded once: whole by all that its decoder could tell.
#[derive(Debug)]
pub struct Seen {
    /// What was found out.
    pub about: About,
    picture: Option<image::RgbImage>,
    orientation: u8,
}

/// Looks a photo over: kind, bounds, wholeness, then decodes it once. All that can refuse it is here.
///
/// # Errors
/// `Invalid` on field `photo` with why: `empty_file`, `too_big_bytes`, `not_an_image`,
/// `too_big_pixels`, `cut_short`.
pub fn see(bytes: &[u8]) -> Result<Seen> {
    let (mut about, orientation) = looked_over(bytes)?;
    let Some(format) = kind(bytes)? else { return Ok(Seen { about, picture: None, orientation }) };
    let picture = match decode::colour(bytes, format, LARGE) {
        Ok(picture) => Some(picture),
        // It may well be whole: it is kept, and another device can show it.
        Err(Error::Invalid { why: "too_much_memory", .. }) => {
            about.unshown = Some("too_much_memory".to_owned());
            None
        }
        Err(error) => return Err(error),
    };
    Ok(Seen { about, picture, orientation })
}

impl Seen {
    /// A preview as JPEG, at most `edge` pixels long, made small before it is turned; `None` when the photo
    /// cannot be shown here.
    ///
    /// # Errors
    /// `Bug` when an encoder fails.
    pub fn preview(&self, edge: u32) -> Result<Option<Vec<u8>>> {
        let Some(picture) = &self.picture else { return Ok(None) };
        let small = shrunk(picture, edge)?;
        let small = small.as_ref().unwrap_or(picture);
        if self.orientation == 1 {
            return pack::jpeg(small).map(Some);
        }
        let upright = turned(DynamicImage::ImageRgb8(small.clone()), self.orientation);
        pack::jpeg(&upright.into_rgb8()).map(Some)
    }
}

/// Looks a photo over without decoding it: kind, bounds, wholeness as far as its parts tell. For
/// photos that another device has opened already.
///
/// # Errors
/// As [`see`].
pub fn look_over(bytes: &[u8]) -> Result<About> {
    looked_over(bytes).map(|(about, _)| about)
}

/// The same, with its EXIF orientation.
fn looked_over(bytes: &[u8]) -> Result<(About, u8)> {
    let Exif { orientation, taken, .. } = exif::read(bytes);
    let Some(format) = kind(bytes)? else {
        let (width, height) = heic_size(bytes);
        let unshown = Some("heic".to_owned());
        return Ok((About { width, height, mime: HEIC.to_owned(), taken, unshown }, orientation));
    };
    let (width, height) = claimed_size(bytes, format)?;
    if format == ImageFormat::Jpeg && !is_whole_jpeg(bytes) {
        return Err(refused("cut_short"));
    }
    let sideways = (5..=8).contains(&orientation);
    let (width, height) = if sideways { (height, width) } else { (width, height) };
    let mime = format.to_mime_type().to_owned();
    Ok((About { width, height, mime, taken, unshown: None }, orientation))
}

/// The photo's brightness as it is looked at, for finding codes in it.
///
/// # Errors
/// As [`see`], and for what cannot be shown here its reason.
pub fn brightness(bytes: &[u8]) -> Result<GrayImage> {
    let (about, orientation) = looked_over(bytes)?;
    let Some(format) = kind(bytes)? else { return Err(refused("heic")) };
    let longest = about.width.max(about.height);
    // Decoding halves: from twice of what is wanted on, the half will do.
    let edge = if longest >= 2 * LOOKED { LOOKED } else { longest };
    let picture = DynamicImage::ImageLuma8(decode::grey(bytes, format, edge)?);
    Ok(turned(picture, orientation).into_luma8())
}

/// The kind by the first bytes; `None` for HEIC, which is kept unseen.
///
/// # Errors
/// `Invalid` on field `photo` with why: `empty_file`, `too_big_bytes`, `not_an_image`, `cut_short`.
pub(super) fn kind(bytes: &[u8]) -> Result<Option<ImageFormat>> {
    if bytes.is_empty() {
        return Err(refused("empty_file"));
    }
    if bytes.len() > MAX_BYTES {
        return Err(Error::invalid_with("photo", "too_big_bytes", json!({"max_bytes": MAX_BYTES})));
    }
    if is_heic(bytes) {
        return if heic_is_whole(bytes) { Ok(None) } else { Err(refused("cut_short")) };
    }
    match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP)) => Ok(Some(format)),
        _ => Err(refused("not_an_image")),
    }
}

/// ISO base media: size, then `ftyp`, then the brand.
pub fn is_heic(bytes: &[u8]) -> bool {
    let brand = bytes.get(4..12).and_then(|b| b.strip_prefix(b"ftyp"));
    brand.is_some_and(|brand| {
        [b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"].iter().any(|h| *h == brand)
    })
}

/// Walks the outer boxes (ISO/IEC 14496-12, 4.2): each as long as it says, the last to the end of the file.
fn heic_is_whole(bytes: &[u8]) -> bool {
    let mut at = 0;
    let mut meta = false;
    while at < bytes.len() {
        let Some(head) = bytes.get(at..at + 8) else { return false };
        let short = u64::from(u32::from_be_bytes([head[0], head[1], head[2], head[3]]));
        meta |= &head[4..8] == b"meta";
        let size = match short {
            0 => return meta,
            1 => match bytes.get(at + 8..at + 16).and_then(|b| <[u8; 8]>::try_from(b).ok()) {
                Some(long) => u64::from_be_bytes(long),
                None => return false,
            },
            size => size,
        };
        let Ok(size) = usize::try_from(size) else { return false };
        if size < 8 || size > bytes.len() - at {
            return false;
        }
        at += size;
    }
    meta
}

/// The largest size that an `ispe` property names (ISO/IEC 23008-12, 6.5.3): tiles and thumbnails are smaller.
fn heic_size(bytes: &[u8]) -> (u32, u32) {
    let head = &bytes[..bytes.len().min(1 << 18)];
    let sizes = head.windows(16).filter(|w| &w[..4] == b"ispe").map(|w| {
        let side = |at: usize| u32::from_be_bytes([w[at], w[at + 1], w[at + 2], w[at + 3]]);
        (side(8), side(12))
    });
    let bounded = sizes.filter(|(w, h)| (1..=MAX_EDGE).contains(w) && (1..=MAX_EDGE).contains(h));
    bounded.max_by_key(|(w, h)| u64::from(*w) * u64::from(*h)).unwrap_or((0, 0))
}

/// The size in the header, within bounds.
fn claimed_size(bytes: &[u8], format: ImageFormat) -> Result<(u32, u32)> {
    let reader = ImageReader::with_format(Cursor::new(bytes), format);
    let (width, height) = reader.into_dimensions().map_err(|_| refused("cut_short"))?;
    let pixels = u64::from(width) * u64::from(height);
    if width > MAX_EDGE || height > MAX_EDGE || pixels > MAX_PIXELS {
        let detail = json!({"width": width, "height": height, "max_pixels": MAX_PIXELS});
        return Err(Error::invalid_with("photo", "too_big_pixels", detail));
    }
    if pixels == 0 {
        return Err(refused("not_an_image"));
    }
    Ok((width, height))
}

/// Walks the segments up to the scan and asks whether an end marker follows it: decoders fill a
/// cut-off picture with grey and say nothing.
fn is_whole_jpeg(bytes: &[u8]) -> bool {
    const END: [u8; 2] = [0xFF, 0xD9];
    let mut at = 2;
    loop {
        let Some([0xFF, marker]) = bytes.get(at..at + 2) else { return false };
        match marker {
            0xFF => at += 1,
            0x01 | 0xD0..=0xD7 => at += 2,
            // From the end: there it stands in a whole file.
            0xDA => return bytes[at..].windows(2).rev().any(|pair| pair == END),
            _ => {
                let Some([high, low]) = bytes.get(at + 2..at + 4) else { return false };
                at += 2 + usize::from(u16::from_be_bytes([*high, *low]));
            }
        }
    }
}

/// The picture as it is looked at: EXIF orientation 1–8 applied.
fn turned(picture: DynamicImage, orientation: u8) -> DynamicImage {
    let mut picture = picture;
    if let Some(turn) = image::metadata::Orientation::from_exif(orientation) {
        picture.apply_orientation(turn);
    }
    picture
}

/// At most `edge` pixels long; `None` for a picture that already is.
fn shrunk(picture: &image::RgbImage, edge: u32) -> Result<Option<image::RgbImage>> {
    let (width, height) = picture.dimensions();
    let longest = width.max(height);
    if longest <= edge {
        return Ok(None);
    }
    let scaled = |side: u32| {
        let side = u64::from(side) * u64::from(edge) / u64::from(longest);
        u32::try_from(side).unwrap_or(edge).max(1)
    };
    let mut target = image::RgbImage::new(scaled(width), scaled(height));
    let options =
        ResizeOptions::new().resize_alg(ResizeAlg::Convolution(fast_image_resize::FilterType::Bilinear));
    Resizer::new()
        .resize(picture, &mut target, Some(&options))
        .map_err(|e| Error::Bug(format!("preview: {e}")))?;
    Ok(Some(target))
}
