//! A document from the parts that a screen brings, as PDF.
//! Never a word or a figure of its own.
//! Invariant: a photo that cannot be had leaves its place empty, and the document is made all the same.

use super::FileView;
use crate::book::Book;
use crate::error::{Error, Result};
use crate::logs::endgrain::{Shape, draw};
use crate::logs::rows as logs;
use crate::photos::rules as photos;
use crate::review::rules::pdf::{Card, Pdf, Picture};
use crate::review::rules::shapes::Drawing;
use crate::settings::rows::here;
use serde::Deserialize;
use ts_rs::TS;

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
    /// Logs side by side: the end grain, a photo where there is one, and words under each.
    Logs {
        /// The logs, at most three.
        logs: Vec<PdfLog>,
    },
    /// Bars with a word under each.
    Bars {
        /// Words.
        words: Vec<String>,
        /// Heights.
        values: Vec<f64>,
    },
}

/// A log in a document.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PdfLog {
    /// The log.
    pub log: String,
    /// The hash of its photo; null: none.
    #[ts(optional = nullable)]
    pub photo: Option<String>,
    /// Words, a line each.
    pub words: Vec<String>,
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
const WIDE: f64 = 483.0;
/// The most parts of a document.
const PARTS: usize = 2000;

/// `pdf_make`
///
/// # Errors
/// `Invalid` when it is longer than any report; `Missing` when it shows a log that is not there.
pub fn pdf_make(book: &Book, ask: PdfMake) -> Result<FileView> {
    use base64::Engine as _;
    if ask.parts.len() > PARTS {
        return Err(Error::invalid_with("parts", "too_long", serde_json::json!({"max": PARTS})));
    }
    let mut pdf = Pdf::default();
    for part in &ask.parts {
        put(book, &mut pdf, part)?;
    }
    let name = format!("{}.pdf", ask.name);
    Ok(FileView { name, base64: base64::engine::general_purpose::STANDARD.encode(pdf.bytes()) })
}

fn put(book: &Book, pdf: &mut Pdf, part: &PdfPart) -> Result<()> {
    match part {
        PdfPart::Heading { words, first } => pdf.heading(words, if *first { 20.0 } else { 13.0 }),
        PdfPart::Words { words } => pdf.text(words, 10.5, false),
        PdfPart::Row { cells, head } => {
            let step = WIDE / cells.len().max(1) as f64;
            let cells: Vec<(f64, String)> =
                cells.iter().enumerate().map(|(i, c)| (step * i as f64, c.clone())).collect();
            pdf.row(&cells, 9.5, *head);
        }
        PdfPart::Interval { name, mean, low, high, end } => pdf.interval(name, (*mean, *low, *high), *end),
        PdfPart::Bars { words, values } => {
            let bars: Vec<(String, f64)> = words.iter().cloned().zip(values.iter().copied()).collect();
            pdf.bars(&bars, 90.0);
        }
        PdfPart::Logs { logs } => pdf.cards(&logs.iter().map(|l| card(book, l)).collect::<Result<Vec<_>>>()?),
    }
    Ok(())
}

fn card(book: &Book, ask: &PdfLog) -> Result<Card> {
    let log = book.read(|conn| logs::one(conn, &ask.log, here(conn, book.moment())?))?;
    let photo = ask.photo.as_deref().and_then(|hash| photo(book, hash));
    let grain = draw(&log.row.grain).shapes.into_iter().map(drawing).collect();
    Ok(Card { grain, photo, words: ask.words.clone() })
}

fn drawing(shape: Shape) -> Drawing {
    match shape {
        Shape::Path { class, d } => Drawing { class, d },
        Shape::Circle { class, cx, cy, r } => Drawing::circle(&class, (cx, cy), r),
    }
}

/// The photo's small picture; `None` where it cannot be had: the report is printed without it.
fn photo(book: &Book, hash: &str) -> Option<Picture> {
    let missing = || Error::Missing { what: "photo" };
    let made = |bytes: &[u8]| photos::see(bytes)?.preview(photos::SMALL)?.ok_or_else(missing);
    let jpeg = book.made_from(hash, "small", made).ok()?;
    let about = photos::look_over(&jpeg).ok()?;
    Some(Picture { width: about.width, height: about.height, jpeg })
}
