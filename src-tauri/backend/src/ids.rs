//! Names of things: UUIDv7 text, made on the device, never reused.
//! Never the tag on a log: that is a field a person may change.
//! Invariant: an `Id` is always a well-formed, lower-case, hyphenated UUID.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A thing's or an entry's id.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ts_rs::TS)]
#[serde(try_from = "String", into = "String")]
#[ts(type = "string")]
pub struct Id(String);

impl Id {
    /// A new id whose first 48 bits are `ms`, milliseconds since 1970 (RFC 9562, version 7).
    pub fn new(ms: i64) -> Self {
        let seconds = u64::try_from(ms.div_euclid(1000)).unwrap_or(0);
        let nanos = u32::try_from(ms.rem_euclid(1000) * 1_000_000).unwrap_or(0);
        let stamp = uuid::Timestamp::from_unix(uuid::NoContext, seconds, nanos);
        Self(uuid::Uuid::new_v7(stamp).hyphenated().to_string())
    }

    /// The text as it stands in the register.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for Id {
    type Error = uuid::Error;

    fn try_from(text: String) -> Result<Self, Self::Error> {
        Ok(Self(uuid::Uuid::parse_str(&text)?.hyphenated().to_string()))
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
