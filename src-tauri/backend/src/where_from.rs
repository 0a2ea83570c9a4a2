//! Where a computed number comes from: how it was worked out, from what, and on whose word.
//! Never the sentence itself: the screen has the words for each `how`.
//! Invariant: whatever is computed for a screen can carry one of these.

use serde::Serialize;
use serde_json::Value;

/// On whose word a figure stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ts_rs::TS)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// A published source, named.
    Published,
    /// Arithmetic on published figures, named.
    Derived,
    /// Common practice, no source.
    Common,
    /// From memory, not looked up.
    Memory,
    /// The yard's own records.
    Own,
    /// Our own choice, with its reason.
    Chosen,
}

/// One thing that went into a number.
#[derive(Debug, Clone, PartialEq, Serialize, ts_rs::TS)]
pub struct Input {
    /// Its key; the screen has the word for it.
    pub name: String,
    /// Its value, in the unit the key says (`_g`, `_mm`, `_dc`, `_days`, `_pct`), or a word.
    pub value: Value,
}

/// Where a number comes from.
#[derive(Debug, Clone, PartialEq, Serialize, ts_rs::TS)]
pub struct WhereFrom {
    /// The key of the formula in words.
    pub how: String,
    /// What went in.
    pub inputs: Vec<Input>,
    /// On whose word.
    pub mark: Mark,
    /// The source as it is cited; empty for the yard's own records.
    pub source: String,
    /// For the yard's own records: of how many logs.
    pub logs: Option<i64>,
}

impl WhereFrom {
    /// A number worked out by `how`, on the word of `source`.
    pub fn new(how: &str, mark: Mark, source: &str) -> Self {
        Self { how: how.to_owned(), inputs: Vec::new(), mark, source: source.to_owned(), logs: None }
    }

    /// With one more input.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.inputs.push(Input { name: name.to_owned(), value: value.into() });
        self
    }

    /// From the records of `logs` of the yard's own.
    #[must_use]
    pub fn of_logs(mut self, logs: i64) -> Self {
        self.logs = Some(logs);
        self
    }
}
