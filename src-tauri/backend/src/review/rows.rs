//! Reading logs as the comparisons need them: one row a log, its pickings in one derived text.
//! Never a comparison, and no entry is read one by one.
//! Invariant: what is read is what stands; voided entries and logs are not there.

use super::rules::life::{Life, days, picks};
use super::rules::question::number;
use crate::beside::beside;
use crate::error::{Error, Result};
use crate::logs::rows::Here;
use crate::logs::rules::{Facts, Method, Spawn, Why, is_young};
use crate::measure::{self, Rough};
use crate::photos::rules::HEIC;
use crate::pickings::rules::FlushHow;
use crate::strains::rules::{Mushroom, StrainClass};
use crate::woods::rules::wood;
use chrono::{NaiveDate, TimeDelta};
use rusqlite::{Connection, OptionalExtension, Row, params};
use std::sync::mpsc;

const LIVES: &str = "SELECT l.id, l.tag, l.wood, l.mushroom, t.name AS strain, t.class, l.method, l.spawn,
    p.name AS spot, l.laid, l.d1_mm, l.d2_mm, l.d3_mm, l.length_mm, s.first_fruit, s.ended, s.ended_why,
    s.harvest, s.soak_days, s.competitor_first, s.first_grams, s.first_grams_day,
    b.source AS wood_source, b.disc_wet_g, b.disc_dry_g, o.source AS spawn_source,
    coalesce(b.doubtful, 0) + coalesce(o.doubtful, 0) > 0 AS doubtful,
    w.name AS own_wood, w.density_kg_m3, w.moisture_pct
  FROM log l LEFT JOIN log_state s ON s.log = l.id LEFT JOIN spot p ON p.id = s.spot LEFT JOIN strain t ON t.id = l.strain
  LEFT JOIN batch b ON b.id = l.batch AND b.void = 0 LEFT JOIN lot o ON o.id = l.lot AND o.void = 0
  LEFT JOIN wood w ON w.id = l.wood WHERE l.void = 0 ORDER BY l.id";

/// Days within which a first weight counts as that of the day of laying.
const FRESH_DAYS: i64 = 45;
/// A picking typed in for so long before its log was entered is history: the watch began with the laying.
const HISTORY_DAYS: i32 = 30;
/// A yard that has kept a log for less than this goes by its laying: there is nothing else to go by yet.
const KEPT_DAYS: i32 = 182;
/// A log entered within so many days of its laying was watched from the beginning.
const ENTERED_DAYS: i32 = 60;

/// Logs whose pickings are handed over together.
const TOGETHER: usize = 64;

/// All logs, by id.
///
/// # Errors
/// The register's own.
pub fn lives(conn: &Connection, here: Here) -> Result<Vec<Life>> {
    let (send, texts) = mpsc::channel::<String>();
    // The register hands over the next logs, a line each, while the pickings of those before are read.
    let read = move || {
        let mut all = Vec::new();
        texts.into_iter().for_each(|text| all.extend(text.split_terminator('\n').map(picks)));
        all
    };
    let (picks, lives) = beside(read, || {
        let mut list = conn.prepare_cached(LIVES)?;
        let mut rows = list.query([])?;
        let (mut lives, mut text) = (Vec::new(), String::new());
        while let Some(row) = rows.next()? {
            lives.push(life(row, here)?);
            let harvest = row.get_ref(17)?.as_str_or_null().map_err(rusqlite::Error::from)?;
            text.push_str(harvest.unwrap_or_default());
            text.push('\n');
            if lives.len() % TOGETHER == 0 {
                let _read_on = send.send(std::mem::take(&mut text));
            }
        }
        let _read_on = send.send(text);
        drop(send);
        Ok::<_, Error>(lives)
    })?;
    let mut lives = lives?;
    lives.iter_mut().zip(picks).for_each(|(life, picks)| life.picks = picks);
    said_flushes(conn, &mut lives)?;
    let history = lives.iter().any(|l| {
        entered(&l.id).is_some_and(|day| l.picks.first().is_some_and(|p| p.day < day - HISTORY_DAYS))
    });
    if !history {
        lives.iter_mut().for_each(came_late);
    }
    Ok(lives)
}

