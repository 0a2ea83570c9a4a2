//! A phone short of memory: less and less is given, until the program cannot even start.
//! Never a machine brought down: the limit is the program's own.
//! Invariant: it ends, with a reply or stopped by the system, and what was acknowledged is there.

use super::errors::kept;
use super::script::Script;
use super::{Run, each, play, room, share, spread, told};
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

#[test]
fn a_program_short_of_memory_loses_nothing_it_acknowledged() {
    let place = room();
    let file = place.path().join("script");
    let script = Script::of_photos(4);
    script.write(&file);
    // In kilobytes of address space: from what only the loader needs to what the whole script needs.
    let caps: Vec<usize> = spread(160, share(10, 160)).into_iter().map(|n| 12_000 + n * 300).collect();
    let partly = AtomicUsize::new(0);
    let found = each(&caps, |cap| {
        let run = short_of(*cap, &file, &script).map_err(|e| format!("{cap} kB: {e}"))?;
        let some = !run.acked.is_empty() && run.acked.len() < script.lines.len();
        partly.fetch_add(usize::from(some), Ordering::SeqCst);
        Ok(())
    });
    told("memory cap", caps.len(), &found);
    let partly = partly.into_inner();
    assert!(partly > 0, "none of the limits struck in the middle of the work");
}

fn short_of(cap: usize, file: &Path, script: &Script) -> Result<Run, String> {
    let folder = room();
    let run = Run::of(
        Command::new("sh")
            .args(["-c", "ulimit -v $1; shift; exec \"$@\"", "sh", &cap.to_string()])
            .args(play(file, folder.path())),
    );
    if run.panicked() {
        return Err(format!("{}: {}", run.status, run.error));
    }
    kept(folder.path(), &run, script)?;
    Ok(run)
}
