//! The tree of files that the fences look at, and what they say about it.
//!
//! Never here: a fence. Invariant: text only; a file that is not UTF-8 has a path and no text.

use std::fs;

use crate::steps::{output, program, top};

/// The files git would commit, by path.
pub struct Tree {
    /// Each file once.
    pub files: Vec<File>,
}

/// One file of the tree.
pub struct File {
    /// From the top, with `/`.
    pub path: String,
    /// Empty when the file is not text.
    pub text: String,
}

/// One place where a fence was crossed.
#[derive(Debug)]
pub struct Breach {
    /// The file.
    pub path: String,
    /// Counted from 1.
    pub line: usize,
    /// What is wrong, and what to do instead.
    pub says: String,
}

impl Tree {
    /// All that git knows or would add.
    pub fn of_the_repository() -> Result<Self, String> {
        let words = ["ls-files", "--cached", "--others", "--exclude-standard", "-z"];
        let list = output("tidy", &mut program("git", words))?;
        let mut paths: Vec<&str> = list.split('\0').filter(|path| !path.is_empty()).collect();
        paths.sort_unstable();
        paths.dedup();
        let files = paths
            .into_iter()
            .filter_map(|path| fs::read(top().join(path)).ok().map(|bytes| (path, bytes)))
            .map(|(path, bytes)| File {
                path: path.to_owned(),
                text: String::from_utf8(bytes).unwrap_or_default(),
            })
            .collect();
        Ok(Self { files })
    }

    /// Files whose name ends in one of these.
    pub fn ending<'a>(&'a self, ends: &'a [&str]) -> impl Iterator<Item = &'a File> {
        self.files.iter().filter(|file| ends.iter().any(|end| file.path.ends_with(end)))
    }

    /// Our own files of the pages with one of these endings.
    pub fn pages<'a>(&'a self, ends: &'a [&str]) -> impl Iterator<Item = &'a File> {
        self.ending(ends).filter(|file| file.path.starts_with("ui/") && !file.path.starts_with("ui/vendor/"))
    }

    /// A made-up tree for a fence's own tests.
    #[cfg(test)]
    pub fn of(files: &[(&str, &str)]) -> Self {
        let file = |(path, text): &(&str, &str)| File { path: (*path).to_owned(), text: (*text).to_owned() };
        Self { files: files.iter().map(file).collect() }
    }
}

impl File {
    /// A breach at a byte of this file's text.
    pub fn breach(&self, at: usize, says: impl Into<String>) -> Breach {
        let line = self.text.as_bytes().iter().take(at).filter(|byte| **byte == b'\n').count() + 1;
        Breach { path: self.path.clone(), line, says: says.into() }
    }
}

/// The text with comments (and, where asked, what is inside double quotes) blanked: every byte keeps its
/// place, so a place found here is a place in the file. Reads Rust, JS and CSS alike.
pub fn without_comments(text: &str, strings_too: bool) -> String {
    let bytes = text.as_bytes();
    let mut out = bytes.to_vec();
    let mut at = 0;
    while at < bytes.len() {
        let end = match bytes[at] {
            b'/' if bytes.get(at + 1) == Some(&b'/') && (at == 0 || bytes[at - 1] != b':') => {
                line_end(bytes, at)
            }
            // Not `image/*`.
            b'/' if bytes.get(at + 1) == Some(&b'*') && !after_word(bytes, at) => comment_end(bytes, at),
            // Not the character `'"'`.
            b'"' if !(at > 0 && bytes[at - 1] == b'\'' && bytes.get(at + 1) == Some(&b'\'')) => {
                let end = string_end(bytes, at);
                if strings_too {
                    blank(&mut out[at + 1..end.max(at + 2) - 1]);
                }
                at = end;
                continue;
            }
            _ => {
                at += 1;
                continue;
            }
        };
        blank(&mut out[at..end]);
        at = end;
    }
    String::from_utf8_lossy(&out).into_owned()
}

fn after_word(bytes: &[u8], at: usize) -> bool {
    at > 0 && bytes[at - 1].is_ascii_alphanumeric()
}

fn blank(bytes: &mut [u8]) {
    for byte in bytes.iter_mut().filter(|byte| **byte != b'\n') {
        *byte = b' ';
    }
}

fn line_end(bytes: &[u8], from: usize) -> usize {
    bytes[from..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |n| from + n)
}

fn comment_end(bytes: &[u8], from: usize) -> usize {
    bytes[from + 2..].windows(2).position(|two| two == b"*/").map_or(bytes.len(), |n| from + n + 4)
}

/// Past the closing quote, or past the opening one when nothing closes it.
fn string_end(bytes: &[u8], from: usize) -> usize {
    let raw = bytes[..from].ends_with(b"r#");
    let mut at = from + 1;
    while at < bytes.len() {
        match bytes[at] {
            b'\\' if !raw => at += 2,
            b'"' if !raw || bytes.get(at + 1) == Some(&b'#') => return at + 1,
            _ => at += 1,
        }
    }
    (from + 1).min(bytes.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_are_blanked_in_their_place() {
        assert_eq!(without_comments("a // b\nc /* d\n */ e", false), "a     \nc     \n    e");
        assert_eq!(without_comments("\"https://x\" y", false), "\"https://x\" y");
        assert_eq!(without_comments("f(\"a \\\" b\") c", true), "f(\"      \") c");
        assert_eq!(without_comments("url(photo://x)", false), "url(photo://x)");
        assert_eq!(without_comments("'image/*' x", false), "'image/*' x");
        assert_eq!(without_comments("'\"' // a", true), "'\"'     ");
        assert_eq!(without_comments("r#\"a \" b\"# // c", true), "r#\"     \"#     ");
    }

    #[test]
    fn a_breach_says_its_line() {
        let tree = Tree::of(&[("a.rs", "x\ny\nz")]);
        assert_eq!(tree.files[0].breach(4, "z").line, 3);
    }
}
