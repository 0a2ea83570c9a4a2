//! Commands about settings, drafts, the list of acts, undo, and the register's own health.
//! Never a rule of the trade.
//! Invariant: what concerns this device alone is never an act.

use super::rows::{settings, size};
use super::rules::{self, Forcing, Light, Units};
use crate::book::acts::ActRow;
use crate::book::jobs::{JobStarted, JobView};
use crate::book::{Book, Change, Done, Intent, Nothing, Plan, drafts, revived};
use crate::error::Result;
use crate::measure;
use crate::pickings::rules::FLUSH_GAP_DAYS;
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Asks for the settings.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SettingsShow {}

/// The settings, and how much the register holds.
#[derive(Debug, Serialize, TS)]
pub struct SettingsView {
    /// The grower's name for the place.
    pub place: String,
    /// Latitude, degrees, north positive.
    pub lat: Option<f64>,
    /// Longitude, degrees, east positive.
    pub lon: Option<f64>,
    /// Minutes from dark to the night round.
    pub night_after_min: i64,
    /// What figures are shown in.
    pub units: Units,
    /// How old a log is before its first soak.
    pub forcing: Forcing,
    /// Month and day a season begins on, `MM-DD`; null: as the hemisphere has it.
    pub season_first: Option<String>,
    /// What that is.
    pub usual_first: String,
    /// Pickings of one log less than so many days apart, with no soak between, are one flush.
    pub flush_gap_days: i64,
    /// What that is where nobody set it.
    pub usual_gap_days: i64,
    /// Which light this device shows.
    pub light: Light,
    /// This program's version.
    pub version: String,
    /// Logs in the register.
    pub logs: i64,
    /// Entries in the record.
    pub entries: i64,
    /// Photos kept here.
    pub photos: i64,
    /// Their bytes.
    pub photo_bytes: i64,
    /// Bytes of the register itself.
    pub register_bytes: i64,
}

/// `settings_show`
///
/// # Errors
/// The register's own.
pub fn settings_show(book: &Book, _: SettingsShow) -> Result<SettingsView> {
    book.read(|conn| {
        let set = settings(conn)?;
        let size = size(conn)?;
        let light = drafts::device_fact(conn, "light")?.as_deref().and_then(Light::of);
        Ok(SettingsView {
            place: set.place,
            lat: set.at.map(|(lat, _)| lat),
            lon: set.at.map(|(_, lon)| lon),
            night_after_min: set.night_after_min,
            units: set.units,
            forcing: set.forcing,
            season_first: set.season_first,
            usual_first: rules::usual_first(set.at.is_some_and(|(lat, _)| lat < 0.0)).to_owned(),
            flush_gap_days: set.flush_gap_days,
            usual_gap_days: FLUSH_GAP_DAYS,
            light: light.unwrap_or(Light::System),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            logs: size.logs,
            entries: size.entries,
            photos: size.photos,
            photo_bytes: size.photo_bytes,
            register_bytes: size.register_bytes,
        })
    })
}

/// Sets where the yard is and when the night round is due.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SettingsSet {
    /// The grower's name for the place; may be empty.
    pub place: String,
    /// Latitude, degrees, north positive.
    #[ts(optional = nullable)]
    pub lat: Option<f64>,
    /// Longitude, degrees, east positive.
    #[ts(optional = nullable)]
    pub lon: Option<f64>,
    /// Minutes from dark to the night round.
    pub night_after_min: i64,
    /// Makes a double tap one act.
    pub request: String,
}

/// `settings_set`
///
/// # Errors
/// `Invalid`, naming the field.
pub fn settings_set(book: &Book, ask: SettingsSet) -> Result<Done> {
    let place = measure::text_within("place", &ask.place, measure::NAME_CHARS)?;
    let after = measure::NIGHT_AFTER_MIN.check("night_after_min", ask.night_after_min)?;
    let at = rules::place(ask.lat, ask.lon)?;
    let intent = Intent { name: "settings_set", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let set = |name, value| Change::set("setting", name, "value", value);
        let changes = vec![
            set("place", json!(place)),
            set("lat", json!(at.map(|(lat, _)| lat))),
            set("lon", json!(at.map(|(_, lon)| lon))),
            set("night_after_min", json!(after)),
        ];
        Ok(Plan::new(revived(conn, changes)?, json!({"place": place})))
    })
}

/// Sets units, the age before a first soak and the season's first day.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct WaysSet {
    /// What figures are shown in.
    pub units: Units,
    /// How old a log is before its first soak.
    pub forcing: Forcing,
    /// Month and day a season begins on, `MM-DD`; null: as the hemisphere has it.
    #[ts(optional = nullable)]
    pub season_first: Option<String>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `ways_set`
