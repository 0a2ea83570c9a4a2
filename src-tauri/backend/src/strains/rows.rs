//! Reading strains.
//! Never writes.
//! Invariant: a strain without a name is one whose name nobody knows.

use super::rules::{Mushroom, StrainClass};
use crate::error::Result;
use rusqlite::{Connection, OptionalExtension, params};

/// A strain the yard knows.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct StrainRow {
    /// Its id.
    pub id: String,
    /// The grower's name for it.
    pub name: String,
    /// What it is a strain of.
    pub mushroom: Option<Mushroom>,
    /// Its class; shiitake only.
    pub class: Option<StrainClass>,
}

/// All named strains, by name.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<StrainRow>> {
    let mut list = conn.prepare_cached(
        "SELECT id, name, mushroom, class FROM strain WHERE void = 0 AND name <> '' ORDER BY name COLLATE NOCASE",
    )?;
    let rows = list.query_map([], |r| {
        let (mushroom, class): (Option<String>, Option<String>) = (r.get(2)?, r.get(3)?);
        Ok(StrainRow {
            id: r.get(0)?,
            name: r.get(1)?,
            mushroom: mushroom.as_deref().and_then(Mushroom::of),
            class: class.as_deref().and_then(StrainClass::of),
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A strain by mushroom and name, whatever the case of its letters, also one taken back by an undo.
/// A nameless one is found by its class. Returns id, class and whether it is void.
///
/// # Errors
/// The register's own.
pub fn find(
    conn: &Connection,
    mushroom: Mushroom,
    name: &str,
    class: Option<StrainClass>,
) -> Result<Option<(String, Option<StrainClass>, bool)>> {
    let found = conn
        .prepare_cached(
            "SELECT id, class, void FROM strain
             WHERE mushroom = ?1 AND name = ?2 COLLATE NOCASE AND (?2 <> '' OR class IS ?3)
             ORDER BY void, id LIMIT 1",
        )?
        .query_row(params![mushroom.word(), name, class.map(StrainClass::word)], |r| {
            Ok((r.get(0)?, r.get::<_, Option<String>>(1)?, r.get(2)?))
        })
        .optional()?;
    Ok(found.map(|(id, class, void)| (id, class.as_deref().and_then(StrainClass::of), void)))
}
