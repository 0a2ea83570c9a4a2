//! The review's statistics, and the review itself, against handbooks and sums done by hand.
//! Never the yard of the demo: its numbers are invented.
//! Invariant: agreement is to the digits the source prints.

use chrono::NaiveDate;
use shadeyard_backend::measure::{Rough, litres};
use shadeyard_backend::review::rules::spread::{Sample, t_90, told_apart};
use shadeyard_backend::review::rules::{LogLife, side_by_side};
use std::collections::BTreeMap;

/// Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values of
/// Student's t for 0.05 on one side, which is a two-sided 90 % interval; read in a copy.
#[test]
fn the_ninety_per_cent_quantiles_are_the_handbooks() {
    let table = [
        (1.0, 6.314),
        (2.0, 2.920),
        (3.0, 2.353),
        (4.0, 2.132),
        (5.0, 2.015),
        (6.0, 1.943),
        (7.0, 1.895),
        (8.0, 1.860),
        (9.0, 1.833),
        (10.0, 1.812),
        (15.0, 1.753),
        (20.0, 1.725),
        (30.0, 1.697),
        (60.0, 1.671),
        (100.0, 1.660),
    ];
    for (df, printed) in table {
        assert!(t_90(df).is_some_and(|t| (t - printed).abs() <= 0.000_51), "{df}");
    }
}

/// Means and variances of a data set's treatments, put together to the F of a one-way analysis.
fn f_statistic(file: &str) -> f64 {
    let mut groups: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for line in file.lines().skip(60) {
        let mut words = line.split_whitespace();
        if let (Some(group), Some(Ok(value))) = (words.next(), words.next().map(str::parse)) {
            groups.entry(group).or_default().push(value);
        }
    }
    let samples: Vec<Sample> = groups.into_values().filter_map(Sample::of).collect();
    let n: f64 = samples.iter().map(|s| s.n as f64).sum();
    let k = samples.len() as f64;
    let grand = samples.iter().map(|s| s.n as f64 * s.mean).sum::<f64>() / n;
    let between: f64 = samples.iter().map(|s| s.n as f64 * (s.mean - grand).powi(2)).sum();
    let within: f64 = samples.iter().map(|s| (s.n as f64 - 1.0) * s.variance).sum();
    (between / (k - 1.0)) / (within / (n - k))
}

/// Source: NIST Statistical Reference Datasets, certified F: SiRstv 1.18046237440255, SmLs04 21. The
/// second has seven constant leading digits: the sum-of-squares shortcut gives 17.76 there.
#[test]
fn means_and_variances_keep_the_digits_nist_certifies() {
    assert!((f_statistic(include_str!("reference/SiRstv.dat")) / 1.180_462_374_402_55 - 1.0).abs() < 1e-9);
    assert!((f_statistic(include_str!("reference/SmLs04.dat")) / 21.0 - 1.0).abs() < 1e-6);
}

/// Source: Student's sleep data (Biometrika 6, 1908), as R's `t.test(extra ~ group)` gives them:
/// t −1.8608, df 17.776, p 0.0794; from memory. So told apart at 10 %. With 0.2 h less between
/// them (t −1.6252) they are not: the boundary at 17.776 df is 1.7353.
#[test]
fn welch_tells_the_sleep_data_as_published() {
    let first = vec![0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    let second = vec![1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    let nearer: Vec<f64> = second.iter().map(|h| h - 0.2).collect();
    let told = |a: &[f64], b: &[f64]| {
        Sample::of(a.to_vec()).zip(Sample::of(b.to_vec())).map(|(a, b)| told_apart(&a, &b))
    };
    assert_eq!(told(&first, &second), Some(true));
    assert_eq!(told(&first, &nearer), Some(false));
}

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_default()
}

/// Source: by hand. Fresh weight per litre of wood, to a tenth:
///
/// | mm × mm | litres | g | g per litre |
/// |---|---|---|---|
/// | 100 × 1000 | 7.8540 | 785 | 99.95 |
/// | 127 × 1219, 5 in × 48 in | 15.4419 | 2100 | 135.99 |
/// | 150 and 130 × 1000, Smalian | 15.4723 | 1240 | 80.14 |
/// | 100, 96, 90 × 900, Newton | 6.4753 | 0 | 0 |
///
/// Mean of the four 79.02.
#[test]
fn grams_per_litre_are_the_table_done_by_hand() {
    let logs: [(&[i64], i64, i64); 4] =
        [(&[100], 1000, 785), (&[127], 1219, 2100), (&[150, 130], 1000, 1240), (&[100, 96, 90], 900, 0)];
    let lives: Vec<LogLife> = logs.iter().map(|(d, l, g)| lived(litres(d, Some(*l)), *g)).collect();
    let (_, woods) = side_by_side(&lives, day("2026-11-25"), false);
    let found = woods.first().and_then(|w| w.per_litre.clone());
    assert!(found.as_ref().is_some_and(|r| r.n == 4 && (r.mean - 79.02).abs() < 0.01), "{found:?}");
}

fn lived(litres: Option<f64>, grams: i64) -> LogLife {
    LogLife {
        wood: Some("white-oak".into()),
        laid: Rough::parse("2022-04-01").ok(),
        ended: None,
        first_fruit: (grams > 0).then(|| day("2023-05-01")),
        grams,
        pickings: u32::from(grams > 0),
        unweighed: 0,
        litres,
        young: false,
    }
}

/// Source: Cornell: 4–5 lb from a good log over three seasons; University of Kentucky FOR-85: first
/// fruit 6–18 months after laying. Three logs laid three and a half years ago that gave 4, 4.5 and
/// 5 lb: 2041 g over 1279 days, 3.5017 log-years, by hand 582.9 g per log-year.
#[test]
fn a_good_log_by_the_extension_services_comes_out_at_their_yield() {
    let good = |grams| LogLife { laid: Rough::parse("2023-05-26").ok(), ..lived(Some(10.0), grams) };
    let lives: Vec<LogLife> = [1814, 2041, 2268].map(good).into();
    let (_, woods) = side_by_side(&lives, day("2026-11-25"), false);
    let found = woods.first().and_then(|w| w.per_log_year.clone());
    assert!(found.as_ref().is_some_and(|r| (r.mean - 582.86).abs() < 0.01), "{found:?}");
}
