//! Names of things: UUIDv7 text, made on the device, never reused.
//! Never the tag on a log: that is a field a person may change.
//! Invariant: an `Id` is always a well-formed, lower-case, hyphenated UUID.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::sync::Mutex;
use uuid::{ContextV7, Timestamp, Uuid};

/// A thing's or an entry's id.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ts_rs::TS)]
#[serde(try_from = "String", into = "String")]
#[ts(type = "string")]
pub struct Id(String);

impl Id {
    /// A new id made at `ms`, milliseconds since 1970 (RFC 9562, version 7). Ids that one program
    /// makes only grow, also within a millisecond and when the clock goes back: the photos of one
    /// look keep the order they were given in.
    pub fn new(ms: i64) -> Self {
        static ORDER: Mutex<ContextV7> = Mutex::new(ContextV7::new());
        let seconds = u64::try_from(ms.div_euclid(1000)).unwrap_or(0);
        let nanos = u32::try_from(ms.rem_euclid(1000) * 1_000_000).unwrap_or(0);
        Self(Uuid::new_v7(Timestamp::from_unix(&ORDER, seconds, nanos)).hyphenated().to_string())
    }

    /// The text as it stands in the register.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for Id {
    type Error = uuid::Error;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Ok(Self(Uuid::parse_str(&text)?.hyphenated().to_string()))
    }
}

impl From<Id> for String {
    fn from(id: Id) -> Self {
        id.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl rusqlite::ToSql for Id {
    fn to_sql(&self) -> rusqlite::Result<rusqlite::types::ToSqlOutput<'_>> {
        self.0.to_sql()
    }
}

impl rusqlite::types::FromSql for Id {
    fn column_result(value: rusqlite::types::ValueRef<'_>) -> rusqlite::types::FromSqlResult<Self> {
        let text = String::column_result(value)?;
        Self::try_from(text).map_err(|e| rusqlite::types::FromSqlError::Other(Box::new(e)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_only_grow_within_a_millisecond_and_when_the_clock_goes_back() {
        // The photos of one look once came back in any order.
        let ids: Vec<Id> = [1_790_000_000_000, 1_790_000_000_000, 1_790_000_000_000, 1_780_000_000_000]
            .into_iter()
            .map(Id::new)
            .collect();
        assert!(ids.is_sorted_by(|a, b| a < b), "{ids:?}");
    }
}
