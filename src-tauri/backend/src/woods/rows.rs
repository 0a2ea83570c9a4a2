//! Reading woods: the table's and the grower's own, in one list.
//! Never writes.
//! Invariant: a wood taken out still names the logs that are of it.

use super::rules::{self, Life, Note, Rating, WoodFields, life_of};
use crate::error::Result;
use crate::measure::natural_order;
use crate::where_from::Mark;
use rusqlite::{Connection, OptionalExtension, Row};
use std::collections::HashMap;

/// A wood as a screen shows it.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct WoodLine {
    /// Its id.
    pub id: String,
    /// Common name.
    pub name: String,
    /// Scientific name; empty when not known.
    pub scientific: String,
    /// Conifers carry none of the yard's mushrooms.
    pub conifer: bool,
    /// Fitness for shiitake, 0 unsuitable to 4 best; null: nobody says.
    pub shiitake: Option<Rating>,
    /// Fitness for Hericium.
    pub hericium: Option<Rating>,
    /// On whose word the ratings stand.
    pub mark: Mark,
    /// Their source; empty without one.
    pub source: String,
    /// What else to know.
    pub note: Option<Note>,
    /// Weight of fresh wood, kg/m³.
    pub density_kg_m3: Option<f64>,
    /// Moisture of fresh wood, per cent of the fresh weight.
    pub moisture_pct: Option<f64>,
    /// Where those two come from: the number of its row in REF_SPECIES; null for an own wood.
    pub fia_spcd: Option<u32>,
    /// Years a log of it is expected to bear.
    pub life: Life,
    /// The grower's fields when the wood is his own.
    pub own: Option<WoodFields>,
    /// Live logs of it.
    pub logs: i64,
}

/// All woods by name: the table's and the grower's own that are not taken out.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<WoodLine>> {
    let counts = logs(conn)?;
    let mut list: Vec<WoodLine> = rules::woods().iter().map(of_table).collect();
    let mut own = conn.prepare_cached(&format!("{OWN} WHERE void = 0"))?;
    let rows = own.query_map([], |r| Ok((r.get::<_, String>(0)?, fields(r)?)))?;
    for row in rows {
        let (id, fields) = row?;
        list.push(of_own(id, fields));
    }
    for wood in &mut list {
        wood.logs = counts.get(&wood.id).copied().unwrap_or(0);
    }
    list.sort_by(|a, b| natural_order(&a.name, &b.name).then_with(|| a.id.cmp(&b.id)));
    Ok(list)
}

/// A wood by its id; also an own one that was taken out.
///
/// # Errors
/// The register's own.
pub fn one(conn: &Connection, id: &str) -> Result<Option<WoodLine>> {
    if let Some(wood) = rules::wood(id) {
        return Ok(Some(of_table(wood)));
    }
    Ok(own(conn, id)?.map(|fields| of_own(id.to_owned(), fields)))
}

/// The grower's own wood with this id.
///
/// # Errors
/// The register's own.
pub fn own(conn: &Connection, id: &str) -> Result<Option<WoodFields>> {
    Ok(conn.prepare_cached(&format!("{OWN} WHERE id = ?1"))?.query_row([id], fields).optional()?)
}

/// Own woods' names by id, for lists and for reading a sheet.
///
/// # Errors
/// The register's own.
pub fn own_names(conn: &Connection) -> Result<Vec<(String, String, String)>> {
    let mut list = conn.prepare_cached("SELECT id, name, scientific FROM wood WHERE void = 0 ORDER BY id")?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Live logs and batches by wood.
///
/// # Errors
/// The register's own.
pub fn used(conn: &Connection, id: &str) -> Result<(i64, i64)> {
    Ok(conn.query_row(
        "SELECT (SELECT count(*) FROM log WHERE wood = ?1 AND void = 0),
           (SELECT count(*) FROM batch WHERE wood = ?1 AND void = 0)",
        [id],
        |r| Ok((r.get(0)?, r.get(1)?)),
    )?)
}

const OWN: &str =
    "SELECT id, name, scientific, conifer, shiitake, hericium, density_kg_m3, moisture_pct, note FROM wood";

fn fields(r: &Row<'_>) -> rusqlite::Result<WoodFields> {
    Ok(WoodFields {
        name: r.get("name")?,
        scientific: r.get("scientific")?,
        conifer: r.get::<_, Option<i64>>("conifer")? == Some(1),
        shiitake: r.get("shiitake")?,
        hericium: r.get("hericium")?,
        density_kg_m3: r.get("density_kg_m3")?,
        moisture_pct: r.get("moisture_pct")?,
        note: r.get("note")?,
    })
}

fn logs(conn: &Connection) -> Result<HashMap<String, i64>> {
    let mut list = conn
        .prepare_cached("SELECT wood, count(*) FROM log WHERE void = 0 AND wood IS NOT NULL GROUP BY wood")?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

fn of_table(wood: &rules::Wood) -> WoodLine {
    WoodLine {
        id: wood.id.clone(),
        name: wood.name.clone(),
        scientific: wood.scientific.clone(),
        conifer: wood.conifer,
        shiitake: wood.shiitake,
        hericium: wood.hericium,
        mark: if wood.mark == "D" { Mark::Derived } else { Mark::Common },
        source: if wood.mark == "D" { wood.source.clone() } else { String::new() },
        note: wood.note,
        density_kg_m3: wood.green.map(rules::Green::density),
        moisture_pct: wood.green.map(rules::Green::wet_basis_pct),
        fia_spcd: wood.green.map(|g| g.fia_spcd),
        life: life_of(wood.note),
        own: None,
        logs: 0,
    }
}

fn of_own(id: String, own: WoodFields) -> WoodLine {
    let rating = |n: Option<i64>| {
        let n = u8::try_from(n?).ok()?;
        Some(Rating { low: n, high: n })
    };
    WoodLine {
        id,
        name: own.name.clone(),
        scientific: own.scientific.clone(),
        conifer: own.conifer,
        shiitake: rating(own.shiitake),
        hericium: rating(own.hericium),
        mark: Mark::Own,
        source: String::new(),
        note: None,
        density_kg_m3: own.density_kg_m3.map(|n| n as f64),
        moisture_pct: own.moisture_pct.map(|n| n as f64),
        fia_spcd: None,
        life: life_of(None),
        own: Some(own),
        logs: 0,
    }
}
