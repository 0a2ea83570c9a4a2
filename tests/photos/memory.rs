//! The most memory that keeping a large photo takes, measured in a program of its own.
//! Never an estimate. Invariant: the figure is the system's own (VmHWM).

use super::yard_program;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The most memory a run of the `yard` program with this photo had, MB; what it printed; whether it was in time.
pub fn kept_apart(photo: &std::path::Path, within: Duration) -> (f64, String, bool) {
    let folder = tempfile::tempdir().unwrap();
    let yard = folder.path().join("yard");
    let mut child = Command::new(yard_program())
        .args(["call", "photo_keep", "{}", "--yard"])
        .arg(&yard)
        .arg("--photo")
        .arg(photo)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let began = Instant::now();
    let (mut most, mut in_time) = (0.0_f64, true);
    while child.try_wait().unwrap().is_none() {
        let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kb = line.and_then(|l| l.trim().trim_end_matches(" kB").trim().parse::<f64>().ok());
        most = most.max(kb.unwrap_or(0.0) / 1000.0);
        if began.elapsed() > within {
            in_time = false;
            let _ended = child.kill();
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let out = child.wait_with_output().unwrap();
    let text = [out.stdout, out.stderr].concat();
    (most, String::from_utf8_lossy(&text).into_owned(), in_time)
}

#[test]
fn a_photo_of_48_megapixels_is_kept_and_shown_within_300_mb() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("large.jpg");
    let picture = image::RgbImage::from_fn(8000, 6000, |x, y| {
        image::Rgb([(x / 31) as u8, (y / 23) as u8, ((x ^ y) / 64) as u8])
    });
    picture.save(&file).unwrap();
    drop(picture);
    let (mb, text, _) = kept_apart(&file, Duration::from_secs(60));
    println!("48 megapixels: {mb:.0} MB at most");
    assert!(text.contains("\"width\": 8000") && text.contains("\"unshown\": null"), "{text}");
    assert!(mb > 10.0 && mb < 300.0, "{mb}");
}
