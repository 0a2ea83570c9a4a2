//! Whose photo it is: found by the tag in it, tied to a log, or loose until it is.
//! Never keeps a photo's bytes, and never ties one without being told to.
//! Invariant: one photo is tied to one log at most once.

use super::super::find::{self, Code};
use super::super::growth::CODE_MM;
use super::super::rows::{self, Loose, Offered, Pinned, Tie};
use super::super::rules;
use super::about;
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Most photos tied in one act.
const TOGETHER: usize = 50;
/// How long back the sheet of what pinned goes, days.
const WEEK: u64 = 7;

/// Asks whose photo it is.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoFind {
    /// Its hash.
    pub hash: String,
}

/// Whose photo it may be.
#[derive(Debug, Serialize, TS)]
pub struct PhotoFound {
    /// Its hash.
    pub hash: String,
    /// Logs whose tags are in it, the largest tag first.
    pub logs: Vec<Offered>,
    /// Tags in it that name no log of this register.
    pub strangers: usize,
    /// The log that was last written about.
    pub last: Option<Offered>,
    /// Logs that it is tied to already.
    pub tied: Vec<Offered>,
    /// It lies among the loose photos.
    pub loose: bool,
    /// Why it could not be looked at: `heic` or `too_much_memory`.
    pub unseen: Option<String>,
}

/// `photo_find`
///
/// # Errors
/// `Missing` when it is not here, `Damaged` when its file is not what its name says.
pub fn photo_find(book: &Book, ask: PhotoFind) -> Result<PhotoFound> {
    let (codes, unseen) = match codes(book, &ask.hash) {
        Ok(codes) => (codes, None),
        Err(Error::Invalid { why: why @ ("heic" | "too_much_memory"), .. }) => {
            (Vec::new(), Some(why.to_owned()))
        }
        Err(error) => return Err(error),
    };
    book.read(|conn| {
        let (mut found, mut strangers) = (Vec::new(), 0);
        for id in codes.iter().filter_map(|code| code_id(&code.text)) {
            match rows::offered(conn, id.as_str())? {
                Some(log) => found.push(log),
                None => strangers += 1,
            }
        }
        let ties = rows::ties(conn, &ask.hash)?;
        let mut tied = Vec::new();
        for log in ties.iter().filter_map(|tie| tie.log.as_deref()) {
            tied.extend(rows::offered(conn, log)?);
        }
        tied.dedup();
        Ok(PhotoFound {
            hash: ask.hash.clone(),
            logs: found,
            strangers,
            last: rows::last_log(conn)?,
            loose: ties.iter().any(|tie| tie.log.is_none()),
            tied,
            unseen: unseen.clone(),
        })
    })
}

/// What a tag's code says: the log's id, its 32 digits.
pub(super) fn code_id(text: &str) -> Option<Id> {
    let plain = text.len() == 32 && text.bytes().all(|b| b.is_ascii_hexdigit());
    plain.then(|| Id::try_from(text.to_owned()).ok()).flatten()
}

/// A code as it is kept beside the photo: what it says, its plane, how far off, of how many edges, modules.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(super) struct Kept {
    pub text: String,
    pub corners: [[f64; 2]; 4],
    pub fit: Option<([f64; 9], f64, usize)>,
    pub modules: usize,
}

/// The codes in a photo, looked for once and kept beside its previews.
///
/// # Errors
/// `Missing`, `Damaged`, or why the photo can't be looked at.
pub(super) fn codes(book: &Book, hash: &str) -> Result<Vec<Kept>> {
    let kept = book.made_from(hash, "codes", |bytes| {
        let picture = rules::brightness(bytes)?;
        let about = rules::look_over(bytes)?;
        // Corners are kept in pixels of the whole photo.
        let scale = f64::from(about.width) / f64::from(picture.width().max(1));
        let codes: Vec<Kept> = find::codes(&picture).into_iter().map(|code| enlarged(code, scale)).collect();
        Ok(serde_json::to_vec(&codes)?)
    })?;
    Ok(serde_json::from_slice(&kept)?)
}

fn enlarged(code: Code, scale: f64) -> Kept {
    let fit = code.fitted.map(|f| {
        let mut plane = f.plane.0;
        plane[..6].iter_mut().for_each(|m| *m *= scale);
        (plane, f.off, f.edges)
    });
    let corners = code.corners.map(|corner| corner.map(|side| side * scale));
    Kept { text: code.text, corners, fit, modules: code.modules }
}

/// The printed code's width, mm: what the forms say about the tag.
pub(super) const fn code_mm() -> f64 {
    CODE_MM
}

/// One photo and whose it is.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Taken {
    /// Its hash.
    pub hash: String,
    /// The log; null: to the loose photos.
    pub log: Option<Id>,
}

/// Puts photos into the record: to logs, or among the loose ones.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoAdd {
    /// The photos, kept before.
    pub photos: Vec<Taken>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `photo_add`: what is tied to that log already, or loose already, stays as it is.
