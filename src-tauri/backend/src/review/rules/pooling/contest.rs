//! Who is ahead of whom: draws from a posterior, counted.
//! Never a draw that differs from run to run: the seed is fixed.
//! Invariant: of those asked about, one is best in every draw.

use super::super::chance::Chance;
use super::super::dense::dot;
use super::super::priors;
use super::Posterior;
use super::sums::Point;

const SEED: u64 = 0x005e_ed0f_7ee5;

impl Posterior {
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
        let noise = (0..p).map(|_| sigma * chance.normal()).collect();
        let mut beta = point.factor.backward(noise);
        beta.iter_mut().zip(&point.beta).for_each(|(e, b)| *e += b);
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
