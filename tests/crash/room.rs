//! A disk that is really full: a small one of its own, filled until nothing more goes on it.
//! Never a made-up error: the system itself cuts writes short at the last free page.
//! Invariant: what was acknowledged before it was full is there when there is room again.

use super::errors::{clear, kept};
use super::script::Script;
use super::{Run, each, play, room, share, spread, told};
use std::path::Path;
use std::process::{Command, Stdio};

#[test]
fn a_full_disk_refuses_clearly_and_keeps_what_was_acknowledged() {
    let allowed = Command::new("unshare")
        .args(["-m", "true"])
        .stderr(Stdio::null())
        .status()
        .is_ok_and(|s| s.success());
    if !allowed {
        println!("skipped: a disk of its own cannot be made here (unshare -m is not permitted)");
        return;
    }
    let place = room();
    let file = place.path().join("script");
    let script = Script::of(5, share(60, 200));
    script.write(&file);
    // In kilobytes, from not enough for an empty register to enough for the whole script.
    let sizes: Vec<usize> = spread(1_500, share(6, 250)).into_iter().map(|n| 4 * n).collect();
    let found = each(&sizes, |size| full(*size, &file, &script).map_err(|e| format!("{size} kB: {e}")));
    told("full disk (a small one of its own)", sizes.len(), &found);
}

/// The small disk is seen by the program alone, so its files are copied out when it has ended.
fn full(size: usize, file: &Path, script: &Script) -> Result<(), String> {
    let (disk, out) = (room(), room());
    let words = "mount -t tmpfs -o size=$1k small \"$2\" || exit 126; out=$3; folder=$2; shift 3; \
        \"$@\"; code=$?; cp -r \"$folder/yard\" \"$out/yard\"; exit $code";
    let run = Run::of(
        Command::new("unshare")
            .args(["-m", "sh", "-c", words, "sh", &size.to_string()])
            .args([disk.path(), out.path()])
            .args(play(file, &disk.path().join("yard"))),
    );
    clear(&run)?;
    if let Some((n, reply)) = run.refused.iter().find(|(_, reply)| reply["code"] == "bug") {
        return Err(format!("line {n}: a full disk is not called one: {reply}"));
    }
    kept(&out.path().join("yard"), &run, script)
}
