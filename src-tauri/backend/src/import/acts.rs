//! Commands that take a spreadsheet in: look at it, try it, take it.
//! Never a cell's meaning: rules, cells and lines have that.
//! Invariant: all rows or none, in one act; a try writes nothing and finds what the taking would.

use super::lines::{self, PickingLine, Refused};
use super::rows;
use super::rules::{Columns, DateOrder, LengthUnit, Reading, WeightUnit, What, guess};
use super::sheet::{self, Delimiter, Letters, Line, Sheet};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::logs::naming::Naming;
use crate::logs::rows::Here;
use crate::logs::rules::LogFields;
use crate::settings::rows::here;
use crate::strains::rules::Mushroom;
use crate::woods::rows as woods;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::HashSet;
use ts_rs::TS;

/// Rows shown of a sheet.
const SAMPLE: usize = 5;

/// Asks what a file holds. The text comes as it is, or the file's bytes in base64: only then can
/// its letters be told.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CsvLook {
    /// The file's text.
    #[ts(optional = nullable)]
    pub text: Option<String>,
    /// The file's bytes, base64.
    #[ts(optional = nullable)]
    pub base64: Option<String>,
    /// What parts its cells; null: to be guessed.
    #[ts(optional = nullable)]
    pub delimiter: Option<Delimiter>,
}

/// What a file holds.
#[derive(Debug, Serialize, TS)]
pub struct CsvView {
    /// How its letters are spelled.
    pub letters: Letters,
    /// What parts its cells.
    pub delimiter: Delimiter,
    /// Its first row.
    pub headers: Vec<String>,
    /// The first rows below.
    pub sample: Vec<Vec<String>>,
    /// How many rows there are below.
    pub rows: usize,
    /// What the headers seem to say.
    pub guess: Columns,
}

/// `csv_look`
///
/// # Errors
/// `Invalid` on `text`.
pub fn csv_look(_: &Book, ask: CsvLook) -> Result<CsvView> {
    let sheet = opened(ask.text.as_deref(), ask.base64.as_deref(), ask.delimiter)?;
    let sample = sheet.lines.iter().take(SAMPLE).map(|line| line.cells.clone()).collect();
    let (guess, rows) = (guess(&sheet.headers), sheet.lines.len());
    Ok(CsvView {
        letters: sheet.letters,
        delimiter: sheet.delimiter,
        headers: sheet.headers,
        sample,
        rows,
        guess,
    })
}

fn opened(text: Option<&str>, base64: Option<&str>, delimiter: Option<Delimiter>) -> Result<Sheet> {
    let (text, letters) = sheet::text(text, base64)?;
    sheet::read(&text, letters, delimiter)
}

/// Tries a file without writing.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CsvTry {
    /// The file's text.
    #[ts(optional = nullable)]
    pub text: Option<String>,
    /// The file's bytes, base64.
    #[ts(optional = nullable)]
    pub base64: Option<String>,
    /// What parts its cells; null: to be guessed.
    #[ts(optional = nullable)]
    pub delimiter: Option<Delimiter>,
    /// What a row is.
    pub what: What,
    /// Which column says what, counted from 0.
    pub columns: Columns,
    /// The order of a day's parts.
    pub dates: DateOrder,
    /// What lengths are written in.
    pub lengths: LengthUnit,
    /// What weights are written in.
    pub weights: WeightUnit,
    /// What logs carry where no cell says it.
    #[ts(optional = nullable)]
    pub mushroom: Option<Mushroom>,
}

/// A row as it would be kept.
#[derive(Debug, Serialize, TS)]
#[serde(untagged)]
pub enum Sample {
    /// A log.
    Log(Box<LogFields>),
    /// A picking.
    Picking(PickingLine),
}

/// What would come of it.
#[derive(Debug, Serialize, TS)]
pub struct CsvTried {
    /// Rows that can be taken in.
    pub good: usize,
    /// Rows that can't.
    pub bad: usize,
    /// Everything that is wrong with those.
    pub refused: Vec<Refused>,
    /// Logs whose tag another live log bears, or one further up: a warning, no refusal.
    pub same_tag: usize,
    /// The first good rows as they would be kept.
    pub sample: Vec<Sample>,
}

/// `csv_try`
///
/// # Errors
/// `Invalid` on `text` or `columns`; a refused row is no error here.
pub fn csv_try(book: &Book, ask: CsvTry) -> Result<CsvTried> {
    let (sheet, reading) = read(ask)?;
    book.read(|conn| {
        let found = Found::in_sheet(conn, here(conn, book.moment())?, &sheet, &reading)?;
        let logs = found.logs.iter().map(|log| Sample::Log(Box::new(log.clone())));
        let pickings = found.pickings.iter().map(|picking| Sample::Picking(picking.clone()));
        Ok(CsvTried {
            good: found.good(),
            bad: sheet.lines.len() - found.good(),
            same_tag: found.same_tag,
            sample: logs.chain(pickings).take(SAMPLE).collect(),
            refused: found.refused,
        })
    })
}

