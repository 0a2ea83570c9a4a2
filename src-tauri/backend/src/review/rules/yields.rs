//! What groups give for what they had time, wood or water for: the mean rate, partially pooled.
//! Never a log or a wood: amounts and exposures in, a posterior of log rates out.
//! Invariant: a log that gave nothing counts as nothing given, never as a missing one.
//!
//! A log-linear model of the mean (quasi-likelihood): E[yᵢ] = exposureᵢ·exp(β₀ + xᵢβ + uⱼ), the variance of
//! yᵢ the square of its mean times σ²·vᵢ. It is fitted as a row of weighted mixed models
//! (penalised quasi-likelihood), each on zᵢ = ηᵢ + (yᵢ − μᵢ)/μᵢ; the last of them is the answer. No
//! logarithm of a yield is taken, so a log that gave nothing is no trouble.

use super::dense::dot;
use super::pooling::{Posterior, Rows, Spread};

const TURNS: usize = 40;
/// The furthest a log's fitted mean moves in one turn, on the log scale.
const STRIDE: f64 = 1.0;
const STILL: f64 = 1e-6;

/// One log's amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// Its group.
    pub group: usize,
    /// What it gave, 0 or more.
    pub gave: f64,
    /// What it gave it for: years, litres, soaks; above 0.
    pub exposure: f64,
    /// The variance of its factor, as far as it is known beforehand.
    pub variance: f64,
}

/// The fit; `None` when nothing was given at all.
pub fn fit(amounts: &[Amount], groups: usize, x: &[f64], ridge: &[f64]) -> Option<Posterior> {
    let (gave, exposure) = amounts.iter().fold((0.0, 0.0), |(g, e), a| (g + a.gave, e + a.exposure));
    if gave <= 0.0 || exposure <= 0.0 {
        return None;
    }
    let of: Vec<usize> = amounts.iter().map(|a| a.group).collect();
    let w: Vec<f64> = amounts.iter().map(|a| 1.0 / a.variance).collect();
    let mut eta = vec![(gave / exposure).ln(); amounts.len()];
    let mut fitted: Option<Posterior> = None;
    for _ in 0..TURNS {
        let z: Vec<f64> =
            amounts.iter().zip(&eta).map(|(a, eta)| eta + a.gave / (a.exposure * eta.exp()) - 1.0).collect();
        let rows = Rows { groups, of: &of, z: &z, w: &w, x, ridge };
        let fit = Posterior::quick(&rows, fitted.as_ref())?;
        let moved = step(&mut eta, &fit, &of, x, ridge.len());
        if moved < STILL {
            return Posterior::of(&rows, Spread::Near1);
        }
        fitted = Some(fit);
    }
    let z: Vec<f64> =
        amounts.iter().zip(&eta).map(|(a, eta)| eta + a.gave / (a.exposure * eta.exp()) - 1.0).collect();
    Posterior::of(&Rows { groups, of: &of, z: &z, w: &w, x, ridge }, Spread::Near1)
}

/// Moves each fitted mean towards the fit; how far the furthest had to go.
fn step(eta: &mut [f64], fit: &Posterior, of: &[usize], x: &[f64], k: usize) -> f64 {
    let (means, effects) = (fit.means(), fit.effects());
    let mut furthest = 0.0_f64;
    for (i, eta) in eta.iter_mut().enumerate() {
        let to = means[of[i]] + dot(&x[i * k..(i + 1) * k], &effects[1..]);
        let stride = (to - *eta).clamp(-STRIDE, STRIDE);
        furthest = furthest.max(stride.abs());
        *eta += stride;
    }
    furthest
}

/// How often an event comes to groups, from what was seen and what was expected of each were all alike
/// (the two columns of the log-rank test): log rates, 0 the common one.
pub fn fit_events(observed: &[f64], expected: &[f64]) -> Option<Posterior> {
    let some: f64 = observed.iter().sum();
    if some <= 0.0 || expected.iter().any(|e| *e <= 0.0) {
        return None;
    }
    let of: Vec<usize> = (0..observed.len()).collect();
    let mut eta = vec![0.0_f64; observed.len()];
    for turn in 0..=TURNS {
        let mu: Vec<f64> = eta.iter().zip(expected).map(|(eta, e)| e * eta.exp()).collect();
        let z: Vec<f64> = (0..of.len()).map(|j| eta[j] + (observed[j] - mu[j]) / mu[j]).collect();
        let fit = Posterior::of(
            &Rows { groups: of.len(), of: &of, z: &z, w: &mu, x: &[], ridge: &[] },
            Spread::Known,
        )?;
        if step(&mut eta, &fit, &of, &[], 0) < STILL || turn == TURNS {
            return Some(fit);
        }
    }
    None
}
