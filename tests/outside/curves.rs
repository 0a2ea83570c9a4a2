//! Kaplan–Meier and the log-rank test against published worked examples.
//! Never the yard of the demo.
//! Invariant: each figure is the source's own, or worked out beside it by hand.

use shadeyard_backend::review::rules::logrank::log_rank;
use shadeyard_backend::review::rules::survival::{Interval, Span, Survival, Z_90};

/// Weeks of remission: 6-MP first, placebo second.
fn freireich() -> [Vec<Span>; 2] {
    let mut groups = [Vec::new(), Vec::new()];
    for line in include_str!("reference/freireich_6mp_gehan.dat").lines() {
        let figures: Vec<f64> = line.split_whitespace().filter_map(|w| w.parse().ok()).collect();
        let [group, weeks, event] = figures.as_slice() else { continue };
        groups[usize::from(*group < 1.5)].push(Span::new(*weeks, *event > 0.5));
    }
    groups
}

/// Source: Freireich et al. 1963, Blood 21:699, as textbooks work it: shares 6/7, 96/119, 64/85, 176/255,
/// 32/51, 64/119, 160/357 at 6, 7, 10, 13, 16, 22 and 23 weeks; median 23. Greenwood's errors by hand: at 6,
/// √(36/49 · 3/(21·18)) = 0.0763604; the sum Σ d/(n(n − d)) goes on with 1/(17·16), 1/(15·14), 1/(12·11),
/// 1/(11·10), 1/(7·6), 1/(6·5).
#[test]
fn the_six_mp_group_is_the_seven_fractions() {
    let [drug, placebo] = freireich();
    assert_eq!((drug.len(), placebo.len()), (21, 21));
    let curve = Survival::of(&drug, Interval::LogLog, Z_90);
    let fractions = [
        (6.0, 6.0 / 7.0, 3.0 / (21.0 * 18.0)),
        (7.0, 96.0 / 119.0, 1.0 / (17.0 * 16.0)),
        (10.0, 64.0 / 85.0, 1.0 / (15.0 * 14.0)),
        (13.0, 176.0 / 255.0, 1.0 / (12.0 * 11.0)),
        (16.0, 32.0 / 51.0, 1.0 / (11.0 * 10.0)),
        (22.0, 64.0 / 119.0, 1.0 / (7.0 * 6.0)),
        (23.0, 160.0 / 357.0, 1.0 / (6.0 * 5.0)),
    ];
    assert_eq!(curve.steps.len(), 7);
    let mut greenwood = 0.0;
    for (step, (at, share, term)) in curve.steps.iter().zip(fractions) {
        greenwood += term;
        assert_eq!(step.at, at);
        assert!((step.share - share).abs() < 1e-14, "{at}: {}", step.share);
        assert!((step.error - share * f64::sqrt(greenwood)).abs() < 1e-14, "{at}: {}", step.error);
    }
    assert!((curve.steps[0].error - 0.076_360_4).abs() < 1e-7);
    assert_eq!(curve.median().at, Some(23.0));
    assert_eq!(Survival::of(&placebo, Interval::LogLog, Z_90).median().at, Some(8.0));
}

/// Source: the same; log-rank χ² 16.792941 in the hypergeometric form.
#[test]
fn the_log_rank_of_six_mp_is_the_published() {
    let test = log_rank(&freireich()).expect("two groups");
    assert!((test.chi2 - 16.792_941).abs() < 5e-7, "{}", test.chi2);
    assert!(test.df == 1.0 && (test.p / 4.168_809e-5 - 1.0).abs() < 1e-4, "{}", test.p);
    assert!((test.expected[0] - 19.2505).abs() < 1e-3 && test.observed == [9.0, 21.0]);
}

/// Source: Bland & Altman 2004, BMJ 328:1073, data and figures from memory: observed 14 and 28, expected
/// 22.48 and 19.52, χ² 6.88 by Σ (O − E)²/E. The form that Review uses is the hypergeometric one, which is
/// the greater.
#[test]
fn the_log_rank_of_gliomas_is_the_published_in_its_own_form() {
    let mut groups = [Vec::new(), Vec::new()];
    for line in include_str!("reference/bland_altman_2004.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let span = Span::new(cells[1].parse().expect("weeks"), cells[2] == "1");
        groups[usize::from(cells[0] == "glioblastoma")].push(span);
    }
    assert_eq!((groups[0].len(), groups[1].len()), (20, 31));
    let test = log_rank(&groups).expect("two groups");
    assert_eq!(test.observed, [14.0, 28.0]);
    assert!((test.expected[0] - 22.48).abs() < 0.005 && (test.expected[1] - 19.52).abs() < 0.005);
    assert!((test.chi2_short - 6.88).abs() < 0.005 && test.chi2 > test.chi2_short, "{test:?}");
}

/// Source: by hand. Late entry: A watched 0–4 and ending by the event, B 2–6 likewise, C 3–5 left. At 4 all
/// three are at risk: 2/3; at 6 only B: 0. The plain interval at 4: 2/3 ± z·(2/3)·√(1/(3·2)).
#[test]
fn a_log_that_came_late_is_at_risk_from_its_coming() {
    let span = |entry, exit, event| Span { entry, exit, event };
    let curve = Survival::of(
        &[span(0.0, 4.0, true), span(2.0, 6.0, true), span(3.0, 5.0, false)],
        Interval::Plain,
        Z_90,
    );
    let [first, last] = curve.steps.as_slice() else { panic!("{curve:?}") };
    assert!(first.at_risk == 3 && (first.share - 2.0 / 3.0).abs() < 1e-15 && last.share == 0.0);
    let half = Z_90 * (2.0 / 3.0) * (1.0_f64 / 6.0).sqrt();
    assert!((first.low - (2.0 / 3.0 - half)).abs() < 1e-12 && first.high == 1.0);
}
