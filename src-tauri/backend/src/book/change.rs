//! What an act is made of: changes, and the words that go with them as plain values.
//! Never SQL, never a trade word.
//! Invariant: a change says everything `apply` needs; nothing is read from outside it.

use super::clock::Stamp;
use crate::error::{Error, Result};
use crate::ids::Id;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// One change to the register.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Change {
    /// A new observation. It is never edited, only voided or replaced.
    Put {
        /// The kind of entry: the name of its table.
        kind: String,
        /// The entry's id.
        id: String,
        /// Column → value, for the entry and for its kind's own table.
        row: Map<String, Value>,
    },
    /// A field's new value. All versions are kept; the newest stamp wins.
    Set {
        /// The kind of thing: the name of its table (for an entry: `entry`).
        kind: String,
        /// The thing's id.
        id: String,
        /// The column.
        name: String,
        /// The value; null empties it.
        value: Value,
    },
}

impl Change {
    /// A new observation of kind `kind`; `row` is a JSON object.
    pub fn put(kind: &str, id: &Id, row: Value) -> Self {
        let row = if let Value::Object(map) = row { map } else { Map::new() };
        Self::Put { kind: kind.to_owned(), id: id.to_string(), row }
    }

    /// A field's new value.
    pub fn set(kind: &str, id: &str, name: &str, value: impl Into<Value>) -> Self {
        Self::Set { kind: kind.to_owned(), id: id.to_owned(), name: name.to_owned(), value: value.into() }
    }

    /// Takes an observation out of the record (it stays in the book).
    pub fn void(entry: &str) -> Self {
        Self::set("entry", entry, "void", 1)
    }

    /// The topic a screen would name: the kind's table, or `entry` for a voided one.
    pub fn topic(&self) -> &str {
        match self {
            Self::Put { kind, .. } | Self::Set { kind, .. } => kind,
        }
    }
}

/// What an act intends: its changes and what it will have said.
#[derive(Debug, Default)]
pub struct Plan {
    /// In the order they are applied.
    pub changes: Vec<Change>,
    /// Values for the sentence on screen.
    pub said: Map<String, Value>,
}

impl Plan {
    /// A plan; `said` is a JSON object.
    pub fn new(changes: Vec<Change>, said: Value) -> Self {
        let said = if let Value::Object(map) = said { map } else { Map::new() };
        Self { changes, said }
    }
}

/// The body of an act as it is kept and exchanged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// Values for the sentence on screen.
    pub said: Map<String, Value>,
    /// In the order they are applied.
    pub changes: Vec<Change>,
}

/// Who asks for an act, and how a double tap is known.
#[derive(Debug, Clone, Copy)]
pub struct Intent<'a> {
    /// The command's name.
    pub name: &'a str,
    /// Made once by the screen for one form or card.
    pub request: &'a str,
    /// A draft that this act makes needless.
    pub draft: Option<&'a str>,
}

/// Nothing to say but that it is done: what concerns this device alone is no act.
#[derive(Debug, Serialize, ts_rs::TS)]
pub struct Nothing {}

/// What an act did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ts_rs::TS)]
pub struct Done {
    /// `device:seq`.
    pub act: String,
    /// The command's name.
    pub name: String,
    /// Values for the sentence on screen.
    #[ts(type = "Record<string, any>")]
    pub said: Map<String, Value>,
    /// Topics whose screens should load again.
    pub changed: Vec<String>,
    /// True when this request had been done before: nothing new was written.
    pub again: bool,
}

/// The things and entries that an application touched, for what is derived from them.
#[derive(Debug, Default)]
pub struct Touched {
    /// Things, by kind and id.
    pub things: BTreeSet<(String, String)>,
    /// Ids of entries.
    pub entries: BTreeSet<String>,
}

impl Touched {
    /// Adds what another application touched.
    pub fn add(&mut self, more: Self) {
        self.things.extend(more.things);
        self.entries.extend(more.entries);
    }
}

/// One act as it is kept in the book and carried to others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Act {
    /// Who made it.
    pub device: String,
    /// 1, 2, 3 … without a gap on each device.
    pub seq: i64,
    /// Hybrid stamp, 16 hexadecimal digits.
    pub stamp: String,
    /// Milliseconds since 1970, by the device's wall clock.
    pub at: i64,
    /// Local offset then, e.g. `+01:00`.
    pub zone: String,
    /// The command's name.
    pub name: String,
    /// The act that this one takes back, `device:seq`.
    pub undoes: Option<String>,
    /// Changes and words. Kept as it came, also when this version does not understand it.
    pub body: Value,
}

impl Act {
    /// `device:seq`, an act's name everywhere.
    pub fn key(&self) -> String {
        format!("{}:{}", self.device, self.seq)
    }

    /// Reads an act from a line of JSON, and checks it.
    ///
    /// # Errors
    /// `Damaged` when it is not one.
    pub fn from_line(line: &[u8]) -> Result<Self> {
        let damaged = |_| Error::Damaged { what: "act".into() };
        let act: Self = serde_json::from_slice(line).map_err(damaged)?;
        act.check()?;
        Ok(act)
    }

    /// What every act must be, whoever made it: of a device, counted from 1, stamped. Returns its stamp.
    ///
    /// # Errors
    /// `Damaged` when it is not.
    pub(super) fn check(&self) -> Result<Stamp> {
        let device =
            uuid::Uuid::parse_str(&self.device).is_ok_and(|id| id.hyphenated().to_string() == self.device);
        let short = self.zone.len() <= 20 && self.name.len() <= 100;
        let stamp = Stamp::parse(&self.stamp).filter(|_| device && short && self.seq >= 1);
        stamp.ok_or_else(|| Error::Damaged { what: "act".into() })
    }
}
