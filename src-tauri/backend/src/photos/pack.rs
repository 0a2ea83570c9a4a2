//! From a picture to JPEG, its two halves side by side: packing is most of what a preview costs.
//! Never another file than the encoder would have made of the whole, but for a restart marker between the halves.
//! Invariant: the halves share their tables, and each begins its scan anew (ISO/IEC 10918-1, B.2.4.4 and E.1.4).

use crate::beside::beside;
use crate::error::{Error, Result};
use image::{ExtendedColorType, RgbImage};

/// Quality of a preview, per cent.
const QUALITY: u8 = 82;
/// A block's edge, pixels: colours are not sampled down, so that a unit of the scan is one block.
const BLOCK: usize = 8;

/// The picture as JPEG.
///
/// # Errors
/// `Bug` when the encoder fails.
pub fn jpeg(picture: &RgbImage) -> Result<Vec<u8>> {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let above = height.div_ceil(BLOCK).div_ceil(2) * BLOCK;
    let units = u16::try_from(above / BLOCK * width.div_ceil(BLOCK));
    let (Ok(units), true) = (units, above < height) else { return encoded(picture.as_raw(), width, height) };
    let (upper, lower) = picture.as_raw().split_at(above * width * 3);
    let (lower, upper) = beside(|| encoded(lower, width, height - above), || encoded(upper, width, above))?;
    joined(&upper?, &lower?, height, units).ok_or_else(|| Error::Bug("packing: no scan".into()))
}

fn encoded(pixels: &[u8], width: usize, height: usize) -> Result<Vec<u8>> {
    let mut out = Vec::new();
    let side = |side| u32::try_from(side).unwrap_or(u32::MAX);
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode(pixels, side(width), side(height), ExtendedColorType::Rgb8)
        .map_err(|e| Error::Bug(format!("preview: {e}")))?;
    Ok(out)
}

/// One file of two: the upper's head with the whole height and `units` to the restart, then both scans.
fn joined(upper: &[u8], lower: &[u8], height: usize, units: u16) -> Option<Vec<u8>> {
    const END: usize = 2;
    let [high, low] = u16::try_from(height).ok()?.to_be_bytes();
    let mut head = upper.get(..2)?.to_vec();
    loop {
        let at = head.len();
        let marker = *upper.get(at + 1)?;
        let length = usize::from(u16::from_be_bytes([*upper.get(at + 2)?, *upper.get(at + 3)?]));
        if marker == 0xDA {
            let [more, fewer] = units.to_be_bytes();
            let scan = at + 2 + length;
            let (first, second) = (upper.get(at..upper.len() - END)?, lower.get(scan..)?);
            return Some(
                [&head, [0xFF, 0xDD, 0, 4, more, fewer].as_slice(), first, &[0xFF, 0xD0], second].concat(),
            );
        }
        head.extend(upper.get(at..at + 2 + length)?);
        if marker == 0xC0 {
            // Marker, length, precision, then the height.
            head.get_mut(at + 5..at + 7)?.copy_from_slice(&[high, low]);
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn two_halves_are_the_picture_that_the_encoder_packs_in_one() {
        for (width, height) in
            [(1600, 1200), (1200, 1600), (61, 37), (8, 16), (9, 17), (1, 8), (1, 9), (3, 1)]
        {
            let picture = RgbImage::from_fn(width, height, |x, y| {
                image::Rgb(
                    [x * 7 + y, y * 5 + x * x / 9, (x ^ y) * 3].map(|c| u8::try_from(c % 256).unwrap()),
                )
            });
            let whole = encoded(picture.as_raw(), width as usize, height as usize).unwrap();
            let halves = jpeg(&picture).unwrap();
            let restarts = halves.windows(2).filter(|two| *two == [0xFF, 0xD0]).count();
            assert_eq!(restarts, usize::from(height > 8), "{width} x {height}");
            let (one, two) =
                (image::load_from_memory(&whole).unwrap(), image::load_from_memory(&halves).unwrap());
            assert_eq!(one.as_bytes(), two.as_bytes(), "{width} x {height}");
            // Another decoder.
            let decode = |bytes: &[u8]| jpeg_decoder::Decoder::new(bytes).decode().unwrap();
            assert_eq!(decode(&whole), decode(&halves), "{width} x {height}");
        }
    }
}
