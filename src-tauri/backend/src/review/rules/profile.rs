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

/// A log as the profile reads it.
struct Watched {
    group: usize,
    grams: [f64; HALVES],
    part: [f64; HALVES],
}

impl Profile {
    /// The profile of these logs; `groups` gives each log's group, `usual` the yard's mean picking, g.
    pub fn of(lives: &[&Life], groups: &[usize], usual: Option<f64>, hericium: bool) -> Self {
        let prior = prior(hericium);
        let logs: Vec<Watched> =
            lives.iter().zip(groups).filter_map(|(life, g)| watched(life, *g, usual)).collect();
        let count = groups.iter().max().map_or(0, |g| g + 1);
        let mut shares = prior;
        for _ in 0..TURNS {
            let levels = levels(&logs, &shares, count);
            let level = mean_level(&logs, &shares);
            if level <= 0.0 {
                break;
            }
            shares = shape(&logs, &levels, level, &prior);
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

fn watched(life: &Life, group: usize, usual: Option<f64>) -> Option<Watched> {
    let (from, to) = life.ages()?;
    let laid = life.laid_mid()?;
    let mut log = Watched { group, grams: [0.0; HALVES], part: [0.0; HALVES] };
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

fn levels(logs: &[Watched], shares: &[f64; HALVES], count: usize) -> Vec<f64> {
    let mut sums = vec![(0.0, 0.0); count];
    for log in logs {
        sums[log.group].0 += log.grams.iter().sum::<f64>();
        sums[log.group].1 += due(log, shares);
    }
    sums.into_iter().map(|(grams, due)| if due > 1e-9 { grams / due } else { 0.0 }).collect()
}

fn mean_level(logs: &[Watched], shares: &[f64; HALVES]) -> f64 {
    let grams: f64 = logs.iter().flat_map(|l| l.grams).sum();
    let due: f64 = logs.iter().map(|l| due(l, shares)).sum();
    if due > 1e-9 { grams / due } else { 0.0 }
}

fn due(log: &Watched, shares: &[f64; HALVES]) -> f64 {
    log.part.iter().zip(shares).map(|(part, share)| part * share).sum()
}

fn shape(logs: &[Watched], levels: &[f64], level: f64, prior: &[f64; HALVES]) -> [f64; HALVES] {
    let weight = priors::PROFILE_LOG_YEARS * 2.0;
    let mut shares = [0.0; HALVES];
    for (k, share) in shares.iter_mut().enumerate() {
        let grams: f64 = logs.iter().map(|l| l.grams[k]).sum::<f64>() / level;
        let watched: f64 = logs.iter().map(|l| l.part[k] * levels[l.group] / level).sum();
        *share = (grams + weight * prior[k]) / (watched + weight);
    }
    shares
}
