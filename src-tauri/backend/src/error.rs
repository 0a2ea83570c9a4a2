//! The one error type, sorted by what the person at the screen can do about it.
//! Never words for the screen: `ui/lib/explain.js` has those.
//! Invariant: every error reaches the UI through `Error::reply`, the one match.

use serde_json::{Map, Value, json};

/// `Result` with this project's error.
pub type Result<T> = std::result::Result<T, Error>;

/// What went wrong, by what can be done about it.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// What was typed can't be kept as it is; nothing was written.
    #[error("{field}: {why}")]
    Invalid {
        /// The request's field that is wrong.
        field: String,
        /// A fixed word for the reason, e.g. `range`.
        why: &'static str,
        /// Bounds and the like, for the sentence on screen.
        detail: Map<String, Value>,
    },
    /// The thing asked for is not in the register.
    #[error("no such {what}")]
    Missing {
        /// The kind of thing, e.g. `log`.
        what: &'static str,
    },
    /// Something else stands in the way; look again and retry.
    #[error("conflict: {why}")]
    Conflict {
        /// A fixed word for the reason, e.g. `locked`.
        why: &'static str,
        /// What it collided with.
        detail: Map<String, Value>,
    },
    /// The register was written by a newer version; it was not touched.
    #[error("register version {found} is newer than {known}")]
    TooNew {
        /// Schema version in the file.
        found: i64,
        /// Newest schema version this program knows.
        known: i64,
    },
    /// A file is not what it should be; it was left as it is.
    #[error("damaged: {what}")]
    Damaged {
        /// What was found.
        what: String,
    },
    /// No room left on the device; nothing was half-written.
    #[error("no room left")]
    DiskFull,
    /// A fault of this program.
    #[error("fault: {0}")]
    Bug(String),
}

impl Error {
    /// An `Invalid` without bounds.
    pub fn invalid(field: &str, why: &'static str) -> Self {
        Self::Invalid { field: field.to_owned(), why, detail: Map::new() }
    }

    /// An `Invalid` with details, given as a JSON object.
    pub fn invalid_with(field: &str, why: &'static str, detail: Value) -> Self {
        Self::Invalid { field: field.to_owned(), why, detail: object(detail) }
    }

    /// A `Conflict` with details, given as a JSON object.
    pub fn conflict(why: &'static str, detail: Value) -> Self {
        Self::Conflict { why, detail: object(detail) }
    }

    /// What the UI gets: `{code, message, field, detail}`.
    pub fn reply(&self) -> Value {
        let (code, field, detail) = match self {
            Self::Invalid { field, why, detail } => {
                let mut detail = detail.clone();
                detail.insert("why".into(), json!(why));
                ("invalid", Some(field.as_str()), Value::Object(detail))
            }
            Self::Missing { what } => ("missing", Some(*what), json!({})),
            Self::Conflict { why, detail } => {
                let mut detail = detail.clone();
                detail.insert("why".into(), json!(why));
                ("conflict", None, Value::Object(detail))
            }
            Self::TooNew { found, known } => ("too_new", None, json!({"found": found, "known": known})),
            Self::Damaged { what } => ("damaged", None, json!({"what": what})),
            Self::DiskFull => ("disk_full", None, json!({})),
            Self::Bug(_) => ("bug", None, json!({})),
        };
        json!({"code": code, "message": self.to_string(), "field": field, "detail": detail})
    }
}

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Self {
        use rusqlite::{ErrorCode, ffi};
        // The log's index could not be made as large as it must be: there is no other reason for it.
        let index = error.sqlite_error().is_some_and(|e| e.extended_code == ffi::SQLITE_IOERR_SHMSIZE);
        match error.sqlite_error_code() {
            _ if index => Self::DiskFull,
            Some(ErrorCode::DiskFull) => Self::DiskFull,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                Self::Damaged { what: "register".into() }
            }
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
                Self::conflict("locked", Value::Null)
            }
            _ => Self::Bug(error.to_string()),
        }
    }
}

impl From<std::io::Error> for Error {
    fn from(error: std::io::Error) -> Self {
        match error.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => Self::DiskFull,
            _ => Self::Bug(error.to_string()),
        }
    }
}

impl From<serde_json::Error> for Error {
    fn from(error: serde_json::Error) -> Self {
        Self::Bug(error.to_string())
    }
}