/// What the grower said of pickings' flushes, put beside the pickings. A log's pickings stand in the order of
/// its derived text, so a picking is found by how many come before it.
fn said_flushes(conn: &Connection, lives: &mut [Life]) -> Result<()> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, f.how, (SELECT count(*) FROM entry o JOIN picking q ON q.entry = o.id
           WHERE o.log = e.log AND o.void = 0 AND (o.day, o.at, o.id) < (e.day, e.at, e.id))
         FROM flush f JOIN entry e ON e.id = f.id JOIN picking p ON p.entry = e.id
         WHERE f.void = 0 AND e.void = 0 AND f.how IS NOT NULL AND e.log IS NOT NULL",
    )?;
    let mut rows = list.query([])?;
    while let Some(r) = rows.next()? {
        let (log, how, place): (String, String, u32) = (r.get(0)?, r.get(1)?, r.get(2)?);
        let at = lives.binary_search_by(|l| l.id.cmp(&log)).ok();
        if let Some(pick) = at.and_then(|at| lives[at].picks.get_mut(place as usize)) {
            pick.how = FlushHow::of(&how);
        }
    }
    Ok(())
}

/// In a yard kept from day to day, a log entered long after its laying was not watched before.
fn came_late(life: &mut Life) {
    if let (Some((_, laid)), Some(day)) = (life.laid, entered(&life.id))
        && day > laid + ENTERED_DAYS
        && day + KEPT_DAYS <= life.end
    {
        let first = life.picks.first().map_or(day, |p| p.day);
        life.watched = Some(day.min(first));
    }
}

/// The day on which an id was made, from the clock within it (UUID version 7).
fn entered(id: &str) -> Option<i32> {
    let (high, low, version) = (id.get(..8)?, id.get(9..13)?, id.get(14..15)?);
    let part = |hex| i64::from_str_radix(hex, 16).ok();
    let ms = part(high)? << 16 | part(low)?;
    i32::try_from(ms / 86_400_000).ok().filter(|_| version == "7")
}

/// One log's row, column by column in the order of [`LIVES`]: by name each would be looked for anew, and that was
/// over a quarter of a whole answer.
fn life(r: &Row<'_>, here: Here) -> rusqlite::Result<Life> {
    let text = |at: usize| r.get::<_, Option<String>>(at);
    let some = |at: usize| Ok::<_, rusqlite::Error>(text(at)?.filter(|t| !t.is_empty()));
    let day = |at: usize| Ok::<_, rusqlite::Error>(date(r, at)?.map(number));
    let (wood_id, laid) = (text(2)?, text(9)?.and_then(|t| Rough::parse(&t).ok()));
    let mushroom = text(3)?.as_deref().and_then(Mushroom::of);
    let class = text(5)?.as_deref().and_then(StrainClass::of);
    let why = text(16)?;
    let facts = Facts {
        laid: laid.clone(),
        mushroom,
        class,
        first_fruit: date(r, 14)?,
        ended: why.as_deref().and_then(Why::of),
        ..Facts::default()
    };
    let d_mm: [Option<i64>; 3] = [r.get(10)?, r.get(11)?, r.get(12)?];
    let d_mm: Vec<i64> = d_mm.into_iter().flatten().collect();
    let litres = measure::litres(&d_mm, r.get(13)?);
    let today = number(here.today);
    let ended = day(15)?;
    let doubtful: bool = r.get(26)?;
    let span = laid.as_ref().and_then(|l| l.span(here.southern));
    Ok(Life {
        id: r.get(0)?,
        tag: r.get(1)?,
        wood_name: wood_id.as_deref().and_then(wood).map(|w| w.name.clone()).or(some(27)?),
        mushroom: mushroom.unwrap_or(Mushroom::Shiitake),
        strain: some(4)?.filter(|_| !doubtful),
        class: class.filter(|_| !doubtful),
        doubtful,
        method: text(6)?.as_deref().and_then(Method::of),
        spawn: text(7)?.as_deref().and_then(Spawn::of),
        spot: text(8)?,
        wood_source: some(22)?,
        spawn_source: some(25)?,
        is_laid: laid.is_some(),
        laid: span.map(|(a, b)| (number(a), number(b).min(today))),
        watched: None,
        end: ended.map_or(today, |e| e.min(today)),
        ended: ended.is_some(),
        // Any other word means that it went away, not that it died.
        died: ended.is_some() && matches!(why.as_deref(), Some("spent" | "lost" | "discarded")),
        lost: why.as_deref() == Some("lost"),
        fruit: day(14)?,
        picks: Vec::new(),
        soaks: days(r.get_ref(18)?.as_str_or_null()?.unwrap_or_default()),
        competitor: day(19)?,
        thick_mm: (!d_mm.is_empty()).then(|| d_mm.iter().sum::<i64>() as f64 / d_mm.len() as f64),
        dry_kg: dry_kg(r, wood_id.as_deref(), litres, span)?,
        litres,
        wood: wood_id,
        young: is_young(&facts, here.today, here.southern),
    })
}

