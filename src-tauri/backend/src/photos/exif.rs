//! What a camera wrote into a photo: when it was taken, and which way up.
//! Never where: the place stays in the original and is not read here.
//! Invariant: unreadable EXIF is no error; the photo is then upright and undated.

use exif::{In, Reader, Tag, Value};
use std::io::Cursor;

/// When and which way up.
#[derive(Debug, Clone, PartialEq)]
pub struct Exif {
    /// `YYYY-MM-DDThh:mm:ss`, with the offset (`+02:00`) where the camera wrote one.
    pub taken: Option<String>,
    /// 1–8; 1 is upright.
    pub orientation: u8,
    /// Focal length, mm, as on film 36 mm wide (EXIF 2.32, FocalLengthIn35mmFilm).
    pub focal_35mm: Option<u32>,
}

/// Reads DateTimeOriginal, OffsetTimeOriginal and Orientation (EXIF 2.31).
pub fn read(bytes: &[u8]) -> Exif {
    let Ok(found) = Reader::new().read_from_container(&mut Cursor::new(bytes)) else {
        return Exif { taken: None, orientation: 1, focal_35mm: None };
    };
    let text = |tag| match found.get_field(tag, In::PRIMARY).map(|f| &f.value) {
        Some(Value::Ascii(lines)) => {
            lines.first().and_then(|l| std::str::from_utf8(l).ok()).map(str::to_owned)
        }
        _ => None,
    };
    let orientation = found
        .get_field(Tag::Orientation, In::PRIMARY)
        .and_then(|f| f.value.get_uint(0))
        .and_then(|v| u8::try_from(v).ok())
        .filter(|v| (1..=8).contains(v))
        .unwrap_or(1);
    let taken = text(Tag::DateTimeOriginal)
        .and_then(|t| {
            chrono::NaiveDateTime::parse_from_str(t.trim_end_matches('\0'), "%Y:%m:%d %H:%M:%S").ok()
        })
        .map(|time| {
            let offset = text(Tag::OffsetTimeOriginal).filter(|o| is_offset(o)).unwrap_or_default();
            format!("{}{offset}", time.format("%Y-%m-%dT%H:%M:%S"))
        });
    let focal_35mm = found
        .get_field(Tag::FocalLengthIn35mmFilm, In::PRIMARY)
        .and_then(|f| f.value.get_uint(0))
        .filter(|mm| (8..=600).contains(mm));
    Exif { taken, orientation, focal_35mm }
}

/// `+hh:mm` or `-hh:mm`.
fn is_offset(text: &str) -> bool {
    text.len() == 6 && text.parse::<chrono::FixedOffset>().is_ok()
}
