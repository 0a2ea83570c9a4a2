//! Weights that look mistyped: shown and asked about, and counted until the grower says otherwise.
//! Never a correction.
//! Invariant: nothing here takes a picking out of a comparison.

use super::life::Life;
use super::question::date;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use serde::Serialize;
use ts_rs::TS;

/// How many times the usual picking a weight must be, or how small a part of it, to be asked about: a
/// nought too many makes ten, and a flush is rarely eight times the usual one. Chosen.
const TIMES: f64 = 8.0;
/// And how many robust standard deviations (1.4826 median absolute deviations) of the yard's logarithms
/// of weights it must lie off. Chosen.
const DEVIATIONS: f64 = 3.5;
/// Fewer weighed pickings of a mushroom than this say nothing about what is usual.
const FEWEST: usize = 5;
/// So many are shown.
const SHOWN: usize = 20;

/// A picking to be asked about.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Odd {
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// The day.
    pub day: NaiveDate,
    /// What stands there, g.
    #[ts(type = "number")]
    pub grams: i64,
    /// The yard's usual picking of that mushroom, g.
    pub usual: f64,
}

/// Those among these logs, the furthest off first.
pub fn odd(lives: &[&Life]) -> Vec<Odd> {
    let mut found: Vec<Odd> = Vec::new();
    for mushroom in Mushroom::ALL {
        let of: Vec<&&Life> = lives.iter().filter(|l| l.mushroom == *mushroom).collect();
        let mut all: Vec<f64> = Vec::new();
        for life in &of {
            all.extend(life.picks.iter().filter_map(|p| p.grams).filter(|g| *g > 0).map(|g| (g as f64).ln()));
        }
        if all.len() < FEWEST {
            continue;
        }
        let middle = median(&mut all);
        let mut off: Vec<f64> = all.iter().map(|x| (x - middle).abs()).collect();
        let limit = (DEVIATIONS * 1.4826 * median(&mut off)).max(TIMES.ln());
        // Well inside the limit by weight needs no logarithm.
        let (low, high) = ((middle - limit).exp() * 1.001, (middle + limit).exp() * 0.999);
        for life in of {
            for pick in &life.picks {
                let Some(grams) = pick.grams.filter(|g| *g > 0) else { continue };
                if !(low..high).contains(&(grams as f64))
                    && ((grams as f64).ln() - middle).abs() > limit
                    && let Some(day) = date(pick.day)
                {
                    let (log, tag) = (life.id.clone(), life.tag.clone());
                    found.push(Odd { log, tag, day, grams, usual: middle.exp() });
                }
            }
        }
    }
    let far = |o: &Odd| (o.grams as f64 / o.usual).ln().abs();
    found.sort_by(|a, b| far(b).total_cmp(&far(a)).then_with(|| a.log.cmp(&b.log)));
    found.truncate(SHOWN);
    found
}

/// The same logs without the odd pickings, to see what hangs on them.
pub fn without(lives: &[Life], odd: &[Odd]) -> Vec<Life> {
    let mut lives = lives.to_vec();
    for life in &mut lives {
        let mine: Vec<&Odd> = odd.iter().filter(|o| o.log == life.id).collect();
        if !mine.is_empty() {
            life.picks
                .retain(|p| !mine.iter().any(|o| date(p.day) == Some(o.day) && p.grams == Some(o.grams)));
        }
    }
    lives
}

/// The middle of some values; moves them about. 0 of none.
pub fn median(values: &mut [f64]) -> f64 {
    let n = values.len();
    if n == 0 {
        return 0.0;
    }
    let (below, middle, _) = values.select_nth_unstable_by(n / 2, f64::total_cmp);
    if n % 2 == 1 {
        return *middle;
    }
    f64::midpoint(below.iter().copied().fold(f64::NEG_INFINITY, f64::max), *middle)
}
