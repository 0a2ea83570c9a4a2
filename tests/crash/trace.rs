//! What a program did to its files, read from a trace of its system calls.
//! Never a guess: a call that the model does not know fails the test.
//! Invariant: done in order, with nothing lost, the calls leave the files that the program left.

use super::{play, traced};
use std::collections::HashMap;
use std::path::Path;

/// One thing done to the yard's folder. Paths are as the program named them.
#[derive(Debug, Clone)]
pub enum Did {
    Create {
        path: String,
    },
    MakeFolder {
        path: String,
    },
    Write {
        path: String,
        at: u64,
        bytes: Vec<u8>,
    },
    Cut {
        path: String,
        length: u64,
    },
    Sync {
        path: String,
    },
    Rename {
        from: String,
        to: String,
    },
    Unlink {
        path: String,
    },
    /// The program said `ok`: whatever it promised, it promised now.
    Acked,
}

impl Did {
    /// In one line, without the bytes.
    pub fn short(&self) -> String {
        match self {
            Self::Write { path, at, bytes } => format!("Write {} bytes at {at} of {path}", bytes.len()),
            other => format!("{other:?}"),
        }
    }
}

/// Plays a script and returns what it did inside `folder`, in order.
pub fn record(script: &Path, folder: &Path) -> Option<Vec<Did>> {
    let log = folder.with_extension("trace");
    let calls = "trace=open,creat,openat,openat2,read,write,pwrite64,writev,pwritev,pwritev2,fsync,fdatasync,\
        sync_file_range,syncfs,sync,ftruncate,truncate,fallocate,rename,renameat,renameat2,link,linkat,unlink,\
        unlinkat,mkdir,mkdirat,rmdir,lseek,copy_file_range,sendfile,splice,close,dup,dup2,dup3,fcntl";
    let out = traced(&["-y", "-xx", "-s", "8000000", "-e", calls, "-o", &log.to_string_lossy()])?
        .args(play(script, folder))
        .output()
        .expect("strace runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let text = std::fs::read_to_string(log).expect("a trace");
    let mut reader =
        Reader { inside: folder.to_string_lossy().into_owned(), at: HashMap::new(), did: Vec::new() };
    text.lines().for_each(|line| reader.line(line));
    Some(reader.did)
}

struct Reader {
    inside: String,
    /// Where each open file's next plain write goes, by descriptor.
    at: HashMap<String, u64>,
    did: Vec<Did>,
}

impl Reader {
    fn line(&mut self, line: &str) {
        let call = line.split_once(' ').map_or(line, |(_thread, rest)| rest.trim_start());
        let Some((name, rest)) = call.split_once('(') else { return };
        let Some((words, answer)) = rest.rsplit_once(") = ") else {
            assert!(!call.contains("unfinished"), "one thread at a time: {call}");
            return;
        };
        if answer.starts_with('-') {
            return;
        }
        let words: Vec<String> = split(words);
        let answer: u64 = number(answer);
        if name == "write" && words[0].starts_with("1<") {
            let said = bytes(&words[1]);
            self.did.extend(said.starts_with(b"ok").then_some(Did::Acked));
            return;
        }
        self.known(name, &words, answer);
    }

    /// The path of a descriptor written `3<\x2f…>`, when it lies in the yard.
    fn file(&self, word: &str) -> Option<String> {
        let (_, path) = word.split_once('<')?;
        mine(&self.inside, &text(path.split(['<', '>']).next()?))
    }

    fn known(&mut self, name: &str, words: &[String], answer: u64) {
        let inside = self.inside.clone();
        let named = |n: usize| mine(&inside, &text(&words[n]));
        match name {
            "openat" => {
                self.at.insert(answer.to_string(), 0);
                let made = words[2].contains("O_CREAT").then(|| named(1)).flatten();
                assert!(!words[2].contains("O_TRUNC") || named(1).is_none(), "O_TRUNC is not in the model");
                self.did.extend(made.map(|path| Did::Create { path }));
            }
            "mkdir" => self.did.extend(named(0).map(|path| Did::MakeFolder { path })),
            "write" | "pwrite64" => {
                let Some(path) = self.file(&words[0]) else { return };
                let number_of = words[0].split('<').next().unwrap_or_default().to_owned();
                let mut bytes = bytes(&words[1]);
                assert!(bytes.len() as u64 >= answer, "the whole write stands in the trace");
                bytes.truncate(usize::try_from(answer).expect("a length"));
                let next = self.at.entry(number_of).or_default();
                let at = if name == "write" { *next } else { number(&words[3]) };
                *next = if name == "write" { at + answer } else { *next };
                self.did.push(Did::Write { path, at, bytes });
            }
            "fsync" | "fdatasync" => self.did.extend(self.file(&words[0]).map(|path| Did::Sync { path })),
            "ftruncate" => {
                let cut = self.file(&words[0]).map(|path| Did::Cut { path, length: number(&words[1]) });
                self.did.extend(cut);
            }
            "rename" | "renameat" => {
                let (from, to) = if name == "rename" { (0, 1) } else { (1, 3) };
                self.did.extend(named(from).zip(named(to)).map(|(from, to)| Did::Rename { from, to }));
            }
            "unlink" => self.did.extend(named(0).map(|path| Did::Unlink { path })),
            "lseek" => {
                assert!(self.file(&words[0]).is_none(), "lseek is not in the model: {words:?}");
            }
            "read" | "close" | "fcntl" => {}
            other => {
                let ours =
                    words.iter().enumerate().any(|(n, w)| self.file(w).is_some() || named(n).is_some());
                assert!(!ours, "{other} is not in the model: {words:?}");
            }
        }
    }
}

/// A path below the yard's folder. SQLite's index of the log is left out: it is made anew after a
/// crash, and is not written by calls anyway.
fn mine(folder: &str, path: &str) -> Option<String> {
    let inside = path.strip_prefix(folder)?;
    (!inside.ends_with("-shm")).then(|| inside.to_owned())
}

/// The words between the commas of a call; strace writes text as `"\x..\x.."`, so no comma hides in it.
fn split(words: &str) -> Vec<String> {
    words.split(", ").map(str::to_owned).collect()
}

fn number(text: &str) -> u64 {
    let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().unwrap_or(0)
}

fn bytes(word: &str) -> Vec<u8> {
    assert!(!word.ends_with("..."), "the whole write stands in the trace");
    let pairs = word.trim_matches('"').split("\\x").skip(1);
    pairs.map(|pair| u8::from_str_radix(&pair[..2], 16).expect("two digits")).collect()
}

fn text(word: &str) -> String {
    String::from_utf8_lossy(&bytes(word)).into_owned()
}
