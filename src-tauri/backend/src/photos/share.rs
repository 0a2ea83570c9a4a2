//! A photo as it is handed to others: the picture, which way up, and when; nothing else.
//! Never touches a pixel: picture bytes are carried over as they are.
//! Invariant: what is kept is on a list; whatever is not on it is left out, also what lies behind the picture.
//!
//! Left out so: the place (GPS), serial numbers, the maker's notes, XMP, IPTC, comments, small
//! pictures inside the picture (they may show what was cut away), films and depth maps behind it.

use super::exif;
use crate::error::{Error, Result};
use img_parts::riff::{RiffChunk, RiffContent};
use img_parts::{Bytes, png, webp};
use std::borrow::Cow;
use std::ops::Range;

/// The photo without what tells more than the picture.
///
/// # Errors
/// `Invalid` on `photo` when its parts can't be told from each other.
pub fn stripped(bytes: &[u8]) -> Result<Vec<u8>> {
    let found = exif::read(bytes);
    let fresh = fresh_exif(found.orientation, found.taken.as_deref());
    if super::rules::is_heic(bytes) {
        return Err(Error::invalid("photo", "heic_share"));
    }
    let out = match image::guess_format(bytes) {
        Ok(image::ImageFormat::Jpeg) => jpeg(bytes, fresh.as_deref()),
        Ok(image::ImageFormat::Png) => png(bytes, fresh),
        Ok(image::ImageFormat::WebP) => webp(bytes, fresh),
        _ => return Err(Error::invalid("photo", "not_an_image")),
    };
    out.ok_or_else(|| Error::invalid("photo", "cut_short"))
}

/// The end of the file's name for its kind.
pub fn ending(bytes: &[u8]) -> &'static str {
    match image::guess_format(bytes) {
        Ok(image::ImageFormat::Png) => "png",
        Ok(image::ImageFormat::WebP) => "webp",
        _ => "jpg",
    }
}

/// EXIF with the orientation and the hour only (EXIF 2.32); none when there is nothing to say.
/// The camera's offset from UTC is not handed on: it says where, roughly.
fn fresh_exif(orientation: u8, taken: Option<&str>) -> Option<Vec<u8>> {
    let hour = taken.and_then(|t| t.get(..19)).map(|t| t.replacen('-', ":", 2).replacen('T', " ", 1));
    if orientation == 1 && hour.is_none() {
        return None;
    }
    let mut out = b"MM\0\x2A\0\0\0\x08".to_vec();
    let own = hour.is_some();
    out.extend(1_u16.saturating_add(u16::from(own)).to_be_bytes());
    field(&mut out, 0x0112, 3, 1, [0, orientation, 0, 0]);
    let Some(hour) = hour else {
        out.extend([0; 4]);
        return Some(out);
    };
    // Its own part follows: header 8, count 2, two fields of 12, end 4.
    field(&mut out, 0x8769, 4, 1, 38_u32.to_be_bytes());
    out.extend([0; 4]);
    out.extend(2_u16.to_be_bytes());
    field(&mut out, 0x9000, 7, 4, *b"0232");
    // The text follows: 38, count 2, two fields of 12, end 4.
    field(&mut out, 0x9003, 2, 20, 68_u32.to_be_bytes());
    out.extend([0; 4]);
    out.extend(hour.as_bytes());
    out.push(0);
    Some(out)
}

fn field(out: &mut Vec<u8>, tag: u16, kind: u16, count: u32, value: [u8; 4]) {
    out.extend(tag.to_be_bytes());
    out.extend(kind.to_be_bytes());
    out.extend(count.to_be_bytes());
    out.extend(value);
}

/// JPEG (ISO/IEC 10918-1, annex B). Walked here, not by a crate: those carry on whatever lies behind
/// the first scan, where phones put a second picture or a film with the place in it.
fn jpeg(bytes: &[u8], fresh: Option<&[u8]>) -> Option<Vec<u8>> {
    const START: [u8; 2] = [0xFF, 0xD8];
    let mut out = START.to_vec();
    // JFIF must come first, EXIF next.
    let mut told = fresh.is_none();
    let mut at = bytes.starts_with(&START).then_some(2)?;
    loop {
        let [0xFF, marker] = *bytes.get(at..at + 2)? else { return None };
        if !told && marker != 0xE0 && marker != 0xFF {
            let exif = [b"Exif\0\0", fresh.unwrap_or_default()].concat();
            segment(&mut out, 0xE1, &exif);
            told = true;
        }
        match marker {
            0xFF => at += 1,
            0x01 | 0xD0..=0xD7 => at += 2,
            0xD9 => {
                out.extend([0xFF, 0xD9]);
                return Some(out);
            }
            _ => {
                let [high, low] = *bytes.get(at + 2..at + 4)? else { return None };
                let next = at + 2 + usize::from(u16::from_be_bytes([high, low]));
                let body = bytes.get(at + 4..next)?;
                if let Some(body) = kept_of(marker, body) {
                    segment(&mut out, marker, &body);
                }
                at = next;
                if marker == 0xDA {
                    let scan = scan(bytes, at)?;
                    at = scan.end;
                    out.extend(bytes.get(scan)?);
                }
            }
        }
    }
}

