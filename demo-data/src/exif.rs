//! The few EXIF fields a camera would write: when, and which way up.
//! Never a place, never a camera's name.
//! Invariant: the picture itself stays byte for byte; only one segment comes before it.

/// The JPEG with an EXIF segment: `taken` is `2026:10:03 19:30:00` (19 letters, no zone),
/// `orientation` 1–8 as in the EXIF standard. What is no JPEG, or a time of another length, comes
/// back as it was.
pub fn with_exif(jpeg: &[u8], taken: &str, orientation: u16) -> Vec<u8> {
    match jpeg.strip_prefix(&[0xff, 0xd8]) {
        Some(rest) if taken.len() == 19 => {
            let body = segment(taken, orientation);
            let length = (body.len() as u16 + 2).to_be_bytes();
            [&[0xff, 0xd8, 0xff, 0xe1], length.as_slice(), &body, rest].concat()
        }
        _ => jpeg.to_vec(),
    }
}

/// A big-endian TIFF: one directory with Orientation and the pointer to the EXIF directory, which
/// holds `DateTimeOriginal`.
fn segment(taken: &str, orientation: u16) -> Vec<u8> {
    let (exif_at, text_at) = (8 + 2 + 2 * 12 + 4, 8 + 2 + 2 * 12 + 4 + 2 + 12 + 4);
    let mut body = b"Exif\0\0MM\0\x2a\0\0\0\x08".to_vec();
    body.extend(2_u16.to_be_bytes());
    body.extend(field(0x0112, 3, 1, u32::from(orientation) << 16));
    body.extend(field(0x8769, 4, 1, exif_at));
    body.extend(0_u32.to_be_bytes());
    body.extend(1_u16.to_be_bytes());
    body.extend(field(0x9003, 2, 20, text_at));
    body.extend(0_u32.to_be_bytes());
    body.extend(taken.as_bytes());
    body.push(0);
    body
}

fn field(tag: u16, kind: u16, count: u32, value: u32) -> Vec<u8> {
    let mut bytes = tag.to_be_bytes().to_vec();
    bytes.extend(kind.to_be_bytes());
    bytes.extend(count.to_be_bytes());
    bytes.extend(value.to_be_bytes());
    bytes
}
