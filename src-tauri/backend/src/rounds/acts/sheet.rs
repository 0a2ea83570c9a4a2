//! Commands about the printed round sheet: what stands on it, and what was written on it with a pencil.
//! Never a check while walking.
//! Invariant: a sheet is typed in as one act, and each of its checks says that it was entered afterwards.

use super::super::rows::{self, walk};
use super::super::rules::{Damage, How, RoundKind};
use super::{Finding, check};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::measure;
use crate::settings::rows::here;
use crate::sun::rules::evening_of;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Asks for a blank sheet.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SheetShow {}

/// A sheet, in walking order.
#[derive(Debug, Serialize, TS)]
pub struct SheetView {
    /// The local day.
    pub today: NaiveDate,
    /// The evening that runs, or ran last.
    pub evening: NaiveDate,
    /// Its logs.
    pub stops: Vec<walk::Stop>,
}

/// `sheet_show`
///
/// # Errors
/// The register's own.
pub fn sheet_show(book: &Book, _: SheetShow) -> Result<SheetView> {
    let moment = book.moment();
    let evening = evening_of(moment.local().naive_local());
    book.read(|conn| {
        let here = here(conn, moment)?;
        Ok(SheetView { today: here.today, evening, stops: walk::blank(conn, evening, moment, here)? })
    })
}

/// One line of a sheet.
#[derive(Debug, Clone, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SheetLine {
    /// The log.
    pub log: Id,
    /// Seen, clean or skipped.
    pub how: How,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Damage seen.
    pub damage: Damage,
}

/// Types a sheet in.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundSheet {
    /// The evening it was walked on.
    pub day: NaiveDate,
    /// The logs that were looked at; others were not reached.
    pub lines: Vec<SheetLine>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `round_sheet`: a round, its checks and its end.
///
/// # Errors
/// `Missing`, or `Invalid`, naming the field.
pub fn round_sheet(book: &Book, ask: RoundSheet) -> Result<Done> {
    let intent = Intent { name: "round_sheet", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        if ask.day > here.today {
            return Err(Error::invalid("day", "future"));
        }
        if ask.lines.is_empty() {
            return Err(Error::invalid("lines", "empty"));
        }
        let id = book.new_id();
        let set = |name, value: Value| Change::set("round", id.as_str(), name, value);
        let blank = walk::blank(conn, ask.day, moment, here)?;
        let left = blank.iter().filter(|s| ask.lines.iter().all(|l| l.log.as_str() != s.log.id)).count();
        let mut changes = vec![
            set("kind", json!(RoundKind::Night)),
            set("day", json!(ask.day)),
            set("started", json!(moment.ms)),
            set("zone", json!(moment.zone())),
            set("later", json!(1)),
        ];
        let round = rows::typed_in(id.as_str(), ask.day, moment);
        let mut slugs = 0;
        for (n, line) in ask.lines.iter().enumerate() {
            logs::tag(conn, line.log.as_str())?;
            if ask.lines.iter().take(n).any(|other| other.log == line.log) {
                return Err(Error::invalid_with("lines", "unknown_word", json!({"word": "twice"})));
            }
            let found = measure::SLUGS.check("slugs", line.slugs)?;
            if line.how == How::Skipped && (found > 0 || line.damage != Damage::None) {
                return Err(Error::invalid_with("how", "unknown_word", json!({"word": "skipped"})));
            }
            slugs += found;
            changes.push(check(
                book,
                &round,
                line.log.as_str(),
                &Finding::plain(line.how, found, line.damage),
                None,
            ));
        }
        changes.push(set("ended", json!(moment.ms)));
        changes.push(set("left", json!(left)));
        let said = json!({"round": id, "day": ask.day, "logs": ask.lines.len(), "slugs": slugs});
        Ok(Plan::new(changes, said))
    })
}
