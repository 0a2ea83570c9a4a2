//! A photo that is handed on: the same picture, without where it was taken and by whose camera.
//! Never a photo of a real yard: each is drawn here, and the metadata is laid in by hand.
//! Invariant: the coded picture is the same bytes before and after; the kept original never changes.

use crate::journeys::{Yard, encoded, jpeg, text};
use base64::Engine;
use image::ImageFormat;
use serde_json::json;
use shadeyard_backend::commands;

/// Each stands in another corner of a file: EXIF, maker's note, GPS, XMP, IPTC, comment, behind the end.
const SECRETS: [&str; 8] = [
    "SN-471193",
    "makers-secret",
    "gps-secret",
    "xmp-secret",
    "iptc-secret",
    "comment-secret",
    "behind-secret",
    "thumb-secret",
];

type Field<'a> = (u16, u16, u32, &'a [u8]);

/// A TIFF (revision 6.0), little end first: three directories, the first pointing to EXIF and GPS.
fn tiff() -> Vec<u8> {
    let exif: [Field<'_>; 4] = [
        (0x9003, 2, 20, b"2026:10:03 19:30:00\0"),
        (0x9011, 2, 7, b"+02:00\0"),
        (0x927C, 7, 13, b"makers-secret"),
        (0xA431, 2, 10, b"SN-471193\0"),
    ];
    // 44° 28' 12" N, 72° 42' 0" W, as three fractions each.
    let fractions = |numbers: [u32; 3]| {
        numbers.iter().flat_map(|n| [n.to_le_bytes(), 1_u32.to_le_bytes()].concat()).collect::<Vec<u8>>()
    };
    let (north, west) = (fractions([44, 28, 12]), fractions([72, 42, 0]));
    let gps: [Field<'_>; 5] = [
        (1, 2, 2, b"N\0"),
        (2, 5, 3, &north),
        (3, 2, 2, b"W\0"),
        (4, 5, 3, &west),
        (0x1C, 7, 18, b"ASCII\0\0\0gps-secret"),
    ];
    let (exif_at, gps_at) = (8 + 2 + 3 * 12 + 4, 512_u32);
    let (exif_pointer, gps_pointer) = (50_u32.to_le_bytes(), gps_at.to_le_bytes());
    let first: [Field<'_>; 3] =
        [(0x0112, 3, 1, b"\x06\0"), (0x8769, 4, 1, &exif_pointer), (0x8825, 4, 1, &gps_pointer)];
    let mut out = b"II\x2A\0\x08\0\0\0".to_vec();
    directory(&mut out, &first);
    assert_eq!(out.len(), exif_at);
    directory(&mut out, &exif);
    out.resize(512, 0);
    directory(&mut out, &gps);
    out
}

fn directory(out: &mut Vec<u8>, fields: &[Field<'_>]) {
    let mut behind = out.len() + 2 + fields.len() * 12 + 4;
    let mut values: Vec<u8> = Vec::new();
    out.extend(u16::try_from(fields.len()).unwrap().to_le_bytes());
    for (tag, kind, count, value) in fields {
        out.extend(tag.to_le_bytes());
        out.extend(kind.to_le_bytes());
        out.extend(count.to_le_bytes());
        if value.len() <= 4 {
            out.extend([value, [0; 4].as_slice()].concat()[..4].iter());
        } else {
            out.extend(u32::try_from(behind).unwrap().to_le_bytes());
            behind += value.len();
            values.extend(*value);
        }
    }
    out.extend([0; 4]);
    out.extend(values);
}

fn segment(marker: u8, parts: &[&[u8]]) -> Vec<u8> {
    let body = parts.concat();
    let length = u16::try_from(body.len() + 2).unwrap().to_be_bytes();
    [&[0xFF, marker], length.as_slice(), &body].concat()
}

/// A JPEG as a phone leaves it, with a film behind the picture.
fn phones_jpeg() -> Vec<u8> {
    let plain = jpeg(300, 200, 40);
    [
        b"\xFF\xD8".to_vec(),
        segment(0xE0, &[b"JFXX\0\x13", b"thumb-secret"]),
        segment(0xE1, &[b"Exif\0\0", &tiff()]),
        segment(0xE1, &[b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>xmp-secret</x:xmpmeta>"]),
        segment(0xE2, &[b"MPF\0", b"II\x2A\0 behind-secret"]),
        segment(0xED, &[b"Photoshop 3.0\08BIM\x04\x04\0\0\0\0\0\x0Biptc-secret"]),
        segment(0xFE, &[b"comment-secret"]),
        plain[2..].to_vec(),
        b"\0\0\0\x18ftypmp42 behind-secret".to_vec(),
        tiff(),
    ]
    .concat()
}

fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0_u32, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |c, _| if c & 1 == 1 { 0xEDB8_8320 ^ (c >> 1) } else { c >> 1 })
    })
}

fn chunk(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let named = [kind.as_slice(), body].concat();
    let length = u32::try_from(body.len()).unwrap().to_be_bytes();
    [length.as_slice(), &named, &crc32(&named).to_be_bytes()].concat()
}

