//! A row of commands on one open yard, one JSON line each: `{name, request, photo}`.
//! Never another way to write: each goes through the list of commands.
//! Invariant: a line's `ok` is printed and flushed only after its command returned, so that what a
//! killed run had acknowledged can be read from what it printed.

use base64::Engine;
use serde::Deserialize;
use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::{Error, Result};
use std::collections::HashMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;

/// One line of a script.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    /// The command's name.
    name: String,
    /// Its request. A text `@N/said/log` stands for that place in the reply to line N.
    #[serde(default)]
    request: Value,
    /// A photo's bytes, base64, for `photo_keep`.
    photo: Option<String>,
}

/// Does the lines of `file` in order, from 1, and prints `ok N` or `refused N REPLY` after each.
/// A refused line does not stop the script.
#[allow(clippy::disallowed_methods, reason = "it reads the script it was pointed to")]
pub fn run(file: &Path, yard: &Path, clock: Clock) -> Result<()> {
    let script = BufReader::new(std::fs::File::open(file)?);
    let book = commands::open(yard, clock)?;
    let mut out = std::io::stdout();
    let mut replies = HashMap::new();
    for (n, line) in script.lines().enumerate() {
        let n = n + 1;
        match one(&book, &line?, &replies) {
            Ok(reply) => {
                replies.insert(n, reply);
                writeln!(out, "ok {n}")?;
            }
            Err(error) => writeln!(out, "refused {n} {}", error.reply())?,
        }
        out.flush()?;
    }
    Ok(())
}

fn one(book: &Book, line: &str, replies: &HashMap<usize, Value>) -> Result<Value> {
    let mut line: Line = serde_json::from_str(line)
        .map_err(|e| Error::invalid_with("line", "unknown_word", json!({"word": e.to_string()})))?;
    fill_in(&mut line.request, replies)?;
    let photo = line.photo.map(|text| base64::engine::general_purpose::STANDARD.decode(text)).transpose();
    let photo = photo.map_err(|_| Error::invalid("photo", "not_an_image"))?;
    let reply = commands::dispatch(book, &line.name, line.request, photo)?;
    // A job's line is done when the job is.
    match reply.get("job").and_then(Value::as_str).filter(|_| reply.get("state").is_none()) {
        Some(job) => crate::wait(book, job),
        None => Ok(reply),
    }
}

/// Puts earlier replies in the place of the texts that point to them.
fn fill_in(value: &mut Value, replies: &HashMap<usize, Value>) -> Result<()> {
    match value {
        Value::String(text) => {
            if let Some(found) = text.strip_prefix('@').map(|at| earlier(at, replies)) {
                *value = found.ok_or(Error::Missing { what: "earlier line" })?;
            }
        }
        Value::Array(all) => all.iter_mut().try_for_each(|one| fill_in(one, replies))?,
        Value::Object(all) => all.values_mut().try_for_each(|one| fill_in(one, replies))?,
        _ => {}
    }
    Ok(())
}

fn earlier(at: &str, replies: &HashMap<usize, Value>) -> Option<Value> {
    let (line, place) = at.split_once('/')?;
    replies.get(&line.parse().ok()?)?.pointer(&format!("/{place}")).cloned()
}
