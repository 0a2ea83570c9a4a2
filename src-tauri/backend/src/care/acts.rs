//! Commands about the register's health: what stands, and a report of it without the grower's words.
//! Never mends by itself, and nothing that is not the grower's own device.
//! Invariant: it can be shown when nothing can be written.

mod copies;

pub use copies::{
    BackupFolder, BackupList, BackupNow, BackupRow, BackupsView, LostAct, RestoreDo, RestorePreview,
    RestoreView, backup_folder, backup_list, backup_now, restore_do, restore_preview,
};

use super::rows::{self, Counts};
use super::rules::{backup_due, backup_old, is_ahead};
use crate::book::acts::short;
use crate::book::check::{self, Outcome};
use crate::book::clock::Stamp;
use crate::book::copies::Place;
use crate::book::{Book, Moment, ReadingOnly, drafts};
use crate::error::Result;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use ts_rs::TS;

/// Asks how the register is.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CareShow {}

/// How the register is.
#[derive(Debug, Serialize, TS)]
pub struct CareView {
    /// Why nothing can be written; null when it can.
    pub reading_only: Option<Closed>,
    /// This program's version.
    pub version: String,
    /// The register's version.
    pub register: i64,
    /// This device, short.
    pub device: String,
    /// Who has written in it, the one heard of last first.
    pub devices: Vec<DeviceRow>,
    /// Acts of all devices.
    pub acts: i64,
    /// Of these, kept but not understood by this version.
    pub not_understood: i64,
    /// Acts that the shared folder does not hold yet; null: there is no folder, or it is not there.
    pub unsent: Option<i64>,
    /// The last full check that came to its end.
    pub last_check: Option<LastCheck>,
    /// Where backups go, and the last one.
    pub backup: BackupView,
    /// Bytes on this device.
    pub storage: Storage,
    /// Copies taken before something that changed much, newest first.
    pub snapshots: Vec<BackupRow>,
    /// The folder shared with other devices.
    pub shared_folder: Option<String>,
}

/// Why a register is open for reading only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Closed {
    /// A newer version of the program wrote it.
    Newer,
    /// It is damaged.
    Damaged,
}

/// A device that has written in the register.
#[derive(Debug, Serialize, TS)]
pub struct DeviceRow {
    /// Its id.
    pub device: String,
    /// The id's last six digits.
    pub short: String,
    /// Its acts here.
    pub acts: i64,
    /// When the last of them was done, RFC 3339 with the local offset.
    pub last: String,
    /// This device.
    pub mine: bool,
    /// Its clock, or the one here, is more than a day off.
    pub ahead: bool,
}

/// The last full check.
#[derive(Debug, Serialize, TS)]
pub struct LastCheck {
    /// When it ended, RFC 3339 with the local offset.
    pub at: String,
    /// What was not as it should be; empty when sound.
    pub found: Vec<String>,
}

/// Where backups go, and the last one.
#[derive(Debug, Serialize, TS)]
pub struct BackupView {
    /// The folder.
    pub folder: String,
    /// No folder was chosen: they lie beside the register.
    pub auto: bool,
    /// The last backup that was read back and found whole, and still stands.
    pub last: Option<BackupRow>,
    /// Acts have been without a good backup for too long.
    pub old: bool,
}

/// Bytes on this device.
#[derive(Debug, Serialize, TS)]
pub struct Storage {
    /// The register with its log.
    pub register_bytes: i64,
    /// Photos, as they came.
    pub photo_bytes: i64,
    /// How many.
    pub photos: i64,
    /// Smaller pictures made from them.
    pub made_bytes: i64,
    /// Snapshots.
    pub snapshots_bytes: i64,
    /// Backups in their folder, without photos.
    pub backups_bytes: i64,
}

/// `care_show`
///
/// # Errors
/// The register's own.
pub fn care_show(book: &Book, _: CareShow) -> Result<CareView> {
    let now = book.moment();
    let shared_folder = book.read(|conn| drafts::device_fact(conn, "shared_folder"))?;
    let unsent = shared_folder.as_deref().and_then(|folder| book.unsent_to(folder));
    let (backup, backups_bytes) = backup_view(book, now)?;
    let snapshots = copies::listed(book, Place::Snapshots)?;
    let snapshots_bytes = snapshots.iter().map(|s| s.bytes).sum();
    book.read(|conn| {
        let counts = rows::counts(conn)?;
        let last_check = check::last(conn)?.map(|Outcome { at, found }| LastCheck { at, found });
        Ok(CareView {
            reading_only: closed(book),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            register: conn.query_row("PRAGMA user_version", [], |r| r.get(0))?,
            device: short(&book.device()),
            devices: devices(book, conn, now)?,
            acts: counts.acts,
            not_understood: rows::not_understood(conn)?,
            unsent,
            last_check,
            backup,
            storage: storage(book, conn, counts, snapshots_bytes, backups_bytes)?,
            snapshots,
            shared_folder,
        })
    })
}

fn closed(book: &Book) -> Option<Closed> {
    book.reading_only().map(|why| match why {
        ReadingOnly::Newer { .. } => Closed::Newer,
        ReadingOnly::Damaged { .. } => Closed::Damaged,
    })
}

