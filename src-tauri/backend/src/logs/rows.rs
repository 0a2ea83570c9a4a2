//! Reading logs and their record; and working out what is derived from it.
//! Never decides what a state means: that is in rules.
//! Invariant: `log_state` holds only what can be worked out again from the record.

use super::rules::{self, Facts, LogFields, Method, Spawn, State, Why};
use crate::book::Touched;
use crate::error::{Error, Result};
use crate::looks::rules::Stage;
use crate::measure::{Rough, natural_order};
use crate::strains::rules::{Mushroom, StrainClass};
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::collections::BTreeSet;

/// A log as it stands in a list.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct LogRow {
    /// Its id.
    pub id: String,
    /// The label on it.
    pub tag: String,
    /// The wood's id.
    pub wood: Option<String>,
    /// The wood's common name, lower case.
    pub wood_name: Option<String>,
    /// What it carries.
    pub mushroom: Mushroom,
    /// The strain's name.
    pub strain: Option<String>,
    /// The strain's class.
    pub strain_class: Option<StrainClass>,
    /// How it was inoculated.
    pub method: Option<Method>,
    /// The spot's name.
    pub spot: Option<String>,
    /// The spot's id.
    pub spot_id: Option<String>,
    /// Its state today.
    pub state: State,
    /// When it was laid.
    pub laid: Option<Rough>,
    /// Diameters, mm.
    pub d_mm: Vec<i64>,
    /// Length, mm.
    pub length_mm: Option<i64>,
    /// What the newest look saw.
    pub last_seen: Option<Stage>,
    /// When.
    pub last_seen_day: Option<NaiveDate>,
    /// The newest picking's day.
    pub last_picked: Option<NaiveDate>,
    /// How many pickings.
    pub pickings: i64,
    /// Their weight, g, of those that were weighed.
    pub grams: i64,
    /// How many were not weighed.
    pub unweighed: i64,
    /// The newest photo.
    pub photo: Option<String>,
}

/// A log with what the rules need to know of it.
#[derive(Debug, Clone)]
pub struct Log {
    /// What lists show.
    pub row: LogRow,
    /// What its state follows from.
    pub facts: Facts,
    /// The newest day on which a round found damage.
    pub last_damage: Option<NaiveDate>,
    /// When its watch ended.
    pub ended: Option<NaiveDate>,
}

/// Where and when: what turns a record into today's states.
#[derive(Debug, Clone, Copy)]
pub struct Here {
    /// The local day.
    pub today: NaiveDate,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
}

const LOG: &str = "SELECT l.id, l.tag, l.wood, l.mushroom, t.name AS strain, t.class, l.method,
    p.name AS spot, l.spot AS spot_id, l.laid, l.d1_mm, l.d2_mm, l.d3_mm, l.length_mm,
    s.last_seen, s.last_seen_day, s.last_seen_at, s.first_fruit, s.last_picked, s.last_picked_at,
    coalesce(s.pickings, 0) AS pickings, coalesce(s.grams, 0) AS grams, coalesce(s.unweighed, 0) AS unweighed,
    s.last_damage, s.ended, s.ended_why, s.photo
  FROM log l LEFT JOIN spot p ON p.id = l.spot LEFT JOIN strain t ON t.id = l.strain
  LEFT JOIN log_state s ON s.log = l.id WHERE l.void = 0";

/// All live entries' logs, by tag in natural order.
///
/// # Errors
/// The register's own.
pub fn all(conn: &Connection, here: Here) -> Result<Vec<Log>> {
    let mut list = conn.prepare_cached(LOG)?;
    let rows = list.query_map([], |r| log_of(r, here))?;
    let mut logs: Vec<Log> = rows.collect::<rusqlite::Result<_>>()?;
    logs.sort_by(|a, b| natural_order(&a.row.tag, &b.row.tag).then_with(|| a.row.id.cmp(&b.row.id)));
    Ok(logs)
}

/// One log.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str, here: Here) -> Result<Log> {
    conn.prepare_cached(&format!("{LOG} AND l.id = ?1"))?
        .query_row([id], |r| log_of(r, here))
        .optional()?
        .ok_or(Error::Missing { what: "log" })
}

fn log_of(r: &Row<'_>, here: Here) -> rusqlite::Result<Log> {
    let word = |name: &str| r.get::<_, Option<String>>(name);
    let laid = word("laid")?.and_then(|t| Rough::parse(&t).ok());
    let mushroom = word("mushroom")?.as_deref().and_then(Mushroom::of);
    let class = word("class")?.as_deref().and_then(StrainClass::of);
    let last_seen = word("last_seen")?.as_deref().and_then(Stage::of);
    let last_seen_day: Option<NaiveDate> = r.get("last_seen_day")?;
    let last_picked: Option<NaiveDate> = r.get("last_picked")?;
    let seen_key: (Option<NaiveDate>, Option<i64>) = (last_seen_day, r.get("last_seen_at")?);
    let facts = Facts {
        laid: laid.clone(),
        mushroom,
        class,
        seen: last_seen.zip(last_seen_day),
        seen_after_picking: seen_key > (last_picked, r.get("last_picked_at")?),
        picked: last_picked,
        first_fruit: r.get("first_fruit")?,
        ended: word("ended_why")?.as_deref().and_then(Why::of),
    };
    let wood: Option<String> = r.get("wood")?;
    let d_mm: [Option<i64>; 3] = [r.get("d1_mm")?, r.get("d2_mm")?, r.get("d3_mm")?];
    let row = LogRow {
        id: r.get("id")?,
        tag: r.get("tag")?,
        wood_name: wood.as_deref().and_then(crate::woods::rules::wood).map(|w| w.name.clone()),
        wood,
        mushroom: mushroom.unwrap_or(Mushroom::Shiitake),
        strain: word("strain")?.filter(|s| !s.is_empty()),
        strain_class: class,
        method: word("method")?.as_deref().and_then(Method::of),
        spot: r.get("spot")?,
        spot_id: r.get("spot_id")?,
        state: rules::state(&facts, here.today, here.southern),
        laid,
        d_mm: d_mm.into_iter().flatten().collect(),
        length_mm: r.get("length_mm")?,
        last_seen,
        last_seen_day,
        last_picked,
        pickings: r.get("pickings")?,
        grams: r.get("grams")?,
        unweighed: r.get("unweighed")?,
        photo: r.get("photo")?,
    };
    Ok(Log { row, facts, last_damage: r.get("last_damage")?, ended: r.get("ended")? })
}