/// A day as the register writes it, `2026-05-01`, read by the places of its figures: by its format it was a quarter of
/// reading a log. Anything else is none.
fn date(r: &Row<'_>, at: usize) -> rusqlite::Result<Option<NaiveDate>> {
    let text = r.get_ref(at)?.as_str_or_null()?.unwrap_or_default();
    let part = |from: usize, to: usize| text.get(from..to).and_then(|t| t.parse::<u32>().ok());
    let (Some(year), Some(month), Some(day)) = (part(0, 4), part(5, 7), part(8, 10)) else { return Ok(None) };
    Ok(NaiveDate::from_ymd_opt(year as i32, month, day).filter(|_| text.len() == 10))
}

/// Dry wood, kg: by the batch's dried disc and the log's first weight where both are there; else its
/// litres by the wood's density (the grower's own, or the table's basic gravity).
fn dry_kg(
    r: &Row<'_>,
    id: Option<&str>,
    litres: Option<f64>,
    laid: Option<(NaiveDate, NaiveDate)>,
) -> rusqlite::Result<Option<f64>> {
    let number = |at: usize| r.get::<_, Option<i64>>(at).map(|n| n.filter(|n| *n > 0).map(|n| n as f64));
    let (wet, dry, grams) = (number(23)?, number(24)?, number(20)?);
    let weighed = date(r, 21)?;
    let fresh = weighed.zip(laid).is_some_and(|(day, (_, laid))| day - laid <= TimeDelta::days(FRESH_DAYS));
    if let (Some(wet), Some(dry), Some(grams), true) = (wet, dry, grams, fresh) {
        return Ok(Some(grams / 1000.0 * dry / wet));
    }
    let own = number(28)?.zip(r.get::<_, Option<f64>>(29)?);
    let per_litre = match own {
        Some((density, moisture)) => Some(density * (1.0 - moisture / 100.0) / 1000.0),
        None => id.and_then(wood).and_then(|w| w.green).map(|g| g.gravity),
    };
    Ok(per_litre.zip(litres).map(|(kg, litres)| kg * litres).filter(|kg| *kg > 0.0))
}

/// Days after which a look says nothing of what stands on the log now: caps are flat or rotten within three weeks.
const SEEN_DAYS: i64 = 21;

/// Logs on which pins or caps were the newest thing seen, lately, the newest first.
///
/// # Errors
/// The register's own.
pub fn seen_fruiting(conn: &Connection, today: NaiveDate) -> Result<Vec<String>> {
    let mut list = conn.prepare_cached(
        "SELECT s.log FROM log_state s JOIN log l ON l.id = s.log WHERE l.void = 0 AND s.ended IS NULL
         AND s.last_seen <> 'nothing' AND s.last_seen_day >= ?1 ORDER BY s.last_seen_day DESC, s.log",
    )?;
    let rows = list.query_map([today - TimeDelta::days(SEEN_DAYS)], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A log's newest photo taken between two days that this device can show, by its hash.
///
/// # Errors
/// The register's own.
pub fn photo_of(conn: &Connection, log: &str, first: NaiveDate, last: NaiveDate) -> Result<Option<String>> {
    let mut list = conn.prepare_cached(
        "SELECT p.hash FROM entry e JOIN photo p ON p.entry = e.id JOIN blob b ON b.hash = p.hash AND b.here = 1
         WHERE e.log = ?1 AND e.void = 0 AND e.day BETWEEN ?2 AND ?3 AND p.mime <> ?4
         ORDER BY e.day DESC, e.at DESC, e.id DESC LIMIT 1",
    )?;
    Ok(list.query_row(params![log, first, last, HEIC], |r| r.get(0)).optional()?)
}
