//! How fast the register does what it must do fast, on made-up acts in a folder that goes with it.
//! Never a figure of the trade.
//! Invariant: every run measures the same acts, whatever the machine.

#![allow(
    clippy::disallowed_methods,
    reason = "measuring needs a stopwatch, and it makes files to measure with"
)]

use serde_json::{Value, json};
use shadeyard_backend::book::change::Act;
use shadeyard_backend::book::jobs::JobState;
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use std::path::Path;
use std::time::{Duration, Instant};

/// When the made-up acts begin: the morning of 1 May 2026, milliseconds since 1970.
const BEGIN_MS: i64 = 1_777_600_000_000;

/// `merge N`, `archive N MEGABYTES`, `records N` or `photos N`; prints figures as JSON.
pub fn bench(words: &[String]) -> Result<Value, Error> {
    let number = |at: usize, or: usize| words.get(at).and_then(|n| n.parse().ok()).unwrap_or(or);
    match words.first().map(String::as_str) {
        Some("merge") => merge(number(1, 20_000)),
        Some("archive") => archive(number(1, 20_000), number(2, 200)),
        Some("records") => records(number(1, 100_000)),
        Some("photos") => crate::bench_photos::photos(number(1, 100)),
        Some("review") => crate::bench_review::bench(number(1, 2000), number(2, 300_000)),
        Some("review_asked") => {
            crate::bench_review::asked(Path::new(words.get(1).map_or("", String::as_str)))
        }
        _ => Err(Error::invalid("bench", "unknown_word")),
    }
}

/// Taking acts in: straight, and through a shared folder with its preview.
fn merge(acts: usize) -> Result<Value, Error> {
    let clock = Clock::fixed("2026-12-01T12:00:00+01:00")?;
    let (one, other) = (tempfile::tempdir()?, tempfile::tempdir()?);
    let shared = tempfile::tempdir()?;
    let made = made_up(acts);
    let book = commands::open(one.path(), clock.clone())?;
    let began = Instant::now();
    for chunk in made.chunks(shadeyard_backend::book::merge::CHUNK) {
        book.take(chunk)?;
    }
    let take = began.elapsed();
    let began = Instant::now();
    let sent = book.send(shared.path())?;
    let send = began.elapsed();
    let second = commands::open(other.path(), clock)?;
    let began = Instant::now();
    let (coming, ()) = second.rehearse_merge(shared.path(), |_| Ok(()))?;
    let rehearse = began.elapsed();
    let began = Instant::now();
    let came = second.receive(shared.path(), |_| Ok(json!({})))?.acts;
    let receive = began.elapsed();
    let began = Instant::now();
    let again = second.receive(shared.path(), |_| Ok(json!({})))?.acts;
    Ok(json!({
        "acts": acts, "sent": sent, "foreseen": coming.merged.acts, "came": came, "again": again,
        "take_acts_per_s": rate(acts, take), "send_acts_per_s": rate(acts, send),
        "preview_acts_per_s": rate(acts, rehearse), "merge_acts_per_s": rate(acts, receive),
        "again_ms": ms(began.elapsed()),
    }))
}

/// Acts like those of a yard: of every hundred one lays a log, the others are looks, pickings and
/// stops of rounds on it. Two devices, one after the other.
fn made_up(acts: usize) -> Vec<Act> {
    (0..acts).map(|n| act(n, acts)).collect()
}

