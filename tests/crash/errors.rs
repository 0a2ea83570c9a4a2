//! The disk says no: an error from any call, once or from then on, a full disk, a write cut short.
//! Never a call that claims success and did nothing: no program can survive that one.
//! Invariant: what was acknowledged stays, the rest is refused with a reply, and once the fault is gone
//! the yard goes on.

use super::killed::{Call, calls};
use super::script::Script;
use super::witness::{open, pictured, sound};
use super::{CALLS, Run, each, play, room, share, spread, told, traced};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;

/// What the call answers: an error of the device, no room, or a write of nothing.
const FAULTS: [&str; 3] = ["error=EIO", "error=ENOSPC", "retval=0"];

struct Case<'a> {
    fault: &'static str,
    /// The calls before, and the one that fails.
    upto: &'a [Call],
    /// Every call from this one on fails, instead of this one alone.
    sticky: bool,
}

impl Case<'_> {
    /// The words that make strace answer for the system.
    fn words(&self) -> Vec<String> {
        let Some(call) = self.upto.last() else { return Vec::new() };
        if !self.sticky {
            return vec![format!("inject={}:{}:when={}", call.name, self.fault, call.nth)];
        }
        let names = CALLS.split(',').filter(|name| self.hits(name));
        names
            .map(|name| {
                let before = self.upto.iter().filter(|one| one.name == name).count();
                let first = if name == call.name { before } else { before + 1 };
                format!("inject={name}:{}:when={first}+", self.fault)
            })
            .collect()
    }

    /// Only a write can be cut short.
    fn hits(&self, name: &str) -> bool {
        self.fault != "retval=0" || name == "write" || name == "pwrite64"
    }
}

#[test]
fn an_error_from_any_call_is_a_clear_refusal_and_loses_nothing() {
    let place = room();
    let file = place.path().join("script");
    let script = Script::of(4, share(20, 40));
    script.write(&file);
    let Some(all) = calls(&file, &place.path().join("count")) else { return };
    let mut cases = Vec::new();
    for fault in FAULTS {
        for sticky in [false, true] {
            let ns = spread(all.len(), share(8, usize::MAX)).into_iter();
            let made = ns.map(|n| Case { fault, upto: &all[..n], sticky });
            cases.extend(
                made.filter(|case| case.upto.last().is_some_and(|c| case.hits(&c.name) && !c.prints)),
            );
        }
    }
    let found = each(&cases, |case| {
        let at = case.upto.last();
        one(case, &file, &script)
            .map_err(|e| format!("{} at {at:?}, sticky {}: {e}", case.fault, case.sticky))
    });
    told("EIO, ENOSPC, short write", cases.len(), &found);
}

fn one(case: &Case<'_>, file: &Path, script: &Script) -> Result<(), String> {
    let folder = room();
    let mut command = traced(&["-o", "/dev/null"]).expect("strace works");
    case.words().iter().for_each(|words| {
        command.args(["-e", words]);
    });
    let run = Run::of(command.args(play(file, folder.path())));
    clear(&run)?;
    // The last line depends on no other: refused with others, the fault outlived its one call.
    let last = run.refused.last().is_some_and(|(n, _)| *n == script.lines.len());
    if !case.sticky && last && run.refused.len() > 1 {
        return Err(format!("one fault, and the yard did not go on: {:?}", run.refused));
    }
    kept(folder.path(), &run, script)
}

/// Whether everything that was not done was said, in a reply.
pub fn clear(run: &Run) -> Result<(), String> {
    // 127: the system could not even start the program.
    let ended = matches!(run.status.code(), Some(0 | 1 | 127));
    if run.panicked() || !ended {
        return Err(format!("no clear end, {}: {}", run.status, run.error));
    }
    let known = ["disk_full", "bug", "damaged", "missing", "conflict", "invalid"];
    match run.refused.iter().find(|(_, reply)| !known.iter().any(|code| reply["code"] == *code)) {
        Some((n, reply)) => Err(format!("line {n}: {reply}")),
        None => Ok(()),
    }
}

/// Whether every acknowledged line is in the yard, whole, now that the fault is gone.
pub fn kept(folder: &Path, run: &Run, script: &Script) -> Result<(), String> {
    let book = open(folder)?;
    let (requests, photos, half) = book
        .read(|conn| {
            let all = |sql: &str| -> rusqlite::Result<BTreeSet<String>> {
                conn.prepare(sql)?.query_map([], |r| r.get(0))?.collect()
            };
            let half: i64 = conn.query_row("SELECT count(*) FROM act WHERE applied = 0", [], |r| r.get(0))?;
            Ok((all("SELECT request FROM act")?, all("SELECT hash FROM blob WHERE here = 1")?.len(), half))
        })
        .map_err(|e| e.to_string())?;
    if half != 0 {
        return Err(format!("half: {half} acts"));
    }
    let line = |n: &usize| &script.lines[n - 1];
    for n in &run.acked {
        let request = line(n)["request"]["request"].as_str();
        if request.is_some_and(|one| !requests.contains(one)) {
            return Err(format!("lost: line {n}, {}", line(n)["name"]));
        }
    }
    let pictures: BTreeSet<&str> =
        run.acked.iter().filter_map(|n| line(n).get("photo").and_then(Value::as_str)).collect();
    if photos < pictures.len() {
        return Err(format!("lost: {photos} of {} photos", pictures.len()));
    }
    pictured(&book)?;
    sound(&book)
}
