//! Killed at any write: what was acknowledged is there, what was being done is there whole or not at all.
//! Never a kill between two calls only: every call that reaches the disk is one case.
//! Invariant: the program that is killed is the real one, on a real folder.

use super::script::Script;
use super::witness::Witness;
use super::{Run, each, play, room, share, spread, told, traced};
use std::collections::HashMap;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

/// One call of a run: its name, and the how many-th of that name it is. Printing is marked apart.
#[derive(Debug, Clone)]
pub struct Call {
    pub name: String,
    pub nth: usize,
    pub prints: bool,
}

/// The calls a script makes on its way, in order, from a run that is not struck.
pub fn calls(script: &Path, folder: &Path) -> Option<Vec<Call>> {
    let place = room();
    let log = place.path().join("calls");
    let run = Run::of(traced(&["-o", &log.to_string_lossy()])?.args(play(script, folder)));
    assert!(run.status.success() && run.refused.is_empty(), "{} {:?}", run.error, run.refused);
    let mut seen: HashMap<String, usize> = HashMap::new();
    let text = std::fs::read_to_string(log).expect("its calls");
    let calls = text.lines().filter_map(|line| {
        let (name, rest) = line.split_once(' ')?.1.trim_start().split_once('(')?;
        let nth = seen.entry(name.to_owned()).or_default();
        *nth += 1;
        let prints = name == "write" && (rest.starts_with("1,") || rest.starts_with("2,"));
        Some(Call { name: name.to_owned(), nth: *nth, prints })
    });
    Some(calls.collect())
}

#[test]
fn what_was_acknowledged_survives_a_kill_at_any_write() {
    let place = room();
    let file = place.path().join("script");
    let script = Script::of(1, share(40, 200));
    script.write(&file);
    let Some(all) = calls(&file, &place.path().join("count")) else { return };
    let witness = Witness::of(&script);
    let cases: Vec<&Call> =
        spread(all.len(), share(30, usize::MAX)).into_iter().map(|n| &all[n - 1]).collect();
    let ended = AtomicUsize::new(0);
    let found = each(&cases, |call| {
        let folder = room();
        let run = killed(call, &file, folder.path()).map_err(|e| format!("{call:?}: {e}"))?;
        ended.fetch_add(usize::from(run.status.success()), Ordering::SeqCst);
        witness.stands(folder.path(), run.acked.len()).map_err(|e| format!("{call:?}: {e}"))
    });
    // Drawn ids lie differently in the tables, so a run may need a page or two less than the counted one.
    let ended = ended.into_inner();
    assert!(ended <= 1 + cases.len() / 100, "{ended} runs ended by themselves");
    told("killed at the N-th write or fsync", cases.len(), &found);
}

/// Plays a script that is killed as it makes this call, or ends well because it makes one less.
pub fn killed(call: &Call, script: &Path, folder: &Path) -> Result<Run, String> {
    let inject = format!("inject={}:signal=KILL:when={}", call.name, call.nth);
    let mut command = traced(&["-o", "/dev/null", "-e", &inject]).expect("strace works");
    let run = Run::of(command.args(play(script, folder)));
    let expected = run.status.signal() == Some(9) || run.status.success();
    if expected { Ok(run) } else { Err(format!("ended otherwise: {} {}", run.status, run.error)) }
}
