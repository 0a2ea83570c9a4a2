//! What a picking can be, and what can damage caps.
//! Never a sum over logs.
//! Invariant: nothing here is a guess; who did not weigh, count or see the culprit leaves it empty.

use crate::book::Moment;
use crate::error::{Error, Result};
use crate::measure::{self, Bounds, Rough};
use crate::words::words;
use chrono::NaiveDate;
use serde_json::{Value, json};

words! {
    /// What damaged the caps.
    pub enum By {
        /// Slugs and snails.
        Slugs = "slugs",
        /// Beetles, springtails, fly larvae.
        Insects = "insects",
        /// Mice and voles.
        Mice = "mice",
        /// Squirrels.
        Squirrels = "squirrels",
        /// Birds.
        Birds = "birds",
        /// Deer.
        Deer = "deer",
        /// Something else, said in the note.
        Other = "other",
    }
}

/// What the grower says of a picking.
#[derive(Debug, Clone, PartialEq)]
pub struct Picked {
    /// The day.
    pub day: NaiveDate,
    /// Weight, g; none: not weighed.
    pub grams: Option<i64>,
    /// Number of caps; none: not counted.
    pub caps: Option<i64>,
    /// Share damaged, per cent; none: not judged.
    pub damaged_pct: Option<i64>,
    /// By what.
    pub by: Option<By>,
    /// The grower's words.
    pub note: String,
}

impl Picked {
    /// The picking with its note trimmed, or what cannot be true of it. `laid` is when its log was.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(self, today: NaiveDate, laid: Option<&Rough>, southern: bool) -> Result<Self> {
        if self.day > today {
            return Err(Error::invalid("day", "future"));
        }
        if laid.and_then(|l| l.span(southern)).is_some_and(|(first, _)| self.day < first) {
            return Err(Error::invalid_with("day", "order", json!({"other": "laid"})));
        }
        let check =
            |field, value: Option<i64>, bounds: Bounds| value.map(|v| bounds.check(field, v)).transpose();
        check("grams", self.grams, measure::GRAMS)?;
        check("caps", self.caps, measure::CAPS)?;
        check("damaged_pct", self.damaged_pct, measure::DAMAGED_PCT)?;
        let note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        Ok(Self { note, ..self })
    }

    /// The entry's row, written at this moment.
    pub fn row(&self, log: &str, at: Moment) -> Value {
        json!({"log": log, "day": self.day, "at": at.ms, "zone": at.zone(), "note": self.note,
            "grams": self.grams, "caps": self.caps, "damaged_pct": self.damaged_pct, "by": self.by})
    }
}
