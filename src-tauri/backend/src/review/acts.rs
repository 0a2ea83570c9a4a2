//! Commands of the review: comparisons, their rows as a table, the year, the season's report.
//! Never a sum: that is in rules.
//! Invariant: each reads one moment of the register and writes nothing.

mod paper;
mod season;

pub use paper::{PdfMake, PdfPart, pdf_make};
pub use season::{SeasonBest, SeasonLog, SeasonShow, SeasonView, season_show};

use super::rows;
use super::rules::compare::compare;
use super::rules::life::Life;
use super::rules::priors;
use super::rules::published::{self, Published};
use super::rules::question::{GroupBy, Question};
use super::rules::reply::Compared;
use super::rules::sheet;
use crate::book::{Book, Kept};
use crate::error::{Error, Result};
use crate::logs::rows::Here;
use crate::settings::rows::here;
use crate::strains::rules::Mushroom;
use crate::where_from::{Mark, WhereFrom};
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;
use std::sync::Arc;
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
    book.read_keeping(|conn, kept| {
        let here = here(conn, book.moment())?;
        let lives = lives(conn, here, kept)?;
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

/// The yard's logs: several questions are asked of one state of them.
fn lives(conn: &Connection, here: Here, kept: &mut Kept) -> Result<Arc<Vec<Life>>> {
    kept.get(conn, (here.today, here.southern), || rows::lives(conn, here))
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
    book.read_keeping(|conn, kept| {
        let here = here(conn, book.moment())?;
        let lives = lives(conn, here, kept)?;
        let compared = compare(&question, &lives);
        let text = sheet::sheet(&question, &lives, &compared);
        Ok(FileView {
            name: format!("review-{}-{}-{}.csv", question.by.word(), question.measure.word(), here.today),
            base64: base64::engine::general_purpose::STANDARD.encode(text),
        })
    })
}
