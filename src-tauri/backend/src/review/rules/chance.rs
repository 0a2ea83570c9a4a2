//! Chance from a fixed seed, so that the same record gives the same answer every time.
//! Never the system's own chance.
//! Invariant: one seed, one row of numbers (SplitMix64, Steele et al. 2014).

/// A row of random numbers.
#[derive(Debug, Clone)]
pub struct Chance {
    state: u64,
    spare: Option<f64>,
}

impl Chance {
    /// The row of this seed.
    pub fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Above 0 and up to 1.
    pub fn share(&mut self) -> f64 {
        ((self.next() >> 11) + 1) as f64 / (1u64 << 53) as f64
    }

    /// Standard normal, by Box and Muller.
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.share().ln()).sqrt();
        let (sin, cos) = (std::f64::consts::TAU * self.share()).sin_cos();
        self.spare = Some(radius * sin);
        radius * cos
    }

    /// Gamma of this shape, scale 1, by Marsaglia and Tsang.
    pub fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            let boost = self.share().powf(1.0 / shape);
            return self.gamma(shape + 1.0) * boost;
        }
        let d = shape - 1.0 / 3.0;
        let c = 1.0 / (9.0 * d).sqrt();
        loop {
            let x = self.normal();
            let v = (1.0 + c * x).powi(3);
            if v > 0.0 && self.share().ln() < 0.5 * x * x + d - d * v + d * v.ln() {
                return d * v;
            }
        }
    }

    /// Chi-squared.
    pub fn chi2(&mut self, df: f64) -> f64 {
        2.0 * self.gamma(df / 2.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_moments_are_those_of_the_distributions() {
        let mut chance = Chance::new(7);
        let n = 40_000;
        let normals: Vec<f64> = (0..n).map(|_| chance.normal()).collect();
        let mean = normals.iter().sum::<f64>() / f64::from(n);
        let square = normals.iter().map(|x| x * x).sum::<f64>() / f64::from(n);
        assert!(mean.abs() < 0.02 && (square - 1.0).abs() < 0.03, "{mean} {square}");
        let chi = (0..n).map(|_| chance.chi2(3.0)).sum::<f64>() / f64::from(n);
        assert!((chi - 3.0).abs() < 0.05, "{chi}");
        assert_eq!(Chance::new(1).share(), Chance::new(1).share());
    }
}
