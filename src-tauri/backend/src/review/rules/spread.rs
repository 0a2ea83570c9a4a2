//! A mean and how far it can be trusted: t intervals, Welch's test, how many more would tell.
//! Never a log or a wood: numbers in, numbers out.
//! Invariant: the same values give the same digits in whatever order they come.

use serde::Serialize;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use ts_rs::TS;

/// No forecast of more logs than this: past it the difference is not worth chasing.
pub const MOST_NEEDED: u32 = 200;

/// A mean with its 90 % interval.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Range {
    /// Mean over the logs.
    pub mean: f64,
    /// Lower end, never below 0.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Logs behind it.
    pub n: u32,
}

/// Rates of one wood's logs, boiled down by two passes (the sum of squares loses digits).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// Logs.
    pub n: usize,
    /// Mean.
    pub mean: f64,
    /// Variance with n − 1; 0 for a single log.
    pub variance: f64,
}

impl Sample {
    /// `None` for no values. Sorted first, so that the order of logs never shows in the last digit.
    pub fn of(mut values: Vec<f64>) -> Option<Self> {
        values.sort_by(f64::total_cmp);
        let n = values.len();
        let mean = values.iter().sum::<f64>() / (n as f64);
        let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
        let variance = squares / (n.saturating_sub(1).max(1) as f64);
        (n > 0).then_some(Self { n, mean, variance })
    }

    /// Mean and 90 % t interval; `None` for a single log, which has no interval.
    pub fn range(&self) -> Option<Range> {
        let df = self.n.checked_sub(1).filter(|df| *df > 0)?;
        let half = t_90(df as f64)? * self.error();
        let (low, high) = ((self.mean - half).max(0.0), self.mean + half);
        Some(Range { mean: self.mean, low, high, n: self.n as u32 })
    }

    fn error(&self) -> f64 {
        (self.variance / self.n as f64).sqrt()
    }
}

/// Student's t that leaves 5 % on each side.
pub fn t_90(df: f64) -> Option<f64> {
    StudentsT::new(0.0, 1.0, df).ok().map(|t| t.inverse_cdf(0.95))
}

/// Welch's two-sided t test at 10 %, degrees of freedom by Welch and Satterthwaite.
pub fn told_apart(a: &Sample, b: &Sample) -> bool {
    let gap = (a.mean - b.mean).abs();
    let (va, vb) = (a.error().powi(2), b.error().powi(2));
    if va + vb <= 0.0 {
        return gap > 0.0;
    }
    let share = |v: f64, n: usize| v * v / (n.saturating_sub(1).max(1) as f64);
    let df = (va + vb).powi(2) / (share(va, a.n) + share(vb, b.n));
    t_90(df).is_some_and(|t| gap > t * (va + vb).sqrt())
}

/// More logs of each wood with which a true difference as large as the seen one would be told in
/// four cases of five: 2·s²·(z₀.₉₅ + z₀.₈₀)²/gap², s² the pooled variance, by the normal
/// approximation, less the smaller count there is. `None` past [`MOST_NEEDED`], or without a gap.
pub fn more_logs(a: &Sample, b: &Sample) -> Option<u32> {
    let gap = a.mean - b.mean;
    let df = |s: &Sample| s.n.saturating_sub(1) as f64;
    let pooled = (df(a) * a.variance + df(b) * b.variance) / (df(a) + df(b)).max(1.0);
    let normal = Normal::standard();
    let z = normal.inverse_cdf(0.95) + normal.inverse_cdf(0.80);
    let each = (2.0 * pooled * z * z / (gap * gap)).ceil();
    let more = each - a.n.min(b.n) as f64;
    (more <= f64::from(MOST_NEEDED)).then_some(more.max(1.0) as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sample(values: &[f64]) -> Sample {
        Sample::of(values.to_vec()).unwrap_or(Sample { n: 0, mean: f64::NAN, variance: f64::NAN })
    }

    #[test]
    fn an_interval_is_the_pencil_sum() {
        // Mean 120, s 10, n 3: half width 2.920 · 10/√3 = 16.859.
        let range = sample(&[110.0, 120.0, 130.0]).range();
        assert!(range.is_some_and(|r| r.n == 3
            && r.mean == 120.0
            && (r.low - 103.141).abs() < 0.001
            && (r.high - 136.859).abs() < 0.001));
    }

    #[test]
    fn a_yield_is_never_said_to_be_below_nothing_nor_one_log_to_be_a_range() {
        assert!(sample(&[0.0, 0.0, 30.0]).range().is_some_and(|r| r.low == 0.0 && r.high > 30.0));
        assert_eq!(sample(&[5.0]).range(), None);
        assert_eq!(Sample::of(Vec::new()), None);
    }

    #[test]
    fn welch_tells_the_far_apart_and_not_the_near() {
        let (low, high) = (sample(&[10.0, 12.0, 14.0, 16.0]), sample(&[30.0, 36.0, 42.0]));
        assert!(told_apart(&low, &high) && told_apart(&high, &low));
        assert!(!told_apart(&high, &sample(&[20.0, 35.0, 45.0])));
        assert!(told_apart(&sample(&[1.0, 1.0]), &sample(&[2.0, 2.0])));
        assert!(!told_apart(&sample(&[1.0, 1.0]), &sample(&[1.0, 1.0, 1.0])));
    }

    #[test]
    fn the_logs_still_needed_are_the_pencil_sum() {
        // s 10 in both, gap 10: 2·(1.6449 + 0.8416)² = 12.37, so 13 each; 3 are there.
        let (a, b) = (sample(&[20.0, 30.0, 40.0]), sample(&[10.0, 20.0, 30.0]));
        assert_eq!(more_logs(&a, &b), Some(10));
        assert_eq!(more_logs(&a, &a), None);
        assert_eq!(more_logs(&a, &sample(&[19.0, 29.0, 39.0])), None);
    }

    proptest! {
        #[test]
        fn nothing_is_ever_not_a_number(
            a in prop::collection::vec(0.0..1e5f64, 1..9), b in prop::collection::vec(0.0..1e5f64, 1..9),
        ) {
            let (x, y) = (sample(&a), sample(&b));
            prop_assert_eq!(told_apart(&x, &y), told_apart(&y, &x));
            prop_assert!(x.range().is_none_or(|r| r.low <= r.mean && r.mean <= r.high && r.high.is_finite()));
            prop_assert!(more_logs(&x, &y).is_none_or(|n| (1..=MOST_NEEDED).contains(&n)));
        }
    }
}
