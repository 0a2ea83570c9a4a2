//! Finding logs by words: what can be found, kept beside the record, and asked by the beginnings of words.
//! Never a judgement of what fits best: the newest comes first.
//! Invariant: any typed text is a question; none is taken as a command of the index.

use crate::error::Result;
use rusqlite::{Connection, params};
use std::collections::HashSet;

/// Most places that one question brings.
const PLACES_MAX: i64 = 2000;
/// Words of a question that are looked up.
const WORDS_MAX: usize = 8;

/// Where a log was found.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct FoundAt {
    /// The log.
    pub log: String,
    /// `tag`, `note` (the log's own) or `entry` (a note in its record).
    pub what: String,
    /// The entry's day.
    pub day: Option<chrono::NaiveDate>,
    /// The words around, cut at a word; what was asked for stands between U+0002 and U+0003.
    pub words: String,
}

/// What should be found of a log: nothing of one that was taken back.
const WANTED: &str = "SELECT l.id, 'tag', l.tag FROM log l WHERE l.id = ?1 AND l.void = 0 AND l.tag <> ''
    UNION ALL SELECT l.id, 'note', l.note FROM log l WHERE l.id = ?1 AND l.void = 0 AND l.note <> ''
    UNION ALL SELECT e.id, 'entry', e.note FROM entry e JOIN log l ON l.id = e.log
      WHERE e.log = ?1 AND e.note <> '' AND e.void = 0 AND l.void = 0";

/// Brings what can be found of a log up to its record; what has not changed is left alone.
///
/// # Errors
/// The register's own.
pub fn derive(conn: &Connection, log: &str) -> Result<()> {
    let mut list = conn.prepare_cached(WANTED)?;
    let rows = list.query_map([log], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
    let mut wanted: HashSet<(String, String, String)> = rows.collect::<rusqlite::Result<_>>()?;
    let mut list = conn.prepare_cached("SELECT n, of, what, text FROM searched WHERE log = ?1")?;
    let rows = list.query_map([log], |r| Ok((r.get(0)?, (r.get(1)?, r.get(2)?, r.get(3)?))))?;
    let there: Vec<(i64, (String, String, String))> = rows.collect::<rusqlite::Result<_>>()?;
    for (n, piece) in there {
        if !wanted.remove(&piece) {
            conn.prepare_cached("INSERT INTO search(search, rowid, text) VALUES ('delete', ?1, ?2)")?
                .execute(params![n, piece.2])?;
            conn.prepare_cached("DELETE FROM searched WHERE n = ?1")?.execute([n])?;
        }
    }
    // In a fixed order, so that the same acts give the same tables.
    let mut new: Vec<_> = wanted.into_iter().collect();
    new.sort();
    for (of, what, text) in new {
        conn.prepare_cached("INSERT INTO searched(log, of, what, text) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![log, of, what, text])?;
        conn.prepare_cached("INSERT INTO search(rowid, text) VALUES (?1, ?2)")?
            .execute(params![conn.last_insert_rowid(), text])?;
    }
    Ok(())
}

/// A typed text as a question to the index: every word in it is the beginning of one that must be there.
/// `None` when there is no word in it.
pub fn question(typed: &str) -> Option<String> {
    let words: Vec<String> = typed
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .take(WORDS_MAX)
        .map(|word| format!("\"{word}\"*"))
        .collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// Where these words stand, one place a log: its tag before its note, its note before the newest entry's.
///
/// # Errors
/// The register's own.
pub fn places(conn: &Connection, typed: &str) -> Result<Vec<FoundAt>> {
    let Some(question) = question(typed) else { return Ok(Vec::new()) };
    let mut list = conn.prepare_cached(
        "SELECT s.log, s.what, e.day, snippet(search, 0, char(2), char(3), '…', 12) AS words
         FROM search JOIN searched s ON s.n = search.rowid LEFT JOIN entry e ON e.id = s.of
         WHERE search MATCH ?1 ORDER BY search.rowid DESC LIMIT ?2",
    )?;
    let rows = list.query_map(params![question, PLACES_MAX], |r| {
        Ok(FoundAt { log: r.get(0)?, what: r.get(1)?, day: r.get(2)?, words: r.get(3)? })
    })?;
    let mut all: Vec<FoundAt> = rows.collect::<rusqlite::Result<_>>()?;
    all.sort_by_key(|place| (order(&place.what), std::cmp::Reverse(place.day)));
    let mut seen = HashSet::new();
    all.retain(|place| seen.insert(place.log.clone()));
    Ok(all)
}

fn order(what: &str) -> u8 {
    match what {
        "tag" => 0,
        "note" => 1,
        _ => 2,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn words_become_beginnings_and_marks_do_not_count() {
        assert_eq!(question(" A-12 "), Some("\"A\"* \"12\"*".to_owned()));
        assert_eq!(
            question("green \"mould\" OR x*"),
            Some("\"green\"* \"mould\"* \"OR\"* \"x\"*".to_owned())
        );
        assert_eq!(question(" -- *"), None);
    }

    proptest! {
        #[test]
        fn any_text_makes_a_question_of_quoted_words(text in "\\PC{0,40}") {
            if let Some(question) = question(&text) {
                prop_assert!(question.matches('"').count() % 2 == 0);
            }
        }
    }
}