/// A PNG with EXIF, texts and something behind its end.
fn told_png() -> Vec<u8> {
    let plain = encoded(300, 200, 40, ImageFormat::Png);
    // The signature and the header come first: 8 and 25 bytes.
    let (head, rest) = plain.split_at(33);
    [
        head,
        &chunk(b"eXIf", &tiff()),
        &chunk(b"tEXt", b"Comment\0comment-secret"),
        &chunk(b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0xmp-secret"),
        rest,
        b"behind-secret",
    ]
    .concat()
}

fn riff(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let pad: &[u8] = if body.len() % 2 == 1 { &[0] } else { &[] };
    [kind.as_slice(), &u32::try_from(body.len()).unwrap().to_le_bytes(), body, pad].concat()
}

/// A WebP with the header that says it has EXIF and XMP, and has both.
fn told_webp() -> Vec<u8> {
    let plain = encoded(300, 200, 40, ImageFormat::WebP);
    let size = |n: u32| (n - 1).to_le_bytes()[..3].to_vec();
    let header = [vec![0x0C, 0, 0, 0], size(300), size(200)].concat();
    let body = [
        b"WEBP".to_vec(),
        riff(b"VP8X", &header),
        plain[12..].to_vec(),
        riff(b"EXIF", &tiff()),
        riff(b"XMP ", b"<x:xmpmeta>xmp-secret</x:xmpmeta>"),
        riff(b"NOTE", b"comment-secret"),
    ]
    .concat();
    riff(b"RIFF", &body)
}

/// The coded picture: what lies between its first mark and its last.
fn coded(bytes: &[u8], from: &[u8], to: &[u8]) -> Vec<u8> {
    let find = |mark: &[u8], after: usize| {
        after + bytes[after..].windows(mark.len()).position(|w| w == mark).expect("a mark")
    };
    let start = find(from, 0);
    bytes[start..find(to, start)].to_vec()
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

#[test]
fn a_photo_handed_on_keeps_its_picture_its_hour_and_its_way_up_and_nothing_else() {
    let yard = Yard::new();
    let cases = [
        ("jpg", phones_jpeg(), b"\xFF\xDA".as_slice(), b"\xFF\xD9".as_slice()),
        ("png", told_png(), b"IDAT", b"IEND"),
        ("webp", told_webp(), b"VP8L", b"EXIF"),
    ];
    for (ending, original, from, to) in cases {
        let kept = yard.keep_photo(original.clone()).unwrap_or_else(|e| panic!("{ending}: {}", e.reply()));
        assert_eq!(kept["taken"], "2026-10-03T19:30:00+02:00", "{ending}: the metadata laid in is read");
        assert!(SECRETS.iter().filter(|s| holds(&original, s.as_bytes())).count() >= 4, "{ending}");
        let hash = text(&kept["hash"]);
        let reply = yard.call("photo_share", json!({"hash": hash}));
        assert_eq!(text(&reply["name"]), format!("log-2026-10-03-{}.{ending}", &hash[..8]));
        let shared = base64::engine::general_purpose::STANDARD.decode(text(&reply["base64"])).unwrap();
        for secret in SECRETS {
            assert!(!holds(&shared, secret.as_bytes()), "{ending} still holds {secret}");
        }
        assert!(!holds(&shared[..120], &[0x88, 0x25]), "{ending} points to GPS");
        assert!(!holds(&shared, b"+02:00"), "{ending} says in which zone");
        assert_eq!(coded(&shared, from, to), coded(&original, from, to), "{ending}: the picture's own bytes");
        let again = yard.keep_photo(shared.clone()).unwrap_or_else(|e| panic!("{ending}: {}", e.reply()));
        assert_eq!(again["taken"], "2026-10-03T19:30:00", "{ending}: the hour");
        assert_eq!((&again["width"], &again["height"]), (&json!(200), &json!(300)), "{ending}: the way up");
        let pixels = |bytes: &[u8]| image::load_from_memory(bytes).unwrap().into_rgb8().into_raw();
        assert!(pixels(&shared) == pixels(&original), "{ending}: every pixel");
        let (_, whole) = commands::photo(yard.book(), &format!("{hash}.whole")).unwrap();
        assert!(whole == original, "{ending}: the original is untouched");
    }
}

#[test]
fn a_photo_that_tells_nothing_is_handed_on_as_it_is() {
    let yard = Yard::new();
    for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
        let original = encoded(60, 40, 7, format);
        let hash = text(&yard.keep_photo(original.clone()).unwrap()["hash"]);
        let reply = yard.call("photo_share", json!({"hash": hash}));
        let shared = base64::engine::general_purpose::STANDARD.decode(text(&reply["base64"])).unwrap();
        assert!(shared == original, "{format:?}");
    }
}

#[test]
fn a_photo_that_is_not_here_or_was_swapped_is_not_handed_on() {
    let yard = Yard::new();
    for name in ["", "..", "../../register.sqlite", &"a".repeat(64), &"A".repeat(64)] {
        assert_eq!(yard.refused("photo_share", json!({"hash": name}))["code"], "missing", "{name}");
    }
    let hash = text(&yard.keep_photo(jpeg(60, 60, 1)).unwrap()["hash"]);
    std::fs::write(yard.folder.path().join("blobs").join(&hash[..2]).join(&hash), jpeg(60, 60, 2)).unwrap();
    assert_eq!(yard.refused("photo_share", json!({"hash": hash}))["code"], "damaged");
}
