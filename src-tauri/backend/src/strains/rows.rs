//! Reading strains and spawn lots.
//! Never writes.
//! Invariant: a strain without a name is one whose name nobody knows.

use super::rules::{Kept, LotFields, Mushroom, StrainClass};
use crate::error::{Error, Result};
use crate::logs::rules::Spawn;
use crate::measure::Rough;
use rusqlite::{Connection, OptionalExtension, Row, params};

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
    /// The grower's own fruiting range, tenths of °C; null: as its class.
    #[ts(type = "number | null")]
    pub from_dc: Option<i64>,
    /// To here.
    #[ts(type = "number | null")]
    pub to_dc: Option<i64>,
    /// The grower's words.
    pub note: String,
    /// Logs of it that the register has.
    #[ts(type = "number")]
    pub logs: i64,
}

/// A spawn lot.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct LotRow {
    /// Its id.
    pub id: String,
    /// What the grower says of it.
    pub fields: LotFields,
    /// Its strain's name.
    pub strain_name: Option<String>,
    /// What it is spawn of.
    pub mushroom: Option<Mushroom>,
    /// Its strain's class.
    pub class: Option<StrainClass>,
    /// Logs laid with it.
    pub logs: i64,
}

/// All named strains, by name.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<StrainRow>> {
    let mut list = conn.prepare_cached(&format!(
        "{STRAIN} WHERE s.void = 0 AND s.name <> '' ORDER BY s.name COLLATE NOCASE"
    ))?;
    let rows = list.query_map([], row)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// One strain.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str) -> Result<StrainRow> {
    conn.prepare_cached(&format!("{STRAIN} WHERE s.id = ?1"))?
        .query_row([id], row)
        .optional()?
        .ok_or(Error::Missing { what: "strain" })
}

const STRAIN: &str = "SELECT s.id, s.name, s.mushroom, s.class, s.from_dc, s.to_dc, s.note,
    (SELECT count(*) FROM log l WHERE l.strain = s.id AND l.void = 0) AS logs FROM strain s";

fn row(r: &Row<'_>) -> rusqlite::Result<StrainRow> {
    let (mushroom, class): (Option<String>, Option<String>) = (r.get("mushroom")?, r.get("class")?);
    Ok(StrainRow {
        id: r.get("id")?,
        name: r.get("name")?,
        mushroom: mushroom.as_deref().and_then(Mushroom::of),
        class: class.as_deref().and_then(StrainClass::of),
        from_dc: r.get("from_dc")?,
        to_dc: r.get("to_dc")?,
        note: r.get("note")?,
        logs: r.get("logs")?,
    })
}

const LOT: &str = "SELECT o.id, o.name, o.strain, o.form, o.source, o.received, o.kept, o.doubtful, o.note,
    s.name AS strain_name, s.mushroom, s.class,
    (SELECT count(*) FROM log l WHERE l.lot = o.id AND l.void = 0) AS logs
  FROM lot o LEFT JOIN strain s ON s.id = o.strain";

/// All spawn lots not taken out, the newest received first.
///
/// # Errors
/// The register's own.
pub fn lots(conn: &Connection) -> Result<Vec<LotRow>> {
    let mut list = conn.prepare_cached(&format!(
        "{LOT} WHERE o.void = 0 ORDER BY o.received DESC, o.name COLLATE NOCASE, o.id"
    ))?;
    let rows = list.query_map([], lot_row)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// One spawn lot.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn lot(conn: &Connection, id: &str) -> Result<LotRow> {
    conn.prepare_cached(&format!("{LOT} WHERE o.id = ?1"))?
        .query_row([id], lot_row)
        .optional()?
        .ok_or(Error::Missing { what: "lot" })
}

/// Spawn lots of this strain that are not taken out.
///
/// # Errors
/// The register's own.
pub fn lots_of(conn: &Connection, strain: &str) -> Result<i64> {
    let sql = "SELECT count(*) FROM lot WHERE strain = ?1 AND void = 0";
    Ok(conn.prepare_cached(sql)?.query_row([strain], |r| r.get(0))?)
}

fn lot_row(r: &Row<'_>) -> rusqlite::Result<LotRow> {
    let word = |name: &str| r.get::<_, Option<String>>(name);
    let fields = LotFields {
        name: r.get("name")?,
        strain: r.get("strain")?,
        form: word("form")?.as_deref().and_then(Spawn::of),
        source: r.get("source")?,
        received: word("received")?.and_then(|t| Rough::parse(&t).ok()),
        kept: word("kept")?.as_deref().and_then(Kept::of),
        doubtful: r.get::<_, Option<i64>>("doubtful")? == Some(1),
        note: r.get("note")?,
    };
    Ok(LotRow {
        id: r.get("id")?,
        fields,
        strain_name: word("strain_name")?.filter(|name| !name.is_empty()),
        mushroom: word("mushroom")?.as_deref().and_then(Mushroom::of),
        class: word("class")?.as_deref().and_then(StrainClass::of),
        logs: r.get("logs")?,
    })
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