fn segment(out: &mut Vec<u8>, marker: u8, body: &[u8]) {
    let length = u16::try_from(body.len() + 2).unwrap_or(u16::MAX);
    out.extend([0xFF, marker]);
    out.extend(length.to_be_bytes());
    out.extend(body);
}

/// Coded picture: up to the next marker that is neither a stuffed byte nor a restart.
fn scan(bytes: &[u8], from: usize) -> Option<Range<usize>> {
    let pairs = bytes.get(from..)?.windows(2);
    let end = pairs.into_iter().position(|p| p[0] == 0xFF && !matches!(p[1], 0 | 0xD0..=0xD7 | 0xFF))?;
    Some(from..from + end)
}

/// What of a segment is handed on: what a decoder needs, and the colours' profile.
fn kept_of(marker: u8, body: &[u8]) -> Option<Cow<'_, [u8]>> {
    match marker {
        // JFIF without its small picture: twelve bytes, then the size of that, nought by nought.
        0xE0 => {
            let head = body.get(..12).filter(|b| b.starts_with(b"JFIF\0"))?;
            Some([head, [0, 0].as_slice()].concat().into())
        }
        0xE2 => body.starts_with(b"ICC_PROFILE\0").then_some(body.into()),
        // How the colours are coded.
        0xEE => body.get(..12).filter(|b| b.starts_with(b"Adobe")).map(Cow::from),
        0xC0..=0xCF | 0xDA..=0xDF => Some(body.into()),
        _ => None,
    }
}

/// PNG (ISO/IEC 15948): what is drawn, its colours, its movement.
fn png(bytes: &[u8], fresh: Option<Vec<u8>>) -> Option<Vec<u8>> {
    const KEPT: [&[u8; 4]; 16] = [
        b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"cHRM", b"gAMA", b"iCCP", b"sBIT", b"sRGB", b"cICP",
        b"bKGD", b"pHYs", b"acTL", b"fcTL", b"fdAT",
    ];
    let mut png = png::Png::from_bytes(Bytes::copy_from_slice(bytes)).ok()?;
    let chunks = png.chunks_mut();
    chunks.retain(|chunk| KEPT.contains(&&chunk.kind()));
    if let Some(fresh) = fresh {
        let before = chunks.iter().position(|chunk| chunk.kind() == *b"IDAT")?;
        chunks.insert(before, png::PngChunk::new(*b"eXIf", fresh.into()));
    }
    Some(png.encoder().bytes().to_vec())
}

/// WebP (RFC 9649): pictures, colours, movement; the header says which parts there are.
fn webp(bytes: &[u8], fresh: Option<Vec<u8>>) -> Option<Vec<u8>> {
    const KEPT: [&[u8; 4]; 7] = [b"VP8X", b"VP8 ", b"VP8L", b"ALPH", b"ANIM", b"ANMF", b"ICCP"];
    const EXIF: u8 = 0x08;
    const XMP: u8 = 0x04;
    let mut webp = webp::WebP::from_bytes(Bytes::copy_from_slice(bytes)).ok()?;
    let chunks = webp.chunks_mut();
    chunks.retain(|chunk| KEPT.contains(&&chunk.id()));
    let header = chunks.iter_mut().find(|chunk| chunk.id() == *b"VP8X");
    // A plain file has no header that could say there is EXIF.
    let Some(RiffContent::Data(flags)) = header.map(RiffChunk::content_mut) else {
        return Some(webp.encoder().bytes().to_vec());
    };
    let mut said = flags.to_vec();
    let first = said.first_mut()?;
    *first &= !(EXIF | XMP);
    if fresh.is_some() {
        *first |= EXIF;
    }
    *flags = said.into();
    if let Some(fresh) = fresh {
        chunks.push(RiffChunk::new(*b"EXIF", RiffContent::Data(fresh.into())));
    }
    Some(webp.encoder().bytes().to_vec())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fresh_exif_reads_as_what_went_in() {
        for (orientation, taken) in [(6, Some("2026-10-03T18:30:00+02:00")), (1, Some("2026-10-03T18:30:00"))]
        {
            let Some(exif) = fresh_exif(orientation, taken) else {
                unreachable!("there is something to say")
            };
            let bytes = [b"\xFF\xD8".as_slice(), &exif_segment(&exif), b"\xFF\xD9"].concat();
            let found = exif::read(&bytes);
            assert_eq!(found.orientation, orientation);
            assert_eq!(found.taken.as_deref(), Some("2026-10-03T18:30:00"), "and no offset");
        }
        assert_eq!(fresh_exif(1, None), None);
    }

    fn exif_segment(exif: &[u8]) -> Vec<u8> {
        let mut out = Vec::new();
        segment(&mut out, 0xE1, &[b"Exif\0\0", exif].concat());
        out
    }

    #[test]
    fn what_is_no_whole_picture_is_refused() {
        for bad in [
            b"".as_slice(),
            b"hello",
            b"\xFF\xD8\xFF\xE0",
            b"\xFF\xD8\xFF\xDA\0\x02abc",
            b"\x89PNG\r\n\x1A\n\0\0",
        ] {
            assert!(stripped(bad).is_err(), "{bad:?}");
        }
    }
}
