//! Reading batches and the wood that waits to be laid.
//! Never writes.
//! Invariant: every waiting log stands in exactly one line of the list of waiting wood.

use super::rules::{BatchFields, Freshness, days_since, freshness};
use crate::error::Result;
use crate::logs::rows::{Here, Log};
use crate::logs::rules::State;
use crate::logs::rules::due::Pile;
use crate::measure::Rough;
use crate::woods::rows as woods;
use rusqlite::{Connection, OptionalExtension, Row};
use std::collections::BTreeMap;

/// A batch.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct BatchRow {
    /// Its id.
    pub id: String,
    /// What the grower says of it.
    pub fields: BatchFields,
    /// Its wood's common name.
    pub wood_name: Option<String>,
    /// Logs of it that the register has, ended ones too.
    pub logs: i64,
}

/// A batch or a loose pile, of which wood waits.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct WaitingRow {
    /// The batch; null for logs of no batch.
    pub batch: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// The wood's name; null when not known.
    pub wood: Option<String>,
    /// When it was felled.
    pub felled: Option<Rough>,
    /// Days since, fewest and most.
    pub days: Option<(i64, i64)>,
    /// How long it can still wait, by use.
    pub fresh: Vec<Freshness>,
    /// The waiting logs: id and tag.
    pub logs: Vec<(String, String)>,
    /// A sample disc's moisture, per cent of the fresh weight.
    pub moisture_pct: Option<f64>,
    /// Whether what its logs carry is doubtful.
    pub doubtful: bool,
}

const BATCH: &str =
    "SELECT b.id, b.name, b.wood, b.felled, b.source, b.disc_wet_g, b.disc_dry_g, b.doubtful, b.note,
    (SELECT count(*) FROM log l WHERE l.batch = b.id AND l.void = 0) AS logs FROM batch b";

/// All batches not taken out, the newest felled first.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection) -> Result<Vec<BatchRow>> {
    let mut list = conn.prepare_cached(&format!(
        "{BATCH} WHERE b.void = 0 ORDER BY b.felled DESC, b.name COLLATE NOCASE, b.id"
    ))?;
    let rows = list.query_map([], row)?;
    let mut batches: Vec<BatchRow> = rows.collect::<rusqlite::Result<_>>()?;
    for batch in &mut batches {
        batch.wood_name = name_of(conn, batch.fields.wood.as_deref())?;
    }
    Ok(batches)
}

/// One batch.
///
/// # Errors
/// The register's own.
pub fn one(conn: &Connection, id: &str) -> Result<Option<BatchRow>> {
    let found = conn.prepare_cached(&format!("{BATCH} WHERE b.id = ?1"))?.query_row([id], row).optional()?;
    let Some(mut batch) = found else { return Ok(None) };
    batch.wood_name = name_of(conn, batch.fields.wood.as_deref())?;
    Ok(Some(batch))
}

fn name_of(conn: &Connection, wood: Option<&str>) -> Result<Option<String>> {
    let Some(wood) = wood else { return Ok(None) };
    Ok(woods::one(conn, wood)?.map(|w| w.name))
}

fn row(r: &Row<'_>) -> rusqlite::Result<BatchRow> {
    let felled: Option<String> = r.get("felled")?;
    let fields = BatchFields {
        name: r.get("name")?,
        wood: r.get("wood")?,
        felled: felled.and_then(|t| Rough::parse(&t).ok()),
        source: r.get("source")?,
        disc_wet_g: r.get("disc_wet_g")?,
        disc_dry_g: r.get("disc_dry_g")?,
        doubtful: r.get::<_, Option<i64>>("doubtful")? == Some(1),
        note: r.get("note")?,
    };
    Ok(BatchRow { id: r.get("id")?, fields, wood_name: None, logs: r.get("logs")? })
}

/// Batches none of whose logs are in the register: their wood waits as a whole.
///
/// # Errors
/// The register's own.
pub fn unlogged(conn: &Connection) -> Result<Vec<Pile>> {
    let mut list = conn.prepare_cached(
        "SELECT id, name, felled FROM batch b WHERE void = 0
         AND NOT EXISTS(SELECT 1 FROM log l WHERE l.batch = b.id AND l.void = 0) ORDER BY id",
    )?;
    let rows = list.query_map([], |r| {
        let felled: Option<String> = r.get("felled")?;
        Ok(Pile {
            batch: r.get("id")?,
            name: r.get("name")?,
            felled: felled.and_then(|text| Rough::parse(&text).ok()),
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A batch, or of loose logs their wood and felling day.
type Heap = (Option<String>, Option<String>, Option<String>);

/// The wood that waits: batches with waiting logs or with none entered yet, then loose logs by wood
/// and felling day; what has to be laid first comes first, unknown days last.
///
/// # Errors
/// The register's own.
pub fn waiting(conn: &Connection, logs: &[Log], here: Here) -> Result<Vec<WaitingRow>> {
    let mut piles: BTreeMap<Heap, Vec<(String, String)>> = BTreeMap::new();
    let batches = all(conn)?;
    for batch in batches.iter().filter(|b| b.logs == 0) {
        piles.entry((Some(batch.id.clone()), None, None)).or_default();
    }
    for log in logs.iter().filter(|log| log.row.state == State::Waiting) {
        let known = log.batch.as_ref().filter(|id| batches.iter().any(|b| b.id == **id));
        let key = match known {
            Some(id) => (Some(id.clone()), None, None),
            None => (None, log.row.wood_name.clone(), log.felled.as_ref().map(Rough::to_string)),
        };
        piles.entry(key).or_default().push((log.row.id.clone(), log.row.tag.clone()));
    }
    let mut rows: Vec<WaitingRow> = piles
        .into_iter()
        .map(|((batch, wood, felled), logs)| {
            let batch = batch.and_then(|id| batches.iter().find(|b| b.id == id));
            let felled = match batch {
                Some(batch) => batch.fields.felled.clone(),
                None => felled.and_then(|t| Rough::parse(&t).ok()),
            };
            WaitingRow {
                batch: batch.map(|b| b.id.clone()),
                name: batch.map(|b| b.fields.name.clone()),
                wood: batch.map_or(wood, |b| b.wood_name.clone()),
                days: days_since(felled.as_ref(), here.today, here.southern),
                fresh: freshness(felled.as_ref(), here.today, here.southern),
                felled,
                logs,
                moisture_pct: batch.and_then(|b| b.fields.moisture_pct()),
                doubtful: batch.is_some_and(|b| b.fields.doubtful),
            }
        })
        .collect();
    rows.sort_by_key(|row| (row.fresh.is_empty(), row.fresh.first().map(|f| f.by)));
    Ok(rows)
}