///
/// # Errors
/// `Missing`, or `Invalid` on `photos`.
pub fn photo_add(book: &Book, ask: PhotoAdd) -> Result<Done> {
    let intent = Intent { name: "photo_add", request: &ask.request, draft: None };
    if ask.photos.is_empty() || ask.photos.len() > TOGETHER {
        return Err(Error::invalid_with("photos", "too_long", json!({"max": TOGETHER})));
    }
    let known = ask.photos.iter().map(|p| Ok((p, about(book, &p.hash)?))).collect::<Result<Vec<_>>>()?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let (mut changes, mut tied, mut loose, mut last) = (Vec::new(), 0, 0, String::new());
        for (photo, about) in &known {
            let log = photo.log.as_ref().map(Id::as_str);
            if let Some(log) = log {
                last = logs::tag(conn, log)?;
            }
            let ties = rows::ties(conn, &photo.hash)?;
            if ties.iter().any(|tie| tie.log.as_deref() == log) || (log.is_none() && !ties.is_empty()) {
                continue;
            }
            // A loose one finds its log.
            let before = ties.iter().find(|tie| tie.log.is_none());
            changes.extend(before.map(|tie| Change::void(&tie.entry)));
            let row = json!({"log": log, "day": day_of(about.taken.as_deref(), moment.day()), "at": moment.ms,
                "zone": moment.zone(), "hash": photo.hash, "of": null, "width": about.width, "height": about.height,
                "mime": about.mime, "taken": about.taken, "replaces": before.map(|tie| &tie.entry)});
            changes.push(Change::put("photo", &book.new_id(), row));
            if log.is_some() { tied += 1 } else { loose += 1 }
        }
        Ok(Plan::new(changes, json!({"photos": known.len(), "tied": tied, "loose": loose, "tag": last})))
    })
}

/// The day a photo shows: the camera's, unless its clock is ahead.
fn day_of(taken: Option<&str>, today: NaiveDate) -> NaiveDate {
    let day = taken.and_then(|t| t.get(..10)).and_then(|t| t.parse::<NaiveDate>().ok());
    day.filter(|day| *day <= today && chrono::Datelike::year(day) >= 1990).unwrap_or(today)
}

/// Says whose a photo is that is in the record already.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PhotoTie {
    /// The entry that ties it now.
    pub entry: Id,
    /// The log; null: to the loose photos.
    pub log: Option<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `photo_tie`: the old tie is replaced, and stays in the book.
///
/// # Errors
/// `Missing` when there is no such photo or log.
pub fn photo_tie(book: &Book, ask: PhotoTie) -> Result<Done> {
    let intent = Intent { name: "photo_tie", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let tie = rows::tie_of(conn, ask.entry.as_str())?.ok_or(Error::Missing { what: "photo" })?;
        let tag = ask.log.as_ref().map(|log| logs::tag(conn, log.as_str())).transpose()?;
        let mut changes = vec![Change::void(&tie.entry)];
        let twin = rows::ties(conn, &tie.hash)?;
        let log = ask.log.as_ref().map(Id::as_str);
        if !twin.iter().any(|other| other.entry != tie.entry && other.log.as_deref() == log) {
            changes.push(again(book, &tie, log));
        }
        Ok(Plan::new(changes, json!({"tag": tag, "log": ask.log, "photos": 1})))
    })
}

/// The same photo, tied to another log.
fn again(book: &Book, tie: &Tie, log: Option<&str>) -> Change {
    let row = json!({"log": log, "day": tie.day, "at": tie.at, "zone": tie.zone, "hash": tie.hash, "of": null,
        "width": tie.width, "height": tie.height, "mime": tie.mime, "taken": tie.taken, "replaces": tie.entry});
    Change::put("photo", &book.new_id(), row)
}

/// Asks for the loose photos.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LooseList {}

/// The loose photos, and the logs they may be tied to.
#[derive(Debug, Serialize, TS)]
pub struct LooseView {
    /// The local day.
    pub today: NaiveDate,
    /// Photos that belong to no log, newest first.
    pub loose: Vec<Loose>,
    /// All logs, by tag.
    pub logs: Vec<Offered>,
    /// Largest photo, bytes: asked before it is read.
    pub max_bytes: usize,
    /// Most photos that go into one act.
    pub together: usize,
}

/// `loose_list`
///
/// # Errors
/// The register's own.
pub fn loose_list(book: &Book, _: LooseList) -> Result<LooseView> {
    book.read(|conn| {
        let here = crate::settings::rows::here(conn, book.moment())?;
        let offered = |log: logs::Log| Offered { log: log.row.id, tag: log.row.tag };
        Ok(LooseView {
            today: here.today,
            loose: rows::loose(conn)?,
            logs: logs::all(conn, here)?.into_iter().map(offered).collect(),
            max_bytes: rules::MAX_BYTES,
            together: TOGETHER,
        })
    })
}

/// Asks what pinned in the last seven days.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PinnedWeek {}

/// What pinned in the last seven days.
#[derive(Debug, Serialize, TS)]
pub struct PinnedView {
    /// The local day.
    pub today: NaiveDate,
    /// The first of the days.
    pub from: NaiveDate,
    /// The logs, by the day pins were seen.
    pub pinned: Vec<Pinned>,
}

/// `pinned_week`
///
/// # Errors
/// The register's own.
pub fn pinned_week(book: &Book, _: PinnedWeek) -> Result<PinnedView> {
    book.read(|conn| {
        let today = book.moment().day();
        let from = today - Days::new(WEEK - 1);
        Ok(PinnedView { today, from, pinned: rows::pinned(conn, from)? })
    })
}