fn act(n: usize, all: usize) -> Act {
    let (device, seq) = if n < all / 2 { (1, n + 1) } else { (2, n - all / 2 + 1) };
    let at = BEGIN_MS + i64::try_from(n).unwrap_or(0) * 60_000;
    let log = id(10, n / 100);
    let change = |kind: &str, own: Value| {
        let mut row = json!({"log": log, "day": "2026-06-01", "at": at, "zone": "+02:00", "note": ""});
        if let (Some(row), Value::Object(own)) = (row.as_object_mut(), own) {
            row.extend(own);
        }
        vec![json!({"put": {"kind": kind, "id": id(20, n), "row": row}})]
    };
    let set =
        |name: &str, value: Value| json!({"set": {"kind": "log", "id": log, "name": name, "value": value}});
    let (name, changes) = match n % 100 {
        0 => (
            "log_add",
            vec![
                set("tag", json!((n / 100).to_string())),
                set("wood", json!("white-oak")),
                set("d1_mm", json!(120)),
                set("length_mm", json!(1000)),
                set("mushroom", json!("shiitake")),
                set("spawn", json!("plug")),
                set("method", json!("drilled")),
                set("laid", json!("2026-04")),
                set("note", json!("")),
                set("void", json!(0)),
            ],
        ),
        n if n % 3 == 0 => ("look_add", change("look", json!({"seen": "button"}))),
        n if n % 3 == 1 => {
            ("picking_add", change("picking", json!({"grams": 240, "caps": 12, "by": "slugs"})))
        }
        _ => (
            "round_check",
            change("check", json!({"round": id(30, n / 50), "how": "seen", "slugs": 3, "damage": "none"})),
        ),
    };
    Act {
        device: id(1, device),
        seq: i64::try_from(seq).unwrap_or(0),
        stamp: format!("{:016x}", at << 16),
        at,
        zone: "+02:00".into(),
        name: name.into(),
        undoes: None,
        body: json!({"said": {"log": log, "tag": (n / 100).to_string()}, "changes": changes}),
    }
}

fn id(kind: u32, n: usize) -> String {
    format!("{kind:08x}-0000-7000-8000-{n:012x}")
}

/// Writing an archive, reading it back on an empty yard, against a plain copy of the same yard.
fn archive(acts: usize, megabytes: usize) -> Result<Value, Error> {
    let clock = Clock::fixed("2026-12-01T12:00:00+01:00")?;
    let (_yard, book) = filled(acts, &clock)?;
    for n in 0..megabytes / 4 {
        book.keep_blobs(vec![(noise(n, 4 << 20), json!({}))])?;
    }
    sync()?;
    let [copy, write, read] = medians(|| {
        let out = tempfile::tempdir()?;
        let copy = timed(|| copied(book.folder(), &out.path().join("copy")))?;
        let [write, read] = there_and_back(&book, &clock)?;
        Ok([copy, write, read])
    })?;
    Ok(json!({
        "acts": acts, "megabytes": megabytes, "copy_s": copy, "write_s": write, "read_s": read,
        "write_to_copy": copy / write, "read_to_copy": copy / read,
    }))
}

/// The same without photos, against SQLite's own dump of the register and a reload of it.
fn records(acts: usize) -> Result<Value, Error> {
    let clock = Clock::fixed("2026-12-01T12:00:00+01:00")?;
    let (_yard, book) = filled(acts, &clock)?;
    sync()?;
    let [dump, reload, write, read] = medians(|| {
        let out = tempfile::tempdir()?;
        let text = out.path().join("dump.sql");
        let dump = timed(|| sqlite(&book.folder().join("register.sqlite"), ".dump", None, Some(&text)))?;
        let reload = timed(|| sqlite(&out.path().join("again.sqlite"), "", Some(&text), None))?;
        let [write, read] = there_and_back(&book, &clock)?;
        Ok([dump, reload, write, read])
    })?;
    Ok(json!({
        "acts": acts, "dump_s": dump, "reload_s": reload, "write_s": write, "read_s": read,
        "write_to_dump": dump / write, "read_to_reload": reload / read,
        "both_to_both": (dump + reload) / (write + read),
    }))
}

