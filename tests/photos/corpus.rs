//! Odd and hostile pictures from the system's source packages: each ends in a photo or a clear sentence.
//! Never a copy in the repository: `cargo xtask setup` fetches them to `target/corpus` when it can.
//! Invariant: under 300 MB and 5 seconds each, and no panic.

use super::cases;
use super::memory::kept_apart;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Every file that calls itself a picture or may be one.
fn gather(folder: &Path, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    for path in entries.flatten().map(|entry| entry.path()) {
        if path.is_dir() {
            gather(&path, found);
        } else if path.extension().is_some_and(|end| ENDINGS.iter().any(|e| end.eq_ignore_ascii_case(e))) {
            found.push(path);
        }
    }
}

const ENDINGS: [&str; 14] =
    ["jpg", "jpeg", "png", "webp", "heic", "heif", "avif", "tif", "tiff", "gif", "bmp", "exv", "mp4", "poc"];

#[test]
fn odd_and_hostile_pictures_end_in_a_photo_or_a_sentence() {
    let folder = crate::photos::corpus_folder();
    let mut all = Vec::new();
    gather(&folder, &mut all);
    all.sort();
    if all.is_empty() {
        println!(
            "skipped: no corpus in {}; cargo xtask setup fetches it where source packages can be had",
            folder.display()
        );
        return;
    }
    let few = all.len().div_ceil(cases(40, usize::MAX).min(all.len()));
    let (mut kept, mut refused, mut bad, mut most) = (0, 0, Vec::new(), 0.0_f64);
    for file in all.iter().step_by(few.max(1)) {
        let (mb, text, in_time) = kept_apart(file, Duration::from_secs(5));
        most = most.max(mb);
        let photo = text.contains("\"hash\"");
        let sentence = text.contains("\"code\": \"invalid\"") && text.contains("\"field\": \"photo\"");
        kept += usize::from(photo);
        refused += usize::from(sentence);
        if !in_time || mb >= 300.0 || text.contains("panicked") && !sentence || photo == sentence {
            bad.push(format!("{}: {mb:.0} MB, in time {in_time}: {text}", file.display()));
        }
    }
    println!(
        "corpus: {} files, {kept} photos, {refused} refused with a sentence, {} bad, {most:.0} MB at most",
        kept + refused + bad.len(),
        bad.len()
    );
    assert!(bad.is_empty(), "{bad:#?}");
}
