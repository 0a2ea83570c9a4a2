//! From a row of cells to what the grower says of a log or a picking, or all that is wrong with it.
//! Never the register: the logs a picking can belong to come in.
//! Invariant: a row is whole or refused, and a refusal names the row, the column and the text.

use super::rules::{Meaning, Reading};
use super::sheet::{Line, Sheet};
use super::{cells, names};
use crate::error::{Error, Result};
use crate::logs::rules::LogFields;
use crate::measure::{self, Rough};
use crate::pickings::rules::{By, Picked};
use chrono::NaiveDate;
use serde_json::{Map, Value, json};
use std::collections::HashMap;

/// Longest text of a cell that is shown with its refusal, characters.
const SHOWN: usize = 80;

/// A cell, or a whole row, that can't be taken in.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Refused {
    /// The row's number in a spreadsheet: headers are row 1.
    pub row: usize,
    /// The column, counted from 0; null: the row as a whole.
    pub column: Option<usize>,
    /// A fixed word for the reason.
    pub why: &'static str,
    /// Bounds and the like, for the sentence on screen.
    #[ts(type = "Record<string, any>")]
    pub detail: Map<String, Value>,
    /// What stands in the cell, its first letters.
    pub text: String,
}

/// A picking as it would be kept.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct PickingLine {
    /// The log's id.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// The day.
    pub day: NaiveDate,
    /// Weight, g.
    pub grams: Option<i64>,
    /// Number of caps.
    pub caps: Option<i64>,
    /// Share damaged, per cent.
    pub damaged_pct: Option<i64>,
    /// By what.
    pub by: Option<By>,
    /// Anything else.
    pub note: String,
}

/// A log that a picking can belong to.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// Its id.
    pub id: String,
    /// When it was laid.
    pub laid: Option<Rough>,
    /// Its watch has ended.
    pub ended: bool,
}

/// Logs by their tag.
pub type ByTag = HashMap<String, Vec<Known>>;

/// One row being read.
struct Cells<'a> {
    line: &'a Line,
    reading: &'a Reading,
    refused: Vec<Refused>,
}

impl<'a> Cells<'a> {
    fn new(sheet: &Sheet, line: &'a Line, reading: &'a Reading) -> Self {
        let mut cells = Self { line, reading, refused: Vec::new() };
        // A mark too many shifts all that stands behind it.
        let beyond = line.cells.iter().skip(sheet.headers.len()).find(|cell| !cell.is_empty());
        if let Some(text) = beyond {
            let detail = json!({"max": sheet.headers.len()});
            cells.refuse_at(None, text, Error::invalid_with("row", "too_many_cells", detail));
        }
        cells
    }

    fn column(&self, meaning: Meaning) -> Option<usize> {
        self.reading.columns.get(&meaning).copied()
    }

    /// What stands in the cell; empty and left out are the same.
    fn text(&self, meaning: Meaning) -> Option<&'a str> {
        let text = self.column(meaning).and_then(|at| self.line.cells.get(at))?;
        (!text.is_empty()).then_some(text.as_str())
    }

    fn name(&self, meaning: Meaning) -> Option<String> {
        self.text(meaning).map(str::to_owned)
    }

    fn read<T>(&mut self, meaning: Meaning, read: impl FnOnce(&str) -> Result<T>) -> Option<T> {
        let text = self.text(meaning)?;
        match read(text) {
            Ok(value) => Some(value),
            Err(error) => {
                self.refuse_at(self.column(meaning), text, error);
                None
            }
        }
    }

    fn refuse(&mut self, meaning: Meaning, error: Error) {
        self.refuse_at(self.column(meaning), self.text(meaning).unwrap_or_default(), error);
    }

    /// A rule's refusal names its field: the column is the one that was matched to it.
    fn refuse_by_field(&mut self, error: Error) {
        let meaning = match &error {
            Error::Invalid { field, .. } => Meaning::of_field(field),
            _ => None,
        };
        match meaning {
            Some(meaning) => self.refuse(meaning, error),
            None => self.refuse_at(None, "", error),
        }
    }

    fn refuse_at(&mut self, column: Option<usize>, text: &str, error: Error) {
        let (why, detail) = match error {
            Error::Invalid { why, detail, .. } => (why, detail),
            other => ("unknown_word", Map::from_iter([("word".to_owned(), json!(other.to_string()))])),
        };
        let text = text.chars().take(SHOWN).collect();
        self.refused.push(Refused { row: self.line.row, column, why, detail, text });
    }

    fn end<T>(mut self, value: Option<T>) -> std::result::Result<T, Vec<Refused>> {
        self.refused.sort_by_key(|refused| refused.column);
        match value {
            Some(value) if self.refused.is_empty() => Ok(value),
            _ => Err(self.refused),
        }
    }
}

/// A log out of a row.
///
/// # Errors
/// All that is wrong with the row.
pub fn log(
    sheet: &Sheet,
    line: &Line,
    reading: &Reading,
    today: NaiveDate,
    southern: bool,
) -> std::result::Result<LogFields, Vec<Refused>> {
    let mut cells = Cells::new(sheet, line, reading);
    let fields = log_fields(&mut cells);
    let checked = match fields.filter(|_| cells.refused.is_empty()).map(|f| f.checked(today, southern)) {
        Some(Ok(fields)) => Some(fields),
        Some(Err(error)) => {
            cells.refuse_by_field(error);
            None
        }
        None => None,
    };
    cells.end(checked)
}

