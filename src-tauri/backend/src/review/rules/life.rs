//! One log's life as the comparisons read it: what it is, how long it was watched, what it gave.
//! Never a comparison.
//! Invariant: a weight that nobody took is not 0, and a watch that ended is not a life that did.

use crate::logs::rules::{Method, Spawn};
use crate::measure::whole;
use crate::pickings::rules::{FlushHow, Gathered};
use crate::strains::rules::{Mushroom, StrainClass};
use chrono::Datelike;

/// Days of a year.
pub const YEAR: f64 = 365.25;

/// One picking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pick {
    /// Days since 1970.
    pub day: i32,
    /// Weight, g; `None`: not weighed.
    pub grams: Option<i64>,
    /// Share damaged, per cent; `None`: not judged.
    pub damaged_pct: Option<i64>,
    /// What the grower said of its flush.
    pub how: Option<FlushHow>,
}

/// A log. Days are counted from 1 January 1970.
#[derive(Debug, Clone, PartialEq)]
pub struct Life {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// The wood's id.
    pub wood: Option<String>,
    /// Its common name.
    pub wood_name: Option<String>,
    /// What it carries.
    pub mushroom: Mushroom,
    /// The strain's name; `None` where it is doubtful which one the log carries.
    pub strain: Option<String>,
    /// The strain's class, likewise.
    pub class: Option<StrainClass>,
    /// Whether its strain is doubtful.
    pub doubtful: bool,
    /// How the spawn was brought in.
    pub method: Option<Method>,
    /// The form of the spawn.
    pub spawn: Option<Spawn>,
    /// The spot's name.
    pub spot: Option<String>,
    /// Where the wood came from.
    pub wood_source: Option<String>,
    /// Where the spawn came from.
    pub spawn_source: Option<String>,
    /// Whether it was laid at all.
    pub is_laid: bool,
    /// First and last day on which it can have been laid; `None`: not laid, or nobody knows.
    pub laid: Option<(i32, i32)>,
    /// From when it was watched: its laying, or later when it came to the yard older.
    pub watched: Option<i32>,
    /// The last day of its watch: its end, or today.
    pub end: i32,
    /// Whether its watch ended.
    pub ended: bool,
    /// Whether its life ended then: spent, lost or discarded; not given away, sold or lent.
    pub died: bool,
    /// Whether it was lost to a competitor.
    pub lost: bool,
    /// The first day anything fruited.
    pub fruit: Option<i32>,
    /// Its pickings, oldest first.
    pub picks: Vec<Pick>,
    /// Days on which it went into the tank.
    pub soaks: Vec<i32>,
    /// The first day a competitor was seen on it.
    pub competitor: Option<i32>,
    /// Volume, litres.
    pub litres: Option<f64>,
    /// Mean thickness, mm.
    pub thick_mm: Option<f64>,
    /// Dry wood in it when it was laid, kg.
    pub dry_kg: Option<f64>,
    /// Too young to have fruited.
    pub young: bool,
}

impl Life {
    /// The middle of the days on which it can have been laid.
    pub fn laid_mid(&self) -> Option<i32> {
        self.laid.map(|(a, b)| a.midpoint(b))
    }

    /// The year it was laid in, by the middle of a rough date.
    pub fn laid_year(&self) -> Option<i32> {
        super::question::date(self.laid_mid()?).map(|d| d.year())
    }

    /// Whether it has fruited.
    pub fn has_fruited(&self) -> bool {
        self.fruit.is_some() || !self.picks.is_empty()
    }

    /// Laid, alive, without fruit, and too young for it.
    pub fn in_spawn_run(&self) -> bool {
        self.is_laid && self.young && !self.has_fruited() && !self.ended
    }

    /// Ages between which it was watched, years since laying.
    pub fn ages(&self) -> Option<(f64, f64)> {
        let laid = self.laid_mid()?;
        let years = |day: i32| f64::from(day - laid) / YEAR;
        let from = years(self.watched.unwrap_or(laid)).max(0.0);
        Some((from, years(self.end).max(from)))
    }

