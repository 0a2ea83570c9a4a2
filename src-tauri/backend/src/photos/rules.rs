//! What a photo may be, decided from its first bytes and its size; and its previews.
//! Never touches a file and never trusts what a header claims before it is bounded.
//! Invariant: nothing is decoded whose claimed size is over the bounds.

use super::exif::{self, Exif};
use crate::error::{Error, Result};
use fast_image_resize::{ResizeAlg, ResizeOptions, Resizer};
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use serde_json::json;
use std::io::Cursor;

/// Largest file, bytes.
pub const MAX_BYTES: usize = 64 << 20;
/// Longest edge, pixels.
const MAX_EDGE: u32 = 20_000;
/// Most pixels: a 64-megapixel camera, and a little room.
const MAX_PIXELS: u64 = 68_000_000;
/// Most memory a decoder may take, bytes.
const MAX_MEMORY: u64 = 512 << 20;
/// Longest edge of the small preview, pixels.
pub const SMALL: u32 = 512;
/// Longest edge of the large preview, pixels.
pub const LARGE: u32 = 1600;

/// What was found out about a photo.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct About {
    /// Width as it is looked at, pixels.
    pub width: u32,
    /// Height as it is looked at, pixels.
    pub height: u32,
    /// `image/jpeg`, `image/png` or `image/webp`.
    pub mime: String,
    /// When it was taken, `YYYY-MM-DDThh:mm:ss` with an offset where the camera wrote one.
    pub taken: Option<String>,
}

/// A photo that was looked over: facts, and the two previews as JPEG.
#[derive(Debug)]
pub struct Opened {
    /// What was found out.
    pub about: About,
    /// Preview of at most [`SMALL`] pixels.
    pub small: Vec<u8>,
    /// Preview of at most [`LARGE`] pixels.
    pub large: Vec<u8>,
}

/// Looks a photo over: kind, bounds, wholeness, then decodes it once and makes both previews.
///
/// # Errors
/// `Invalid` on field `photo` with why: `empty_file`, `too_big_bytes`, `heic`, `not_an_image`,
/// `too_big_pixels`, `cut_short`.
pub fn open(bytes: &[u8]) -> Result<Opened> {
    let about = look_over(bytes)?;
    let format = kind(bytes)?;
    let picture = turned(decode(bytes, format)?, exif::read(bytes).orientation);
    let (small, large) = previews(&picture)?;
    Ok(Opened { about, small, large })
}

/// Looks a photo over without decoding it: kind, bounds, wholeness as far as its parts tell. For
/// photos that another device has opened already.
///
/// # Errors
/// As [`open`].
pub fn look_over(bytes: &[u8]) -> Result<About> {
    let format = kind(bytes)?;
    let (width, height) = claimed_size(bytes, format)?;
    if format == ImageFormat::Jpeg && !is_whole_jpeg(bytes) {
        return Err(refused("cut_short"));
    }
    let Exif { orientation, taken, .. } = exif::read(bytes);
    let sideways = (5..=8).contains(&orientation);
    let (width, height) = if sideways { (height, width) } else { (width, height) };
    Ok(About { width, height, mime: format.to_mime_type().to_owned(), taken })
}

fn refused(why: &'static str) -> Error {
    Error::invalid("photo", why)
}

fn kind(bytes: &[u8]) -> Result<ImageFormat> {
    if bytes.is_empty() {
        return Err(refused("empty_file"));
    }
    if bytes.len() > MAX_BYTES {
        return Err(Error::invalid_with("photo", "too_big_bytes", json!({"max_bytes": MAX_BYTES})));
    }
    // ISO base media: size, then `ftyp`, then the brand.
    if let Some(brand) = bytes.get(4..12).and_then(|b| b.strip_prefix(b"ftyp"))
        && [b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1"].iter().any(|h| *h == brand)
    {
        return Err(refused("heic"));
    }
    match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP)) => Ok(format),
        _ => Err(refused("not_an_image")),
    }
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
            0xDA => return bytes[at..].windows(2).any(|pair| pair == END),
            _ => {
                let Some([high, low]) = bytes.get(at + 2..at + 4) else { return false };
                at += 2 + usize::from(u16::from_be_bytes([*high, *low]));
            }
        }
    }
}

fn decode(bytes: &[u8], format: ImageFormat) -> Result<DynamicImage> {
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MAX_EDGE);
    limits.max_image_height = Some(MAX_EDGE);
    limits.max_alloc = Some(MAX_MEMORY);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(|_| refused("cut_short"))?;
    if decoder.total_bytes() > MAX_MEMORY {
        return Err(refused("too_big_pixels"));
    }
    DynamicImage::from_decoder(decoder).map_err(|_| refused("cut_short"))
}

/// The picture as it is looked at: EXIF orientation 1–8 applied.
fn turned(picture: DynamicImage, orientation: u8) -> DynamicImage {
    let mut picture = picture;
    if let Some(turn) = image::metadata::Orientation::from_exif(orientation) {
        picture.apply_orientation(turn);
    }
    picture
}

fn previews(picture: &DynamicImage) -> Result<(Vec<u8>, Vec<u8>)> {
    let rgb = DynamicImage::ImageRgb8(picture.to_rgb8());
    let large = shrunk(&rgb, LARGE)?;
    let small = shrunk(&large, SMALL)?;
    Ok((jpeg(&small)?, jpeg(&large)?))
}

/// At most `edge` pixels long; a smaller picture stays as it is.
fn shrunk(picture: &DynamicImage, edge: u32) -> Result<DynamicImage> {
    let (width, height) = (picture.width(), picture.height());
    let longest = width.max(height);
    if longest <= edge {
        return Ok(picture.clone());
    }
    let scaled = |side: u32| {
        let side = u64::from(side) * u64::from(edge) / u64::from(longest);
        u32::try_from(side).unwrap_or(edge).max(1)
    };
    let mut target = DynamicImage::new_rgb8(scaled(width), scaled(height));
    let options =
        ResizeOptions::new().resize_alg(ResizeAlg::Convolution(fast_image_resize::FilterType::Bilinear));
    Resizer::new()
        .resize(picture, &mut target, Some(&options))
        .map_err(|e| Error::Bug(format!("preview: {e}")))?;
    Ok(target)
}

fn jpeg(picture: &DynamicImage) -> Result<Vec<u8>> {
    let mut out = Vec::new();
    let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, 82);
    picture.write_with_encoder(encoder).map_err(|e| Error::Bug(format!("preview: {e}")))?;
    Ok(out)
}
