//! Commands about moisture: weighing, watering, the sample disc, and what they say of a log.
//! Never the weather itself: `weather` keeps that.
//! Invariant: one act weighs or waters all logs it names, or none; a weight that wood cannot have is asked about.

use super::rows::{self, WeighedDay};
use super::rules::{self, Moisture, dry};
use crate::book::{Book, Change, Done, Intent, Moment, Plan};
use crate::due::DueLog;
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::known;
use crate::logs::rules::State;
use crate::logs::rules::follows::{Kind, follows};
use crate::logs::rules::known::Known;
use crate::measure;
use crate::settings::rows::here;
use crate::soaking::rules::{LOG_GRAMS, LOGS_MAX};
use crate::weather::rows as weather;
use crate::where_from::WhereFrom;
use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// One weight.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Weight {
    /// The log.
    pub log: Id,
    /// Its weight, g.
    pub grams: i64,
}

/// Weighs logs, one or many.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WeighAdd {
    /// The weights.
    pub weights: Vec<Weight>,
    /// The day; null: today.
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

/// A weight that its wood cannot have.
#[derive(Debug, Serialize, TS)]
pub struct WeightAsk {
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// `too_heavy` or `too_light`.
    pub why: String,
    /// What was typed, g.
    pub grams: i64,
    /// The most or the least its wood can weigh, g.
    pub bound_g: i64,
}

/// What came of it: asked first, or done.
#[derive(Debug, Serialize, TS)]
pub struct Weighed {
    /// What is asked; the same request with `sure` does it. Empty when it is done.
    pub asks: Vec<WeightAsk>,
    /// What was done; null: asked first.
    pub done: Option<Done>,
}

/// `weigh_add`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn weigh_add(book: &Book, ask: WeighAdd) -> Result<Weighed> {
    let moment = book.moment();
    let day = not_later("day", ask.day, moment)?;
    let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
    crate::soaking::rules::load(ask.weights.len()).map_err(|_| Error::invalid("weights", "empty"))?;
    for weight in &ask.weights {
        LOG_GRAMS.check("weights", weight.grams)?;
    }
    if !ask.sure {
        let asks = book.read(|conn| {
            let here = here(conn, moment)?;
            let mut asks = Vec::new();
            for Weight { log, grams } in &ask.weights {
                let log = known::one(conn, log.as_str(), here)?;
                if let Err((why, bound_g)) = rules::can_weigh(&log, *grams) {
                    let (log, tag, why) = (log.id, log.tag, why.to_owned());
                    asks.push(WeightAsk { log, tag, why, grams: *grams, bound_g });
                }
            }
            Ok(asks)
        })?;
        if !asks.is_empty() {
            return Ok(Weighed { asks, done: None });
        }
    }
    let intent = Intent { name: "weigh_add", request: &ask.request, draft: ask.draft.as_deref() };
    let done = book.act(intent, |conn| {
        let mut changes = Vec::new();
        let mut tags = Vec::new();
        let here = here(conn, moment)?;
        for Weight { log, grams } in &ask.weights {
            let known = known::one(conn, log.as_str(), here)?;
            follows(Kind::Weighing, &known.facts, here.on(day)).asked()?;
            tags.push(known.tag);
            let row = json!({"log": log, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
                "grams": grams});
            changes.push(Change::put("weighing", &book.new_id(), row));
        }
        let one = ask.weights.first().filter(|_| ask.weights.len() == 1).map(|w| w.grams);
        Ok(Plan::new(changes, json!({"tags": tags, "n": tags.len(), "grams": one, "day": day})))
    })?;
    Ok(Weighed { asks: Vec::new(), done: Some(done) })
}

fn not_later(field: &str, day: Option<NaiveDate>, moment: Moment) -> Result<NaiveDate> {
    match day.unwrap_or_else(|| moment.day()) {
        day if day > moment.day() => Err(Error::invalid(field, "future")),
        day => Ok(day),
    }
}

