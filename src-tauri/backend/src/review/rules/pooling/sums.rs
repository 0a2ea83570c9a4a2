//! The fit at one λ: rows gathered into sums once, solved at every point of the grid.
//! Never the grid: `pooling` weighs the points.
//! Invariant: covariates that were only ever met together are held apart by their priors; nothing is left out.

use super::super::dense::{Lower, dot};
use super::super::priors;
use super::Rows;

/// Sums of the rows that the fit needs; made once, used at every λ.
pub(super) struct Sums {
    p: usize,
    /// How many rows.
    pub(super) n: usize,
    gram: Vec<f64>,
    rhs: Vec<f64>,
    squares: f64,
    /// Each group's sums of weights, of weighted covariates, of weighted values.
    pub(super) weight: Vec<f64>,
    pub(super) x: Vec<f64>,
    pub(super) z: Vec<f64>,
}

/// One point of the grid.
#[derive(Debug, Clone)]
pub(super) struct Point {
    pub(super) share: f64,
    pub(super) lambda: f64,
    pub(super) spread: f64,
    pub(super) beta: Vec<f64>,
    pub(super) factor: Lower,
    pub(super) at: Vec<f64>,
    pub(super) scale: Vec<f64>,
}

impl Sums {
    pub(super) fn of(rows: &Rows<'_>) -> Option<Self> {
        let (k, n) = (rows.ridge.len(), rows.z.len());
        if n == 0 || rows.groups == 0 {
            return None;
        }
        let p = k + 1;
        let mut sums = Self {
            p,
            n,
            gram: vec![0.0; p * p],
            rhs: vec![0.0; p],
            squares: 0.0,
            weight: vec![0.0; rows.groups],
            x: vec![0.0; rows.groups * p],
            z: vec![0.0; rows.groups],
        };
        let mut row = vec![1.0; p];
        for i in 0..n {
            row[1..].copy_from_slice(&rows.x[i * k..(i + 1) * k]);
            sums.add(&row, rows.of[i], rows.z[i], rows.w[i]);
        }
        Some(sums)
    }

    fn add(&mut self, row: &[f64], group: usize, z: f64, w: f64) {
        let p = self.p;
        for a in 0..p {
            if row[a] == 0.0 {
                continue;
            }
            for b in 0..p {
                self.gram[a * p + b] += w * row[a] * row[b];
            }
            self.rhs[a] += w * row[a] * z;
            self.x[group * p + a] += w * row[a];
        }
        self.squares += w * z * z;
        self.weight[group] += w;
        self.z[group] += w * z;
    }

    /// The fit at λ, with its log likelihood (what does not depend on λ left out).
    pub(super) fn at(&self, lambda: f64, ridge: &[f64], known: bool, df: f64) -> Option<(Point, f64)> {
        let p = self.p;
        let (mut a, mut r, mut squares) = (self.gram.clone(), self.rhs.clone(), self.squares);
        for (k, sd) in ridge.iter().enumerate() {
            a[(k + 1) * p + k + 1] += 1.0 / (sd * sd);
        }
        let mut log = 0.0;
        for j in 0..self.weight.len() {
            let held = lambda / (1.0 + lambda * self.weight[j]);
            let x = &self.x[j * p..(j + 1) * p];
            for (s, xs) in x.iter().enumerate().filter(|(_, xs)| **xs != 0.0) {
                for (t, xt) in x.iter().enumerate() {
                    a[s * p + t] -= held * xs * xt;
                }
                r[s] -= held * xs * self.z[j];
            }
            squares -= held * self.z[j] * self.z[j];
            log -= 0.5 * (lambda * self.weight[j]).ln_1p();
        }
        let factor = Lower::of(&a, p)?;
        let beta = factor.solve(&r);
        let rest = (squares - dot(&r, &beta)).max(0.0);
        let (spread, fit) = if known {
            (1.0, -0.5 * rest)
        } else {
            let total = rest + priors::SPREAD_DF;
            (total / df, -0.5 * df * total.ln())
        };
        log += fit - 0.5 * factor.log_det();
        let (at, scale) = self.groups(lambda, spread, &beta, &factor);
        Some((Point { share: 0.0, lambda, spread, beta, factor, at, scale }, log))
    }

    fn groups(&self, lambda: f64, spread: f64, beta: &[f64], factor: &Lower) -> (Vec<f64>, Vec<f64>) {
        let p = self.p;
        let mut toward = vec![0.0; p];
        (0..self.weight.len())
            .map(|j| {
                let k = lambda / (1.0 + lambda * self.weight[j]);
                let x = &self.x[j * p..(j + 1) * p];
                for (t, xs) in toward.iter_mut().zip(x) {
                    *t = -k * xs;
                }
                toward[0] += 1.0;
                let half = factor.forward(&toward);
                (beta[0] + k * (self.z[j] - dot(x, beta)), (spread * (k + dot(&half, &half))).sqrt())
            })
            .unzip()
    }
}