fn log_fields(cells: &mut Cells<'_>) -> Option<LogFields> {
    let (unit, order) = (cells.reading.lengths, cells.reading.dates);
    let own_woods = &cells.reading.own_woods;
    let diameter =
        |text: &str| cells::length(text, unit).and_then(|mm| measure::DIAMETER_MM.check("cell", mm));
    let d_mm = [Meaning::D1, Meaning::D2, Meaning::D3].map(|d| cells.read(d, diameter));
    let length_mm = cells.read(Meaning::Length, |text| {
        cells::length(text, unit).and_then(|mm| measure::LENGTH_MM.check("cell", mm))
    });
    let felled = cells.read(Meaning::Felled, |text| cells::rough(text, order));
    // An empty cell says that the wood still waits; a sheet without such a column says nothing of it.
    let laid = match cells.column(Meaning::Laid) {
        Some(_) => cells.read(Meaning::Laid, |text| cells::rough(text, order)),
        None => Some(Rough::unknown()),
    };
    let said = cells.read(Meaning::Mushroom, names::mushroom);
    let silent = cells.text(Meaning::Mushroom).is_none();
    let mushroom = said.or(cells.reading.mushroom.filter(|_| silent));
    if mushroom.is_none() && silent {
        cells.refuse(Meaning::Mushroom, Error::invalid("cell", "empty"));
    }
    if cells.text(Meaning::Tag).is_none() {
        cells.refuse(Meaning::Tag, Error::invalid("cell", "empty"));
    }
    Some(LogFields {
        tag: cells.name(Meaning::Tag).unwrap_or_default(),
        wood: cells.read(Meaning::Wood, |text| names::wood(text, own_woods)),
        d_mm: d_mm.into_iter().flatten().collect(),
        length_mm,
        felled,
        strain: cells.name(Meaning::Strain),
        strain_class: cells.read(Meaning::StrainClass, names::class),
        spawn: cells.read(Meaning::Spawn, names::spawn),
        method: cells.read(Meaning::Method, names::method),
        laid,
        spot: cells.name(Meaning::Spot),
        batch: None,
        lot: None,
        note: cells.name(Meaning::Note).unwrap_or_default(),
        mushroom: mushroom?,
    })
}

/// A picking out of a row, on the one log that bears its tag.
///
/// # Errors
/// All that is wrong with the row.
pub fn picking(
    sheet: &Sheet,
    line: &Line,
    reading: &Reading,
    logs: &ByTag,
    today: NaiveDate,
    southern: bool,
) -> std::result::Result<PickingLine, Vec<Refused>> {
    let mut cells = Cells::new(sheet, line, reading);
    let tag = cells.name(Meaning::Tag).unwrap_or_default();
    let log = match one_of(logs, &tag) {
        Ok(log) => Some(log),
        Err(error) => {
            cells.refuse(Meaning::Tag, error);
            None
        }
    };
    let picked = picked(&mut cells);
    let line = match (log, picked.filter(|_| cells.refused.is_empty())) {
        (Some(log), Some(picked)) => match picked.checked(today, log.laid.as_ref(), southern) {
            Ok(picked) => Some(kept(log, tag, picked)),
            Err(error) => {
                cells.refuse_by_field(error);
                None
            }
        },
        _ => None,
    };
    cells.end(line)
}

fn picked(cells: &mut Cells<'_>) -> Option<Picked> {
    let (unit, order) = (cells.reading.weights, cells.reading.dates);
    if cells.text(Meaning::Day).is_none() {
        cells.refuse(Meaning::Day, Error::invalid("cell", "empty"));
    }
    let day = cells.read(Meaning::Day, |text| cells::day(text, order));
    let grams = cells.read(Meaning::Weight, |text| {
        cells::weight(text, unit).and_then(|g| measure::GRAMS.check("cell", g))
    });
    let caps =
        cells.read(Meaning::Caps, |text| cells::count(text).and_then(|n| measure::CAPS.check("cell", n)));
    let damaged_pct = cells.read(Meaning::DamagedPct, |text| {
        cells::count(text).and_then(|n| measure::DAMAGED_PCT.check("cell", n))
    });
    let by = cells.read(Meaning::By, names::by);
    let note = cells.name(Meaning::Note).unwrap_or_default();
    Some(Picked { day: day?, grams, caps, damaged_pct, by, note })
}

fn kept(log: &Known, tag: String, picked: Picked) -> PickingLine {
    let Picked { day, grams, caps, damaged_pct, by, note } = picked;
    PickingLine { log: log.id.clone(), tag, day, grams, caps, damaged_pct, by, note }
}

impl PickingLine {
    /// What the grower says of it, without whose it is.
    pub fn picked(&self) -> Picked {
        let Self { day, grams, caps, damaged_pct, by, .. } = *self;
        Picked { day, grams, caps, damaged_pct, by, note: self.note.clone() }
    }
}

/// The log that bears this tag: the live one, else one whose watch has ended.
fn one_of<'a>(logs: &'a ByTag, tag: &str) -> Result<&'a Known> {
    if tag.is_empty() {
        return Err(Error::invalid("cell", "empty"));
    }
    let all = logs.get(tag).map(Vec::as_slice).unwrap_or_default();
    let (live, ended): (Vec<&Known>, Vec<&Known>) = all.iter().partition(|log| !log.ended);
    match (live.as_slice(), ended.as_slice()) {
        ([one], _) | ([], [one]) => Ok(*one),
        ([], []) => Err(Error::invalid("cell", "no_log")),
        ([], several) | (several, _) => {
            Err(Error::invalid_with("cell", "several_logs", json!({"logs": several.len()})))
        }
    }
}
