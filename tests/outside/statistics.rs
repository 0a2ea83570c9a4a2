//! Analysis of variance and pooling of means against reference data sets and published tables.
//! Never the yard of the demo: its numbers are invented.
//! Invariant: agreement is to the digits the source prints, or better where it certifies more.

use shadeyard_backend::review::rules::anova::{Anova, anova};
use shadeyard_backend::review::rules::pooling::{james_stein, pool_known};
use std::collections::BTreeMap;

/// The groups of a NIST data set: treatment and response from line 61 on.
fn groups(file: &str) -> Vec<Vec<f64>> {
    let mut groups: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for line in file.lines().skip(60) {
        let mut words = line.split_whitespace();
        if let (Some(group), Some(Ok(value))) = (words.next(), words.next().map(str::parse)) {
            groups.entry(group).or_default().push(value);
        }
    }
    groups.into_values().collect()
}

/// The certified figures of a file: between, within, F, R², residual standard deviation; and the degrees.
fn holds(file: &str, degrees: (f64, f64), certified: [f64; 5], digits: f64) {
    let a: Anova = anova(&groups(file)).expect("an analysis");
    assert_eq!((a.df_between, a.df_within), degrees);
    for (found, certified) in
        [a.between, a.within, a.f, a.r_squared, a.residual_sd].into_iter().zip(certified)
    {
        let agree = -((found / certified - 1.0).abs().max(1e-17)).log10();
        assert!(agree >= digits, "{found} and {certified} agree to {agree:.1} digits only");
    }
}

/// Source: NIST Statistical Reference Datasets, SiRstv, certified values.
#[test]
fn si_rstv_comes_out_to_nine_digits() {
    let certified = [
        5.114_626_160_000_00e-2,
        2.166_365_600_000_00e-1,
        1.180_462_374_402_55,
        1.909_990_390_511_29e-1,
        1.040_760_683_346_56e-1,
    ];
    holds(include_str!("reference/SiRstv.dat"), (4.0, 20.0), certified, 9.0);
}

/// Source: the same, SmLs01 and SmLs04: between 1.68, within 1.8, F 21, R² 0.48275862…, s 0.1. The second
/// has seven leading digits that never change: the shortcut by sums of squares gives 17.76 there.
#[test]
fn simon_and_lesages_sets_come_out_to_nine_and_seven_digits() {
    let certified = [1.68, 1.8, 21.0, 4.827_586_206_896_55e-1, 0.1];
    holds(include_str!("reference/SmLs01.dat"), (8.0, 180.0), certified, 9.0);
    holds(include_str!("reference/SmLs04.dat"), (8.0, 180.0), certified, 7.0);
}

/// Source: Efron & Morris 1977, Scientific American 236(5): eighteen batting averages of 45 at-bats are
/// drawn to their mean .265 by c = .212, Clemente's .400 to .294, Alvis's .156 to .242 (1975, JASA 70:311,
/// table 1 for the averages). The shrunk column is from memory. The variance is that of the mean, ȳ(1 − ȳ)/45.
#[test]
fn eighteen_batting_averages_shrink_as_published() {
    let hits: Vec<f64> = include_str!("reference/efron_morris_1975.tsv")
        .lines()
        .skip(1)
        .filter_map(|line| line.split('\t').nth(3)?.parse().ok())
        .collect();
    let averages: Vec<f64> = hits.iter().map(|h| h / 45.0).collect();
    assert_eq!(averages.len(), 18);
    let mean = averages.iter().sum::<f64>() / 18.0;
    let (c, shrunk) = james_stein(&averages, mean * (1.0 - mean) / 45.0).expect("eighteen");
    assert!((c - 0.212).abs() < 0.0005, "{c}");
    // The shrunk column: .265 + .212·(y − .265), to its three printed digits.
    let column = [
        0.294, 0.289, 0.285, 0.280, 0.275, 0.275, 0.270, 0.266, 0.261, 0.261, 0.256, 0.256, 0.256, 0.256,
        0.256, 0.252, 0.247, 0.242,
    ];
    for (found, printed) in shrunk.iter().zip(column) {
        assert!((found - printed).abs() < 0.0008, "{found} {printed}");
    }
    // Averaging over how far players truly lie apart keeps the order and draws them in about as far.
    let pooled = pool_known(&averages, &[mean * (1.0 - mean) / 45.0; 18]).expect("eighteen").means();
    assert!(
        pooled.windows(2).all(|w| w[0] >= w[1] - 1e-12) && pooled[0] < 0.36 && pooled[17] > 0.19,
        "{pooled:?}"
    );
}

/// Source: by hand. Two groups of known variance 1 and means 0 and 10: whatever λ, both are drawn in by the
/// same share, their mean stays 5 and their order stands.
#[test]
fn two_groups_of_one_weight_are_drawn_in_alike() {
    let means = pool_known(&[0.0, 10.0], &[1.0, 1.0]).expect("two").means();
    assert!((means[0] + means[1] - 10.0).abs() < 1e-9 && means[0] > 0.0 && means[1] > 9.0, "{means:?}");
}
