//! Partial pooling: groups' means drawn to the common one as far as the record says they are alike.
//! Never a log or a wood: weighted rows in, a posterior out.
//! Invariant: how far groups lie apart is never taken as known; every answer averages over it.
//!
//! The model, for rows i in groups j: zᵢ = β₀ + xᵢ·β + uⱼ + eᵢ, eᵢ ~ N(0, σ²/wᵢ), uⱼ ~ N(0, λσ²),
//! βₖ ~ N(0, (κₖσ)²), β₀ flat. λ runs over a grid of points that are equally likely beforehand (half-
//! Cauchy on √λ, `priors`); at each, u, β and σ² are integrated exactly (σ² scaled inverse χ²), which
//! makes the groups' means Student's t. The posterior is those t's mixed by λ's likelihood. With σ²
//! known (`Spread::Known`) they are normal. Covariates only ever met together stay apart by their priors
//! alone, so such a design widens the intervals; it never fails.

use super::chance::Chance;
use super::dense::{Lower, dot};
use super::priors;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

/// Points on the grid of λ.
const GRID: usize = 48;
/// Points whose weight is below this share are let go.
const LEAST_WEIGHT: f64 = 1e-5;
const SEED: u64 = 0x005e_ed0f_7ee5;

/// The rows that are fitted. `x` holds `ridge.len()` centred covariates a row; `ridge` their κ.
#[derive(Debug, Clone)]
pub struct Rows<'a> {
    /// How many groups there are.
    pub groups: usize,
    /// Each row's group.
    pub of: &'a [usize],
    /// Each row's value.
    pub z: &'a [f64],
    /// Each row's weight, above 0.
    pub w: &'a [f64],
    /// Covariates, row by row.
    pub x: &'a [f64],
    /// Their standard deviations beforehand.
    pub ridge: &'a [f64],
}

/// What is known of σ² beforehand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// It is 1: weights are the inverse variances themselves.
    Known,
    /// It is near 1, as surely as [`priors::SPREAD_DF`] rows would say so.
    Near1,
}

/// Sums of the rows that the fit needs; made once, used at every λ.
struct Sums {
    p: usize,
    n: usize,
    gram: Vec<f64>,
    rhs: Vec<f64>,
    squares: f64,
    weight: Vec<f64>,
    x: Vec<f64>,
    z: Vec<f64>,
}

/// One point of the grid.
#[derive(Debug, Clone)]
struct Point {
    share: f64,
    lambda: f64,
    spread: f64,
    beta: Vec<f64>,
    factor: Lower,
    at: Vec<f64>,
    scale: Vec<f64>,
}

/// What is known of the groups' means, given the rows.
#[derive(Debug, Clone)]
pub struct Posterior {
    points: Vec<Point>,
    df: f64,
    weight: Vec<f64>,
    x: Vec<f64>,
    z: Vec<f64>,
    known: bool,
}

impl Posterior {
    /// `None` without rows.
    pub fn of(rows: &Rows<'_>, spread: Spread) -> Option<Self> {
        Self::on(rows, spread, &grid())
    }

    /// The fit were λ known: what a mixed model gives that estimates λ and then takes it for the truth.
    pub fn given(rows: &Rows<'_>, lambda: f64) -> Option<Self> {
        Self::on(rows, Spread::Near1, &[lambda])
    }

    /// A fit where the last one stood, for the turns on the way to the answer.
    pub fn quick(rows: &Rows<'_>, last: Option<&Self>) -> Option<Self> {
        let middle = last.map(|l| l.points.iter().map(|p| p.share * p.lambda.ln()).sum::<f64>().exp());
        match middle {
            Some(lambda) => Self::given(rows, lambda),
            None => Self::of(rows, Spread::Near1),
        }
    }

    fn on(rows: &Rows<'_>, spread: Spread, grid: &[f64]) -> Option<Self> {
        let sums = Sums::of(rows)?;
        let known = spread == Spread::Known;
        let df = sums.n as f64 - 1.0 + if known { 0.0 } else { priors::SPREAD_DF };
        let fits: Vec<(Point, f64)> =
            grid.iter().filter_map(|l| sums.at(*l, rows.ridge, known, df)).collect();
        let top = fits.iter().map(|(_, log)| *log).fold(f64::NEG_INFINITY, f64::max);
        let total: f64 = fits.iter().map(|(_, log)| (log - top).exp()).sum();
        let mut points: Vec<Point> = fits
            .into_iter()
            .map(|(point, log)| Point { share: (log - top).exp() / total, ..point })
            .filter(|point| point.share > LEAST_WEIGHT)
            .collect();
        let kept: f64 = points.iter().map(|p| p.share).sum();
        points.iter_mut().for_each(|p| p.share /= kept);
        (!points.is_empty()).then_some(Self { points, df, weight: sums.weight, x: sums.x, z: sums.z, known })
    }