/// The fields of a log as the grower gave them.
///
/// # Errors
/// `Missing` when there is no such log.
pub fn fields(conn: &Connection, log: &Log) -> Result<LogFields> {
    let (felled, spawn, note): (Option<String>, Option<String>, String) = conn
        .prepare_cached("SELECT felled, spawn, note FROM log WHERE id = ?1")?
        .query_row([&log.row.id], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?;
    let row = log.row.clone();
    Ok(LogFields {
        tag: row.tag,
        wood: row.wood,
        d_mm: row.d_mm,
        length_mm: row.length_mm,
        felled: felled.and_then(|t| Rough::parse(&t).ok()),
        mushroom: row.mushroom,
        strain: row.strain,
        strain_class: row.strain_class,
        spawn: spawn.as_deref().and_then(Spawn::of),
        method: row.method,
        laid: row.laid,
        spot: row.spot,
        note,
    })
}

/// Other live, unended logs that carry this tag.
///
/// # Errors
/// The register's own.
pub fn same_tag(conn: &Connection, tag: &str, but: &str) -> Result<Vec<String>> {
    let mut list = conn.prepare_cached(
        "SELECT id FROM log WHERE tag = ?1 AND id <> ?2 AND void = 0
         AND NOT EXISTS(SELECT 1 FROM log_state s WHERE s.log = log.id AND s.ended IS NOT NULL) ORDER BY id",
    )?;
    let rows = list.query_map([tag, but], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Works out `log_state` again for every log that was touched.
///
/// # Errors
/// The register's own.
pub fn derive(conn: &Connection, touched: &Touched) -> Result<()> {
    let mut logs: BTreeSet<String> =
        touched.things.iter().filter(|(kind, _)| kind == "log").map(|(_, id)| id.clone()).collect();
    let mut of = conn.prepare_cached("SELECT log FROM entry WHERE id = ?1 AND log IS NOT NULL")?;
    for entry in &touched.entries {
        logs.extend(of.query_row([entry], |r| r.get::<_, String>(0)).optional()?);
    }
    let mut write = conn.prepare_cached(STATE)?;
    for log in logs {
        write.execute([log])?;
    }
    Ok(())
}

const STATE: &str = "
  WITH live AS MATERIALIZED (SELECT id, kind, day, at FROM entry WHERE log = ?1 AND void = 0),
    seen AS (SELECT k.seen, e.day, e.at FROM live e JOIN look k ON k.entry = e.id ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT 1),
    picked AS (SELECT e.day, e.at FROM live e WHERE e.kind = 'picking' ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT 1),
    fruit AS (SELECT min(e.day) AS day FROM live e LEFT JOIN look k ON k.entry = e.id
      WHERE e.kind = 'picking' OR (e.kind = 'look' AND k.seen <> 'nothing')),
    sums AS (SELECT count(*) AS n, coalesce(sum(p.grams), 0) AS grams, count(*) - count(p.grams) AS unweighed
      FROM live e JOIN picking p ON p.entry = e.id),
    hurt AS (SELECT max(e.day) AS day FROM live e JOIN \"check\" c ON c.entry = e.id WHERE c.damage <> 'none'),
    ended AS (SELECT e.day, x.why FROM live e JOIN ending x ON x.entry = e.id ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT 1),
    shot AS (SELECT f.hash FROM live e JOIN photo f ON f.entry = e.id ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT 1)
  INSERT OR REPLACE INTO log_state(log, last_seen, last_seen_day, last_seen_at, first_fruit, last_picked,
    last_picked_at, pickings, grams, unweighed, last_damage, ended, ended_why, photo)
  SELECT ?1, (SELECT seen FROM seen), (SELECT day FROM seen), (SELECT at FROM seen), (SELECT day FROM fruit),
    (SELECT day FROM picked), (SELECT at FROM picked), (SELECT n FROM sums), (SELECT grams FROM sums),
    (SELECT unweighed FROM sums), (SELECT day FROM hurt), (SELECT day FROM ended), (SELECT why FROM ended),
    (SELECT hash FROM shot)";

/// Checks that a log is there; its tag for the sentence on screen.
///
/// # Errors
/// `Missing` when there is no such log.
pub fn tag(conn: &Connection, id: &str) -> Result<String> {
    conn.prepare_cached("SELECT tag FROM log WHERE id = ?1 AND void = 0")?
        .query_row(params![id], |r| r.get(0))
        .optional()?
        .ok_or(Error::Missing { what: "log" })
}
