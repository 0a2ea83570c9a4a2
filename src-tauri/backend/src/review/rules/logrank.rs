//! The log-rank test between groups: what was seen against what would be if all groups were alike.
//! Never a log: spans of time in, figures out.
//! Invariant: observed and expected have the same sum.
//!
//! The form used and shown: variances of the hypergeometric distribution, ties as they are (Mantel's;
//! for two groups (O − E)²/V, for more the quadratic form). The shorter form Σ (O − E)²/E is given
//! beside it, since papers print it; it is always the smaller.

use super::dense::{Lower, dot};
use super::survival::Span;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// What the test gives.
#[derive(Debug, Clone, PartialEq)]
pub struct LogRank {
    /// Events seen, by group.
    pub observed: Vec<f64>,
    /// Events expected, by group.
    pub expected: Vec<f64>,
    /// Hypergeometric form.
    pub chi2: f64,
    /// Its degrees of freedom: groups at risk when something happened, less one.
    pub df: f64,
    /// Probability of a greater one when all groups are alike.
    pub p: f64,
    /// Σ (O − E)²/E.
    pub chi2_short: f64,
}

/// The test; `None` with fewer than two groups at risk or no event.
pub fn log_rank(groups: &[Vec<Span>]) -> Option<LogRank> {
    let k = groups.len();
    let (observed, expected, variance) = tables(groups);
    let alive: Vec<usize> = (0..k).filter(|j| expected[*j] > 0.0).collect();
    if alive.len() < 2 {
        return None;
    }
    // The rows of V sum to nothing: one group is left out, and the rest inverted.
    let some = &alive[..alive.len() - 1];
    let gap: Vec<f64> = some.iter().map(|j| observed[*j] - expected[*j]).collect();
    let mut v = Vec::with_capacity(some.len() * some.len());
    for i in some {
        v.extend(some.iter().map(|j| variance[i * k + j]));
    }
    let chi2 = Lower::of(&v, some.len()).map(|l| dot(&gap, &l.solve(&gap)))?;
    let df = some.len() as f64;
    let short = alive.iter().map(|j| (observed[*j] - expected[*j]).powi(2) / expected[*j]).sum();
    let p = ChiSquared::new(df).map_or(f64::NAN, |d| d.sf(chi2));
    Some(LogRank { observed, expected, chi2, df, p, chi2_short: short })
}

/// Observed, expected and the variances (row by row), summed over the days on which something happened.
fn tables(groups: &[Vec<Span>]) -> (Vec<f64>, Vec<f64>, Vec<f64>) {
    let k = groups.len();
    let mut exits: Vec<(f64, bool, usize)> = Vec::new();
    let mut entries: Vec<(f64, usize)> = Vec::new();
    for (j, spans) in groups.iter().enumerate() {
        for span in spans.iter().filter(|s| s.counts()) {
            exits.push((span.exit, span.event, j));
            entries.push((span.entry, j));
        }
    }
    exits.sort_by(|a, b| a.0.total_cmp(&b.0));
    entries.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut observed, mut expected, mut variance) = (vec![0.0; k], vec![0.0; k], vec![0.0; k * k]);
    let (mut risk, mut come, mut gone) = (vec![0.0; k], 0, 0);
    while gone < exits.len() {
        let at = exits[gone].0;
        while come < entries.len() && entries[come].0 < at {
            risk[entries[come].1] += 1.0;
            come += 1;
        }
        let here = exits[gone..].iter().take_while(|e| e.0 == at).count();
        let n: f64 = risk.iter().sum();
        let d = exits[gone..gone + here].iter().filter(|e| e.1).count() as f64;
        if d > 0.0 {
            for j in 0..k {
                expected[j] += d * risk[j] / n;
                if n > 1.0 && risk[j] > 0.0 {
                    let c = d * (n - d) / (n - 1.0) * risk[j] / n;
                    for i in 0..k {
                        variance[j * k + i] += c * (f64::from(u8::from(i == j)) - risk[i] / n);
                    }
                }
            }
        }
        for (_, event, j) in &exits[gone..gone + here] {
            observed[*j] += f64::from(u8::from(*event));
            risk[*j] -= 1.0;
        }
        gone += here;
    }
    (observed, expected, variance)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spans(ends: &[(f64, bool)]) -> Vec<Span> {
        ends.iter().map(|(t, e)| Span::new(*t, *e)).collect()
    }

    #[test]
    fn groups_that_are_the_same_do_not_differ_and_an_empty_one_changes_nothing() {
        let one = spans(&[(1.0, true), (2.0, false), (3.0, true), (4.0, true)]);
        let same = log_rank(&[one.clone(), one.clone()]);
        assert!(same.is_some_and(|t| t.chi2.abs() < 1e-12 && t.df == 1.0 && (t.p - 1.0).abs() < 1e-9));
        let other = spans(&[(5.0, true), (6.0, true), (9.0, false)]);
        let two = log_rank(&[one.clone(), other.clone()]);
        let three = log_rank(&[one.clone(), Vec::new(), other]);
        assert_eq!(two.map(|t| (t.chi2, t.df)), three.map(|t| (t.chi2, t.df)));
        assert_eq!(log_rank(std::slice::from_ref(&one)), None);
        assert_eq!(log_rank(&[spans(&[(1.0, false)]), spans(&[(2.0, false)])]), None);
    }

    #[test]
    fn the_sums_of_seen_and_expected_agree() {
        let a = spans(&[(1.0, true), (1.0, true), (2.0, true), (7.0, false)]);
        let b = spans(&[(1.0, true), (3.0, true), (3.0, false), (8.0, true)]);
        let c = spans(&[(2.0, true), (5.0, true)]);
        let test = log_rank(&[a, b, c]);
        let sums = test.as_ref().map(|t| (t.observed.iter().sum::<f64>(), t.expected.iter().sum::<f64>()));
        assert!(sums.is_some_and(|(o, e)| o == 8.0 && (o - e).abs() < 1e-12));
        assert!(test.is_some_and(|t| t.chi2 >= t.chi2_short && t.df == 2.0));
    }
}
