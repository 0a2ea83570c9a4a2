//! Texts kept beside their tests: how SQLite means to answer each question of the main views.
//! Never a measured time: `cargo xtask bench` has those.
//! Invariant: `GOLDEN=write` writes them anew; without it a difference fails.

use questions::Question;
use shadeyard_backend::book::Clock;
use shadeyard_backend::commands;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

mod grain;
mod questions;

/// Tables that grow with every day: none of them may be read from end to end where an index serves.
const LONG: [&str; 13] = [
    "entry",
    "look",
    "picking",
    "check",
    "photo",
    "soak",
    "weighing",
    "watering",
    "move",
    "condition",
    "tending",
    "act",
    "field",
];

/// Questions that must read a whole long table, each with its reason.
const WHOLE: [(&str, &str); 7] = [
    (
        "p.mime FROM entry e JOIN photo p ON p.entry = e.id WHERE e.void = 0",
        "a beginning: a photo's hash or an entry is added to it",
    ),
    ("SELECT id FROM entry;", "after a rebuild every log is worked out anew"),
    (
        "count(*) FROM entry WHERE void = 0 AND kind <> 'photo'",
        "Settings count all entries, once, when they are opened",
    ),
    ("FROM act", "the list of acts and a copy's standing go through the acts by number"),
    ("FROM picking", "twins and Review compare all pickings"),
    ("FROM entry e JOIN look", "Review reads all looks"),
    ("FROM field", "losing values are looked for among all versions"),
];

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../src-tauri/backend/src")
}

/// A register with enough in it that SQLite's choices are those of a real one.
fn register() -> (tempfile::TempDir, rusqlite::Connection) {
    let folder = tempfile::tempdir().expect("a folder");
    drop(
        commands::open(folder.path(), Clock::fixed("2026-10-03T18:30:00+02:00").expect("an hour"))
            .expect("opens"),
    );
    let conn = rusqlite::Connection::open(folder.path().join("register.sqlite")).expect("the register");
    (folder, conn)
}

/// The plan of one question, a step a line; `None` for what is no whole question (a piece of one).
fn plan(conn: &rusqlite::Connection, sql: &str) -> Option<Vec<String>> {
    let mut list = conn.prepare(&format!("EXPLAIN QUERY PLAN {sql}")).ok()?;
    let mut rows = list.raw_query();
    let mut steps = Vec::new();
    while let Some(row) = rows.next().ok()? {
        steps.push(row.get::<_, String>(3).ok()?);
    }
    Some(steps)
}

fn plans() -> (String, Vec<String>) {
    let (_folder, conn) = register();
    let mut questions: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
    for Question { file, sql } in questions::questions(&source()) {
        if let Some(steps) = plan(&conn, &sql) {
            questions.insert((file, sql), steps);
        }
    }
    assert!(questions.len() > 40, "the questions were found: {}", questions.len());
    let (mut text, mut whole) = (String::new(), Vec::new());
    for ((file, sql), steps) in &questions {
        let _ = writeln!(text, "{file}\n  {sql}");
        for step in steps {
            let _ = writeln!(text, "    {step}");
            if let Some(table) = scanned(sql, step)
                && !WHOLE.iter().any(|(piece, _)| format!("{sql};").contains(piece))
            {
                whole.push(format!("{file}: {table} from end to end in {sql}"));
            }
        }
    }
    (text, whole)
}

/// The long table that a step reads from end to end, by its name or the letter it goes by.
fn scanned<'a>(sql: &'a str, step: &str) -> Option<&'a str> {
    let name = step.strip_prefix("SCAN ")?.split_whitespace().next()?;
    if step.contains("USING") && !step.contains("COVERING") {
        return None;
    }
    let quoted = sql.replace('"', "");
    let table = quoted
        .split_whitespace()
        .zip(quoted.split_whitespace().skip(1))
        .find(|(_, alias)| alias.trim_matches(|c: char| !c.is_alphanumeric() && c != '_') == name);
    let table = table.map_or(name, |(table, _)| table).to_owned();
    LONG.iter().copied().find(|long| *long == table || *long == name)
}

#[test]
fn no_long_table_is_read_from_end_to_end_where_an_index_serves() {
    let (_, whole) = plans();
    assert!(whole.is_empty(), "{whole:#?}");
}

#[test]
fn the_plans_are_those_that_were_looked_at() {
    let (text, _) = plans();
    let golden = Path::new(env!("CARGO_MANIFEST_DIR")).join("golden/plans.txt");
    if std::env::var("GOLDEN").is_ok_and(|word| word == "write") {
        std::fs::write(&golden, &text).expect("the plans are written");
    }
    let kept = std::fs::read_to_string(&golden).unwrap_or_default();
    let apart = kept.lines().zip(text.lines()).find(|(kept, now)| kept != now);
    assert!(
        kept == text,
        "look at the plans and write them anew with GOLDEN=write; the first apart: {apart:?}"
    );
}