fn devices(book: &Book, conn: &Connection, now: Moment) -> Result<Vec<DeviceRow>> {
    let here = book.device();
    let row = |w: rows::Writer| DeviceRow {
        short: short(&w.device),
        acts: w.acts,
        last: Moment::from_parts(w.at, &w.zone).rfc3339(),
        mine: w.device == here,
        ahead: Stamp::parse(&w.stamp).is_some_and(|stamp| is_ahead(stamp.ms(), now.ms)),
        device: w.device,
    };
    Ok(rows::writers(conn)?.into_iter().map(row).collect())
}

fn backup_view(book: &Book, now: Moment) -> Result<(BackupView, i64)> {
    let folder = book.copies_folder(Place::Backups)?;
    let all = book.copies(Place::Backups).unwrap_or_default();
    let bytes = all.iter().map(|c| c.bytes).sum();
    let (good, standing, chosen) = book.read(|conn| {
        let good = book.last_good(conn)?;
        let standing = rows::standing(conn, good.as_ref().map(|g| (g.ms, g.n)))?;
        Ok((good, standing, drafts::device_fact(conn, "backup_folder")?))
    })?;
    let last = good.and_then(|good| all.iter().find(|c| c.name == good.name));
    let view = BackupView {
        folder: folder.to_string_lossy().into_owned(),
        auto: chosen.is_none(),
        last: last.map(|copy| BackupRow { sound: Some(true), ..copies::row(copy) }),
        old: backup_old(standing, now.ms).is_some(),
    };
    Ok((view, bytes))
}

fn storage(book: &Book, conn: &Connection, counts: Counts, snapshots: i64, backups: i64) -> Result<Storage> {
    let photo_bytes =
        conn.query_row("SELECT coalesce(sum(bytes), 0) FROM blob WHERE here = 1", [], |r| r.get(0))?;
    let sizes = book.sizes();
    Ok(Storage {
        register_bytes: sizes.register,
        photo_bytes,
        photos: counts.photos,
        made_bytes: sizes.made,
        snapshots_bytes: snapshots,
        backups_bytes: backups,
    })
}

/// Asks for a report.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct DetailsCopy {}

/// A report to be sent to whoever looks after the program.
#[derive(Debug, Serialize, TS)]
pub struct DetailsView {
    /// Plain text without any word, name, place or path of the grower's.
    pub text: String,
}

/// `details_copy`
///
/// # Errors
/// The register's own.
pub fn details_copy(book: &Book, _: DetailsCopy) -> Result<DetailsView> {
    let care = care_show(book, CareShow {})?;
    let counts = book.read(rows::counts)?;
    let mut text = String::new();
    let mut line = |name: &str, value: String| {
        let _ = writeln!(text, "{name}: {value}");
    };
    line("version", care.version);
    line("register", format!("version {}", care.register));
    line("writing", care.reading_only.map_or("yes".into(), |c| format!("no, {c:?}").to_lowercase()));
    line("system", format!("{} {}", std::env::consts::OS, std::env::consts::ARCH));
    line("sqlite", rusqlite::version().to_owned());
    line("acts", format!("{}, not understood {}", counts.acts, care.not_understood));
    line("logs", counts.logs.to_string());
    line("entries", counts.entries.to_string());
    line("photos", format!("{}, {} bytes", counts.photos, care.storage.photo_bytes));
    line("register bytes", care.storage.register_bytes.to_string());
    let ahead = care.devices.iter().filter(|d| d.ahead).count();
    line("devices", format!("{}, ahead {ahead}", care.devices.len()));
    line("unsent", care.unsent.map_or("no shared folder".into(), |n| n.to_string()));
    let last = care.backup.last.map_or("none".into(), |b| b.at);
    line("last good backup", format!("{last}{}", if care.backup.old { ", old" } else { "" }));
    line("snapshots", care.snapshots.len().to_string());
    match care.last_check {
        None => line("last check", "none".into()),
        Some(check) => line("last check", format!("{}, {}", check.at, kinds_of(&check.found))),
    }
    Ok(DetailsView { text })
}

/// How often each kind of trouble was found: `photo_missing 2, log 1`. The lines themselves stay here.
fn kinds_of(found: &[String]) -> String {
    let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
    for line in found {
        *kinds.entry(line.split([':', ' ']).next().unwrap_or_default()).or_default() += 1;
    }
    let told: Vec<String> = kinds.iter().map(|(kind, n)| format!("{kind} {n}")).collect();
    if told.is_empty() { "sound".to_owned() } else { told.join(", ") }
}

/// What is done by itself after a register was opened: a full check and, when one is due, a backup.
/// Returns the jobs' ids.
pub fn after_open(book: &Book) -> Vec<String> {
    let mut jobs = vec![book.check()];
    let due = book.read(|conn| {
        let folder = book.copies_folder(Place::Backups)?;
        // A backup in a folder that is no longer chosen is not one where the grower looks for it.
        let good = book.last_good(conn)?.filter(|g| g.folder == folder);
        let standing = rows::standing(conn, good.map(|g| (g.ms, g.n)))?;
        Ok(backup_due(standing, book.moment().ms))
    });
    if matches!(due, Ok(true)) && book.may_write().is_ok() {
        jobs.push(copies::start_backup(book));
    }
    jobs
}
