//! Commands about the tank: logs in, logs out, what is in it.
//! Never plans a rotation.
//! Invariant: one act is one tank load; what is asked about is written only after `sure`.

use super::rows;
use super::rules::{self, Lift, Part};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::known;
use crate::logs::rules::follows::Reason;
use crate::logs::rules::known::Known;
use crate::measure;
use crate::settings::rows::{here, settings};
use crate::weather::rows as weather;
use crate::where_from::WhereFrom;
use chrono::{Days, NaiveDate};
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use ts_rs::TS;

/// A log's weight at the tank.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeighedLog {
    /// The log.
    pub log: Id,
    /// Its weight, g.
    pub grams: i64,
}

/// Logs go into the tank.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SoakIn {
    /// The load.
    pub logs: Vec<Id>,
    /// Weights of those that were weighed.
    pub weights: Vec<WeighedLog>,
    /// The water, tenths of °C.
    #[ts(optional = nullable)]
    pub water_dc: Option<i64>,
    /// Minutes ago; null: some time on `day`.
    #[ts(optional = nullable)]
    pub ago_min: Option<i64>,
    /// The day, when it was not just now; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// The grower's words.
    pub note: String,
    /// What was asked was answered: do it.
    pub sure: bool,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// Logs come out of the tank.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SoakOut {
    /// The load.
    pub logs: Vec<Id>,
    /// Weights of those that were weighed.
    pub weights: Vec<WeighedLog>,
    /// Minutes ago; null: some time on `day`.
    #[ts(optional = nullable)]
    pub ago_min: Option<i64>,
    /// The day, when it was not just now; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// The grower's words.
    pub note: String,
    /// What was asked was answered: do it.
    pub sure: bool,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// One thing that is asked before a load goes in or out.
#[derive(Debug, Serialize, TS)]
pub struct SoakAsk {
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// Why.
    pub why: Reason,
    /// Days and the like, for the sentence on screen.
    #[ts(type = "Record<string, any>")]
    pub detail: Value,
}

/// What came of it: asked first, or done.
#[derive(Debug, Serialize, TS)]
pub struct Soaked {
    /// What is asked; the same request with `sure` does it. Empty when it is done.
    pub asks: Vec<SoakAsk>,
    /// What was done; null: asked first.
    pub done: Option<Done>,
}

/// What both directions share.
struct Load<'a> {
    part: Part,
    logs: &'a [Id],
    weights: &'a [WeighedLog],
    water_dc: Option<i64>,
    ago_min: Option<i64>,
    day: Option<NaiveDate>,
    note: &'a str,
}

/// `soak_in`: asks once for the whole load, then writes one entry a log.
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn soak_in(book: &Book, ask: SoakIn) -> Result<Soaked> {
    let load = Load {
        part: Part::In,
        logs: &ask.logs,
        weights: &ask.weights,
        water_dc: rules::water(ask.water_dc)?,
        ago_min: ask.ago_min,
        day: ask.day,
        note: &ask.note,
    };
    let intent = Intent { name: "soak_in", request: &ask.request, draft: ask.draft.as_deref() };
    soak(book, intent, &load, ask.sure)
}

/// `soak_out`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn soak_out(book: &Book, ask: SoakOut) -> Result<Soaked> {
    let load = Load {
        part: Part::Out,
        logs: &ask.logs,
        weights: &ask.weights,
        water_dc: None,
        ago_min: ask.ago_min,
        day: ask.day,
        note: &ask.note,
    };
    let intent = Intent { name: "soak_out", request: &ask.request, draft: ask.draft.as_deref() };
    soak(book, intent, &load, ask.sure)
}

