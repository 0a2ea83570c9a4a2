//! Commands about the archive, about merging, and about what merging leaves to a person.
//! Never a choice between two hands: both stay in the record.
//! Invariant: looking writes nothing; a merge with nothing new writes nothing either.

use super::rows::{self, Contradiction, Losers, Twins};
use super::rules;
use crate::book::jobs::JobStarted;
use crate::book::{Book, Change, Done, Intent, Nothing, Plan, drafts};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::tag;
use crate::photos::rules as photos;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use ts_rs::TS;

/// The device fact that holds the shared folder.
const FOLDER: &str = "shared_folder";

/// Writes everything into one file.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ArchiveWrite {
    /// The folder it goes into.
    pub folder: String,
}

/// `archive_write`: also from a register that can only be read.
///
/// # Errors
/// `Missing` when there is no such folder.
pub fn archive_write(book: &Book, ask: ArchiveWrite) -> Result<JobStarted> {
    Ok(JobStarted { job: book.write_archive(Path::new(&ask.folder), rows::TOPICS)? })
}

/// Asks what reading an archive would bring.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ArchivePreview {
    /// The file.
    pub file: String,
}

/// What reading an archive would bring.
#[derive(Debug, Serialize, TS)]
pub struct ArchiveView {
    /// The schema version it was written with.
    pub version: i64,
    /// Acts in it.
    pub acts: u64,
    /// Of these, new here.
    pub new_acts: usize,
    /// Live logs, as it says itself.
    pub logs: u64,
    /// Photos in it.
    pub photos: usize,
    /// Devices whose acts are in it.
    pub devices: usize,
    /// Whether all is as it should be.
    pub sound: bool,
    /// What is not.
    pub found: Vec<String>,
}

/// `archive_preview`
///
/// # Errors
/// `Missing` without the file; `Damaged` when it can't be taken in.
pub fn archive_preview(book: &Book, ask: ArchivePreview) -> Result<ArchiveView> {
    let seen = book.preview_archive(Path::new(&ask.file))?;
    Ok(ArchiveView {
        version: seen.version,
        acts: seen.acts,
        new_acts: seen.new_acts,
        logs: seen.rows.get("log").copied().unwrap_or(0),
        photos: seen.photos,
        devices: seen.devices,
        sound: seen.found.is_empty(),
        found: seen.found,
    })
}

/// Takes an archive in.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ArchiveRead {
    /// The file.
    pub file: String,
    /// Makes a double tap one job.
    pub request: String,
}

/// `archive_read`
///
/// # Errors
/// `TooNew` or `Damaged` when nothing may be written here.
pub fn archive_read(book: &Book, ask: ArchiveRead) -> Result<JobStarted> {
    Ok(JobStarted { job: book.read_archive(Path::new(&ask.file), looked_over, &ask.request)? })
}

/// A photo of another device is kept when it is one.
fn looked_over(bytes: &[u8]) -> Result<Value> {
    Ok(serde_json::to_value(photos::look_over(bytes)?)?)
}

/// Says which folder is shared.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MergeFolder {
    /// The folder; null: none.
    #[ts(optional = nullable)]
    pub folder: Option<String>,
}

/// `merge_folder`
///
/// # Errors
/// `Invalid` on `folder` when there is no such folder.
pub fn merge_folder(book: &Book, ask: MergeFolder) -> Result<Nothing> {
    match &ask.folder {
        Some(folder) => {
            shared(folder)?;
            book.set_device_fact(FOLDER, folder)?;
        }
        None => book.forget_device_fact(FOLDER)?,
    }
    Ok(Nothing {})
}

fn shared(folder: &str) -> Result<PathBuf> {
    let path = PathBuf::from(folder);
    if path.is_absolute() && path.is_dir() { Ok(path) } else { Err(Error::invalid("folder", "no_folder")) }
}

/// The folder asked for, or the one that was set.
fn chosen(book: &Book, folder: Option<String>) -> Result<PathBuf> {
    let folder = match folder {
        Some(folder) => Some(folder),
        None => book.read(|conn| drafts::device_fact(conn, FOLDER))?,
    };
    shared(folder.as_deref().unwrap_or(""))
}

/// Asks what merging would bring.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MergePreview {
    /// The shared folder; null: the one that was set.
    #[ts(optional = nullable)]
    pub folder: Option<String>,
}

/// What merging would bring.
#[derive(Debug, Serialize, TS)]
pub struct MergeView {
    /// Acts that are new here.
    pub new_acts: usize,
    /// Of these, kept but not understood by this version.
    pub not_understood: usize,
    /// Observations by kind, and things that are new here by kind.
    pub by_kind: BTreeMap<String, usize>,
    /// Fields that have a value here and would have another.
    pub changed_fields: usize,
    /// Photos to come.
    pub photos_to_come: usize,
    /// Devices whose clock is more than a day ahead.
    pub ahead: Vec<String>,
    /// Devices that exist twice: two copies of one register were written to.
    pub forked: Vec<String>,
    /// Files that are not complete.
    pub passed_over: Vec<String>,
    /// Acts that wait for earlier ones.
    pub waiting: usize,
    /// Acts that would go out.
    pub to_send: usize,
    /// Contradictions that are not there yet and would be.
    pub contradictions: Vec<Contradiction>,
    /// Twins that are not there yet and would be.
    pub twins: Vec<Twins>,
}

