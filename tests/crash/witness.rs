//! What a yard looked like after each line of a script, and whether a struck yard looks like it.
//! Never a guess: the lines are played by the real program and looked at after each.
//! Invariant: two dumps are equal when they differ only in the ids that were drawn.

use super::script::Script;
use super::{NOW, play, room};
use rusqlite::types::Value as Sql;
use rusqlite::{Connection, OpenFlags};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

/// A script's clean run.
pub struct Witness {
    /// After 0, 1, 2 … lines.
    after: Vec<u64>,
}

impl Witness {
    pub fn of(script: &Script) -> Self {
        let folder = room();
        let words = play(Path::new("/dev/stdin"), folder.path());
        let mut child = Command::new(&words[0])
            .args(&words[1..])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("the yard starts");
        let mut input = child.stdin.take().expect("its input");
        let mut output = BufReader::new(child.stdout.take().expect("its output")).lines();
        let mut after = Vec::new();
        for (n, line) in script.lines.iter().enumerate() {
            writeln!(input, "{line}").expect("a line is taken");
            let said = output.next().expect("an answer").expect("text");
            assert_eq!(said, format!("ok {}", n + 1), "the clean run refuses nothing: {line}");
            after.push(digest(&dump(&looking(folder.path())).expect("a dump")));
        }
        drop(input);
        assert!(child.wait().expect("it ends").success());
        let empty = room();
        drop(open(empty.path()).expect("an empty yard opens"));
        after.insert(0, digest(&dump(&looking(empty.path())).expect("a dump")));
        Self { after }
    }

    /// Whether the yard in `folder` opens and stands exactly as after the `acked` lines, or as after
    /// the one that was being done. `Err` says what is wrong.
    pub fn stands(&self, folder: &Path, acked: usize) -> Result<(), String> {
        let book = open(folder)?;
        let found = digest(&book.read(|conn| Ok(dump(conn)?)).map_err(|e| format!("lost: {}", e.reply()))?);
        let near = self.after.iter().skip(acked).take(2);
        if !near.into_iter().any(|one| *one == found) {
            return Err(match self.after.iter().position(|one| *one == found) {
                Some(lines) => format!("lost: {acked} lines acknowledged, stands as after {lines}"),
                None => format!("half: stands as after no line, {acked} acknowledged"),
            });
        }
        pictured(&book)?;
        sound(&book)
    }
}

/// Opens a yard as it was left.
pub fn open(folder: &Path) -> Result<Book, String> {
    let clock = Clock::fixed(NOW).expect("an instant");
    commands::open(folder, clock).map_err(|e| format!("lost: does not open: {}", e.reply()))
}

/// Whether every photo that is said to be here is here, whole.
pub fn pictured(book: &Book) -> Result<(), String> {
    let here = book.read(|conn| Ok(rows(conn, "SELECT hash FROM blob WHERE here = 1")?));
    here.map_err(|e| e.to_string())?.iter().try_for_each(|hash| {
        let hash = hash.trim();
        let shown = commands::photo(book, &format!("{hash}.whole"));
        shown.map(|_| ()).map_err(|e| format!("lost: a photo: {}", e.reply()))
    })
}

/// Whether the tables hold together, follow from the acts, and can be written.
pub fn sound(book: &Book) -> Result<(), String> {
    let said = |e: shadeyard_backend::error::Error| format!("unsound: {}", e.reply());
    let tables = || book.read(|conn| Ok((dump(conn)?, derived(conn)?))).map_err(said);
    let check = book.read(|conn| Ok(rows(conn, "PRAGMA integrity_check")?.concat())).map_err(said)?;
    if check.trim() != "ok" {
        return Err(format!("unsound: {check}"));
    }
    let before = tables()?;
    book.rebuild().map_err(said)?;
    if tables()? != before {
        return Err("half: the acts alone give other tables".into());
    }
    let draft = serde_json::json!({"key": "log:after", "value": "the yard goes on"});
    commands::dispatch(book, "draft_set", draft, None).map(|_| ()).map_err(said)
}

/// A look from outside at a yard that another program holds.
pub fn looking(folder: &Path) -> Connection {
    let file = folder.join("register.sqlite");
    Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_ONLY).expect("a register")
}

/// All tables as text, with drawn ids replaced by their number of appearance. Acts come first and in
/// order, so that equal yards number their ids alike. Of `meta` only the stamp: the rest is the
/// device's. What is derived is left out: with a clock that stands still, which of two photos is the
/// newer hangs on the ids drawn.
pub fn dump(conn: &Connection) -> rusqlite::Result<String> {
    let names = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'
        AND name NOT IN ('act', 'meta', 'log_state', 'log_course') AND name NOT LIKE 'search%' ORDER BY name";
    let mut seen = HashMap::new();
    let mut text = numbered(&rows(conn, "SELECT * FROM act ORDER BY n")?.join("\n"), &mut seen);
    text += &rows(conn, "SELECT v FROM meta WHERE k = 'stamp'")?.concat();
    for table in rows(conn, names)? {
        let table = table.trim();
        let rows = rows(conn, &format!("SELECT * FROM \"{table}\""))?;
        let mut rows: Vec<String> = rows.iter().map(|row| numbered(row, &mut seen)).collect();
        rows.sort();
        text += &format!("\n{table}\n{}", rows.join("\n"));
    }
    Ok(text)
}

/// What must follow from the rest.
fn derived(conn: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut all = rows(conn, "SELECT * FROM log_state ORDER BY log")?;
    all.extend(rows(conn, "SELECT * FROM log_course ORDER BY log")?);
    all.extend(rows(conn, "SELECT log, of, what, text FROM searched ORDER BY log, of, what")?);
    Ok(all)
}

fn rows(conn: &Connection, sql: &str) -> rusqlite::Result<Vec<String>> {
    let mut list = conn.prepare(sql)?;
    let width = list.column_count();
    let found = list.query_map([], |r| {
        let mut text = String::new();
        for n in 0..width {
            match r.get(n)? {
                Sql::Null => text += "-",
                Sql::Integer(i) => text += &i.to_string(),
                Sql::Text(t) => text += &t,
                other => text += &format!("{other:?}"),
            }
            text.push('\t');
        }
        Ok(text)
    })?;
    found.collect()
}

fn numbered(text: &str, seen: &mut HashMap<String, usize>) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find('-') {
        let start = at.wrapping_sub(8);
        match rest.get(start..start.wrapping_add(36)).filter(|one| is_id(one)) {
            Some(id) => {
                let next = seen.len();
                let number = *seen.entry(id.to_owned()).or_insert(next);
                out += &rest[..start];
                out += &format!("#{number}");
                rest = &rest[start + 36..];
            }
            None => {
                out += &rest[..=at];
                rest = &rest[at + 1..];
            }
        }
    }
    out + rest
}

fn is_id(text: &str) -> bool {
    text.bytes().enumerate().all(|(n, b)| match n {
        8 | 13 | 18 | 23 => b == b'-',
        _ => b.is_ascii_hexdigit(),
    })
}

pub fn digest(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    hasher.finish()
}
