//! The questions that the backend asks of SQLite, found in its source: every text that begins with SELECT or WITH,
//! with the named pieces put in.
//! Never the tests' own SQL. Invariant: a file's order and its blanks change nothing.

use std::collections::BTreeMap;
use std::path::Path;

/// One question.
pub struct Question {
    /// Where it stands, from the backend's source folder.
    pub file: String,
    /// Its text, in one line.
    pub sql: String,
}

/// All questions of all files, but for migrations.
pub fn questions(source: &Path) -> Vec<Question> {
    let mut files = Vec::new();
    gather(source, source, &mut files);
    files.iter().flat_map(|(file, text)| of(file, text)).collect()
}

fn gather(top: &Path, folder: &Path, files: &mut Vec<(String, String)>) {
    for entry in std::fs::read_dir(folder).expect("the source").flatten() {
        let path = entry.path();
        if path.is_dir() && path.file_name().is_none_or(|name| name != "bin") {
            gather(top, &path, files);
        } else if path.extension().is_some_and(|end| end == "rs") {
            let file = path.strip_prefix(top).expect("inside").to_string_lossy().into_owned();
            let text = std::fs::read_to_string(&path).expect("a text");
            // What a file's own tests ask is no question of the app.
            let text = text.split("#[cfg(test)]").next().unwrap_or_default().to_owned();
            files.push((file, text));
        }
    }
}

fn of(file: &str, text: &str) -> Vec<Question> {
    let texts = strings(text);
    let named: BTreeMap<&str, &str> =
        texts.iter().filter_map(|(at, sql)| Some((name_before(text, *at)?, sql.as_str()))).collect();
    let whole = |sql: &str| {
        let mut sql = sql.to_owned();
        for _ in 0..3 {
            for (name, piece) in &named {
                sql = sql.replace(&format!("{{{name}}}"), piece);
            }
        }
        sql.replace("{{", "{").replace("}}", "}")
    };
    let begins = |sql: &str| ["SELECT ", "WITH "].iter().any(|word| sql.starts_with(word));
    texts
        .iter()
        .map(|(_, sql)| whole(sql))
        .filter(|sql| begins(sql) && sql.contains("FROM"))
        .map(|sql| Question { file: file.to_owned(), sql })
        .collect()
}

/// Texts in double quotes with the byte they begin at, their escapes undone and their blanks made one.
fn strings(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at..].starts_with(b"//") {
            at += bytes[at..].iter().position(|b| *b == b'\n').unwrap_or(bytes.len() - at);
        } else if bytes[at..].starts_with(b"'\"'") {
            at += 3;
        } else if bytes[at] == b'"' {
            let from = at + 1;
            at = from;
            while at < bytes.len() && bytes[at] != b'"' {
                at += if bytes[at] == b'\\' { 2 } else { 1 };
            }
            let raw = text.get(from..at).unwrap_or_default().replace("\\\n", " ").replace("\\\"", "\"");
            found.push((from - 1, raw.split_whitespace().collect::<Vec<_>>().join(" ")));
            at += 1;
        } else {
            at += 1;
        }
    }
    found
}

/// The name of the constant that a text is, when it is one: `const NAME: &str = "…"`.
fn name_before(text: &str, at: usize) -> Option<&str> {
    let line = text.get(..at)?.rsplit(';').next()?;
    let name = line.rsplit("const ").next()?.split(':').next()?.trim();
    (line.contains("const ") && name.chars().all(|c| c.is_ascii_uppercase() || c == '_')).then_some(name)
}
