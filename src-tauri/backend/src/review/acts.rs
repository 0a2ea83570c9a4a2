//! Commands of the review: comparisons, their rows as a table, the year, the season's report.
//! Never a sum: that is in rules.
//! Invariant: each reads one moment of the register and writes nothing.

use super::rows;
use super::rules::compare::compare;
use super::rules::life::Life;
use super::rules::pdf::Pdf;
use super::rules::priors;
use super::rules::published::{self, Published};
use super::rules::question::{GroupBy, Measure, Question};
use super::rules::reply::Compared;
use super::rules::sheet;
use super::rules::year::{YearOf, year_of};
use crate::book::Book;
use crate::error::{Error, Result};
use crate::settings::rows::{here, settings};
use crate::strains::rules::Mushroom;
use crate::where_from::{Mark, WhereFrom};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use ts_rs::TS;

/// Asks which did best.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ReviewAsk {
    /// The question.
    pub question: Question,
}

/// What the yard's logs can be asked by.
#[derive(Debug, Serialize, TS)]
pub struct ReviewChoices {
    /// Mushrooms that laid logs carry, the one on most logs first.
    pub mushrooms: Vec<Mushroom>,
    /// Spots.
    pub spots: Vec<String>,
    /// Years of laying.
    pub years: Vec<i32>,
}

/// A question with its answer.
#[derive(Debug, Serialize, TS)]
pub struct ReviewView {
    /// The local day.
    pub today: NaiveDate,
    /// What was asked.
    pub question: Question,
    /// What else can be asked.
    pub choices: ReviewChoices,
    /// The answer.
    #[serde(flatten)]
    #[ts(flatten)]
    pub compared: Compared,
    /// Published orderings of the same woods, never part of the figures.
    pub published: Vec<Published>,
    /// What was assumed beforehand.
    pub assumed: Vec<WhereFrom>,
}

/// `review_ask`
///
/// # Errors
/// The register's own.
pub fn review_ask(book: &Book, ask: ReviewAsk) -> Result<ReviewView> {
    let question = checked(ask.question)?;
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let lives = rows::lives(conn, here)?;
        let compared = compare(&question, &lives);
        let woods: Vec<&str> = compared.rows.iter().filter_map(|r| r.key.as_deref()).collect();
        let shiitake =
            question.by == GroupBy::Wood && question.mushroom.is_none_or(|m| m == Mushroom::Shiitake);
        Ok(ReviewView {
            today: here.today,
            choices: choices(&lives),
            published: if shiitake { published::shiitake(&woods) } else { Vec::new() },
            assumed: assumed(),
            compared,
            question,
        })
    })
}

fn checked(question: Question) -> Result<Question> {
    if let (Some(from), Some(to)) = (question.from, question.to)
        && from > to
    {
        return Err(Error::invalid_with("to", "order", serde_json::json!({"other": "from"})));
    }
    Ok(question)
}

fn choices(lives: &[Life]) -> ReviewChoices {
    let mut mushrooms: Vec<(usize, Mushroom)> = Mushroom::ALL
        .iter()
        .map(|m| (lives.iter().filter(|l| l.is_laid && l.mushroom == *m).count(), *m))
        .filter(|(n, _)| *n > 0)
        .collect();
    mushrooms.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
    let spots: BTreeSet<&String> = lives.iter().filter_map(|l| l.spot.as_ref()).collect();
    let years: BTreeSet<i32> = lives.iter().filter_map(Life::laid_year).collect();
    ReviewChoices {
        mushrooms: mushrooms.into_iter().map(|(_, m)| m).collect(),
        spots: spots.into_iter().cloned().collect(),
        years: years.into_iter().collect(),
    }
}

fn assumed() -> Vec<WhereFrom> {
    let line = |(how, value, mark, source): (&str, f64, Mark, &str)| {
        WhereFrom::new(&format!("prior_{how}"), mark, source).with("assumed", value)
    };
    priors::all().into_iter().map(line).collect()
}

/// Asks for the rows that an answer used.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct ReviewSheet {
    /// The question that was answered.
    pub question: Question,
}

/// A file to be handed out.
#[derive(Debug, Serialize, TS)]
pub struct FileView {
    /// Its name.
    pub name: String,
    /// Its bytes.
    pub base64: String,
}

/// `review_sheet`: one line a log, as CSV.
///
/// # Errors
/// The register's own.
pub fn review_sheet(book: &Book, ask: ReviewSheet) -> Result<FileView> {
    use base64::Engine as _;
    let question = checked(ask.question)?;
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let lives = rows::lives(conn, here)?;
        let compared = compare(&question, &lives);
        let text = sheet::sheet(&question, &lives, &compared);
        Ok(FileView {
            name: format!("review-{}-{}-{}.csv", question.by.word(), question.measure.word(), here.today),
            base64: base64::engine::general_purpose::STANDARD.encode(text),
        })
    })
}

