//! Weights that look mistyped: shown and asked about, and counted until the grower says otherwise.
//! Never a correction.
//! Invariant: nothing here takes a picking out of a comparison.

use super::life::Life;
use super::question::date;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use serde::Serialize;
use std::collections::HashMap;
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
        // A yard's weights are some hundred different ones, however many pickings there are.
        let mut times: HashMap<i64, usize> = HashMap::new();
        for grams in of.iter().flat_map(|l| &l.picks).filter_map(|p| p.grams).filter(|g| *g > 0) {
            *times.entry(grams).or_default() += 1;
        }
        if times.values().sum::<usize>() < FEWEST {
            continue;
        }
        let mut logs: Vec<(f64, usize)> = times.into_iter().map(|(g, n)| ((g as f64).ln(), n)).collect();
        let middle = median(&mut logs);
        let mut off: Vec<(f64, usize)> = logs.iter().map(|(x, n)| ((x - middle).abs(), *n)).collect();
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

/// The middle of some values, each so many times; sorts them. 0 of none.
fn median(values: &mut [(f64, usize)]) -> f64 {
    values.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let all: usize = values.iter().map(|(_, n)| n).sum();
    let at = |place: usize| {
        let mut before = 0;
        let found = values.iter().find(|(_, n)| {
            before += n;
            place < before
        });
        found.map_or(0.0, |(value, _)| *value)
    };
    if all % 2 == 1 { at(all / 2) } else { f64::midpoint(at((all / 2).saturating_sub(1)), at(all / 2)) }
}