fn read(ask: CsvTry) -> Result<(Sheet, Reading)> {
    let sheet = opened(ask.text.as_deref(), ask.base64.as_deref(), ask.delimiter)?;
    let CsvTry { what, columns, dates, lengths, weights, mushroom, .. } = ask;
    let own_woods = Vec::new();
    let reading = Reading { what, columns, dates, lengths, weights, mushroom, own_woods };
    reading.check(sheet.headers.len())?;
    Ok((sheet, reading))
}

/// What a sheet's rows come to.
#[derive(Default)]
struct Found {
    logs: Vec<LogFields>,
    pickings: Vec<PickingLine>,
    refused: Vec<Refused>,
    same_tag: usize,
}

impl Found {
    fn in_sheet(conn: &Connection, here: Here, sheet: &Sheet, reading: &Reading) -> Result<Self> {
        let reading = &Reading { own_woods: woods::own_names(conn)?, ..reading.clone() };
        let known = rows::by_tag(conn, here)?;
        let mut found = Self::default();
        let (today, southern) = (here.today, here.southern);
        let lines = sheet.lines.iter();
        match reading.what {
            What::Logs => {
                found.logs = found.good_of(lines, |line| lines::log(sheet, line, reading, today, southern));
                let live = known.into_iter().filter(|(_, logs)| logs.iter().any(|log| !log.ended));
                let mut tags: HashSet<String> = live.map(|(tag, _)| tag).collect();
                let again = |log: &&LogFields| !tags.insert(log.tag.clone());
                found.same_tag = found.logs.iter().filter(again).count();
            }
            What::Pickings => {
                found.pickings = found
                    .good_of(lines, |line| lines::picking(sheet, line, reading, &known, today, southern));
            }
        }
        Ok(found)
    }

    fn good_of<'a, T>(
        &mut self,
        lines: impl Iterator<Item = &'a Line>,
        read: impl Fn(&Line) -> std::result::Result<T, Vec<Refused>>,
    ) -> Vec<T> {
        let refused = &mut self.refused;
        lines.filter_map(|line| read(line).map_err(|why| refused.extend(why)).ok()).collect()
    }

    fn good(&self) -> usize {
        self.logs.len() + self.pickings.len()
    }
}

/// Takes a file in.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CsvTake {
    /// The file's text.
    #[ts(optional = nullable)]
    pub text: Option<String>,
    /// The file's bytes, base64.
    #[ts(optional = nullable)]
    pub base64: Option<String>,
    /// What parts its cells; null: to be guessed.
    #[ts(optional = nullable)]
    pub delimiter: Option<Delimiter>,
    /// What a row is.
    pub what: What,
    /// Which column says what, counted from 0.
    pub columns: Columns,
    /// The order of a day's parts.
    pub dates: DateOrder,
    /// What lengths are written in.
    pub lengths: LengthUnit,
    /// What weights are written in.
    pub weights: WeightUnit,
    /// What logs carry where no cell says it.
    #[ts(optional = nullable)]
    pub mushroom: Option<Mushroom>,
    /// Makes a double tap one act.
    pub request: String,
}

impl CsvTake {
    fn parts(self) -> (CsvTry, String) {
        let Self { text, base64, delimiter, what, columns, dates, lengths, weights, mushroom, request } =
            self;
        (CsvTry { text, base64, delimiter, what, columns, dates, lengths, weights, mushroom }, request)
    }
}

/// `csv_take`
///
/// # Errors
/// `Invalid` on `text` or `columns`; on `text` with why `rows_refused` when any row is. Then nothing
/// was written.
pub fn csv_take(book: &Book, ask: CsvTake) -> Result<Done> {
    let (ask, request) = ask.parts();
    let (sheet, reading) = read(ask)?;
    let intent = Intent { name: "csv_take", request: &request, draft: None };
    book.act(intent, |conn| {
        let found = Found::in_sheet(conn, here(conn, book.moment())?, &sheet, &reading)?;
        if let Some(first) = found.refused.first() {
            let detail = json!({"bad": sheet.lines.len() - found.good(), "first": first});
            return Err(Error::invalid_with("text", "rows_refused", detail));
        }
        let said = json!({"what": reading.what, "n": found.good(), "same_tag": found.same_tag});
        let mut changes = logs(book, conn, &found.logs)?;
        changes.extend(
            found.pickings.iter().map(|line| {
                Change::put("picking", &book.new_id(), line.picked().row(&line.log, book.moment()))
            }),
        );
        Ok(Plan::new(changes, said))
    })
}

fn logs(book: &Book, conn: &Connection, logs: &[LogFields]) -> Result<Vec<Change>> {
    let new_id = || book.new_id();
    let mut naming = Naming::new(conn, &new_id);
    let mut changes = Vec::new();
    for fields in logs {
        let id = book.new_id();
        let columns = naming.columns(fields)?;
        changes.extend(columns.into_iter().map(|(name, value)| Change::set("log", id.as_str(), name, value)));
    }
    // Strains and spots first: a log names them.
    Ok(naming.changes.into_iter().chain(changes).collect())
}
