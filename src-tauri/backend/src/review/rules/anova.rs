//! One-way analysis of variance, by two passes over centred values.
//! Never a log or a wood: numbers in, numbers out.
//! Invariant: the order of the values never shows in the digits.

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

/// What a one-way analysis gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anova {
    /// Sum of squares between groups.
    pub between: f64,
    /// Its degrees of freedom.
    pub df_between: f64,
    /// Sum of squares within groups.
    pub within: f64,
    /// Its degrees of freedom.
    pub df_within: f64,
    /// Their mean squares' ratio; infinite when nothing varies within groups that differ.
    pub f: f64,
    /// Probability of a greater one when all groups are alike.
    pub p: f64,
    /// Share of the squares between groups.
    pub r_squared: f64,
    /// Residual standard deviation.
    pub residual_sd: f64,
}

/// The analysis of these groups, empty ones left out; `None` with fewer than two groups, or no
/// degree of freedom within them, or values that are no numbers.
pub fn anova(groups: &[Vec<f64>]) -> Option<Anova> {
    let groups: Vec<&Vec<f64>> = groups.iter().filter(|g| !g.is_empty()).collect();
    let all: Vec<f64> = groups.iter().flat_map(|g| g.iter().copied()).collect();
    if groups.len() < 2 || all.len() <= groups.len() || all.iter().any(|v| !v.is_finite()) {
        return None;
    }
    // Leading digits that all share are taken off first; what is left loses nothing in the sums.
    let start = middle(&all);
    let grand = start + mean(&all, start);
    let centred: Vec<(f64, f64, Vec<f64>)> = groups
        .iter()
        .map(|g| {
            let values: Vec<f64> = g.iter().map(|v| v - grand).collect();
            let own = mean(&values, 0.0);
            (values.len() as f64, own, values)
        })
        .collect();
    let rest = sum(centred.iter().map(|(n, own, _)| n * own)) / all.len() as f64;
    let between = sum(centred.iter().map(|(n, own, _)| n * (own - rest) * (own - rest)));
    let within =
        sum(centred.iter().flat_map(|(_, own, values)| values.iter().map(move |v| (v - own) * (v - own))));
    let (df_between, df_within) = (groups.len() as f64 - 1.0, (all.len() - groups.len()) as f64);
    let f = ratio(between / df_between, within / df_within);
    Some(Anova {
        between,
        df_between,
        within,
        df_within,
        f,
        p: tail(f, df_between, df_within),
        r_squared: if between + within > 0.0 { between / (between + within) } else { 0.0 },
        residual_sd: (within / df_within).sqrt(),
    })
}

fn ratio(above: f64, below: f64) -> f64 {
    match (above > 0.0, below > 0.0) {
        (false, _) => 0.0,
        (true, false) => f64::INFINITY,
        _ => above / below,
    }
}

fn tail(f: f64, above: f64, below: f64) -> f64 {
    if f.is_infinite() {
        return 0.0;
    }
    FisherSnedecor::new(above, below).map_or(f64::NAN, |d| d.sf(f))
}

fn middle(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)
}

fn mean(values: &[f64], from: f64) -> f64 {
    sum(values.iter().map(|v| v - from)) / values.len() as f64
}

/// A sum that keeps what plain addition drops (Neumaier), of sorted values.
pub fn sum(values: impl Iterator<Item = f64>) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    let (mut total, mut lost) = (0.0_f64, 0.0);
    for v in values {
        let next = total + v;
        lost += if total.abs() >= v.abs() { (total - next) + v } else { (v - next) + total };
        total = next;
    }
    total + lost
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_groups_are_the_pencil_sum() {
        // Means 2, 3, 7 about 4: 3·(4 + 1 + 9) = 42; within 2 + 2 + 2 = 6. F = 21/1.
        let a = anova(&[vec![1.0, 2.0, 3.0], vec![2.0, 3.0, 4.0], vec![6.0, 7.0, 8.0]]);
        assert!(a.is_some_and(|a| (a.between - 42.0).abs() < 1e-12 && (a.within - 6.0).abs() < 1e-12));
        assert!(a.is_some_and(|a| (a.f - 21.0).abs() < 1e-12 && a.df_between == 2.0 && a.df_within == 6.0));
    }

    #[test]
    fn what_cannot_be_analysed_is_not() {
        assert_eq!(anova(&[]), None);
        assert_eq!(anova(&[vec![1.0, 2.0], vec![]]), None);
        assert_eq!(anova(&[vec![1.0], vec![2.0]]), None);
        assert_eq!(anova(&[vec![1.0, f64::NAN], vec![2.0]]), None);
        let flat = anova(&[vec![5.0; 3], vec![5.0; 3]]);
        assert!(flat.is_some_and(|a| a.f == 0.0 && a.p == 1.0 && a.r_squared == 0.0));
        assert!(anova(&[vec![5.0; 3], vec![6.0; 3]]).is_some_and(|a| a.f.is_infinite() && a.p == 0.0));
    }
}