    /// Widens every interval by a variance that all groups share, so that none is nearer best for it.
    #[must_use]
    pub fn widened(mut self, common: f64) -> Self {
        for scale in self.points.iter_mut().flat_map(|p| &mut p.scale) {
            *scale = (*scale * *scale + common).sqrt();
        }
        self
    }

    /// The groups' posterior means.
    pub fn means(&self) -> Vec<f64> {
        (0..self.weight.len()).map(|j| self.points.iter().map(|p| p.share * p.at[j]).sum()).collect()
    }

    /// The value below which group `j`'s mean lies with this probability.
    pub fn quantile(&self, j: usize, probability: f64) -> f64 {
        let reach = |sign: f64| {
            let ends = self.points.iter().map(|p| p.at[j] + sign * 40.0 * p.scale[j].max(1e-12));
            ends.fold(f64::NAN, if sign < 0.0 { f64::min } else { f64::max })
        };
        let (mut low, mut high) = (reach(-1.0), reach(1.0));
        let cdf = self.cdf();
        for _ in 0..60 {
            let mid = f64::midpoint(low, high);
            let below: f64 =
                self.points.iter().map(|p| p.share * cdf((mid - p.at[j]) / p.scale[j].max(1e-300))).sum();
            if below < probability {
                low = mid
            } else {
                high = mid
            }
            if high - low < 1e-9 * (1.0 + mid.abs()) {
                break;
            }
        }
        f64::midpoint(low, high)
    }

    fn cdf(&self) -> Box<dyn Fn(f64) -> f64> {
        match StudentsT::new(0.0, 1.0, self.df) {
            Ok(t) if !self.known && self.df < 200.0 => Box::new(move |x| t.cdf(x)),
            _ => {
                let normal = Normal::standard();
                Box::new(move |x| normal.cdf(x))
            }
        }
    }

    /// Standard deviation between groups, and of one row of weight 1: means over the posterior.
    pub fn spreads(&self) -> (f64, f64) {
        let between = self.points.iter().map(|p| p.share * (p.lambda * p.spread).sqrt()).sum();
        (between, self.points.iter().map(|p| p.share * p.spread.sqrt()).sum())
    }

    /// How far a group of this weight is drawn to the common mean: 0 not, 1 all the way.
    pub fn pull(&self, j: usize) -> f64 {
        self.points.iter().map(|p| p.share / (1.0 + p.lambda * self.weight[j])).sum()
    }

    /// Effects of the covariates, posterior means; the common mean first.
    pub fn effects(&self) -> Vec<f64> {
        let p = self.points.first().map_or(0, |point| point.beta.len());
        (0..p).map(|k| self.points.iter().map(|point| point.share * point.beta[k]).sum()).collect()
    }

    /// Probability of each of `who` to have the greatest mean of them (or least), and of each to beat
    /// each of the first `pairs`, by draws from a fixed seed. Ties do not happen.
    pub fn contest(&self, who: &[usize], greatest: bool, pairs: usize) -> Contest {
        let pairs = pairs.min(who.len());
        let mut contest = Contest { best: vec![0.0; who.len()], beats: vec![vec![0.0; pairs]; pairs] };
        let draws = (priors::DRAWS * 60 / who.len().max(60)).max(400);
        let mut chance = Chance::new(SEED);
        let (mut done, mut due) = (0_usize, 0.0);
        let mut drawn = vec![0.0; who.len()];
        for point in &self.points {
            due += point.share * draws as f64;
            let until = due.round() as usize;
            while done < until {
                self.draw(point, who, &mut chance, &mut drawn);
                contest.count(&drawn, greatest);
                done += 1;
            }
        }
        contest.share(done as f64);
        contest
    }

    fn draw(&self, point: &Point, who: &[usize], chance: &mut Chance, into: &mut [f64]) {
        let p = point.beta.len();
        let spread = if self.known { 1.0 } else { point.spread * self.df / chance.chi2(self.df) };
        let sigma = spread.sqrt();
        let noise: Vec<f64> = (0..p).map(|_| sigma * chance.normal()).collect();
        let beta: Vec<f64> =
            point.factor.backward(&noise).iter().zip(&point.beta).map(|(e, b)| e + b).collect();
        for (value, j) in into.iter_mut().zip(who) {
            let k = point.lambda / (1.0 + point.lambda * self.weight[*j]);
            let mean = k * (self.z[*j] - dot(&self.x[j * p..(j + 1) * p], &beta));
            *value = beta.first().copied().unwrap_or(0.0) + mean + sigma * k.sqrt() * chance.normal();
        }
    }
}

/// Who is ahead of whom, as probabilities.
#[derive(Debug, Clone, PartialEq)]
pub struct Contest {
    /// Of being best of all.
    pub best: Vec<f64>,
    /// `beats[a][b]`: a ahead of b; 0 on the diagonal.
    pub beats: Vec<Vec<f64>>,
}