/// Asks for a year's harvest and the season's report.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SeasonShow {
    /// The year; null: this one.
    #[ts(optional = nullable)]
    pub year: Option<i32>,
}

/// One mushroom's woods in the season's report.
#[derive(Debug, Serialize, TS)]
pub struct SeasonBest {
    /// The mushroom.
    pub mushroom: Mushroom,
    /// The woods of all its logs, grams for a log and year.
    pub woods: Compared,
}

/// A year's harvest and the season's report.
#[derive(Debug, Serialize, TS)]
pub struct SeasonView {
    /// The local day.
    pub today: NaiveDate,
    /// The yard's place, as the grower named it.
    pub place: String,
    /// The harvest.
    pub season: YearOf,
    /// What did best, by mushroom.
    pub best: Vec<SeasonBest>,
}

/// `season_show`
///
/// # Errors
/// The register's own.
pub fn season_show(book: &Book, ask: SeasonShow) -> Result<SeasonView> {
    use chrono::Datelike as _;
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let lives = rows::lives(conn, here)?;
        let year = ask.year.unwrap_or(here.today.year());
        let best = choices(&lives)
            .mushrooms
            .into_iter()
            .map(|mushroom| {
                let (by, measure) = (GroupBy::Wood, Measure::LogYear);
                let question =
                    Question { by, measure, mushroom: Some(mushroom), from: None, to: None, spot: None };
                SeasonBest { mushroom, woods: compare(&question, &lives) }
            })
            .collect();
        Ok(SeasonView {
            today: here.today,
            place: settings(conn)?.place,
            season: year_of(&lives, year, here.southern, rows::forecast_hits(conn, year)?),
            best,
        })
    })
}

/// One part of a document, from top to bottom; the screen brings the words.
#[derive(Debug, Deserialize, TS)]
#[serde(tag = "part", rename_all = "snake_case", deny_unknown_fields)]
pub enum PdfPart {
    /// A heading.
    Heading {
        /// Its words.
        words: String,
        /// Whether it is the document's own.
        first: bool,
    },
    /// A paragraph.
    Words {
        /// Its words.
        words: String,
    },
    /// A row of a table, its cells evenly spread.
    Row {
        /// The cells.
        cells: Vec<String>,
        /// Whether it is the head.
        head: bool,
    },
    /// A group's figure with its interval.
    Interval {
        /// The group.
        name: String,
        /// The figure.
        mean: f64,
        /// Its interval's lower end.
        low: f64,
        /// Its upper end.
        high: f64,
        /// Where the scale ends.
        end: f64,
    },
    /// Bars with a word under each.
    Bars {
        /// Words.
        words: Vec<String>,
        /// Heights.
        values: Vec<f64>,
    },
}

/// Asks for a document.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PdfMake {
    /// The file's name without its ending.
    pub name: String,
    /// What is in it.
    pub parts: Vec<PdfPart>,
}

/// Points between the margins.
const PDF_WIDE: f64 = 483.0;
/// The most parts of a document.
const PDF_PARTS: usize = 2000;

/// `pdf_make`
///
/// # Errors
/// `Invalid` when it is longer than any report.
pub fn pdf_make(_book: &Book, ask: PdfMake) -> Result<FileView> {
    use base64::Engine as _;
    if ask.parts.len() > PDF_PARTS {
        return Err(Error::invalid_with("parts", "too_long", serde_json::json!({"max": PDF_PARTS})));
    }
    let mut pdf = Pdf::default();
    for part in &ask.parts {
        match part {
            PdfPart::Heading { words, first } => pdf.text(words, if *first { 20.0 } else { 13.0 }, true),
            PdfPart::Words { words } => pdf.text(words, 10.5, false),
            PdfPart::Row { cells, head } => {
                let step = PDF_WIDE / cells.len().max(1) as f64;
                let cells: Vec<(f64, String)> =
                    cells.iter().enumerate().map(|(i, c)| (step * i as f64, c.clone())).collect();
                pdf.row(&cells, 9.5, *head);
            }
            PdfPart::Interval { name, mean, low, high, end } => {
                pdf.interval(name, (*mean, *low, *high), *end);
            }
            PdfPart::Bars { words, values } => {
                let bars: Vec<(String, f64)> = words.iter().cloned().zip(values.iter().copied()).collect();
                pdf.bars(&bars, 90.0);
            }
        }
    }
    let name = format!("{}.pdf", ask.name);
    Ok(FileView { name, base64: base64::engine::general_purpose::STANDARD.encode(pdf.bytes()) })
}