/// Waters logs, or all logs of a spot, in one act.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WaterAdd {
    /// The logs; empty when `spot` says which.
    pub logs: Vec<Id>,
    /// All live, laid logs of this spot.
    #[ts(optional = nullable)]
    pub spot: Option<Id>,
    /// Litres on each log, tenths; null: not said.
    #[ts(optional = nullable)]
    pub litres_tenths: Option<i64>,
    /// The day; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// The grower's words.
    pub note: String,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `water_add`
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn water_add(book: &Book, ask: WaterAdd) -> Result<Done> {
    let moment = book.moment();
    let day = not_later("day", ask.day, moment)?;
    let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
    ask.litres_tenths.map(|l| rules::LITRES_TENTHS.check("litres_tenths", l)).transpose()?;
    let intent = Intent { name: "water_add", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let here = here(conn, moment)?;
        let (logs, spot) = match &ask.spot {
            Some(spot) => {
                let all = known::all(conn, here)?;
                let there = |log: &Known| {
                    log.spot_id.as_deref() == Some(spot.as_str()) && log.is_live() && log.facts.laid.is_some()
                };
                let logs: Vec<DueLog> = all.iter().filter(|log| there(log)).map(Known::due).collect();
                (logs, Some(rows::spot(conn, spot.as_str())?))
            }
            None => {
                let log = |id: &Id| {
                    let log = known::one(conn, id.as_str(), here)?;
                    follows(Kind::Watering, &log.facts, here.on(day)).asked()?;
                    Ok(log.due())
                };
                (ask.logs.iter().map(log).collect::<Result<_>>()?, None)
            }
        };
        match logs.len() {
            0 => return Err(Error::invalid("logs", "empty")),
            n if n > LOGS_MAX => {
                return Err(Error::invalid_with("logs", "too_long", json!({"max": LOGS_MAX})));
            }
            _ => {}
        }
        let put = |log: &DueLog| {
            let row = json!({"log": log.id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
                "litres_tenths": ask.litres_tenths});
            Change::put("watering", &book.new_id(), row)
        };
        let changes = logs.iter().map(put).collect();
        let tags: Vec<&str> = logs.iter().map(|log| log.tag.as_str()).collect();
        let said = json!({"tags": tags, "n": logs.len(), "spot": spot, "litres_tenths": ask.litres_tenths,
            "day": day});
        Ok(Plan::new(changes, said))
    })
}

/// Keeps a batch's sample disc.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct DiscSet {
    /// The batch.
    pub batch: Id,
    /// The disc's weight on the day it was cut, g.
    pub wet_g: i64,
    /// Its oven-dry weight, g.
    pub dry_g: i64,
    /// Makes a double tap one act.
    pub request: String,
}

/// `disc_set`
///
/// # Errors
/// `Missing`, or `Invalid`: a disc is lighter dry than wet.
pub fn disc_set(book: &Book, ask: DiscSet) -> Result<Done> {
    let (wet, dry) = rules::disc(ask.wet_g, ask.dry_g)?;
    let intent = Intent { name: "disc_set", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let id = ask.batch.as_str();
        let (name, _) = rows::batch(conn, id)?;
        let changes =
            vec![Change::set("batch", id, "disc_wet_g", wet), Change::set("batch", id, "disc_dry_g", dry)];
        let pct = rules::wet_basis(wet as f64, dry as f64);
        Ok(Plan::new(changes, json!({"batch": id, "name": name, "wet_g": wet, "dry_g": dry, "pct": pct})))
    })
}

/// Asks how wet a log is.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MoistureShow {
    /// The log.
    pub log: Id,
}

/// How wet a log is.
#[derive(Debug, Serialize, TS)]
pub struct MoistureView {
    /// The local day.
    pub today: NaiveDate,
    /// The log.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// Its state today.
    pub state: State,
    /// Whether it is in its spawn run.
    pub spawn_run: bool,
    /// Its weighings, oldest first.
    pub weighings: Vec<WeighedDay>,
    /// In the spawn run and weighed; null otherwise.
    pub moisture: Option<Moisture>,
    /// Its weight after its last soak, g.
    pub soaked_grams: Option<i64>,
    /// How far it is below that, per cent, after the spawn run.
    pub below_soaked_pct: Option<f64>,
    /// About its fresh weight, g.
    pub about_g: Option<i64>,
    /// Where that comes from.
    pub about_from: Option<WhereFrom>,
    /// The most it can weigh, g.
    pub most_g: Option<i64>,
    /// Its batch.
    pub batch: Option<String>,
    /// The batch's disc, g wet.
    pub disc_wet_g: Option<i64>,
    /// The batch's disc, g oven-dry.
    pub disc_dry_g: Option<i64>,
    /// The newest watering.
    pub watered: Option<NaiveDate>,
}

