//! A lost tag: which logs the one in hand can be, and giving it a tag again.
//! Never decides which it is: the grower does, by the pictures.
//! Invariant: what nobody wrote down of a log never keeps it off the list.

use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::lost::{self, Fit, Known, Seen};
use crate::logs::rows::{self, LogRow};
use crate::logs::rules::next_tag;
use crate::measure::{self, DIAMETER_MM};
use crate::photos::rows as photos;
use crate::settings::rows::here;
use crate::spots::rows as spots;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use ts_rs::TS;

/// Candidates on one screen.
const CANDIDATES_MAX: usize = 30;
/// Photos of each.
const PHOTOS_MAX: usize = 4;

/// Asks which logs the one in hand can be.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LostTagFind {
    /// Where it lies: a spot's id.
    #[ts(optional = nullable)]
    pub spot: Option<String>,
    /// Its wood's id.
    #[ts(optional = nullable)]
    pub wood: Option<String>,
    /// Its thickness, mm.
    #[ts(optional = nullable)]
    pub thick_mm: Option<i64>,
}

/// A log that it can be.
#[derive(Debug, Serialize, TS)]
pub struct Candidate {
    /// The log.
    pub row: LogRow,
    /// How it fits.
    pub fit: Fit,
    /// Its newest photos.
    pub photos: Vec<photos::PhotoRow>,
}

/// Which logs the one in hand can be.
#[derive(Debug, Serialize, TS)]
pub struct LostTagView {
    /// The local day.
    pub today: NaiveDate,
    /// A tag that is free.
    pub next_tag: String,
    /// Spots in walking order.
    pub spots: Vec<spots::SpotRow>,
    /// Woods that logs of this yard are of.
    pub woods: Vec<super::Choice>,
    /// How far a measure may differ from the one written down, mm.
    pub tolerance_mm: i64,
    /// How many live logs it can be.
    pub found: usize,
    /// The first of them, those that fit best first.
    pub candidates: Vec<Candidate>,
}

/// `lost_tag_find`
///
/// # Errors
/// `Invalid` on `thick_mm`.
pub fn lost_tag_find(book: &Book, ask: LostTagFind) -> Result<LostTagView> {
    ask.thick_mm.map(|mm| DIAMETER_MM.check("thick_mm", mm)).transpose()?;
    let seen = Seen { spot: ask.spot, wood: ask.wood, thick_mm: ask.thick_mm };
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let all = rows::all(conn, here)?;
        let next_tag = next_tag(all.iter().map(|log| log.row.tag.as_str()));
        let woods = woods_of(all.iter().map(|log| &log.row));
        let mut fitting: Vec<(Fit, LogRow)> = all
            .into_iter()
            .filter(|log| log.ended.is_none())
            .filter_map(|log| {
                let row = &log.row;
                let known =
                    Known { spot: row.spot_id.as_deref(), wood: row.wood.as_deref(), d_mm: &row.d_mm };
                lost::fit(&seen, &known).map(|fit| (fit, log.row))
            })
            .collect();
        fitting.sort_by_key(|(fit, _)| fit.order());
        let found = fitting.len();
        fitting.truncate(CANDIDATES_MAX);
        let candidates = fitting
            .into_iter()
            .map(|(fit, row)| {
                let photos = photos::newest_of_log(conn, &row.id, PHOTOS_MAX)?;
                Ok(Candidate { row, fit, photos })
            })
            .collect::<Result<_>>()?;
        let spots = spots::all(conn)?;
        let tolerance_mm = lost::TOLERANCE_MM;
        Ok(LostTagView { today: here.today, next_tag, spots, woods, tolerance_mm, found, candidates })
    })
}

fn woods_of<'a>(rows: impl Iterator<Item = &'a LogRow>) -> Vec<super::Choice> {
    let mut found: Vec<super::Choice> = Vec::new();
    for row in rows {
        let Some(id) = &row.wood else { continue };
        match found.iter_mut().find(|choice| &choice.value == id) {
            Some(choice) => choice.logs += 1,
            None => {
                let name = row.wood_name.clone().unwrap_or_else(|| id.clone());
                found.push(super::Choice { value: id.clone(), name, logs: 1 });
            }
        }
    }
    found.sort_by(|a, b| measure::natural_order(&a.name, &b.name));
    found
}

/// Gives a log a tag again.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogRetag {
    /// The log.
    pub log: Id,
    /// What stands on its new label.
    pub tag: String,
    /// Makes a double tap one act.
    pub request: String,
}

/// `log_retag`
///
/// # Errors
/// `Missing`, `Invalid` on `tag`, or `Conflict` when it carries this tag already.
pub fn log_retag(book: &Book, ask: LogRetag) -> Result<Done> {
    let intent = Intent { name: "log_retag", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let id = ask.log.as_str();
        let before = rows::tag(conn, id)?;
        let tag = measure::text_within("tag", &ask.tag, measure::TAG_CHARS)?;
        if tag.is_empty() {
            return Err(Error::invalid("tag", "empty"));
        }
        if tag == before {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        let same_tag = rows::same_tag(conn, &tag, id)?.len();
        let said = json!({"log": id, "tag": tag, "before": before, "same_tag": same_tag});
        Ok(Plan::new(vec![Change::set("log", id, "tag", tag)], said))
    })
}
