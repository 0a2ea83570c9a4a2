//! EXIF that an outside tool wrote: which way up, and when.
//! Never our own writer. Invariant: all eight orientations look alike.

use super::{has, said};
use crate::journeys::{Yard, text};
use serde_json::json;
use shadeyard_backend::commands;

#[test]
fn all_eight_orientations_written_by_another_tool_are_shown_upright() {
    if !has("exiftool") {
        return;
    }
    let yard = Yard::new();
    let folder = tempfile::tempdir().unwrap();
    // Upright: red above left, green above right, blue below left, white below right; wider than high.
    let upright = image::RgbImage::from_fn(1800, 1200, |x, y| {
        image::Rgb(match (x < 900, y < 600) {
            (true, true) => [220, 20, 20],
            (false, true) => [20, 200, 20],
            (true, false) => [20, 20, 220],
            (false, false) => [240, 240, 240],
        })
    });
    for orientation in 1..=8_u8 {
        // As the sensor had it: what the orientation undoes (EXIF 2.32, tag 274).
        let stored = match orientation {
            1 => upright.clone(),
            2 => image::imageops::flip_horizontal(&upright),
            3 => image::imageops::rotate180(&upright),
            4 => image::imageops::flip_vertical(&upright),
            5 => image::imageops::rotate270(&image::imageops::flip_horizontal(&upright)),
            6 => image::imageops::rotate270(&upright),
            7 => image::imageops::rotate90(&image::imageops::flip_horizontal(&upright)),
            _ => image::imageops::rotate90(&upright),
        };
        let file = folder.path().join(format!("{orientation}.jpg"));
        stored.save(&file).unwrap();
        let path = file.to_string_lossy().into_owned();
        let turn = format!("-Orientation={orientation}");
        said(
            "exiftool",
            &[
                "-q",
                "-n",
                "-overwrite_original",
                &turn,
                "-DateTimeOriginal=2026:10:02 07:30:00",
                "-OffsetTimeOriginal=+02:00",
                &path,
            ],
        );
        let kept = yard.keep_photo(std::fs::read(&file).unwrap()).unwrap();
        assert_eq!((&kept["width"], &kept["height"]), (&json!(1800), &json!(1200)), "{orientation}");
        assert_eq!(kept["taken"], "2026-10-02T07:30:00+02:00");
        for size in ["small", "large"] {
            let (_, bytes) =
                commands::photo(yard.book(), &format!("{}.{size}", text(&kept["hash"]))).unwrap();
            let shown = image::load_from_memory(&bytes).unwrap().into_rgb8();
            assert!(shown.width() > shown.height(), "{orientation}");
            let at = |x: u32, y: u32| shown.get_pixel(shown.width() * x / 4, shown.height() * y / 4).0;
            let near = |a: [u8; 3], b: [u8; 3]| a.iter().zip(b).all(|(a, b)| a.abs_diff(b) < 40);
            assert!(near(at(1, 1), [220, 20, 20]) && near(at(3, 1), [20, 200, 20]), "{orientation} {size}");
            assert!(near(at(1, 3), [20, 20, 220]) && near(at(3, 3), [240, 240, 240]), "{orientation} {size}");
        }
    }
}