fn soak(book: &Book, intent: Intent<'_>, load: &Load<'_>, sure: bool) -> Result<Soaked> {
    let moment = book.moment();
    let when = when(load, moment)?;
    let weights = weights(load)?;
    let note = measure::text_within("note", load.note, measure::NOTE_CHARS)?;
    if !sure {
        let asks = book.read(|conn| asks(conn, load, moment, when.0))?;
        if !asks.is_empty() {
            return Ok(Soaked { asks, done: None });
        }
    }
    let done = book.act(intent, |conn| {
        let logs = logs(conn, load, moment)?;
        let (on, forcing) = (here(conn, moment)?.on(when.0), settings(conn)?.forcing);
        for log in &logs {
            rules::asks(log, load.part, on, forcing)?;
        }
        let row = |log: &Known| {
            json!({"log": log.id, "day": when.0, "at": moment.ms, "zone": moment.zone(), "note": note,
                "part": load.part, "water_dc": load.water_dc, "grams": weights.get(&log.id), "began": when.1})
        };
        let changes = logs.iter().map(|log| Change::put("soak", &book.new_id(), row(log))).collect();
        let air = air_dc(conn, when.0)?;
        let tags: Vec<&str> = logs.iter().map(|log| log.tag.as_str()).collect();
        let said = json!({"tags": tags, "n": logs.len(), "water_dc": load.water_dc, "air_dc": air,
            "cooler": rules::clearly_cooler(load.water_dc, air), "day": when.0});
        Ok(Plan::new(changes, said))
    })?;
    Ok(Soaked { asks: Vec::new(), done: Some(done) })
}

/// The day it is about, and the instant where that is known.
fn when(load: &Load<'_>, moment: Moment) -> Result<(NaiveDate, Option<i64>)> {
    if let Some(day) = load.day.filter(|day| *day > moment.day()) {
        return Err(Error::invalid_with("day", "future", json!({"day": day})));
    }
    rules::load(load.logs.len())?;
    match (load.day, load.ago_min) {
        (Some(day), _) if day != moment.day() => Ok((day, None)),
        (_, Some(ago)) => {
            let ms = moment.ms - rules::AGO_MIN.check("ago_min", ago)? * 60_000;
            Ok((Moment { ms, ..moment }.day(), Some(ms)))
        }
        (day, None) => Ok((day.unwrap_or_else(|| moment.day()), None)),
    }
}

fn weights(load: &Load<'_>) -> Result<BTreeMap<String, i64>> {
    let known: BTreeSet<&str> = load.logs.iter().map(Id::as_str).collect();
    if known.len() != load.logs.len() {
        return Err(Error::invalid("logs", "twice"));
    }
    let mut found = BTreeMap::new();
    for WeighedLog { log, grams } in load.weights {
        rules::LOG_GRAMS.check("weights", *grams)?;
        if !known.contains(log.as_str()) || found.insert(log.to_string(), *grams).is_some() {
            return Err(Error::invalid("weights", "unknown_word"));
        }
    }
    Ok(found)
}

fn logs(conn: &Connection, load: &Load<'_>, moment: Moment) -> Result<Vec<Known>> {
    let here = here(conn, moment)?;
    load.logs.iter().map(|id| known::one(conn, id.as_str(), here)).collect()
}

fn asks(conn: &Connection, load: &Load<'_>, moment: Moment, day: NaiveDate) -> Result<Vec<SoakAsk>> {
    let here = here(conn, moment)?;
    let forcing = settings(conn)?.forcing;
    let mut asks = Vec::new();
    for log in logs(conn, load, moment)? {
        for why in rules::asks(&log, load.part, here.on(day), forcing)? {
            let detail = rules::detail(&log, why, forcing, here.southern);
            asks.push(SoakAsk { log: log.id.clone(), tag: log.tag.clone(), why, detail });
        }
    }
    Ok(asks)
}

/// The day's warmest hour, tenths of °C, where it is in the register.
fn air_dc(conn: &Connection, day: NaiveDate) -> Result<Option<i64>> {
    Ok(weather::between(conn, day, day)?.first().and_then(|row| row.max_dc))
}

/// Asks what is in the tank.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TankShow {}