/// `moisture_show`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn moisture_show(book: &Book, ask: MoistureShow) -> Result<MoistureView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let log = known::one(conn, ask.log.as_str(), here)?;
        Ok(MoistureView {
            today: here.today,
            state: log.state,
            spawn_run: log.in_spawn_run(),
            weighings: rows::weighings(conn, &log.id)?,
            moisture: rules::moisture(&log),
            soaked_grams: log.soaked_grams,
            below_soaked_pct: rules::below_soaked(&log),
            about_g: rules::about_grams(&log),
            about_from: rules::about_from(&log),
            most_g: rules::most_grams(&log),
            batch: log.batch,
            disc_wet_g: log.disc.map(|(wet, _)| wet),
            disc_dry_g: log.disc.map(|(_, dry)| dry),
            watered: log.watered,
            id: log.id,
            tag: log.tag,
        })
    })
}

/// Asks what the form for weighing many logs needs, and who wants water.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MoistureList {}

/// A log in that list.
#[derive(Debug, Serialize, TS)]
pub struct MoistureRow {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// Its state today.
    pub state: State,
    /// Its spot's id.
    pub spot_id: Option<String>,
    /// Its spot's name.
    pub spot: Option<String>,
    /// Whether it is in its spawn run.
    pub spawn_run: bool,
    /// Its newest weight, g.
    pub last_g: Option<i64>,
    /// That day.
    pub last_day: Option<NaiveDate>,
    /// In the spawn run and weighed; null otherwise.
    pub moisture: Option<Moisture>,
    /// About its fresh weight, g.
    pub about_g: Option<i64>,
    /// The newest watering.
    pub watered: Option<NaiveDate>,
    /// Rain that reached it in a week, tenths of mm; null: not known.
    pub week_tenths: Option<i64>,
    /// Days since rain wet it; null: not known.
    pub dry_days: Option<i64>,
    /// Whether it wants water.
    pub thirsty: bool,
}

/// The live logs: who gets water first comes first.
#[derive(Debug, Serialize, TS)]
pub struct MoistureRows {
    /// The local day.
    pub today: NaiveDate,
    /// The logs: those that want water by who gets it first, then the rest by tag.
    pub logs: Vec<MoistureRow>,
    /// Litres for one log when there are few, tenths.
    pub sip_tenths: i64,
    /// On whose word one waters.
    pub from: WhereFrom,
}

/// `moisture_list`
///
/// # Errors
/// The register's own.
pub fn moisture_list(book: &Book, _: MoistureList) -> Result<MoistureRows> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let from = here.today.checked_sub_days(Days::new(30)).unwrap_or(here.today);
        let days = weather::between(conn, from, here.today)?;
        let all = known::all(conn, here)?;
        let live = all.iter().filter(|log| log.is_live() && log.facts.laid.is_some());
        let mut logs: Vec<MoistureRow> = live.map(|log| row(log, &days, here.today)).collect();
        logs.sort_by_key(|log| (!log.thirsty, if log.thirsty { dry::first_served(log.state) } else { 0 }));
        Ok(MoistureRows { today: here.today, logs, sip_tenths: dry::SIP_TENTHS, from: dry::sky_from() })
    })
}

fn row(log: &Known, days: &[crate::weather::rules::Day], today: NaiveDate) -> MoistureRow {
    let drought = dry::drought(days, log.rain, today);
    let by_sky = drought.as_ref().is_some_and(|d| dry::thirsty(d, log.watered, today));
    MoistureRow {
        id: log.id.clone(),
        tag: log.tag.clone(),
        state: log.state,
        spot_id: log.spot_id.clone(),
        spot: log.spot.clone(),
        spawn_run: log.in_spawn_run(),
        last_g: log.last.map(|(grams, _)| grams),
        last_day: log.last.map(|(_, day)| day),
        moisture: rules::moisture(log),
        about_g: rules::about_grams(log),
        watered: log.watered,
        week_tenths: drought.as_ref().map(|d| d.week_tenths),
        dry_days: drought.as_ref().map(|d| d.dry_days),
        thirsty: !log.in_tank && (by_sky || dry::by_weight(log)),
    }
}