    /// Grams of the weighed pickings.
    pub fn grams(&self) -> i64 {
        self.picks.iter().filter_map(|p| p.grams).sum()
    }

    /// Pickings nobody weighed.
    pub fn unweighed(&self) -> usize {
        self.picks.iter().filter(|p| p.grams.is_none()).count()
    }

    /// The first days of its flushes, as the log's own page counts them: by this gap, its soaks, and what the
    /// grower said.
    pub fn flushes(&self, gap_days: i64) -> Vec<i32> {
        let mut first: Vec<i32> = Vec::new();
        let mut before: Option<i32> = None;
        for pick in &self.picks {
            let on = Gathered { day: pick.day, how: pick.how };
            if before.is_none_or(|before| on.begins(before, &self.soaks, gap_days)) {
                first.push(pick.day);
            }
            before = Some(pick.day);
        }
        first
    }

    /// Grams that some of its pickings gave, those without a weight counted as the log's own mean one,
    /// or as `usual` where it has none; with the relative variance that this guess adds.
    pub fn yielded(&self, usual: Option<f64>, of: impl Fn(&Pick) -> bool) -> Option<(f64, f64)> {
        let (weighed, all) = (self.picks.len() - self.unweighed(), self.picks.len());
        let (mut sum, mut missing) = (0, 0_usize);
        for pick in self.picks.iter().filter(|p| of(p)) {
            sum += pick.grams.unwrap_or(0);
            missing += usize::from(pick.grams.is_none());
        }
        if missing == 0 {
            return Some((sum as f64, 0.0));
        }
        let cv2 = super::priors::PICKING_CV.powi(2);
        let (mean, guess) = if weighed > 0 {
            (self.grams() as f64 / weighed as f64, cv2 / weighed as f64)
        } else {
            // Another log's pickings stand in: its own mean may lie as far off as logs do.
            (usual?, cv2 / all as f64 + super::priors::LOG_VARIANCE)
        };
        let total = sum as f64 + mean * missing as f64;
        let share = mean * missing as f64 / total.max(f64::MIN_POSITIVE);
        Some((total, share * share * (cv2 / missing as f64 + guess)))
    }
}

/// The pickings of `log_state.harvest`: one a word, `day:grams:damaged`, empty where not known.
/// Words that cannot be read are left out.
pub fn picks(text: &str) -> Vec<Pick> {
    let mut picks = Vec::with_capacity(text.len() / SHORTEST);
    picks.extend(text.as_bytes().split(|b| *b == b' ').filter_map(pick));
    picks
}

/// Letters of the shortest picking but the oldest: `10000:1: `.
const SHORTEST: usize = 9;

fn pick(word: &[u8]) -> Option<Pick> {
    let mut parts = word.split(|b| *b == b':');
    let day = parts.next().and_then(whole)?;
    let mut number = || parts.next().and_then(whole);
    Some(Pick { day: i32::try_from(day).ok()?, grams: number(), damaged_pct: number(), how: None })
}

/// The days in a text, one a word.
pub fn days(text: &str) -> Vec<i32> {
    let day = |word: &[u8]| i32::try_from(whole(word)?).ok();
    text.as_bytes().split(|b| *b == b' ').filter_map(day).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picking_that_nobody_weighed_is_not_nothing() {
        assert_eq!(
            picks("20000:400:10 20030:: x 20060:200:"),
            [
                Pick { day: 20000, grams: Some(400), damaged_pct: Some(10), how: None },
                Pick { day: 20030, grams: None, damaged_pct: None, how: None },
                Pick { day: 20060, grams: Some(200), damaged_pct: None, how: None },
            ]
        );
        assert!(picks("").is_empty());
        assert_eq!(
            picks("-20:7: 5:-1:- 99999999999:1: 3:99999999999999999999:2"),
            [
                Pick { day: -20, grams: Some(7), damaged_pct: None, how: None },
                Pick { day: 5, grams: Some(-1), damaged_pct: None, how: None },
                Pick { day: 3, grams: None, damaged_pct: Some(2), how: None },
            ]
        );
        assert_eq!(days("1 22 b"), [1, 22]);
    }
}
