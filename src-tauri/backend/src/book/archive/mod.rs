//! Everything in one zip of open formats, and back. `archive.md` beside this describes it.
//! Never `extract`: members are read one by one, by names that are known beforehand.
//! Invariant: an archive stands whole under its final name or not at all, and is taken in only when
//! its acts are what its list of hashes says.

mod read;
mod write;

pub use read::Preview;
pub use write::Topic;

use crate::error::Error;
use std::io::{self, Read, Write};

const README: &str = "README.txt";
const SCHEMA: &str = "schema.json";
const TABLES: &str = "schema.sql";
const ACTS: &str = "acts.jsonl";
const REGISTER: &str = "register.json";
const HASHES: &str = "hashes.txt";

/// What stands in `register.json`.
#[derive(Debug, Clone, Default, PartialEq, serde::Serialize, serde::Deserialize)]
pub(crate) struct Register {
    /// Version of this format.
    format: u32,
    /// Version of the register's schema.
    version: i64,
    /// The register's id.
    register: String,
    /// The device that wrote the archive.
    device: String,
    /// When, RFC 3339 with the local offset.
    at: String,
    /// How many acts stand in `acts.jsonl`.
    acts: u64,
    /// Of which device how many.
    devices: std::collections::BTreeMap<String, u64>,
    /// Rows by kind, voided ones not counted.
    rows: std::collections::BTreeMap<String, u64>,
    /// Photos in the archive.
    photos: u64,
    /// What could not be read or was not there when it was written.
    unreadable: Vec<String>,
}

/// A name that a member may have; anything else is refused before it is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Member<'a> {
    Text,
    Acts,
    Csv,
    /// A photo, by the hash of its bytes.
    Photo(&'a str),
}

impl<'a> Member<'a> {
    fn of(name: &'a str) -> Option<Self> {
        let plain = |text: &str, most: usize| {
            (1..=most).contains(&text.len())
                && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
        };
        match name {
            ACTS => Some(Self::Acts),
            README | SCHEMA | TABLES | REGISTER | HASHES => Some(Self::Text),
            _ => match name.split_once('/')? {
                ("csv", file) => plain(file.strip_suffix(".csv")?, 40).then_some(Self::Csv),
                ("photos", file) => {
                    let (hash, ending) = file.split_once('.')?;
                    let good = super::blobs::check_name(hash).is_ok() && plain(ending, 5);
                    good.then_some(Self::Photo(hash))
                }
                _ => None,
            },
        }
    }

    /// Most bytes it may unpack to.
    fn most(self) -> u64 {
        match self {
            Self::Text => 256 << 20,
            Self::Acts => 16 << 30,
            Self::Csv => 4 << 30,
            Self::Photo(_) => super::merge::BLOB_MAX,
        }
    }
}

/// Hashes what passes through it.
struct Hashing<T> {
    inner: T,
    hasher: blake3::Hasher,
}

impl<T> Hashing<T> {
    fn new(inner: T) -> Self {
        Self { inner, hasher: blake3::Hasher::new() }
    }

    fn hash(&self) -> String {
        self.hasher.finalize().to_hex().to_string()
    }
}

impl<T: Write> Write for Hashing<T> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let n = self.inner.write(bytes)?;
        self.hasher.update(&bytes[..n]);
        Ok(n)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

impl<T: Read> Read for Hashing<T> {
    fn read(&mut self, bytes: &mut [u8]) -> io::Result<usize> {
        let n = self.inner.read(bytes)?;
        self.hasher.update(&bytes[..n]);
        Ok(n)
    }
}

fn damaged(what: &str) -> Error {
    Error::Damaged { what: format!("archive: {what}") }
}

#[cfg(test)]
mod tests {
    use super::Member;

    #[test]
    fn only_known_names_pass() {
        let hash = "a".repeat(64);
        let photo = format!("photos/{hash}.jpg");
        assert_eq!(Member::of(&photo), Some(Member::Photo(&hash)));
        assert_eq!(Member::of("csv/logs.csv"), Some(Member::Csv));
        for bad in [
            "../acts.jsonl",
            "/acts.jsonl",
            "csv/../../x.csv",
            "csv\\logs.csv",
            "csv/Logs.csv",
            "csv/.csv",
            "photos/x.jpg",
            "photos/..",
            "",
            "C:acts.jsonl",
            "acts.jsonl\0",
            "photos/",
        ] {
            assert_eq!(Member::of(bad), None, "{bad:?}");
        }
        assert_eq!(Member::of(&format!("photos/{hash}./..")), None);
        assert_eq!(Member::of(&format!("photos/{hash}.jpg/x")), None);
    }
}
