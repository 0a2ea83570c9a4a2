//! The shape of a file: how long it is, how it opens, what it is called.
//!
//! Never here: what it says. Invariant: a file opens with what lives in it, and its name says a thing of the
//! yard, not that it manages or helps.

use super::tree::{Breach, Tree, without_comments};

/// Past this a file is mentioned.
const LONG: usize = 400;
/// Past this tidy fails.
const TOO_LONG: usize = 600;

const CODE: [&str; 3] = [".rs", ".js", ".css"];

const EMPTY_NAMES: [&str; 9] =
    ["manager", "helper", "helpers", "util", "utils", "info", "data", "handler", "process"];

/// Files too long to be read in one go.
pub fn lengths(tree: &Tree) -> Vec<Breach> {
    longer_than(tree, TOO_LONG, "at most 600; split it by what it is for")
}

/// Files that grow towards it; said, not failed.
pub fn long(tree: &Tree) -> Vec<Breach> {
    longer_than(tree, LONG, "aim at 400")
}

fn longer_than(tree: &Tree, most: usize, advice: &str) -> Vec<Breach> {
    tree.ending(&CODE)
        .filter(|file| file.text.lines().count() > most)
        .map(|file| file.breach(0, format!("{} lines: {advice}", file.text.lines().count())))
        .collect()
}

/// Files that don't open with the comment that says what lives there.
pub fn openings(tree: &Tree) -> Vec<Breach> {
    let rust = tree.ending(&[".rs"]).filter(|file| !file.text.starts_with("//!"));
    let pages = tree.ending(&[".js", ".css"]).filter(|file| {
        let text = file.text.trim_start_matches("#!/usr/bin/env node\n");
        !text.starts_with("//") && !text.starts_with("/*")
    });
    rust.chain(pages)
        .map(|file| file.breach(0, "opens without saying what lives here, and what never does"))
        .collect()
}

/// Files, folders and modules with a name that says nothing.
pub fn names(tree: &Tree) -> Vec<Breach> {
    let mut breaches = Vec::new();
    for file in &tree.files {
        let empty = file.path.split('/').filter(|part| *part != "demo-data").find_map(says_nothing);
        if let Some(word) = empty {
            breaches.push(
                file.breach(0, format!("a name with '{word}' says nothing: name the thing of the yard")),
            );
        }
    }
    for file in tree.ending(&[".rs"]) {
        let code = without_comments(&file.text, true);
        for (at, _) in code.match_indices("mod ") {
            let name: String =
                code[at + 4..].chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            if let Some(word) = says_nothing(&name) {
                breaches.push(file.breach(at, format!("a module with '{word}' in its name says nothing")));
            }
        }
    }
    breaches
}

fn says_nothing(name: &str) -> Option<&'static str> {
    name.split(['_', '-', '.'])
        .find_map(|part| EMPTY_NAMES.iter().find(|word| part.eq_ignore_ascii_case(word)).copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_past_six_hundred_lines_is_caught_and_one_past_four_hundred_is_said() {
        let text = "//\n".repeat(601);
        assert_eq!(lengths(&Tree::of(&[("ui/a.js", &text)])).len(), 1);
        let text = "//\n".repeat(401);
        let tree = Tree::of(&[("ui/a.js", &text)]);
        assert_eq!((lengths(&tree).len(), long(&tree).len()), (0, 1));
    }

    #[test]
    fn a_file_that_does_not_say_what_lives_there_is_caught() {
        let tree = Tree::of(&[
            ("a.rs", "use x;"),
            ("b.rs", "//! x"),
            ("c.css", "a {}"),
            ("d.css", "/* x */"),
            ("e.js", "// x"),
        ]);
        let paths: Vec<String> = openings(&tree).into_iter().map(|breach| breach.path).collect();
        assert_eq!(paths, ["a.rs", "c.css"]);
    }

    #[test]
    fn a_name_that_says_nothing_is_caught() {
        assert_eq!(names(&Tree::of(&[("ui/lib/date-utils.js", "")])).len(), 1);
        assert_eq!(names(&Tree::of(&[("demo-data/src/lib.rs", "mod helper { }")])).len(), 1);
        assert_eq!(names(&Tree::of(&[("demo-data/src/lib.rs", "mod update; // mod helper")])).len(), 0);
        assert_eq!(names(&Tree::of(&[("ui/updates.js", "")])).len(), 0);
    }
}
