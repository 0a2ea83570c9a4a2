//! Which room may name which: the arrows of the backend's map, held by file name.
//!
//! Never here: what a room is for. Invariant: calls go down only (acts to rows, rules and the book; rows to
//! rows and rules; rules to rules), the book names no room, and only the list of commands names acts.

use super::tree::{Breach, File, Tree, without_comments};

const BACKEND: &str = "src-tauri/backend/src/";
const SHELL: &str = "src-tauri/src/";

/// What every room may use, beside the book.
const GROUND: [&str; 7] = ["measure", "ids", "error", "words", "where_from", "due", "beside"];

/// The plain values a rule takes and returns; nothing that opens, reads or writes.
const BOOK_VALUES: [&str; 3] = ["Change", "Moment", "Touched"];

/// Breaches of the arrows in the backend and in the shell.
pub fn arrows(tree: &Tree) -> Vec<Breach> {
    let mut breaches = Vec::new();
    for file in tree.ending(&[".rs"]) {
        if let Some(inside) = file.path.strip_prefix(BACKEND) {
            let room = room(inside, &file.text);
            for (at, path) in paths(&file.text) {
                breaches.extend(crossed(&room, &path).map(|says| file.breach(at, says)));
            }
            breaches.extend(bare_sql(&room, file));
        } else if file.path.starts_with(SHELL) {
            breaches.extend(shell(file));
        }
    }
    breaches
}

/// Where a backend file stands.
#[derive(Debug, PartialEq, Eq)]
enum Room<'a> {
    /// A file of a topic, by the part its name gives it.
    Topic {
        topic: &'a str,
        part: Part,
    },
    Book,
    /// The list of commands.
    Commands,
    /// `lib.rs`, the ground, the binaries.
    Ground,
}

#[derive(Debug, PartialEq, Eq, Clone, Copy)]
enum Part {
    Rules,
    Rows,
    Acts,
}

fn room<'a>(inside: &'a str, text: &str) -> Room<'a> {
    let mut parts = inside.split('/');
    let first = parts.next().unwrap_or_default();
    let Some(second) = parts.next() else {
        return if first == "commands.rs" { Room::Commands } else { Room::Ground };
    };
    match (first, second.trim_end_matches(".rs")) {
        ("commands", _) => Room::Commands,
        ("book", _) => Room::Book,
        ("bin", _) | (_, "mod") => Room::Ground,
        (topic, "rows") => Room::Topic { topic, part: Part::Rows },
        (topic, "acts") => Room::Topic { topic, part: Part::Acts },
        // Any other file of a topic is a part of its rows when it reads SQL, else a part of its rules.
        (topic, name) if name != "rules" && without_comments(text, true).contains("rusqlite") => {
            Room::Topic { topic, part: Part::Rows }
        }
        (topic, _) => Room::Topic { topic, part: Part::Rules },
    }
}

/// What is wrong with naming this path here, if anything. `crate::…` is absolute, `super::…` is the topic's own.
fn crossed(room: &Room<'_>, path: &[String]) -> Option<String> {
    let whole = path.join("::");
    let (root, rest) = path.split_first()?;
    let first = rest.first().map_or("", String::as_str);
    let second = rest.get(1).map_or("", String::as_str);
    let own = root == "super";
    let (topic, part) = if own { ("", first) } else { (first, second) };
    match room {
        Room::Commands => None,
        Room::Ground => (part == "acts" && !own && first != "book")
            .then(|| format!("only commands.rs names acts, not {whole}")),
        Room::Book => {
            let known = GROUND.contains(&first) || first == "book" || own;
            (!known).then(|| format!("the book names no room of the trade: {whole}"))
        }
        Room::Topic { topic: mine, part: here } => {
            let ground = !own && GROUND.contains(&first);
            let mine = own || topic == *mine;
            let fine = ground || in_topic(*here, mine, first == "book" && !own, second, part);
            (!fine).then(|| says(*here, &whole))
        }
    }
}

fn in_topic(here: Part, mine: bool, book: bool, book_item: &str, part: &str) -> bool {
    match here {
        Part::Rules if book => BOOK_VALUES.contains(&book_item),
        Part::Rows if book => BOOK_VALUES.contains(&book_item),
        Part::Acts if book => true,
        Part::Rules => part != "acts" && part != "rows" && (mine || part == "rules"),
        Part::Rows => part != "acts" && (mine || part == "rules" || part == "rows"),
        Part::Acts => part != "acts" || mine,
    }
}

fn says(here: Part, whole: &str) -> String {
    match here {
        Part::Rules => {
            format!("a rule uses measure, ids, error, other rules and book::Change only, not {whole}")
        }
        Part::Rows => format!("rows use rules, other rows, measure, ids and error only, not {whole}"),
        Part::Acts => format!("acts never call another room's acts: {whole}"),
    }
}

/// A rule never sees the database.
fn bare_sql(room: &Room<'_>, file: &File) -> Option<Breach> {
    let Room::Topic { part: Part::Rules, .. } = room else { return None };
    let code = without_comments(&file.text, true);
    code.find("rusqlite").map(|at| file.breach(at, "a rule is true with pencil and paper: no rusqlite"))
}

fn shell(file: &File) -> Vec<Breach> {
    let code = without_comments(&file.text, true);
    let root = "shadeyard_backend::";
    let mut breaches = Vec::new();
    for (at, _) in code.match_indices(root) {
        for path in expand(&code[at + root.len()..]) {
            let first = path.first().map_or("", String::as_str);
            if !["commands", "book", "error"].contains(&first) {
                let says = format!(
                    "the shell uses the backend's commands, book and error only, not {}",
                    path.join("::")
                );
                breaches.push(file.breach(at, says));
            }
        }
    }
    breaches
}

