//! From a file's bytes to a picture: no larger than is needed, within a bound of memory.
//! Never trusts a header: what it claims is bounded before anything is made for it.
//! Invariant: whatever the bytes are, there is a picture or a reason, and no panic passes this file.

use crate::error::{Error, Result};
use image::{DynamicImage, GrayImage, ImageDecoder, ImageFormat, ImageReader, Limits, RgbImage};
use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Longest edge, pixels.
pub const MAX_EDGE: u32 = 20_000;
/// Most memory for one picture, bytes: with what stands beside it 300 MB are not passed.
pub const MAX_MEMORY: u64 = 230 << 20;

/// A reason why no picture came.
pub(super) fn refused(why: &'static str) -> Error {
    Error::invalid("photo", why)
}

/// The picture in colour. A JPEG comes scaled down while it is decoded (by 2, 4 or 8), but no smaller than `edge`
/// along its longer edge; others come whole.
///
/// # Errors
/// `Invalid` on `photo`: `cut_short`, `too_much_memory`.
pub fn colour(bytes: &[u8], format: ImageFormat, edge: u32) -> Result<RgbImage> {
    guarded(|| match format {
        ImageFormat::Jpeg => match scaled(bytes, edge) {
            Ok(Scaled::Colour(picture)) => Ok(picture),
            Ok(Scaled::Grey(picture)) => Ok(DynamicImage::ImageLuma8(picture).into_rgb8()),
            Err(Unread::Memory) => Err(refused("too_much_memory")),
            Err(Unread::Kind) => Ok(whole(bytes, format)?.into_rgb8()),
        },
        _ => Ok(whole(bytes, format)?.into_rgb8()),
    })
}

/// The picture's brightness, as [`colour`].
///
/// # Errors
/// As [`colour`].
pub fn grey(bytes: &[u8], format: ImageFormat, edge: u32) -> Result<GrayImage> {
    guarded(|| match format {
        ImageFormat::Jpeg => match scaled(bytes, edge) {
            Ok(Scaled::Colour(picture)) => Ok(DynamicImage::ImageRgb8(picture).into_luma8()),
            Ok(Scaled::Grey(picture)) => Ok(picture),
            Err(Unread::Memory) => Err(refused("too_much_memory")),
            Err(Unread::Kind) => Ok(whole(bytes, format)?.into_luma8()),
        },
        _ => Ok(whole(bytes, format)?.into_luma8()),
    })
}

/// A decoder that stops by a panic has met a file that is not whole.
fn guarded<T>(work: impl FnOnce() -> Result<T>) -> Result<T> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(refused("cut_short")))
}

enum Scaled {
    Colour(RgbImage),
    Grey(GrayImage),
}

enum Unread {
    /// Of a kind that this decoder does not read; another may.
    Kind,
    Memory,
}

fn scaled(bytes: &[u8], edge: u32) -> std::result::Result<Scaled, Unread> {
    let mut decoder = jpeg_decoder::Decoder::new(Cursor::new(bytes));
    decoder.set_max_decoding_buffer_size(usize::try_from(MAX_MEMORY).unwrap_or(usize::MAX));
    decoder.read_info().map_err(|_| Unread::Kind)?;
    let info = decoder.info().ok_or(Unread::Kind)?;
    let pixels = u64::from(info.width) * u64::from(info.height);
    // A progressive picture is kept whole as coefficients of two bytes before it is made.
    if info.coding_process == jpeg_decoder::CodingProcess::DctProgressive
        && pixels * u64::from(sampled_bytes(bytes)) > MAX_MEMORY
    {
        return Err(Unread::Memory);
    }
    let longest = u32::from(info.width.max(info.height));
    let share = |side: u16| {
        let least = u32::from(side) * edge.min(longest);
        u16::try_from(least.div_ceil(longest.max(1))).unwrap_or(u16::MAX).max(1)
    };
    let (width, height) = decoder.scale(share(info.width), share(info.height)).map_err(|_| Unread::Kind)?;
    let out = decoder.decode().map_err(|_| Unread::Kind)?;
    let (width, height) = (u32::from(width), u32::from(height));
    match info.pixel_format {
        jpeg_decoder::PixelFormat::RGB24 => {
            RgbImage::from_raw(width, height, out).map(Scaled::Colour).ok_or(Unread::Kind)
        }
        jpeg_decoder::PixelFormat::L8 => {
            GrayImage::from_raw(width, height, out).map(Scaled::Grey).ok_or(Unread::Kind)
        }
        _ => Err(Unread::Kind),
    }
}

/// Bytes of coefficients for a pixel, all components together, by how the frame's header samples them
/// (ISO/IEC 10918-1, B.2.2); 8 when it can't be told.
fn sampled_bytes(bytes: &[u8]) -> u32 {
    let Some(at) = bytes.windows(2).position(|w| w == [0xFF, 0xC2]) else { return 8 };
    let Some(count) = bytes.get(at + 9).map(|n| usize::from(*n)) else { return 8 };
    let Some(parts) = bytes.get(at + 10..at + 10 + 3 * count) else { return 8 };
    let areas: Vec<u32> =
        parts.chunks(3).map(|part| u32::from(part[1] >> 4) * u32::from(part[1] & 15)).collect();
    let most = areas.iter().copied().max().unwrap_or(1).max(1);
    (2 * areas.iter().sum::<u32>()).div_ceil(most)
}

/// The whole picture by the general decoders, when it fits the memory.
fn whole(bytes: &[u8], format: ImageFormat) -> Result<DynamicImage> {
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    let mut limits = Limits::default();
    limits.max_image_width = Some(MAX_EDGE);
    limits.max_image_height = Some(MAX_EDGE);
    limits.max_alloc = Some(MAX_MEMORY);
    reader.limits(limits);
    let decoder = reader.into_decoder().map_err(|_| refused("cut_short"))?;
    let (width, height) = decoder.dimensions();
    let colours = if decoder.color_type() == image::ColorType::Rgb8 { 0 } else { 3 };
    let pixels = u64::from(width) * u64::from(height);
    if decoder.total_bytes().saturating_add(pixels * colours) > MAX_MEMORY {
        return Err(refused("too_much_memory"));
    }
    DynamicImage::from_decoder(decoder).map_err(|_| refused("cut_short"))
}