/// A log in the tank.
#[derive(Debug, Serialize, TS)]
pub struct TankLog {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// The day it went in.
    pub day: NaiveDate,
    /// When, RFC 3339 with the local offset; null: the hour was not said.
    pub at: Option<String>,
    /// Whole hours so far; from noon of its day where the hour was not said.
    pub hours: i64,
    /// Where it stands.
    pub lift: Lift,
    /// What it weighs dry of the tank, about, g: by size and wood; null where either is not known.
    pub about_g: Option<i64>,
}

/// A log that could go in.
#[derive(Debug, Serialize, TS)]
pub struct TankChoice {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// Its spot's name.
    pub spot: Option<String>,
    /// What one would ask first; empty: nothing speaks against it.
    pub asks: Vec<Reason>,
    /// It rests until then.
    pub rest_until: Option<NaiveDate>,
    /// About its weight, g.
    pub about_g: Option<i64>,
}

/// What is in the tank, and what may go in.
#[derive(Debug, Serialize, TS)]
pub struct TankView {
    /// The local day.
    pub today: NaiveDate,
    /// Logs in the tank, the longest first.
    pub tank: Vec<TankLog>,
    /// Other live logs: those nothing speaks against first.
    pub logs: Vec<TankChoice>,
    /// The newest water that was measured, tenths of °C.
    pub water_dc: Option<i64>,
    /// Today's warmest, tenths of °C, where it is in the register.
    pub air_dc: Option<i64>,
    /// Tonight's low, tenths of °C, where it is in the register.
    pub low_dc: Option<i64>,
    /// When to lift.
    pub lift_from: WhereFrom,
    /// How much cooler the water should be.
    pub cooler_from: WhereFrom,
    /// The rest after it.
    pub rest_from: WhereFrom,
    /// The age before a first soak.
    pub age_from: WhereFrom,
}

/// `tank_show`
///
/// # Errors
/// The register's own.
pub fn tank_show(book: &Book, _: TankShow) -> Result<TankView> {
    let moment = book.moment();
    book.read(|conn| {
        let here = here(conn, moment)?;
        let forcing = settings(conn)?.forcing;
        let all = known::all(conn, here)?;
        let mut tank: Vec<TankLog> = all.iter().filter_map(|log| tank_log(log, moment)).collect();
        tank.sort_by_key(|log| -log.hours);
        let mut logs: Vec<TankChoice> = all
            .iter()
            .filter(|log| log.is_live() && !log.in_tank)
            .map(|log| {
                choice(log, rules::asks(log, Part::In, here.on(here.today), forcing).unwrap_or_default())
            })
            .collect();
        logs.sort_by_key(|log| !log.asks.is_empty());
        let tomorrow = here.today.checked_add_days(Days::new(1)).unwrap_or(here.today);
        let days = weather::between(conn, here.today, tomorrow)?;
        Ok(TankView {
            today: here.today,
            tank,
            logs,
            water_dc: rows::last_water(conn)?.map(|(dc, _)| dc),
            air_dc: days.iter().find(|d| d.day == here.today).and_then(|d| d.max_dc),
            low_dc: days.iter().filter_map(|d| d.min_dc).min(),
            lift_from: rules::lift_from(),
            cooler_from: rules::cooler_from(),
            rest_from: rules::rest_from(),
            age_from: rules::age_from(forcing),
        })
    })
}

fn tank_log(log: &Known, moment: Moment) -> Option<TankLog> {
    let ms = rules::soaked_ms(log, moment.ms, |day| moment.noon_of(day))?;
    Some(TankLog {
        id: log.id.clone(),
        tag: log.tag.clone(),
        day: log.soaked_in?,
        at: log.soaked_in_ms.map(|ms| Moment { ms, ..moment }.rfc3339()),
        hours: ms.div_euclid(3_600_000),
        lift: rules::lift(ms),
        about_g: crate::moisture::rules::about_grams(log),
    })
}

fn choice(log: &Known, asks: Vec<Reason>) -> TankChoice {
    TankChoice {
        id: log.id.clone(),
        tag: log.tag.clone(),
        spot: log.spot.clone(),
        asks,
        rest_until: rules::rest_until(log),
        about_g: crate::moisture::rules::about_grams(log),
    }
}