/// `merge_preview`
///
/// # Errors
/// `Invalid` on `folder`; the register's or the file system's own.
pub fn merge_preview(book: &Book, ask: MergePreview) -> Result<MergeView> {
    let folder = chosen(book, ask.folder)?;
    let device = book.device();
    let both = |conn: &_| Ok((rows::contradictions(conn)?, rows::twins(conn, &device)?));
    let (known, known_twins) = book.read(both)?;
    let (coming, (mut contradictions, mut twins)) = book.rehearse_merge(&folder, both)?;
    contradictions.retain(|c| !known.contains(c));
    twins.retain(|t| !known_twins.contains(t));
    let merged = coming.merged;
    Ok(MergeView {
        new_acts: merged.acts,
        not_understood: merged.not_understood,
        by_kind: coming.by_kind,
        changed_fields: coming.changed_fields,
        photos_to_come: merged.blobs,
        ahead: merged.ahead.into_iter().collect(),
        forked: merged.forked.into_iter().collect(),
        passed_over: merged.passed_over,
        waiting: merged.waiting,
        to_send: coming.to_send,
        contradictions,
        twins,
    })
}

/// Merges with a shared folder.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MergeDo {
    /// The shared folder; null: the one that was set.
    #[ts(optional = nullable)]
    pub folder: Option<String>,
    /// Makes a double tap one job.
    pub request: String,
}

/// `merge_do`: receives, then sends.
///
/// # Errors
/// `Invalid` on `folder`; `TooNew` or `Damaged` when nothing may be written here.
pub fn merge_do(book: &Book, ask: MergeDo) -> Result<JobStarted> {
    let folder = chosen(book, ask.folder)?;
    Ok(JobStarted { job: book.merge(&folder, looked_over, &ask.request)? })
}

/// Asks for all contradictions in the record.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ContradictionsShow {}

/// All contradictions.
#[derive(Debug, Serialize, TS)]
pub struct ContradictionsView {
    /// By kind, then by name.
    pub contradictions: Vec<Contradiction>,
}

/// `contradictions_show`
///
/// # Errors
/// The register's own.
pub fn contradictions_show(book: &Book, _: ContradictionsShow) -> Result<ContradictionsView> {
    Ok(ContradictionsView { contradictions: book.read(rows::contradictions)? })
}

/// Asks for pickings that may have been entered twice.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TwinsShow {}

/// Pickings that may have been entered twice.
#[derive(Debug, Serialize, TS)]
pub struct TwinsView {
    /// Newest day first.
    pub twins: Vec<Twins>,
}

/// `twins_show`
///
/// # Errors
/// The register's own.
pub fn twins_show(book: &Book, _: TwinsShow) -> Result<TwinsView> {
    let device = book.device();
    Ok(TwinsView { twins: book.read(|conn| rows::twins(conn, &device))? })
}

/// Says whether twins are one picking.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TwinAnswer {
    /// The entries.
    pub entries: Vec<Id>,
    /// Whether they are one picking.
    pub same: bool,
    /// The one that stays, when they are.
    #[ts(optional = nullable)]
    pub keep: Option<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `twin_answer`: the others of one picking are taken out; that two are two is remembered.
///
/// # Errors
/// `Invalid` on `entries` or `keep`; `Missing` when one of them is no live picking.
pub fn twin_answer(book: &Book, ask: TwinAnswer) -> Result<Done> {
    let intent = Intent { name: "twin_answer", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let mut entries: Vec<&str> = ask.entries.iter().map(Id::as_str).collect();
        entries.sort_unstable();
        entries.dedup();
        if !(2..=20).contains(&entries.len()) {
            let bounds = json!({"min": 2, "max": 20, "unit": ""});
            return Err(Error::invalid_with("entries", "range", bounds));
        }
        let mut of = Vec::new();
        for entry in &entries {
            of.push(rows::picking(conn, entry)?.ok_or(Error::Missing { what: "picking" })?);
        }
        let (log, tag, day) = of.first().cloned().ok_or(Error::Missing { what: "picking" })?;
        if of.iter().any(|(other, _, when)| (other, when) != (&log, &day)) {
            return Err(Error::invalid("entries", "unknown_word"));
        }
        let changes = if ask.same { kept(&entries, ask.keep.as_ref())? } else { told_apart(&entries) };
        let said = json!({"log": log, "tag": tag, "day": day, "same": ask.same, "n": entries.len()});
        Ok(Plan::new(changes, said))
    })
}

fn kept(entries: &[&str], keep: Option<&Id>) -> Result<Vec<Change>> {
    let keep = keep.map(Id::as_str).filter(|keep| entries.contains(keep));
    let keep = keep.ok_or_else(|| Error::invalid("keep", "unknown_word"))?;
    Ok(entries.iter().filter(|entry| **entry != keep).map(|entry| Change::void(entry)).collect())
}

fn told_apart(entries: &[&str]) -> Vec<Change> {
    let pair = |(one, other): (&&str, &&str)| {
        let id = rules::apart(one, other);
        let set = |name, value: Value| Change::set("apart", &id, name, value);
        [set("one", json!(one)), set("other", json!(other)), set("void", json!(0))]
    };
    rules::pairs(entries).flat_map(pair).collect()
}

/// Asks which values of a log did not win.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LosersShow {
    /// The log.
    pub log: Id,
}

/// Values of a log that did not win.
#[derive(Debug, Serialize, TS)]
pub struct LosersView {
    /// Field by field.
    pub fields: Vec<Losers>,
}

/// `losers_show`
///
/// # Errors
/// `Missing` when there is no such log.
pub fn losers_show(book: &Book, ask: LosersShow) -> Result<LosersView> {
    book.read(|conn| {
        tag(conn, ask.log.as_str())?;
        Ok(LosersView { fields: rows::losers(conn, ask.log.as_str())? })
    })
}
