//! Commands about tags: which logs there are, and the sheet to print.
//! Never changes a log: its tag is edited with the log.
//! Invariant: the sheet has a tag for every log that was asked for, in that order.

use super::pdf;
use super::rules::{BAR, Face, Paper};
use crate::book::Book;
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::settings::rows::here;
use base64::Engine;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// Most tags in one file.
const TAGS_MAX: usize = 600;

/// Asks which logs a tag can be printed for.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TagList {}

/// The logs a tag can be printed for.
#[derive(Debug, Serialize, TS)]
pub struct TagsView {
    /// The local day.
    pub today: NaiveDate,
    /// Logs that have not ended, by tag.
    pub logs: Vec<logs::LogRow>,
    /// Length of the check bar, mm.
    pub bar_mm: f32,
    /// The code's width, mm.
    pub code_mm: f64,
    /// Tags on one sheet.
    pub on_a_sheet: usize,
}

/// `tag_list`
///
/// # Errors
/// The register's own.
pub fn tag_list(book: &Book, _: TagList) -> Result<TagsView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let standing = |log: &logs::Log| log.ended.is_none();
        let logs = logs::all(conn, here)?.into_iter().filter(standing).map(|log| log.row).collect();
        Ok(TagsView {
            today: here.today,
            logs,
            bar_mm: BAR,
            code_mm: crate::photos::growth::CODE_MM,
            on_a_sheet: super::rules::GRID.iter().product(),
        })
    })
}

/// Asks for a sheet of tags.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct TagSheet {
    /// The logs, in the order of their tags on the sheet.
    pub logs: Vec<Id>,
    /// The paper.
    pub paper: Paper,
}

/// A sheet of tags.
#[derive(Debug, Serialize, TS)]
pub struct TagSheetFile {
    /// A name for the file.
    pub name: String,
    /// Its bytes: PDF.
    pub base64: String,
    /// How many sheets.
    pub sheets: usize,
    /// Tags whose letters can't be printed: they have a line to write on.
    pub by_hand: Vec<String>,
}

/// `tag_sheet`
///
/// # Errors
/// `Missing` when a log is not there, `Invalid` on `logs` when none or too many are asked for.
pub fn tag_sheet(book: &Book, ask: TagSheet) -> Result<TagSheetFile> {
    if ask.logs.is_empty() {
        return Err(Error::invalid("logs", "empty"));
    }
    if ask.logs.len() > TAGS_MAX {
        return Err(Error::invalid_with("logs", "too_long", json!({"max": TAGS_MAX})));
    }
    book.read(|conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let faces = ask
            .logs
            .iter()
            .map(|id| Ok(face(logs::one(conn, id.as_str(), here)?.row)))
            .collect::<Result<Vec<_>>>()?;
        let by_hand = faces.iter().map(|f| f.tag.clone()).filter(|tag| !pdf::has_letters(tag)).collect();
        let bytes = pdf::sheets(&faces, ask.paper);
        Ok(TagSheetFile {
            name: format!("tags-{}.pdf", moment.day()),
            base64: base64::engine::general_purpose::STANDARD.encode(bytes),
            sheets: faces.len().div_ceil(super::rules::GRID.iter().product()),
            by_hand,
        })
    })
}

fn face(row: logs::LogRow) -> Face {
    let parts =
        [row.wood_name, row.strain, row.laid.map(|laid| laid.as_str().to_owned()).filter(|l| l != "XXXX")];
    let small = parts.into_iter().flatten().collect::<Vec<_>>().join(", ");
    Face { tag: row.tag, id: row.id, small }
}
