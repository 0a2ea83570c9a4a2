//! What a picking can be, and what can damage caps.
//! Never a sum over logs.
//! Invariant: nothing here is a guess; who did not weigh, count or see the culprit leaves it empty.

use crate::book::Moment;
use crate::due::{Chore, Due, Tap, Urgency};
use crate::error::{Error, Result};
use crate::logs::rules::caps_out;
use crate::logs::rules::known::Known;
use crate::measure::{self, Bounds, Rough};
use crate::where_from::{Mark, WhereFrom};
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

/// Days after which pins or buttons are looked at again: from button to full size is a matter of days (common
/// practice).
pub const AGAIN_DAYS: i64 = 2;
words! {
    /// How good the caps were.
    pub enum PickQuality {
        /// Firm, clean, rim turned under.
        Best = "best",
        /// Good to eat, not to show.
        Good = "good",
        /// Soft, late or eaten into: eat first.
        Poor = "poor",
    }
}

words! {
    /// What the grower says of a picking's flush, whatever the gap.
    pub enum FlushHow {
        /// It begins a flush of its own.
        Split = "split",
        /// It belongs to the flush before.
        Join = "join",
    }
}

/// Pickings of one log less than this many days apart, with no soak between, are one flush (ours; a
/// setting, as common practice speaks of about three weeks).
pub const FLUSH_GAP_DAYS: i64 = 21;

/// One picking, as far as its flush depends on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gathered {
    /// The day, counted from any one.
    pub day: i32,
    /// What the grower said.
    pub how: Option<FlushHow>,
}

impl Gathered {
    /// Whether it begins a flush, the picking before it lying on the day `before`. `soaks`: the days its log's soaks
    /// began; one between the two parts them (a soak on the later picking's day lies before it).
    pub fn begins(&self, before: i32, soaks: &[i32], gap_days: i64) -> bool {
        match self.how {
            Some(how) => how == FlushHow::Split,
            None => {
                i64::from(self.day) - i64::from(before) >= gap_days
                    || soaks.iter().any(|soak| before < *soak && *soak <= self.day)
            }
        }
    }
}

/// For each picking of one log, in order of days, the number of its flush from 0.
pub fn flushes(pickings: &[Gathered], soaks: &[i32], gap_days: i64) -> Vec<usize> {
    let mut flush = 0;
    let mut numbers = Vec::with_capacity(pickings.len());
    for (n, picking) in pickings.iter().enumerate() {
        if let Some(before) = n.checked_sub(1).and_then(|b| pickings.get(b)) {
            flush += usize::from(picking.begins(before.day, soaks, gap_days));
        }
        numbers.push(flush);
    }
    numbers
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

/// What picking asks for: pick what is ripe now, look again at what is still small.
pub fn dues(logs: &[Known], today: NaiveDate) -> Vec<Due> {
    let out = |log: &&Known| caps_out(&log.facts, today).is_some();
    let (ripe, small): (Vec<&Known>, Vec<&Known>) =
        logs.iter().filter(out).partition(|log| log.facts.seen.is_some_and(|(stage, _)| stage.is_ripe()));
    let mut all = Vec::new();
    all.extend(pick_due(&ripe));
    all.extend(again_due(&small, today));
    all
}

fn pick_due(ripe: &[&Known]) -> Option<Due> {
    let seen = |log: &&Known| log.facts.seen.map(|(_, day)| day);
    let (first, newest) = (ripe.iter().filter_map(seen).min()?, ripe.iter().filter_map(seen).max()?);
    let from = WhereFrom::new("pick_now", Mark::Common, "");
    let tap = match ripe {
        [one] => Tap::screen("picking", &[("log", &one.id)]),
        _ => Tap::screen("chores", &[]),
    };
    let mut due = Due::new(format!("pick:{newest}"), Chore::Pick, Urgency::Now, from, tap)
        .with("seen", first.to_string())
        .since(Some(first));
    due.logs = ripe.iter().map(|log| log.due()).collect();
    Some(due)
}

/// Pins, buttons and knobs two days after they were seen.
fn again_due(small: &[&Known], today: NaiveDate) -> Option<Due> {
    let old = |log: &&&Known| log.facts.seen.is_some_and(|(_, day)| (today - day).num_days() >= AGAIN_DAYS);
    let found: Vec<&&Known> = small.iter().filter(old).collect();
    let seen = |log: &&&Known| log.facts.seen.map(|(_, day)| day);
    let (first, newest) = (found.iter().filter_map(seen).min()?, found.iter().filter_map(seen).max()?);
    let from = WhereFrom::new("look_again", Mark::Common, "").with("after_days", AGAIN_DAYS);
    let tap = match found.as_slice() {
        [one] => Tap::screen("look", &[("log", &one.id)]),
        _ => Tap::screen("chores", &[]),
    };
    let mut due = Due::new(format!("look_again:{newest}"), Chore::LookAgain, Urgency::Today, from, tap)
        .with("seen", first.to_string())
        .since(first.checked_add_days(chrono::Days::new(AGAIN_DAYS.unsigned_abs())));
    due.logs = found.iter().map(|log| log.due()).collect();
    Some(due)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn number(text: &str) -> i32 {
        chrono::Datelike::num_days_from_ce(&day(text))
    }

    fn on(text: &str, how: Option<FlushHow>) -> Gathered {
        Gathered { day: number(text), how }
    }

    #[test]
    fn pickings_within_three_weeks_are_one_flush_unless_a_soak_or_the_grower_parts_them() {
        let plain = ["2026-05-01", "2026-05-21", "2026-06-11", "2026-06-12"].map(|d| on(d, None));
        assert_eq!(flushes(&plain, &[], FLUSH_GAP_DAYS), [0, 0, 1, 1], "20 days, then 21");
        assert_eq!(flushes(&plain, &[number("2026-05-10")], FLUSH_GAP_DAYS), [0, 1, 2, 2]);
        assert_eq!(flushes(&plain, &[], 30), [0, 0, 0, 0], "the gap is a setting");
        let said = [
            on("2026-05-01", Some(FlushHow::Split)),
            on("2026-05-03", Some(FlushHow::Split)),
            on("2026-08-03", Some(FlushHow::Join)),
        ];
        assert_eq!(flushes(&said, &[number("2026-07-01")], FLUSH_GAP_DAYS), [0, 1, 1]);
        assert_eq!(flushes(&[], &[], FLUSH_GAP_DAYS), Vec::<usize>::new());
    }

    proptest! {
        #[test]
        fn flushes_count_up_by_one_and_a_wider_gap_never_makes_more(
            mut days in prop::collection::vec(0..400i32, 1..20), gap in 1..60i64, more in 0..60i64,
        ) {
            days.sort_unstable();
            let all: Vec<Gathered> = days.iter().map(|n| Gathered { day: *n, how: None }).collect();
            let (narrow, wide) = (flushes(&all, &[], gap), flushes(&all, &[], gap + more));
            prop_assert!(narrow.windows(2).all(|w| w[1] == w[0] || w[1] == w[0] + 1));
            prop_assert!(wide.last() <= narrow.last());
        }
    }
}
