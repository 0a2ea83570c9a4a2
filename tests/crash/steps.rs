//! Each shipped version of the register reaches today's, killed at each call on the way too.
//! Never a change to a frozen register: a copy is opened.
//! Invariant: a broken-off opening leaves the old register or the new one, and the next one finishes it.

use super::killed::{Call, calls, killed};
use super::witness::{dump, looking, open, sound};
use super::{each, room, share, spread, told};
use std::path::{Path, PathBuf};

fn frozen() -> Vec<PathBuf> {
    let place = Path::new(env!("CARGO_MANIFEST_DIR")).join("migrations");
    let entries = std::fs::read_dir(place).expect("the frozen registers");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    paths.filter(|path| path.extension().is_some_and(|end| end == "sqlite")).collect()
}

fn copied(from: &Path) -> tempfile::TempDir {
    let folder = room();
    std::fs::copy(from, folder.path().join("register.sqlite")).expect("a copy");
    folder
}

#[test]
fn every_shipped_version_reaches_today_however_often_its_opening_is_broken_off() {
    let nothing = room();
    let script = nothing.path().join("script");
    std::fs::write(&script, "").expect("an empty script");
    let (mut all, mut found) = (0, Vec::new());
    for version in frozen() {
        let clean = copied(&version);
        let Some(calls) = calls(&script, clean.path()) else { return };
        let wanted = dump(&looking(clean.path())).expect("a dump");
        sound(&open(clean.path()).expect("it opens")).expect("it is sound");
        let cases: Vec<&Call> =
            spread(calls.len(), share(12, usize::MAX)).into_iter().map(|n| &calls[n - 1]).collect();
        all += cases.len();
        found.extend(each(&cases, |call| {
            broken_off(call, &version, &script, &wanted)
                .map_err(|e| format!("{}, {call:?}: {e}", version.display()))
        }));
    }
    assert!(all > 0, "there are frozen registers");
    told("each shipped version, killed at each step", all, &found);
}

fn broken_off(call: &Call, version: &Path, script: &Path, wanted: &str) -> Result<(), String> {
    let folder = copied(version);
    killed(call, script, folder.path())?;
    let book = open(folder.path())?;
    let found = book.read(|conn| Ok(dump(conn)?)).map_err(|e| e.to_string())?;
    if found != wanted {
        return Err("half: other tables than an unbroken opening gives".into());
    }
    sound(&book)
}
