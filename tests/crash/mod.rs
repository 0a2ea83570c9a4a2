//! Faults a phone meets: killed, out of power, out of room, a broken card, two windows, a wrong clock.
//! Never a fault that only a test could make, such as a disk that says it wrote and did not.
//! Invariant: a small share of each fault's cases runs always, all of them with `FAULTS=all`; each test
//! prints one line `fault NAME | cases | found`, and found is 0 or the test fails.

#![allow(clippy::print_stdout, reason = "what was tried and found is the table")]

mod clocks;
mod errors;
mod killed;
mod measured;
mod memory;
mod moved;
mod mutated;
mod photos;
mod power;
mod room;
mod script;
mod steps;
mod trace;
mod two;
mod witness;

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use tempfile::TempDir;

/// When all scripts are played: the clock stands still, so that two runs write the same.
pub const NOW: &str = "2026-10-03T21:30:00+02:00";

/// `few` cases always, `many` when all are asked for.
pub fn share(few: usize, many: usize) -> usize {
    if std::env::var("FAULTS").is_ok_and(|how| how == "all") { many } else { few }
}

/// One line for the table, and the failure when something was found.
pub fn told(fault: &str, cases: usize, found: &[String]) {
    println!("fault {fault} | {cases} | {}", found.len());
    assert!(
        found.is_empty(),
        "{fault}: {} of {cases}, e.g. {:#?}",
        found.len(),
        &found[..found.len().min(3)]
    );
}

/// A folder of its own; in memory where the system has such a place, as thousands are made.
pub fn room() -> TempDir {
    tempfile::Builder::new()
        .prefix("shadeyard-")
        .tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .expect("a temporary folder")
}

/// Tries all cases on as many threads as there are cores; returns what was found, in no order.
pub fn each<T: Sync>(cases: &[T], try_one: impl Fn(&T) -> Result<(), String> + Sync) -> Vec<String> {
    let (next, found) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..cores {
            scope.spawn(|| {
                while let Some(case) = cases.get(next.fetch_add(1, Ordering::SeqCst)) {
                    if let Err(what) = try_one(case) {
                        found.lock().expect("the list").push(what);
                    }
                }
            });
        }
    });
    found.into_inner().expect("the list")
}

/// `few` or `many` of `1..=total`, spread evenly, the first and the last among them.
pub fn spread(total: usize, wanted: usize) -> Vec<usize> {
    if wanted >= total {
        return (1..=total).collect();
    }
    (0..wanted).map(|n| 1 + n * (total - 1) / (wanted - 1).max(1)).collect()
}

/// The `yard` program as cargo built it, beside the test binary's own folder.
pub fn yard() -> PathBuf {
    let me = std::env::current_exe().expect("this test's own path");
    let yard = me.ancestors().nth(2).expect("the folder cargo builds in").join("yard");
    assert!(yard.is_file(), "{} is not built: `cargo xtask test` builds it first", yard.display());
    yard
}

/// The words that play a script on a yard.
pub fn play(script: &Path, folder: &Path) -> Vec<std::ffi::OsString> {
    let (yard, script, folder) = (yard(), script.as_os_str(), folder.as_os_str());
    let words = [yard.as_os_str(), "script".as_ref(), script, "--yard".as_ref(), folder];
    words.iter().copied().chain(["--now".as_ref(), NOW.as_ref()]).map(ToOwned::to_owned).collect()
}

/// What a played script printed before it ended, by itself or not.
pub struct Run {
    pub status: ExitStatus,
    /// Lines whose `ok` was printed.
    pub acked: Vec<usize>,
    /// Lines that were refused, with the reply.
    pub refused: Vec<(usize, Value)>,
    /// What it printed as its own error.
    pub error: String,
}

impl Run {
    pub fn of(command: &mut Command) -> Self {
        let out = command.stdin(Stdio::null()).output().expect("the program starts");
        let (mut acked, mut refused) = (Vec::new(), Vec::new());
        for line in String::from_utf8_lossy(&out.stdout).lines() {
            let mut words = line.splitn(3, ' ');
            match (words.next(), words.next().and_then(|n| n.parse().ok()), words.next()) {
                (Some("ok"), Some(n), None) => acked.push(n),
                (Some("refused"), Some(n), Some(reply)) => {
                    refused.push((n, serde_json::from_str(reply).expect("a reply")));
                }
                other => panic!("what is {other:?}?"),
            }
        }
        Self { status: out.status, acked, refused, error: String::from_utf8_lossy(&out.stderr).into_owned() }
    }

    /// Everything printed that is no clear reply.
    pub fn panicked(&self) -> bool {
        self.error.contains("panicked") || self.status.code() == Some(101)
    }
}

/// The system calls by which a yard reaches its disk.
pub const CALLS: &str = "openat,write,pwrite64,fsync,fdatasync,ftruncate,rename,renameat,renameat2,link,linkat,\
    unlink,unlinkat,mkdir,mkdirat";

/// `strace` over a played script; `None`, with the reason printed, where this system does not let
/// one program look at another.
pub fn traced(words: &[&str]) -> Option<Command> {
    let allowed = Command::new("strace")
        .args(["-qq", "-o", "/dev/null", "-e", "trace=write", "true"])
        .stderr(Stdio::null())
        .status()
        .expect("strace is installed: `cargo xtask setup`");
    if !allowed.success() {
        println!("skipped: strace may not trace here (ptrace is not permitted)");
        return None;
    }
    let mut command = Command::new("strace");
    command.args(["-f", "-qq", "-e", &format!("trace={CALLS}")]).args(words);
    Some(command)
}

/// Numbers that look random and are the same on every run.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// SplitMix64 (Steele, Lea, Flood 2014).
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `end`, which is not 0.
    pub fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() % end as u64).expect("it is below a usize")
    }
}
