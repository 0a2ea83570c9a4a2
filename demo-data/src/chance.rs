//! The one source of chance in the yard: numbers that only look random.
//! Never the clock, the system's randomness or a global state.
//! Invariant: the same seed and name give the same numbers, whatever else was drawn before.

/// A stream of numbers (SplitMix64: Steele, Lea & Flood 2014).
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// The stream of `seed`.
    pub fn new(seed: u64) -> Self {
        Self(mix(seed ^ 0x5eed_0f5a_de1a_11e5))
    }

    /// The stream of one name under a seed, so that one log's luck never moves another's.
    pub fn named(seed: u64, name: &str) -> Self {
        let hash = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Self::new(seed ^ hash)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mix(self.0)
    }

    /// In 0 ≤ x < 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// In low ≤ x < high.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// As `between`, for pixels.
    pub fn span(&mut self, low: f32, high: f32) -> f32 {
        self.between(f64::from(low), f64::from(high)) as f32
    }

    /// A whole number, both ends included.
    pub fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.unit() * (high - low + 1) as f64) as i64
    }

    /// True in `share` of the cases.
    pub fn happens(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    /// A factor with median 1 and the given standard deviation of its logarithm.
    pub fn factor(&mut self, sigma: f64) -> f64 {
        // Twelve uniforms make a normal deviate well enough, and cut its tails at six.
        let normal = (0..12).map(|_| self.unit()).sum::<f64>() - 6.0;
        (sigma * normal).exp()
    }
}

fn mix(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
