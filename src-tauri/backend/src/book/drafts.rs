//! What was being typed, kept on this device so that it survives a kill.
//! Never shared with other devices and never part of the record.
//! Invariant: a draft goes in the same transaction as the act that makes it needless.

use super::{Book, Moment};
use crate::error::{Error, Result};
use rusqlite::{Connection, OptionalExtension, params};

/// Longest key and value, in characters.
const KEY_MAX: usize = 100;
const VALUE_MAX: usize = 100_000;

/// An unfinished draft.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct DraftRow {
    /// What it is a draft of, e.g. `look:ID`.
    pub key: String,
    /// When it was last written, RFC 3339 with the local offset.
    pub at: String,
}

impl Book {
    /// Keeps a draft; `None` throws it away.
    ///
    /// # Errors
    /// `Invalid` when key or value are too long; the register's own.
    pub fn set_draft(&self, key: &str, value: Option<&str>) -> Result<()> {
        if key.is_empty() || key.chars().count() > KEY_MAX {
            return Err(Error::invalid_with("key", "too_long", serde_json::json!({"max": KEY_MAX})));
        }
        if value.is_some_and(|v| v.chars().count() > VALUE_MAX) {
            return Err(Error::invalid_with("value", "too_long", serde_json::json!({"max": VALUE_MAX})));
        }
        let moment = self.moment();
        self.write(|tx| {
            match value {
                Some(value) => tx
                    .prepare_cached("INSERT OR REPLACE INTO draft(k, v, at, zone) VALUES (?1, ?2, ?3, ?4)")?
                    .execute(params![key, value, moment.ms, moment.zone()])?,
                None => tx.prepare_cached("DELETE FROM draft WHERE k = ?1")?.execute([key])?,
            };
            Ok(())
        })
    }

    /// A fact about this device alone, e.g. which light it shows.
    ///
    /// # Errors
    /// The register's own.
    pub fn set_device_fact(&self, key: &str, value: &str) -> Result<()> {
        self.write(|tx| {
            tx.execute("INSERT OR REPLACE INTO meta(k, v) VALUES ('device.' || ?1, ?2)", [key, value])?;
            Ok(())
        })
    }

    /// Takes back what [`Book::set_device_fact`] wrote.
    ///
    /// # Errors
    /// The register's own.
    pub fn forget_device_fact(&self, key: &str) -> Result<()> {
        self.write(|tx| {
            tx.execute("DELETE FROM meta WHERE k = 'device.' || ?1", [key])?;
            Ok(())
        })
    }
}

/// Reads what [`Book::set_device_fact`] wrote.
///
/// # Errors
/// The register's own.
pub fn device_fact(conn: &Connection, key: &str) -> Result<Option<String>> {
    let found =
        conn.query_row("SELECT v FROM meta WHERE k = 'device.' || ?1", [key], |r| r.get(0)).optional()?;
    Ok(found)
}

/// The text of a draft.
///
/// # Errors
/// The register's own.
pub fn get(conn: &Connection, key: &str) -> Result<Option<String>> {
    Ok(conn.query_row("SELECT v FROM draft WHERE k = ?1", [key], |r| r.get(0)).optional()?)
}

/// All drafts, newest first.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<DraftRow>> {
    let mut list = conn.prepare_cached("SELECT k, at, zone FROM draft ORDER BY at DESC, k")?;
    let rows = list.query_map([], |r| {
        let (at, zone): (i64, String) = (r.get(1)?, r.get(2)?);
        Ok(DraftRow { key: r.get(0)?, at: Moment::from_parts(at, &zone).rfc3339() })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