impl Contest {
    fn count(&mut self, drawn: &[f64], greatest: bool) {
        let ahead = |a: f64, b: f64| if greatest { a > b } else { a < b };
        let best = (0..drawn.len()).reduce(|a, b| if ahead(drawn[b], drawn[a]) { b } else { a });
        if let Some(best) = best {
            self.best[best] += 1.0;
        }
        for a in 0..self.beats.len() {
            for b in 0..self.beats.len() {
                self.beats[a][b] += f64::from(u8::from(ahead(drawn[a], drawn[b])));
            }
        }
    }

    fn share(&mut self, draws: f64) {
        let all = self.best.iter_mut().chain(self.beats.iter_mut().flatten());
        all.for_each(|count| *count /= draws.max(1.0));
    }
}

/// λ at the middles of equally likely slices of the half-Cauchy on √λ.
fn grid() -> Vec<f64> {
    let middle = |k: usize| (k as f64 + 0.5) / GRID as f64;
    (0..GRID)
        .map(|k| (priors::BETWEEN_SCALE * (std::f64::consts::FRAC_PI_2 * middle(k)).tan()).powi(2))
        .collect()
}

impl Sums {
    fn of(rows: &Rows<'_>) -> Option<Self> {
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
    fn at(&self, lambda: f64, ridge: &[f64], known: bool, df: f64) -> Option<(Point, f64)> {
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

/// Estimates with known variances pooled by the same grid: the normal means of Efron and Morris.
pub fn pool_known(estimates: &[f64], variances: &[f64]) -> Option<Posterior> {
    let of: Vec<usize> = (0..estimates.len()).collect();
    let w: Vec<f64> = variances.iter().map(|v| 1.0 / v).collect();
    Posterior::of(&Rows { groups: of.len(), of: &of, z: estimates, w: &w, x: &[], ridge: &[] }, Spread::Known)
}

/// The closed form that the grid generalises: James and Stein's estimate with a common variance. The
/// share of each distance to the mean that stays, c = 1 − (k − 3)·v/Σ(y − ȳ)², not below 0, and the
/// shrunk values. `None` with fewer than four.
pub fn james_stein(estimates: &[f64], variance: f64) -> Option<(f64, Vec<f64>)> {
    let k = estimates.len() as f64;
    if estimates.len() < 4 {
        return None;
    }
    let mean = super::anova::sum(estimates.iter().copied()) / k;
    let squares = super::anova::sum(estimates.iter().map(|y| (y - mean) * (y - mean)));
    let c = if squares > 0.0 { (1.0 - (k - 3.0) * variance / squares).max(0.0) } else { 0.0 };
    Some((c, estimates.iter().map(|y| mean + c * (y - mean)).collect()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fit(of: &[usize], z: &[f64]) -> Option<Posterior> {
        let w = vec![1.0; z.len()];
        let groups = of.iter().max().map_or(0, |g| g + 1);
        Posterior::of(&Rows { groups, of, z, w: &w, x: &[], ridge: &[] }, Spread::Near1)
    }

    #[test]
    fn small_groups_are_drawn_further_than_large_ones() {
        let of: Vec<usize> = [0, 1].into_iter().chain([2; 20]).chain([3; 20]).collect();
        let z: Vec<f64> =
            of.iter().enumerate().map(|(i, j)| [3.0, 0.0, 3.0, 0.0][*j] + (i % 5) as f64 - 2.0).collect();
        let fit = fit(&of, &z);
        assert!(fit.as_ref().is_some_and(|f| f.pull(0) > f.pull(2) && f.pull(0) < 1.0));
        assert!(fit.is_some_and(|f| f.means()[2] > 2.0 && f.means()[3] < 1.0));
    }

    #[test]
    fn the_interval_holds_the_mean_and_the_draws_agree_with_the_integral() {
        let of = [0, 0, 0, 1, 1, 1, 1];
        let z = [1.0, 2.0, 1.5, 3.0, 2.4, 3.5, 2.2];
        let Some(fit) = fit(&of, &z) else { unreachable!("rows") };
        for (j, mean) in fit.means().into_iter().enumerate() {
            assert!(fit.quantile(j, 0.05) < mean && mean < fit.quantile(j, 0.95));
        }
        let contest = fit.contest(&[0, 1], true, 2);
        assert!((contest.best.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((contest.beats[1][0] - contest.best[1]).abs() < 1e-12 && contest.best[1] > 0.8);
        assert_eq!(contest, fit.contest(&[0, 1], true, 2), "the same record, the same answer");
        assert!((fit.contest(&[0, 1], false, 2).best[0] - contest.best[1]).abs() < 1e-12);
    }

    #[test]
    fn nothing_nobody_and_no_spread_are_no_trouble() {
        assert!(fit(&[], &[]).is_none());
        let one = fit(&[0], &[5.0]);
        assert!(one.is_some_and(|f| (f.means()[0] - 5.0).abs() < 1e-9 && f.quantile(0, 0.95) > 5.0));
        let flat = fit(&[0, 0, 1, 1], &[2.0; 4]);
        assert!(flat.is_some_and(|f| f.quantile(1, 0.05).is_finite() && (f.means()[1] - 2.0).abs() < 1e-9));
    }
}