///
/// # Errors
/// `Invalid`, naming the field.
pub fn ways_set(book: &Book, ask: WaysSet) -> Result<Done> {
    let first = rules::season_first(ask.season_first.as_deref())?;
    let intent = Intent { name: "ways_set", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let set = |name, value| Change::set("setting", name, "value", value);
        let changes = vec![
            set("units", json!(ask.units)),
            set("forcing", json!(ask.forcing)),
            set("season_first", json!(first)),
        ];
        Ok(Plan::new(
            revived(conn, changes)?,
            json!({"units": ask.units, "forcing": ask.forcing, "season_first": first}),
        ))
    })
}

/// Sets how many days part two flushes.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct FlushGapSet {
    /// Days; null: the usual ones.
    #[ts(optional = nullable)]
    pub days: Option<i64>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `flush_gap_set`: every log's flushes follow it at once.
///
/// # Errors
/// `Invalid` on `flush_gap_days`.
pub fn flush_gap_set(book: &Book, ask: FlushGapSet) -> Result<Done> {
    let days = ask.days.map(|days| measure::FLUSH_GAP_DAYS.check("flush_gap_days", days)).transpose()?;
    let intent = Intent { name: "flush_gap_set", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let changes = vec![Change::set("setting", "flush_gap_days", "value", json!(days))];
        Ok(Plan::new(revived(conn, changes)?, json!({"days": days.unwrap_or(FLUSH_GAP_DAYS)})))
    })
}

/// Sets which light this device shows.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LightSet {
    /// Which.
    pub light: Light,
}

/// `light_set`: this device only, so not an act.
///
/// # Errors
/// The register's own.
pub fn light_set(book: &Book, ask: LightSet) -> Result<Nothing> {
    book.set_device_fact("light", ask.light.word())?;
    Ok(Nothing {})
}

/// Asks for a draft.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct DraftGet {
    /// Which.
    pub key: String,
}

/// A draft.
#[derive(Debug, Serialize, TS)]
pub struct DraftView {
    /// Its text; null: there is none.
    pub value: Option<String>,
}

/// `draft_get`
///
/// # Errors
/// The register's own.
pub fn draft_get(book: &Book, ask: DraftGet) -> Result<DraftView> {
    book.read(|conn| Ok(DraftView { value: drafts::get(conn, &ask.key)? }))
}

/// Keeps a draft.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct DraftSet {
    /// Which.
    pub key: String,
    /// Its text; null throws it away.
    #[ts(optional = nullable)]
    pub value: Option<String>,
}

/// `draft_set`
///
/// # Errors
/// `Invalid` when it is too long.
pub fn draft_set(book: &Book, ask: DraftSet) -> Result<Nothing> {
    book.set_draft(&ask.key, ask.value.as_deref())?;
    Ok(Nothing {})
}

/// Asks for what was done.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ActList {
    /// At most so many.
    pub limit: u32,
}

/// What was done, newest first.
#[derive(Debug, Serialize, TS)]
pub struct ActsView {
    /// The acts.
    pub acts: Vec<ActRow>,
}

/// `act_list`
///
/// # Errors
/// The register's own.
pub fn act_list(book: &Book, ask: ActList) -> Result<ActsView> {
    book.read(|conn| Ok(ActsView { acts: book.acts(conn, ask.limit.min(1000))? }))
}

/// Takes an act back.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Undo {
    /// Which; null: the last one that can be.
    #[ts(optional = nullable)]
    pub act: Option<String>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `undo`
///
/// # Errors
/// `Missing` when there is nothing to take back, `Conflict` when it is taken back already.
pub fn undo(book: &Book, ask: Undo) -> Result<Done> {
    let intent = Intent { name: "undo", request: &ask.request, draft: None };
    book.undo(intent, ask.act.as_deref())
}

/// Asks for a full check of the register.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RegisterCheck {}

/// `register_check`
///
/// # Errors
/// None of its own: what is wrong stands in the job's view.
pub fn register_check(book: &Book, _: RegisterCheck) -> Result<JobStarted> {
    Ok(JobStarted { job: book.check() })
}

/// Asks where a job is.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct JobShow {
    /// Which.
    pub job: String,
}

/// `job_show`
///
/// # Errors
/// `Missing` for an unknown job.
pub fn job_show(book: &Book, ask: JobShow) -> Result<JobView> {
    book.jobs().show(&ask.job)
}

/// Asks a job to stop.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct JobCancel {
    /// Which.
    pub job: String,
}

/// `job_cancel`
///
/// # Errors
/// `Missing` for an unknown job.
pub fn job_cancel(book: &Book, ask: JobCancel) -> Result<JobView> {
    book.jobs().cancel(&ask.job)
}
