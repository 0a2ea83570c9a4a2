//! The tag sheet as paper would have it: rasterised, measured, and read by an outside reader.
//! Never our own reader. Invariant: the bar and every code are checked on both papers.

use super::{has, said};
use crate::journeys::{Yard, text};
use base64::Engine;
use serde_json::json;

/// Dots per inch of the raster.
const DPI: f64 = 600.0;

#[test]
fn rasterised_the_bar_is_50_mm_and_every_code_is_read() {
    if !has("pdftoppm") || !has("zbarimg") || !has("pdftotext") {
        return;
    }
    let yard = Yard::new();
    let tags: Vec<String> =
        (1..=14).map(|n| if n == 14 { "дуб".to_owned() } else { format!("A{n}") }).collect();
    let logs: Vec<String> = tags.iter().map(|tag| yard.log(tag, json!({"wood": "red-oak"}))).collect();
    for (paper, points) in [("a4", "595.276 x 841.89"), ("letter", "612 x 792")] {
        let made = yard.call("tag_sheet", json!({"logs": logs, "paper": paper}));
        assert_eq!((&made["sheets"], &made["by_hand"]), (&json!(2), &json!(["дуб"])));
        let folder = tempfile::tempdir().unwrap();
        let pdf = folder.path().join("tags.pdf");
        let bytes = base64::engine::general_purpose::STANDARD.decode(text(&made["base64"])).unwrap();
        std::fs::write(&pdf, bytes).unwrap();
        let pdf = pdf.to_string_lossy().into_owned();
        assert!(said("pdfinfo", &[&pdf]).contains(points), "{}", said("pdfinfo", &[&pdf]));
        let words = said("pdftotext", &[&pdf, "-"]);
        assert!(words.contains("A13") && words.contains("50 mm"), "{words}");
        let out = folder.path().join("sheet").to_string_lossy().into_owned();
        said("pdftoppm", &["-r", "600", "-gray", "-png", &pdf, &out]);
        let mut pages: Vec<String> = std::fs::read_dir(folder.path())
            .unwrap()
            .map(|file| file.unwrap().path().to_string_lossy().into_owned())
            .filter(|name| name.ends_with(".png"))
            .collect();
        pages.sort();
        assert_eq!(pages.len(), 2);
        for page in &pages {
            let mm = bar(&image::open(page).unwrap().into_luma8());
            println!("{paper}: the bar is {mm:.3} mm");
            assert!((mm - 50.0).abs() <= 0.1, "{mm}");
        }
        // The outside reader walks lines a whole number of pixels apart, so that one resolution alone may miss a code.
        said("pdftoppm", &["-r", "300", "-gray", "-png", &pdf, &format!("{out}-at-300")]);
        let scans = std::fs::read_dir(folder.path()).unwrap().map(|file| file.unwrap().path());
        let scans = scans.filter(|name| name.extension().is_some_and(|end| end == "png"));
        let read: String =
            scans.map(|scan| said("zbarimg", &["-q", "--raw", &scan.to_string_lossy()])).collect();
        for log in &logs {
            assert!(read.contains(&log.replace('-', "").to_uppercase()), "{paper} {log}");
        }
    }
}

/// The longest dark run in the lowest part of the page, mm; its ends to a part of a pixel by their grey.
fn bar(page: &image::GrayImage) -> f64 {
    let (width, height) = page.dimensions();
    let row = |y: u32| -> f64 {
        let ink = |x: u32| 1.0 - f64::from(page.get_pixel(x, y).0[0]) / 255.0;
        let (mut best, mut now) = (0.0_f64, 0.0_f64);
        for x in 0..width {
            now = if ink(x) > 0.02 { now + ink(x) } else { 0.0 };
            best = best.max(now);
        }
        best
    };
    (height - height / 10..height).map(row).fold(0.0, f64::max) / DPI * 25.4
}

#[test]
fn a_sheet_of_nothing_or_of_a_log_that_is_not_there_is_refused() {
    let yard = Yard::new();
    assert_eq!(yard.refused("tag_sheet", json!({"logs": [], "paper": "a4"}))["field"], "logs");
    assert_eq!(yard.refused("tag_sheet", json!({"logs": [super::LOG], "paper": "a4"}))["code"], "missing");
}
