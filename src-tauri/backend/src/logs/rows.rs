//! Reading logs and their record; and working out what is derived from it.
//! Never decides what a state means: that is in rules.
//! Invariant: `log_state` holds only what can be worked out again from the record.

use super::endgrain::{Drawn, Grain};
use super::rules::follows::On;
use super::rules::{self, Facts, LogFields, Method, Spawn, State, Why};
use crate::book::Touched;
use crate::error::{Error, Result};
use crate::looks::rules::Stage;
use crate::measure::{Rough, natural_order};
use crate::pickings::rules::FLUSH_GAP_DAYS;
use crate::rounds::rows::followed;
use crate::rounds::rules::Sighted;
use crate::strains::rules::{Mushroom, StrainClass};
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::collections::BTreeSet;
use std::sync::LazyLock;

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
    /// Whether its batch or spawn lot is marked: what it carries is doubtful, and it stays out of
    /// comparisons of strains.
    pub doubtful: bool,
    /// Another live log carries the same tag.
    pub tag_twice: bool,
    /// Its end-grain picture.
    #[ts(as = "Drawn")]
    pub grain: Grain,
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
    /// When its wood was felled.
    pub felled: Option<Rough>,
    /// The batch of wood it was cut with.
    pub batch: Option<String>,
    /// The spawn lot it was laid with.
    pub lot: Option<String>,
    /// The form its spawn came in.
    pub spawn: Option<Spawn>,
}

/// Where and when: what turns a record into today's states.
#[derive(Debug, Clone, Copy)]
pub struct Here {
    /// The local day.
    pub today: NaiveDate,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
    /// Whether the words that come with a picture say inches, ounces and pounds.
    pub us: bool,
}

impl Here {
    /// An entry about `day`, for the table of what may follow.
    pub fn on(self, day: NaiveDate) -> On {
        On { day, today: self.today, southern: self.southern, soak_months: None }
    }
}

const LOG: &str = "SELECT l.id, l.tag, l.wood, l.mushroom, t.name AS strain, t.class, l.method,
    p.name AS spot, s.spot AS spot_id, l.laid, l.d1_mm, l.d2_mm, l.d3_mm, l.length_mm,
    s.last_seen, s.last_seen_day, s.last_seen_at, s.first_fruit, s.last_picked, s.last_picked_at,
    coalesce(s.pickings, 0) AS pickings, coalesce(s.grams, 0) AS grams, coalesce(s.unweighed, 0) AS unweighed,
    s.last_damage, s.ended, s.ended_why, s.photo, s.rings, l.felled, l.batch, l.lot, l.spawn, w.name AS own_wood,
    coalesce(b.doubtful = 1 AND b.void = 0, 0) OR coalesce(o.doubtful = 1 AND o.void = 0, 0) AS doubtful,
    s.soaked_in, s.soaked_in_at, s.soaked_out, s.soaked_out_at, coalesce(s.soaks, 0) AS soaks, s.soaked_grams,
    s.first_grams, s.first_grams_day, s.last_grams, s.last_grams_day, s.last_watered, s.last_tending_day,
    s.ended IS NULL AND l.tag <> '' AND EXISTS(SELECT 1 FROM log x LEFT JOIN log_state q ON q.log = x.id
      WHERE x.tag = l.tag AND x.id <> l.id AND x.void = 0 AND q.ended IS NULL) AS tag_twice
  FROM log l LEFT JOIN log_state s ON s.log = l.id LEFT JOIN spot p ON p.id = s.spot
  LEFT JOIN strain t ON t.id = l.strain LEFT JOIN wood w ON w.id = l.wood LEFT JOIN batch b ON b.id = l.batch
  LEFT JOIN lot o ON o.id = l.lot WHERE l.void = 0";

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

