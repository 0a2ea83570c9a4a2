//! Reading which chores were put off.
//! Never writes.
//! Invariant: a chore comes back on the day it was put off to.

use crate::error::Result;
use chrono::NaiveDate;
use rusqlite::Connection;
use std::collections::BTreeMap;

/// Chores put off, by key, with the day each comes back; those that are back are left out.
///
/// # Errors
/// The register's own.
pub fn put_off(conn: &Connection, today: NaiveDate) -> Result<BTreeMap<String, NaiveDate>> {
    let mut list = conn.prepare_cached("SELECT id, until FROM put_off WHERE void = 0 AND until > ?1")?;
    let rows = list.query_map([today.to_string()], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}
