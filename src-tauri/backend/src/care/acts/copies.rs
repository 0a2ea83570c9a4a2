//! Commands about backups and the way back to one.
//! Never a file by its path: a copy is named as it stands in its folder.
//! Invariant: nothing is restored that was not shown whole.

use super::super::rows::{self, Counts};
use crate::book::acts::ActRow;
use crate::book::copies::{CopyFile, Place};
use crate::book::jobs::JobStarted;
use crate::book::{Book, Nothing, ReadingOnly};
use crate::error::Result;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::HashSet;
use ts_rs::TS;

/// Most lost acts that are named.
const NAMED: usize = 20;

/// Asks for a backup now.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BackupNow {}

/// `backup_now`: the job's result is the backup's name.
///
/// # Errors
/// `TooNew` or `Damaged` when the register is open for reading only.
pub fn backup_now(book: &Book, _: BackupNow) -> Result<JobStarted> {
    book.may_write()?;
    Ok(JobStarted { job: start_backup(book) })
}

pub(super) fn start_backup(book: &Book) -> String {
    book.start(|book, job| {
        if let Some(name) = book.backup(job)? {
            job.result(name);
        }
        Ok(())
    })
}

/// Asks which backups there are.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BackupList {}

/// The backups, newest first.
#[derive(Debug, Serialize, TS)]
pub struct BackupsView {
    /// The backups.
    pub backups: Vec<BackupRow>,
}

/// A copy of the register.
#[derive(Debug, Clone, Serialize, TS)]
pub struct BackupRow {
    /// Its file's name.
    pub name: String,
    /// When it was taken, RFC 3339 with the local offset here.
    pub at: String,
    /// Its length.
    pub bytes: i64,
    /// Acts in it.
    pub acts: i64,
    /// Logs in it.
    pub logs: i64,
    /// Entries in it.
    pub entries: i64,
    /// Photos that were kept with it.
    pub photos: i64,
    /// Whole, as far as known; null: not held against its name now.
    pub sound: Option<bool>,
}

/// `backup_list`
///
/// # Errors
/// The file system's own.
pub fn backup_list(book: &Book, _: BackupList) -> Result<BackupsView> {
    Ok(BackupsView { backups: listed(book, Place::Backups)? })
}

pub(super) fn listed(book: &Book, place: Place) -> Result<Vec<BackupRow>> {
    Ok(book.copies(place)?.iter().map(row).collect())
}

/// The counts come from the copy itself; one that does not open is not sound.
pub(super) fn row(copy: &CopyFile) -> BackupRow {
    let counts = copy.read(rows::counts);
    let sound = if counts.is_ok() { None } else { Some(false) };
    let Counts { acts, logs, entries, photos } =
        counts.unwrap_or(Counts { acts: 0, logs: 0, entries: 0, photos: 0 });
    let at = copy.at.rfc3339();
    BackupRow { name: copy.name.clone(), at, bytes: copy.bytes, acts, logs, entries, photos, sound }
}

/// Chooses the folder for backups.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BackupFolder {
    /// The folder; null: beside the register.
    #[ts(optional = nullable)]
    pub folder: Option<String>,
}

/// `backup_folder`
///
/// # Errors
/// `Invalid` when nothing can be written there.
pub fn backup_folder(book: &Book, ask: BackupFolder) -> Result<Nothing> {
    book.choose_backup_folder(ask.folder.as_deref())?;
    Ok(Nothing {})
}

/// Asks what a restore would change.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RestorePreview {
    /// The copy's name.
    pub name: String,
    /// Where it lies.
    pub from: Place,
}

/// What a restore would change.
#[derive(Debug, Serialize, TS)]
pub struct RestoreView {
    /// The copy's name.
    pub name: String,
    /// When it was taken, RFC 3339 with the local offset here.
    pub at: String,
    /// Its version; an older one is brought to today's.
    pub version: i64,
    /// What is in the register now; null: it is damaged and can't be counted.
    pub now: Option<Counts>,
    /// What would be.
    pub then: Counts,
    /// Acts that are done now and would not be, newest first, the first twenty.
    pub lost: Vec<LostAct>,
    /// How many there are.
    pub lost_count: usize,
    /// Photos of the copy that are neither here nor in the backup folder.
    pub photos_missing: usize,
}

/// An act that would be gone.
#[derive(Debug, Serialize, TS)]
pub struct LostAct {
    /// The command's name.
    pub name: String,
    /// Values for the sentence on screen.
    #[ts(type = "Record<string, any>")]
    pub said: Map<String, Value>,
    /// When, RFC 3339 with the local offset.
    pub at: String,
}

/// `restore_preview`: opens the copy, changes nothing.
///
/// # Errors
/// `Missing`, `Damaged` naming the copy, `TooNew`.
pub fn restore_preview(book: &Book, ask: RestorePreview) -> Result<RestoreView> {
    let copy = book.sound_copy(ask.from, &ask.name)?;
    copy.read(|then| {
        let kept: HashSet<String> = then
            .prepare("SELECT device || ':' || seq FROM act")?
            .query_map([], |r| r.get(0))?
            .collect::<rusqlite::Result<_>>()?;
        let live = book.read(|now| {
            let (mut lost, mut lost_count) = (Vec::new(), 0);
            for act in book.acts(now, u32::MAX)?.into_iter().filter(|a| !kept.contains(&a.act)) {
                lost_count += 1;
                if lost.len() < NAMED {
                    let ActRow { name, said, at, .. } = act;
                    lost.push(LostAct { name, said, at });
                }
            }
            Ok((Some(rows::counts(now)?), lost, lost_count))
        });
        let (now, lost, lost_count) = match live {
            Err(_) if matches!(book.reading_only(), Some(ReadingOnly::Damaged { .. })) => {
                (None, Vec::new(), 0)
            }
            other => other?,
        };
        Ok(RestoreView {
            name: copy.name.clone(),
            at: copy.at.rfc3339(),
            version: then.query_row("PRAGMA user_version", [], |r| r.get(0))?,
            now,
            then: rows::counts(then)?,
            lost,
            lost_count,
            photos_missing: book.photos_out_of_reach(then)?,
        })
    })
}

/// Goes back to a copy.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RestoreDo {
    /// The copy's name.
    pub name: String,
    /// Where it lies.
    pub from: Place,
    /// Makes a double tap one restore.
    pub request: String,
}

/// `restore_do`: the job's result is the copy's name.
///
/// # Errors
/// `Missing`, `Damaged` naming the copy, `TooNew`; `Invalid` on `request`.
pub fn restore_do(book: &Book, ask: RestoreDo) -> Result<JobStarted> {
    if let Some(newer @ ReadingOnly::Newer { .. }) = book.reading_only() {
        return Err(newer.refusal());
    }
    book.sound_copy(ask.from, &ask.name)?;
    let job = book.start_for(&ask.request, move |book, job| book.restore(ask.from, &ask.name, job))?;
    Ok(JobStarted { job })
}