/// SQLite's own command line, forced to the disk at the end.
fn sqlite(file: &Path, word: &str, from: Option<&Path>, to: Option<&Path>) -> Result<(), Error> {
    let mut command = std::process::Command::new("sqlite3");
    command.arg(file).args((!word.is_empty()).then_some(word));
    if let Some(from) = from {
        command.stdin(std::fs::File::open(from)?);
    }
    if let Some(to) = to {
        command.stdout(std::fs::File::create(to)?);
    }
    if !command.status()?.success() {
        return Err(Error::Bug("sqlite3 ended with an error".into()));
    }
    sync()
}

fn filled(acts: usize, clock: &Clock) -> Result<(tempfile::TempDir, Book), Error> {
    let yard = tempfile::tempdir()?;
    let book = commands::open(yard.path(), clock.clone())?;
    for chunk in made_up(acts).chunks(shadeyard_backend::book::merge::CHUNK) {
        book.take(chunk)?;
    }
    Ok((yard, book))
}

/// The medians of five rounds, since the first to use fresh memory pays for it.
fn medians<const N: usize>(round: impl Fn() -> Result<[f64; N], Error>) -> Result<[f64; N], Error> {
    let rounds: Vec<[f64; N]> = (0..5).map(|_| round()).collect::<Result<_, Error>>()?;
    Ok(std::array::from_fn(|at| {
        let mut all: Vec<f64> = rounds.iter().map(|round| round[at]).collect();
        all.sort_by(f64::total_cmp);
        all[all.len() / 2]
    }))
}

/// Seconds to write an archive and to read it on an empty yard.
fn there_and_back(book: &Book, clock: &Clock) -> Result<[f64; 2], Error> {
    let (out, other) = (tempfile::tempdir()?, tempfile::tempdir()?);
    let write = timed(|| {
        finished(book, &commands::dispatch(book, "archive_write", json!({"folder": out.path()}), None)?)
    })?;
    let second = commands::open(other.path(), clock.clone())?;
    let file = std::fs::read_dir(out.path())?
        .filter_map(|e| e.ok().map(|e| e.path()))
        .find(|p| p.extension().is_some_and(|e| e == "zip"))
        .ok_or(Error::Missing { what: "archive" })?;
    let read = timed(|| {
        let job = second.read_archive(&file, |_| Ok(json!({})), second.new_id().as_str())?;
        finished(&second, &json!({"job": job}))
    })?;
    Ok([write, read])
}

fn finished(book: &Book, started: &Value) -> Result<(), Error> {
    let job = started["job"].as_str().unwrap_or_default();
    loop {
        let view = book.jobs().show(job)?;
        match view.state {
            JobState::Running => std::thread::sleep(Duration::from_millis(2)),
            JobState::Done if view.found.is_empty() => return Ok(()),
            _ => return Err(Error::Bug(view.found.join("; "))),
        }
    }
}

fn timed(work: impl FnOnce() -> Result<(), Error>) -> Result<f64, Error> {
    let began = Instant::now();
    work()?;
    Ok(began.elapsed().as_secs_f64())
}

/// A plain copy of a folder, forced to the disk at the end.
fn copied(from: &Path, to: &Path) -> Result<(), Error> {
    let mut copy = std::process::Command::new("cp");
    copy.args(["-r", "--reflink=never"]).arg(from).arg(to).status()?;
    sync()
}

fn sync() -> Result<(), Error> {
    std::process::Command::new("sync").status()?;
    Ok(())
}

/// Bytes that don't pack, the same for the same `seed` (xorshift).
fn noise(seed: usize, len: usize) -> Vec<u8> {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64 ^ (seed as u64 + 1);
    let mut bytes = Vec::with_capacity(len + 8);
    while bytes.len() < len {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        bytes.extend_from_slice(&state.to_le_bytes());
    }
    bytes.truncate(len);
    bytes
}

fn rate(acts: usize, time: Duration) -> f64 {
    (acts as f64 / time.as_secs_f64()).round()
}

fn ms(time: Duration) -> f64 {
    (time.as_secs_f64() * 1000.0).round()
}