/// Every path in the code that begins with `crate::` or `super::`, groups spelled out, with its place.
fn paths(text: &str) -> Vec<(usize, Vec<String>)> {
    let code = without_comments(text, true);
    let mut found = Vec::new();
    for root in ["crate", "super"] {
        let needle = format!("{root}::");
        for (at, _) in code.match_indices(&needle) {
            let before = code[..at].chars().next_back().unwrap_or(' ');
            if before.is_alphanumeric() || before == '_' || before == ':' || before == '$' {
                continue;
            }
            for rest in expand(&code[at + needle.len()..]) {
                let mut path = vec![root.to_owned()];
                path.extend(rest);
                found.push((at, path));
            }
        }
    }
    found
}

/// The paths that a use tree begins: `a::{b, c::d}` gives `a::b` and `a::c::d`.
fn expand(tree: &str) -> Vec<Vec<String>> {
    let tree = tree.trim_start();
    if let Some(inside) = tree.strip_prefix('{') {
        return branches(inside).iter().flat_map(|branch| expand(branch)).collect();
    }
    let end = tree.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '*')).unwrap_or(tree.len());
    let name = tree[..end].to_owned();
    if name.is_empty() {
        return Vec::new();
    }
    let Some(more) = tree[end..].strip_prefix("::") else { return vec![vec![name]] };
    let below = expand(more);
    if below.is_empty() {
        return vec![vec![name]];
    }
    below.into_iter().map(|path| std::iter::once(name.clone()).chain(path).collect()).collect()
}

/// The branches of a group, up to its closing brace.
fn branches(inside: &str) -> Vec<&str> {
    let (mut depth, mut from, mut found) = (0_usize, 0, Vec::new());
    for (at, c) in inside.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => {
                found.push(&inside[from..at]);
                return found;
            }
            '}' => depth -= 1,
            ',' if depth == 0 => {
                found.push(&inside[from..at]);
                from = at + 1;
            }
            _ => {}
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn breaches(path: &str, text: &str) -> usize {
        arrows(&Tree::of(&[(path, text)])).len()
    }

    fn backend(path: &str, text: &str) -> usize {
        breaches(&format!("{BACKEND}{path}"), text)
    }

    #[test]
    fn a_group_is_spelled_out() {
        let found: Vec<String> =
            expand("logs::{rows, rules::{self, Stage}}, x").iter().map(|p| p.join("::")).collect();
        assert_eq!(found, ["logs::rows", "logs::rules::self", "logs::rules::Stage"]);
    }

    #[test]
    fn a_rule_may_use_rules_the_ground_and_a_change() {
        let text = "use crate::{measure::Grams, error::Error, woods::rules::Wood, book::Change};\nuse super::words::X;";
        assert_eq!(backend("logs/rules.rs", text), 0);
    }

    #[test]
    fn a_rule_that_reads_or_acts_is_caught() {
        assert_eq!(backend("logs/rules.rs", "use rusqlite::Connection;"), 1);
        assert_eq!(backend("logs/rules.rs", "use crate::{logs::rows, woods::acts::add};"), 2);
        assert_eq!(backend("logs/rules.rs", "use super::rows::all;"), 1);
        assert_eq!(backend("logs/rules.rs", "fn f() { crate::book::Book::open() }"), 1);
        assert_eq!(backend("review/interval.rs", "use crate::woods::rows;"), 1);
        assert_eq!(backend("logs/rules.rs", "// use rusqlite::x;  use crate::logs::acts"), 0);
    }

    #[test]
    fn rows_that_act_or_write_are_caught() {
        assert_eq!(backend("logs/rows.rs", "use rusqlite::Connection;\nuse crate::woods::rules::Wood;"), 0);
        assert_eq!(backend("logs/rows.rs", "use crate::logs::acts;"), 1);
        assert_eq!(backend("logs/rows.rs", "use crate::book::apply;"), 1);
        assert_eq!(backend("logs/rows.rs", "use crate::photos::rows;"), 0);
        assert_eq!(
            backend("logs/record.rs", "use rusqlite::Connection;\nuse crate::{photos::rows, book::apply};"),
            1
        );
    }

    #[test]
    fn acts_that_call_another_rooms_acts_are_caught() {
        let text = "use crate::{book::Book, woods::rows, logs::rules};\nuse super::rows as own;";
        assert_eq!(backend("logs/acts.rs", text), 0);
        assert_eq!(backend("logs/acts.rs", "use crate::woods::acts::wood_add;"), 1);
    }

    #[test]
    fn a_book_that_knows_the_trade_is_caught() {
        assert_eq!(backend("book/apply.rs", "use crate::{error::Error, ids::Id, book::Change};"), 0);
        assert_eq!(backend("book/apply.rs", "use crate::logs::rules::Log;"), 1);
    }

    #[test]
    fn only_the_list_of_commands_names_acts() {
        assert_eq!(backend("commands.rs", "use crate::logs::acts;"), 0);
        assert_eq!(backend("measure.rs", "use crate::logs::acts;"), 1);
    }

    #[test]
    fn a_shell_that_reaches_past_the_commands_is_caught() {
        assert_eq!(
            breaches("src-tauri/src/lib.rs", "use shadeyard_backend::{book::Book, commands, error::Error};"),
            0
        );
        assert_eq!(breaches("src-tauri/src/lib.rs", "use shadeyard_backend::logs::rows;"), 1);
    }
}
