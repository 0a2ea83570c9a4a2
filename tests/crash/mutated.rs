//! A register cut short or scribbled over, with and without its write-ahead log.
//! Never a promise that all can be read: only that nothing panics and nothing is made worse.
//! Invariant: a register that is refused, or opened for reading only, keeps its bytes.

use super::script::Script;
use super::witness::open;
use super::{Dice, Run, each, play, room, share, told};
use serde_json::json;
use shadeyard_backend::book::Book;
use shadeyard_backend::commands;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::process::Command;

const FILES: [&str; 2] = ["register.sqlite", "register.sqlite-wal"];

/// The two files of a filled yard: closed well, or as a kill left them with a full log.
struct Filled([Vec<u8>; 2]);

#[test]
fn a_register_cut_short_or_scribbled_over_never_makes_it_panic_and_is_kept_when_refused() {
    let yards = [filled(false), filled(true)];
    let cases: Vec<u64> = (0..share(100, 5_000) as u64).collect();
    let found = each(&cases, |seed| {
        let yard = &yards[usize::from(seed % 3 == 0)];
        one(*seed, yard).map_err(|e| format!("case {seed}: {e}"))
    });
    told("truncated and mutated database", cases.len(), &found);
}

fn filled(with_log: bool) -> Filled {
    let place = room();
    let (file, folder) = (place.path().join("script"), place.path().join("yard"));
    Script::of(3, 120).write(&file);
    let words = play(&file, &folder);
    let run = Run::of(Command::new(&words[0]).args(&words[1..]));
    assert!(run.status.success(), "{}", run.error);
    let read = |name: &str| std::fs::read(folder.join(name)).unwrap_or_default();
    if !with_log {
        return Filled([read(FILES[0]), Vec::new()]);
    }
    // Copied while it is open, after more was written: the log holds what the file does not.
    let book = open(&folder).expect("it opens");
    for n in 0..20 {
        let draft = json!({"key": format!("log:{n}"), "value": "x".repeat(3_000)});
        commands::dispatch(&book, "draft_set", draft, None).expect("a draft");
    }
    Filled(FILES.map(read))
}

fn one(seed: u64, yard: &Filled) -> Result<(), String> {
    let mut dice = Dice::new(seed);
    let mut bytes = yard.0.clone();
    let which = usize::from(!bytes[1].is_empty() && dice.below(2) == 0);
    for _ in 0..=dice.below(3) {
        scribble(&mut bytes[which], &mut dice);
    }
    let folder = room();
    for (name, bytes) in FILES.iter().zip(&bytes).filter(|(_, bytes)| !bytes.is_empty()) {
        std::fs::write(folder.path().join(name), bytes).expect("a mutant");
    }
    let hook = catch_unwind(AssertUnwindSafe(|| use_it(folder.path())));
    let kept = match hook {
        Err(_) => return Err("it panicked".into()),
        Ok(written) => !written,
    };
    let same = |n: usize| std::fs::read(folder.path().join(FILES[n])).unwrap_or_default() == bytes[n];
    if kept && !(same(0) && same(1)) {
        return Err("it was refused and yet changed".into());
    }
    Ok(())
}

fn scribble(bytes: &mut Vec<u8>, dice: &mut Dice) {
    if bytes.is_empty() {
        return;
    }
    let (from, to) = (dice.below(bytes.len()), dice.below(bytes.len()));
    let length = dice.below(5_000).min(bytes.len() - from.max(to));
    match dice.below(7) {
        0 => bytes.truncate(from),
        1 => bytes[from..from + length].fill(0),
        2 => bytes.copy_within(from..from + length, to),
        3 => (from..from + length).for_each(|at| bytes[at] = dice.below(256) as u8),
        4 => bytes[from] ^= 1 << dice.below(8),
        // The head says what the file is and how long.
        5 => bytes[dice.below(100).min(from)] = dice.below(256) as u8,
        // A page in the place of another.
        _ => {
            let (one, other) = (from / 4096 * 4096, to / 4096 * 4096);
            let end = (one.max(other) + 4096).min(bytes.len());
            let length = end - one.max(other);
            bytes.copy_within(one..one + length, other);
        }
    }
}

/// Opens it and asks for everything a grower would; returns whether it was opened for writing.
fn use_it(folder: &Path) -> bool {
    let Ok(book) = open(folder) else { return false };
    let writing = book.reading_only().is_none();
    let ask = |name: &str, request: serde_json::Value| commands::dispatch(&book, name, request, None);
    for name in ["chores_show", "spot_list", "settings_show", "register_check"] {
        let _either = ask(name, json!({}));
    }
    let _either = ask("act_list", json!({"limit": 50}));
    let _either = ask("review_ask", json!({"question": {"by": "wood", "measure": "log_year"}}));
    if let Ok(yard) = ask("yard_list", json!({"search": ""})) {
        for log in yard["logs"].as_array().into_iter().flatten().take(5) {
            let _either = ask("log_show", json!({"log": log["id"]}));
            let _either = ask("log_form", json!({"log": log["id"]}));
        }
    }
    let _either = ask("draft_set", json!({"key": "log:new", "value": "after"}));
    let _either = ask("undo", json!({"act": null, "request": "00000000-0000-4000-8000-0000000000aa"}));
    let _either = rebuilt(&book);
    writing
}

/// What a repair would try.
fn rebuilt(book: &Book) -> Result<(), String> {
    book.rebuild().map_err(|e| e.to_string())
}