/// The logs at one spot, by tag in natural order.
///
/// # Errors
/// The register's own.
pub fn at_spot(conn: &Connection, spot: &str, here: Here) -> Result<Vec<Log>> {
    let mut list = conn.prepare_cached(&format!("{LOG} AND s.spot = ?1"))?;
    let rows = list.query_map([spot], |r| log_of(r, here))?;
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

#[allow(clippy::too_many_lines, reason = "a column a line")]
fn log_of(r: &Row<'_>, here: Here) -> rusqlite::Result<Log> {
    let word = |name: &str| r.get::<_, Option<String>>(name);
    let laid = word("laid")?.and_then(|t| Rough::parse(&t).ok());
    let mushroom = word("mushroom")?.as_deref().and_then(Mushroom::of);
    let class = word("class")?.as_deref().and_then(StrainClass::of);
    let last_seen = word("last_seen")?.as_deref().and_then(Stage::of);
    let last_seen_day: Option<NaiveDate> = r.get("last_seen_day")?;
    let last_picked: Option<NaiveDate> = r.get("last_picked")?;
    let method = word("method")?.as_deref().and_then(Method::of);
    let seen = last_seen.zip(last_seen_day);
    let facts =
        Facts { laid: laid.clone(), mushroom, class, method, seen, picked: last_picked, ..facts_of(r)? };
    let wood: Option<String> = r.get("wood")?;
    let d_mm: [Option<i64>; 3] = [r.get("d1_mm")?, r.get("d2_mm")?, r.get("d3_mm")?];
    let d_mm: Vec<i64> = d_mm.into_iter().flatten().collect();
    let (id, tag): (String, String) = (r.get("id")?, r.get("tag")?);
    let state = rules::state(&facts, here.today, here.southern);
    let grain = Grain {
        id: id.clone(),
        tag: tag.clone(),
        d_mm: d_mm.clone(),
        laid: laid.clone(),
        state,
        rings: word("rings")?,
        today: here.today,
        southern: here.southern,
        us: here.us,
    };
    let row = LogRow {
        id,
        tag,
        wood_name: wood
            .as_deref()
            .and_then(crate::woods::rules::wood)
            .map(|w| w.name.clone())
            .or(word("own_wood")?),
        wood,
        mushroom: mushroom.unwrap_or(Mushroom::Shiitake),
        strain: word("strain")?.filter(|s| !s.is_empty()),
        strain_class: class,
        method,
        spot: r.get("spot")?,
        spot_id: r.get("spot_id")?,
        state,
        laid,
        d_mm,
        length_mm: r.get("length_mm")?,
        last_seen,
        last_seen_day,
        last_picked,
        pickings: r.get("pickings")?,
        grams: r.get("grams")?,
        unweighed: r.get("unweighed")?,
        photo: r.get("photo")?,
        doubtful: r.get("doubtful")?,
        tag_twice: r.get("tag_twice")?,
        grain,
    };
    Ok(Log {
        row,
        facts,
        last_damage: r.get("last_damage")?,
        ended: r.get("ended")?,
        felled: word("felled")?.and_then(|t| Rough::parse(&t).ok()),
        batch: r.get("batch")?,
        lot: r.get("lot")?,
        spawn: word("spawn")?.as_deref().and_then(Spawn::of),
    })
}

/// The facts that `log_state` keeps as they are.
fn facts_of(r: &Row<'_>) -> rusqlite::Result<Facts> {
    let at = |name: &str| r.get::<_, Option<i64>>(name);
    let day = |name: &str| r.get::<_, Option<NaiveDate>>(name);
    let why = r.get::<_, Option<String>>("ended_why")?;
    let (seen_at, picked_at) = (at("last_seen_at")?, at("last_picked_at")?);
    Ok(Facts {
        seen_at,
        seen_after_picking: (day("last_seen_day")?, seen_at) > (day("last_picked")?, picked_at),
        picked_at,
        first_fruit: day("first_fruit")?,
        soaked_in: day("soaked_in")?.zip(at("soaked_in_at")?),
        soaked_out: day("soaked_out")?.zip(at("soaked_out_at")?),
        soaks: r.get("soaks")?,
        soaked_grams: at("soaked_grams")?,
        first_grams: at("first_grams")?.zip(day("first_grams_day")?),
        last_grams: at("last_grams")?.zip(day("last_grams_day")?),
        last_watered: day("last_watered")?,
        last_tending: day("last_tending_day")?,
        ended: why.as_deref().and_then(Why::of),
        ended_day: day("ended")?,
        ..Facts::default()
    })
}

/// The fields of a log as the grower gave them.
///
/// # Errors
/// `Missing` when there is no such log.
pub fn fields(conn: &Connection, log: &Log) -> Result<LogFields> {
    let note: String =
        conn.prepare_cached("SELECT note FROM log WHERE id = ?1")?.query_row([&log.row.id], |r| r.get(0))?;
    let row = log.row.clone();
    Ok(LogFields {
        tag: row.tag,
        wood: row.wood,
        d_mm: row.d_mm,
        length_mm: row.length_mm,
        felled: log.felled.clone(),
        mushroom: row.mushroom,
        strain: row.strain,
        strain_class: row.strain_class,
        spawn: log.spawn,
        method: row.method,
        laid: row.laid,
        spot: row.spot,
        batch: log.batch.clone(),
        lot: log.lot.clone(),
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

/// The log's endings that stand, ids: one, or more when two devices ended it.
///
/// # Errors
/// The register's own.
pub fn endings(conn: &Connection, log: &str) -> Result<Vec<String>> {
    let mut list = conn.prepare_cached(
        "SELECT e.id FROM entry e JOIN ending x ON x.entry = e.id WHERE e.log = ?1 AND e.void = 0 ORDER BY e.id",
    )?;
    let rows = list.query_map([log], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Works out `log_state`, and what can be found by words, again for every log that was touched.
///
/// # Errors
/// The register's own.
pub fn derive(conn: &Connection, touched: &Touched) -> Result<()> {
    let mut logs: BTreeSet<String> =
        touched.things.iter().filter(|(kind, _)| kind == "log").map(|(_, id)| id.clone()).collect();
    let mut of = conn.prepare_cached("SELECT log FROM entry WHERE id = ?1 AND log IS NOT NULL")?;
    // What the grower says of a picking's flush is a thing of the picking's name.
    let marked = touched.things.iter().filter(|(kind, _)| kind == "flush").map(|(_, picking)| picking);
    for entry in touched.entries.iter().chain(marked) {
        logs.extend(of.query_row([entry], |r| r.get::<_, String>(0)).optional()?);
    }
    if touched.things.contains(&("setting".to_owned(), "flush_gap_days".to_owned())) {
        let mut all = conn.prepare_cached("SELECT log FROM log_state")?;
        let all = all.query_map([], |r| r.get(0))?.collect::<rusqlite::Result<Vec<String>>>()?;
        logs.extend(all);
    }
    let mut write = conn.prepare_cached(&STATE)?;
    for log in logs {
        write.execute([&log])?;
        followed::derive(conn, &log)?;
        super::search::derive(conn, &log)?;
    }
    Ok(())
}

/// What the newest of a kind says; `?1` is the log.
const NEWEST: &str = "ORDER BY day DESC, at DESC, id DESC LIMIT 1";

/// The columns of `log_state` and what each follows from, one a line. `live` are the log's entries
/// that are not void.
const FACTS: &[(&str, &str)] = &[
    ("last_seen", "SELECT seen FROM seen"),
    ("last_seen_day", "SELECT day FROM seen"),
    ("last_seen_at", "SELECT at FROM seen"),
    (
        "first_fruit",
        "SELECT min(e.day) FROM live e LEFT JOIN look k ON e.kind = 'look' AND k.entry = e.id
      WHERE e.kind = 'picking' OR (e.kind = 'look' AND k.seen <> 'nothing')",
    ),
    ("last_picked", "SELECT day FROM picked"),
    ("last_picked_at", "SELECT at FROM picked"),
    ("pickings", "SELECT count(*) FROM live e JOIN picking p ON e.kind = 'picking' AND p.entry = e.id"),
    ("grams", "SELECT coalesce(sum(p.grams), 0) FROM live e JOIN picking p ON e.kind = 'picking' AND p.entry = e.id"),
    ("unweighed", "SELECT count(*) - count(p.grams) FROM live e JOIN picking p ON e.kind = 'picking' AND p.entry = e.id"),
    (
        "last_damage",
        "SELECT max(e.day) FROM live e JOIN \"check\" c ON e.kind = 'check' AND c.entry = e.id WHERE c.damage <> 'none'",
    ),
    ("ended", "SELECT day FROM ended"),
    ("ended_why", "SELECT why FROM ended"),
    ("photo", "SELECT f.hash FROM live e JOIN photo f ON e.kind = 'photo' AND f.entry = e.id NEWEST"),
    ("soaked_in", "SELECT day FROM soaked_in"),
    ("soaked_in_at", "SELECT at FROM soaked_in"),
    ("soaked_in_ms", "SELECT began FROM soaked_in"),
    ("soaked_out", "SELECT day FROM soaked_out"),
    ("soaked_out_at", "SELECT at FROM soaked_out"),
    ("soaks", "SELECT count(*) FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id WHERE s.part = 'in'"),
    ("soaked_grams", "SELECT grams FROM soaked_out"),
    ("first_grams", "SELECT grams FROM weighed ORDER BY day, at, id LIMIT 1"),
    ("first_grams_day", "SELECT day FROM weighed ORDER BY day, at, id LIMIT 1"),
    ("last_grams", "SELECT grams FROM weighed NEWEST"),
    ("last_grams_day", "SELECT day FROM weighed NEWEST"),
    ("last_watered", "SELECT max(e.day) FROM live e WHERE e.kind = 'watering'"),
    // Versions before 8 set the log's own spot in the act of a move, and to correct one: what came later then stands.
    (
        "spot",
        "SELECT CASE WHEN (SELECT stamp FROM moved) >= 
        (SELECT coalesce(max(stamp), '') FROM field WHERE thing = ?1 AND name = 'spot')
      THEN (SELECT spot FROM moved) ELSE (SELECT spot FROM log WHERE id = ?1) END",
    ),
    ("last_moved", "SELECT max(e.day) FROM live e WHERE e.kind = 'move'"),
    ("last_condition", "SELECT max(e.day) FROM live e WHERE e.kind = 'condition'"),
    ("competitor", "SELECT group_concat(day || ':' || what || ':' || coalesce(extent, ''), ' ' ORDER BY day, at, id) FROM fungus"),
    ("competitor_day", "SELECT max(day) FROM fungus"),
    ("last_tending", "SELECT t.what FROM live e JOIN tending t ON e.kind = 'tending' AND t.entry = e.id NEWEST"),
    ("last_tending_day", "SELECT e.day FROM live e JOIN tending t ON e.kind = 'tending' AND t.entry = e.id NEWEST"),
    (
        "rings",
        "SELECT json_object('f', (SELECT json_group_array(json_array(day, grams, unweighed)) FROM flushes),
        's', (SELECT json_group_array(day) FROM (SELECT e.day FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id
          WHERE s.part = 'in' ORDER BY e.day)))
      WHERE EXISTS(SELECT 1 FROM live WHERE kind IN ('picking', 'soak'))",
    ),
    ("harvest", "SELECT group_concat(CAST(julianday(e.day) - 2440587.5 AS INTEGER) || ':' || coalesce(p.grams, '') || ':'
      || coalesce(p.damaged_pct, ''), ' ' ORDER BY e.day, e.at, e.id) FROM live e JOIN picking p ON e.kind = 'picking' AND p.entry = e.id"),
    ("soak_days", "SELECT group_concat(CAST(julianday(e.day) - 2440587.5 AS INTEGER), ' ' ORDER BY e.day, e.at, e.id)
      FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id WHERE s.part = 'in'"),
    ("competitor_first", "SELECT min(day) FROM fungus"),
];

/// What several facts read, each worked out once.
const SOURCES: &str = "live AS MATERIALIZED (SELECT id, kind, day, at, act FROM entry WHERE log = ?1 AND void = 0),
    seen AS (SELECT k.seen, e.day, e.at FROM live e JOIN look k ON e.kind = 'look' AND k.entry = e.id NEWEST),
    picked AS (SELECT e.day, e.at FROM live e WHERE e.kind = 'picking' NEWEST),
    ended AS (SELECT e.day, x.why FROM live e JOIN ending x ON e.kind = 'ending' AND x.entry = e.id NEWEST),
    soaked_in AS (SELECT e.day, e.at, s.began FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id WHERE s.part = 'in' NEWEST),
    soaked_out AS (SELECT e.day, e.at, s.grams FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id WHERE s.part = 'out' NEWEST),
    weighed AS (SELECT w.grams, e.day, e.at, e.id FROM live e JOIN weighing w ON e.kind = 'weighing' AND w.entry = e.id),
    fungus AS (SELECT e.day, e.at, e.id, c.competitor AS what, c.extent FROM live e JOIN condition c ON e.kind = 'condition' AND c.entry = e.id
        WHERE c.competitor <> 'none'
      UNION ALL SELECT e.day, e.at, e.id, s.what, s.extent FROM live e JOIN sighting s ON e.kind = 'sighting' AND s.entry = e.id
        WHERE s.what NOT IN (ANIMALS)),
    moved AS (SELECT m.spot, (SELECT stamp FROM act WHERE n = e.act) AS stamp FROM live e JOIN \"move\" m ON e.kind = 'move' AND m.entry = e.id NEWEST),
    gap AS (SELECT coalesce((SELECT value FROM setting WHERE id = 'flush_gap_days' AND void = 0
      AND typeof(value) = 'integer'), FLUSH_DAYS) AS days),
    picks AS (SELECT e.day, e.at, e.id, p.grams, m.how, lag(e.day) OVER (ORDER BY e.day, e.at, e.id) AS before
      FROM live e JOIN picking p ON e.kind = 'picking' AND p.entry = e.id LEFT JOIN flush m ON m.id = e.id AND m.void = 0),
    flushes AS (SELECT min(day) AS day, sum(grams) AS grams, count(*) - count(grams) AS unweighed FROM (
      SELECT day, grams, sum(before IS NULL OR CASE how WHEN 'split' THEN 1 WHEN 'join' THEN 0 ELSE
        julianday(day) - julianday(before) >= (SELECT days FROM gap) OR EXISTS(
          SELECT 1 FROM live e JOIN soak s ON e.kind = 'soak' AND s.entry = e.id
          WHERE s.part = 'in' AND e.day > picks.before AND e.day <= picks.day) END)
        OVER (ORDER BY day, at, id) AS n FROM picks) GROUP BY n ORDER BY day)";

static STATE: LazyLock<String> = LazyLock::new(|| {
    let columns: Vec<&str> = FACTS.iter().map(|(column, _)| *column).collect();
    let facts: Vec<String> = FACTS.iter().map(|(_, fact)| format!("({fact})")).collect();
    format!(
        "WITH {SOURCES} INSERT OR REPLACE INTO log_state(log, {}) SELECT ?1, {}",
        columns.join(", "),
        facts.join(", ")
    )
    .replace("NEWEST", NEWEST)
    .replace("FLUSH_DAYS", &FLUSH_GAP_DAYS.to_string())
    .replace("ANIMALS", &animals())
});

/// What can be seen on a log and is no fungus, as an SQL list.
fn animals() -> String {
    let animals = Sighted::ALL.iter().filter(|what| !what.is_competitor());
    animals.map(|what| format!("'{}'", what.word())).collect::<Vec<_>>().join(", ")
}

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
