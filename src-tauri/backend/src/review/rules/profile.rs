//! How a log's yield falls on the years of its life, learnt from the yard's own pickings.
//! Never a group's yield: levels are taken out before the shape is.
//! Invariant: where the yard has no log of an age, the published shares stand.
//!
//! Logs are compared at unequal ages. What a log could have given while it was watched is the share of a
//! life that falls on those ages, by half-years from laying. Shares pₖ and levels θ of the groups are
//! fitted in turns, pₖ = Σ grams in k / Σ θ·(part of k that was watched), so that woods which happen to be
//! older do not look like better years. The published shares weigh as [`priors::PROFILE_LOG_YEARS`].

use super::life::{Life, Pick, YEAR};
use super::priors;
use serde::Serialize;
use ts_rs::TS;

const HALVES: usize = 24;
const TURNS: usize = 6;

/// Shares of a life's yield by half-years from laying; they sum to 1.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
#[ts(rename = "YieldProfile")]
pub struct Profile {
    /// The shares.
    pub shares: Vec<f64>,
}

/// What a log, or all of a group, gave in each half-year, and how much of it was watched.
#[derive(Clone, Copy)]
struct Watched {
    grams: [f64; HALVES],
    part: [f64; HALVES],
}

impl Profile {
    /// The profile of these logs; `groups` gives each log's group, `usual` the yard's mean picking, g.
    pub fn of(lives: &[&Life], groups: &[usize], usual: Option<f64>, hericium: bool) -> Self {
        let prior = prior(hericium);
        let mut sums = vec![Watched::NOTHING; groups.iter().max().map_or(0, |g| g + 1)];
        for (life, group) in lives.iter().zip(groups) {
            if let Some(log) = watched(life, usual) {
                sums[*group].add(&log);
            }
        }
        let mut shares = prior;
        for _ in 0..TURNS {
            let level = level(&sums, &shares);
            if level <= 0.0 {
                break;
            }
            shares = shape(&sums, level, &shares, &prior);
        }
        let total: f64 = shares.iter().sum();
        Self { shares: shares.iter().map(|s| s / total.max(f64::MIN_POSITIVE)).collect() }
    }

    /// Share of a life's yield up to this age, years.
    pub fn until(&self, age: f64) -> f64 {
        let halves = (age * 2.0).max(0.0);
        let whole = (halves as usize).min(self.shares.len());
        let begun = self.shares.get(whole).map_or(0.0, |s| s * (halves - whole as f64));
        (self.shares[..whole].iter().sum::<f64>() + begun).min(1.0)
    }
}

fn prior(hericium: bool) -> [f64; HALVES] {
    let published: &[f64] = if hericium { &priors::HERICIUM_HALVES } else { &priors::SHIITAKE_HALVES };
    let mut shares = [0.0; HALVES];
    shares.iter_mut().zip(published).for_each(|(s, p)| *s = *p);
    shares
}

impl Watched {
    const NOTHING: Self = Self { grams: [0.0; HALVES], part: [0.0; HALVES] };

    fn add(&mut self, other: &Self) {
        self.grams.iter_mut().zip(other.grams).for_each(|(sum, more)| *sum += more);
        self.part.iter_mut().zip(other.part).for_each(|(sum, more)| *sum += more);
    }
}

fn watched(life: &Life, usual: Option<f64>) -> Option<Watched> {
    let (from, to) = life.ages()?;
    let laid = life.laid_mid()?;
    let mut log = Watched::NOTHING;
    for k in 0..HALVES {
        let (a, b) = (k as f64 / 2.0, (k + 1) as f64 / 2.0);
        log.part[k] = ((to.min(b) - from.max(a)) * 2.0).clamp(0.0, 1.0);
    }
    let weighed = life.picks.len() - life.unweighed();
    let own = if weighed > 0 { Some(life.grams() as f64 / weighed as f64) } else { usual };
    for pick in &life.picks {
        log.grams[half(pick, laid)] += pick.grams.map_or(own, |g| Some(g as f64))?;
    }
    Some(log)
}

fn half(pick: &Pick, laid: i32) -> usize {
    ((f64::from(pick.day - laid) / YEAR * 2.0).max(0.0) as usize).min(HALVES - 1)
}

/// Grams of a whole life by which these gave what they gave.
fn level(sums: &[Watched], shares: &[f64; HALVES]) -> f64 {
    let grams: f64 = sums.iter().flat_map(|s| s.grams).sum();
    let due: f64 =
        sums.iter().flat_map(|s| s.part.into_iter().zip(shares)).map(|(part, share)| part * share).sum();
    if due > 1e-9 { grams / due } else { 0.0 }
}

fn shape(sums: &[Watched], mean: f64, before: &[f64; HALVES], prior: &[f64; HALVES]) -> [f64; HALVES] {
    let weight = priors::PROFILE_LOG_YEARS * 2.0;
    let levels: Vec<f64> = sums.iter().map(|s| level(std::slice::from_ref(s), before) / mean).collect();
    let mut shares = [0.0; HALVES];
    for (k, share) in shares.iter_mut().enumerate() {
        let grams: f64 = sums.iter().map(|s| s.grams[k]).sum::<f64>() / mean;
        let watched: f64 = sums.iter().zip(&levels).map(|(s, level)| s.part[k] * level).sum();
        *share = (grams + weight * prior[k]) / (watched + weight);
    }
    shares
}
