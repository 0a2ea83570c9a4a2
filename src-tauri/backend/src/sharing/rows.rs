//! Reading what was written apart: contradictions, twins, values that lost; and the archive's tables.
//! Never writes, and never asks which device is right.
//! Invariant: equal registers show the same, whichever device reads them.

use super::rules::{Clash, apart, pairs};
use crate::book::Moment;
use crate::error::Result;
use rusqlite::Connection;
use rusqlite::types::Value as Sql;
use serde::Serialize;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet, HashSet};
use ts_rs::TS;

/// The tables of an archive: name, and the query whose columns it has. Ids stand beside plain words.
pub const TOPICS: &[(&str, &str)] = &[
    ("logs", "SELECT l.id, l.tag, l.wood, l.mushroom, t.name AS strain, t.class AS strain_class, l.spawn, l.method,
        s.name AS spot, l.felled, l.laid, l.length_mm, l.d1_mm, l.d2_mm, l.d3_mm, l.note, l.void, l.strain AS strain_id,
        g.spot AS spot_id FROM log l LEFT JOIN log_state g ON g.log = l.id LEFT JOIN strain t ON t.id = l.strain
        LEFT JOIN spot s ON s.id = g.spot ORDER BY l.id"),
    ("spots", "SELECT id, name, walk, void FROM spot ORDER BY id"),
    ("strains", "SELECT id, name, mushroom, class, void FROM strain ORDER BY id"),
    ("looks", "SELECT e.id, l.tag, e.day, k.seen, k.again, e.note, e.void, e.log AS log_id, k.round AS round_id, e.at, e.zone, a.device
        FROM entry e JOIN look k ON k.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("pickings", "SELECT e.id, l.tag, e.day, p.grams, p.caps, p.damaged_pct, p.by, p.quality, p.stage, e.note, e.void, e.log AS log_id,
        p.round AS round_id, p.basket AS basket_id, e.replaces, e.at, e.zone, a.device
        FROM entry e JOIN picking p ON p.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("checks", "SELECT e.id, l.tag, e.day, c.how, c.slugs, c.damage, c.others, c.hid, c.did, c.later, e.note, e.void, e.log AS log_id, c.round AS round_id,
        e.replaces, e.at, e.zone, a.device
        FROM entry e JOIN \"check\" c ON c.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("rounds", "SELECT id, kind, day, started, ended, zone, \"left\", spots, child, later, void FROM round ORDER BY id"),
    ("baskets", "SELECT id, day, opened, zone, grams, void, round AS round_id FROM basket ORDER BY id"),
    ("flushes", "SELECT id AS picking_id, how, void FROM flush ORDER BY id"),
    ("sightings", "SELECT e.id, l.tag, e.day, s.what, s.n, s.extent, s.hid, s.did, e.note, e.void, e.log AS log_id,
        s.spot AS spot_id, e.at, e.zone, a.device
        FROM entry e JOIN sighting s ON s.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("forecasts", "SELECT e.id, l.tag, e.day, f.stage, f.low_tenths, f.mid_tenths, f.high_tenths, f.own, f.mean_dc, e.void,
        e.log AS log_id, f.look AS look_id, e.at, e.zone, a.device
        FROM entry e JOIN forecast f ON f.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("endings", "SELECT e.id, l.tag, e.day, x.why, e.note, e.void, e.log AS log_id, e.at, e.zone, a.device
        FROM entry e JOIN ending x ON x.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("photos", "SELECT e.id, l.tag, e.day, f.hash, f.taken, f.width, f.height, f.mime, f.of AS look_id, e.void,
        e.log AS log_id, e.at, e.zone, a.device
        FROM entry e JOIN photo f ON f.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("measures", "SELECT e.id, l.tag, e.day, m.cap, m.width_tenths, m.low_tenths, m.high_tenths, m.proud_mm, m.photo AS hash,
        m.taken, e.void, e.log AS log_id, e.at, e.zone, a.device
        FROM entry e JOIN measure m ON m.entry = e.id JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log ORDER BY e.id"),
    ("settings", "SELECT id AS name, value, void FROM setting ORDER BY id"),
    ("acts", "SELECT device, seq, at, zone, name, undoes, applied FROM act ORDER BY device, seq"),
];

/// Two records that contradict each other.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, TS)]
pub struct Contradiction {
    /// How.
    pub kind: Clash,
    /// What a person calls it: a tag or a name; empty when it has none.
    pub name: String,
    /// The day it is about, where it is about one.
    pub day: Option<String>,
    /// The logs, rounds, spots or strains.
    pub ids: Vec<String>,
    /// The words that differ, e.g. the reasons of two endings.
    pub words: Vec<String>,
}

/// Kind, name, day, ids and words of each contradiction; ids and words in JSON lists.
const CLASHES: &[(Clash, &str)] = &[
    (Clash::TwoRounds, "SELECT '', day, json_group_array(id ORDER BY id), '[]' FROM round
        WHERE void = 0 AND day IS NOT NULL AND spots IS NULL AND child IS NULL GROUP BY kind, day HAVING count(*) > 1 AND count(*) > count(ended)"),
    (Clash::EndedTwice, "SELECT coalesce(max(l.tag), ''), NULL, json_array(e.log), json_group_array(DISTINCT x.why)
        FROM entry e JOIN ending x ON x.entry = e.id LEFT JOIN log l ON l.id = e.log
        WHERE e.void = 0 GROUP BY e.log HAVING count(DISTINCT x.why) > 1"),
    (Clash::AfterEnding, "SELECT l.tag, min(e.day), json_array(e.log), json_group_array(DISTINCT e.kind)
        FROM log_state s JOIN log l ON l.id = s.log JOIN entry e ON e.log = s.log
        WHERE s.ended IS NOT NULL AND l.void = 0 AND e.void = 0 AND e.day > s.ended AND e.kind NOT IN ('ending', 'photo')
        GROUP BY e.log"),
    (Clash::RemovedAndUsed, "SELECT l.tag, max(e.day), json_array(l.id), json_group_array(DISTINCT e.kind)
        FROM log l JOIN entry e ON e.log = l.id JOIN act a ON a.n = e.act
        WHERE l.void = 1 AND e.void = 0 AND a.device <> (SELECT f.device FROM field f
          WHERE f.thing = l.id AND f.name = 'void' ORDER BY f.stamp DESC, f.device DESC LIMIT 1)
        GROUP BY l.id"),
    (Clash::OneTag, "SELECT tag, NULL, json_group_array(id ORDER BY id), '[]' FROM log
        WHERE void = 0 AND tag <> '' AND NOT EXISTS(SELECT 1 FROM log_state s WHERE s.log = log.id AND s.ended IS NOT NULL)
        GROUP BY tag HAVING count(*) > 1"),
    (Clash::OneSpot, "SELECT min(name), NULL, json_group_array(id ORDER BY id), '[]' FROM spot
        WHERE void = 0 AND name <> '' GROUP BY name COLLATE NOCASE HAVING count(*) > 1"),
    (Clash::OneStrain, "SELECT min(name), NULL, json_group_array(id ORDER BY id), '[]' FROM strain
        WHERE void = 0 AND name <> '' GROUP BY mushroom, name COLLATE NOCASE HAVING count(*) > 1"),
];

/// All contradictions.
///
/// # Errors
/// The register's own.
pub fn contradictions(conn: &Connection) -> Result<Vec<Contradiction>> {
    let mut found = Vec::new();
    for (kind, sql) in CLASHES {
        let mut list = conn.prepare_cached(sql)?;
        let rows = list.query_map([], |r| {
            let texts = |text: String| serde_json::from_str::<Vec<String>>(&text).unwrap_or_default();
            let mut words = texts(r.get(3)?);
            words.sort();
            Ok(Contradiction { kind: *kind, name: r.get(0)?, day: r.get(1)?, ids: texts(r.get(2)?), words })
        })?;
        let mut rows: Vec<Contradiction> = rows.collect::<rusqlite::Result<_>>()?;
        rows.sort_by(|a, b| (&a.name, &a.ids).cmp(&(&b.name, &b.ids)));
        found.extend(rows);
    }
    Ok(found)
}

/// Pickings of one log on one day that two devices entered: one picking, or two?
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Twins {
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// The day.
    pub day: String,
    /// The pickings, oldest first.
    pub entries: Vec<Twin>,
}

/// One of them.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Twin {
    /// The entry.
    pub id: String,
    /// The device that entered it.
    pub device: String,
    /// Whether that is this one.
    pub mine: bool,
    /// Weight, g; null: not weighed.
    pub grams: Option<i64>,
    /// Number of caps; null: not counted.
    pub caps: Option<i64>,
    /// When it was entered, RFC 3339 with the local offset.
    pub at: String,
    /// The basket it went into; null: none.
    pub basket: Option<String>,
}

const TWINS: &str = "
  WITH live AS (SELECT e.id, e.log, e.day, e.at, e.zone, a.device, p.grams, p.caps, p.basket
      FROM entry e JOIN picking p ON p.entry = e.id JOIN act a ON a.n = e.act
      WHERE e.kind = 'picking' AND e.void = 0 AND e.log IS NOT NULL),
    met AS (SELECT log, day FROM live GROUP BY log, day HAVING count(DISTINCT device) > 1)
  SELECT live.log, coalesce(l.tag, ''), live.day, live.id, live.device, live.grams, live.caps, live.at, live.zone, live.basket
  FROM met JOIN live ON live.log = met.log AND live.day = met.day LEFT JOIN log l ON l.id = live.log
  ORDER BY live.day DESC, live.log, live.at, live.id";

/// Twins that nobody has answered yet, newest day first. Two pickings that lie in baskets are asked about with these
/// (`rounds`), once a basket and not log by log.
///
/// # Errors
/// The register's own.
pub fn twins(conn: &Connection, device: &str) -> Result<Vec<Twins>> {
    let answered = answered(conn)?;
    let mut list = conn.prepare_cached(TWINS)?;
    let rows = list.query_map([], |r| {
        let (at, zone): (i64, String) = (r.get(7)?, r.get(8)?);
        let by: String = r.get(4)?;
        let twin = Twin {
            id: r.get(3)?,
            mine: by == device,
            device: by,
            grams: r.get(5)?,
            caps: r.get(6)?,
            at: Moment::from_parts(at, &zone).rfc3339(),
            basket: r.get(9)?,
        };
        Ok((r.get::<_, String>(0)?, r.get::<_, String>(1)?, r.get::<_, String>(2)?, twin))
    })?;
    let mut found: Vec<Twins> = Vec::new();
    for row in rows {
        let (log, tag, day, twin) = row?;
        match found.last_mut().filter(|last| last.log == log && last.day == day) {
            Some(last) => last.entries.push(twin),
            None => found.push(Twins { log, tag, day, entries: vec![twin] }),
        }
    }
    found.retain(|twins| {
        let by_basket = |a: &Twin, b: &Twin| {
            let weighed = a.grams.is_some() && b.grams.is_some();
            a.basket.is_some() && b.basket.is_some() && (a.basket != b.basket || weighed)
        };
        let open = |(a, b): (&Twin, &Twin)| {
            a.device != b.device && !by_basket(a, b) && !answered.contains(&apart(&a.id, &b.id))
        };
        pairs(&twins.entries).any(open)
    });
    Ok(found)
}

fn answered(conn: &Connection) -> Result<HashSet<String>> {
    let mut list = conn.prepare_cached("SELECT id FROM apart WHERE void = 0")?;
    let rows = list.query_map([], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A live picking's log, its tag and the day; `None` when it is none.
///
/// # Errors
/// The register's own.
pub fn picking(conn: &Connection, entry: &str) -> Result<Option<(String, String, String)>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, coalesce(l.tag, ''), e.day FROM entry e LEFT JOIN log l ON l.id = e.log
         WHERE e.id = ?1 AND e.kind = 'picking' AND e.void = 0",
    )?;
    let mut rows = list.query([entry])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    Ok(Some((row.get(0)?, row.get(1)?, row.get(2)?)))
}

/// A field of a log for which another device's value did not win.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Losers {
    /// The field.
    pub name: String,
    /// The value that stands.
    pub stands: Version,
    /// The last values of other devices that differ from it, newest first.
    pub others: Vec<Version>,
}

/// A value somebody gave.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Version {
    /// The value; a spot's or strain's name in place of its id.
    #[ts(type = "any")]
    pub value: Value,
    /// The device.
    pub device: String,
    /// When, RFC 3339 with the local offset.
    pub at: String,
}

/// The fields of a log in which devices differ, each with all values, the one that stands first.
///
/// # Errors
/// The register's own.
pub fn losers(conn: &Connection, log: &str) -> Result<Vec<Losers>> {
    let mut list = conn.prepare_cached(
        "SELECT f.name, f.value, f.device, coalesce(a.at, 0), coalesce(a.zone, '+00:00'), coalesce(s.name, t.name)
         FROM field f LEFT JOIN act a ON a.device = f.device AND a.stamp = f.stamp
         LEFT JOIN spot s ON f.name = 'spot' AND s.id = f.value
         LEFT JOIN strain t ON f.name = 'strain' AND t.id = f.value
         WHERE f.thing = ?1 ORDER BY f.name, f.stamp DESC, f.device DESC",
    )?;
    let rows = list.query_map([log], |r| {
        let (at, zone): (i64, String) = (r.get(3)?, r.get(4)?);
        let shown: Option<String> = r.get(5)?;
        let value = shown.map_or_else(|| r.get(1).map(|value| plain(&value)), |name| Ok(json!(name)))?;
        let version = Version { value, device: r.get(2)?, at: Moment::from_parts(at, &zone).rfc3339() };
        Ok((r.get::<_, String>(0)?, version))
    })?;
    let mut fields: BTreeMap<String, Vec<Version>> = BTreeMap::new();
    for row in rows {
        let (name, version) = row?;
        fields.entry(name).or_default().push(version);
    }
    Ok(fields.into_iter().filter_map(|(name, versions)| lost(name, versions)).collect())
}

/// Of each other device only its last value counts, and only where it differs.
fn lost(name: String, versions: Vec<Version>) -> Option<Losers> {
    let mut versions = versions.into_iter();
    let stands = versions.next()?;
    let mut seen = BTreeSet::from([stands.device.clone()]);
    let others: Vec<Version> =
        versions.filter(|v| seen.insert(v.device.clone()) && v.value != stands.value).collect();
    (!others.is_empty()).then_some(Losers { name, stands, others })
}

fn plain(value: &Sql) -> Value {
    match value {
        Sql::Integer(i) => json!(i),
        Sql::Text(text) => json!(text),
        _ => Value::Null,
    }
}
