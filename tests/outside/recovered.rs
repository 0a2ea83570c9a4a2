//! What is true in simulated yards is found again: intervals cover, probabilities mean what they say.
//! Never a real yard: `invented` makes them, and says so.
//! Invariant: seeds are fixed; `prove` takes 500 yards, `test` forty. `PROVE_FROM` names another first seed.

use super::invented::{First, Invented, question, yard};
use proptest::prelude::*;
use shadeyard_backend::review::rules::compare::compare;
use shadeyard_backend::review::rules::life::Life;
use shadeyard_backend::review::rules::question::Measure;
use shadeyard_backend::review::rules::reply::Compared;

/// Forty yards; 500 when many cases are asked for.
fn yards() -> u64 {
    let asked = std::env::var("PROVE_CASES").ok().and_then(|n| n.parse::<u64>().ok());
    if asked.is_some_and(|n| n >= 500) { 500 } else { 40 }
}

/// Their seeds.
fn seeds() -> std::ops::Range<u64> {
    let from = std::env::var("PROVE_FROM").ok().and_then(|n| n.parse().ok()).unwrap_or(0);
    from..from + yards()
}

#[derive(Default)]
struct Score {
    covered: f64,
    intervals: f64,
    /// By tenth of the probability said: how often it was so, sum said, how many.
    bins: [(f64, f64, f64); 10],
    wrong: f64,
    wrong_raw: f64,
    pairs: f64,
}

impl Score {
    fn add(&mut self, yard: &Invented, found: &Compared) {
        let best = yard.truth.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map(|(w, _)| w.clone());
        let truth =
            |key: &Option<String>| yard.truth.iter().find(|(w, _)| Some(w) == key.as_ref()).map(|(_, g)| *g);
        let rows: Vec<_> = found.rows.iter().filter(|r| r.tell).collect();
        for row in &rows {
            let (low, high) = (row.low.expect("an end"), row.high.expect("an end"));
            let true_g = truth(&row.key).expect("a truth");
            self.intervals += 1.0;
            self.covered += f64::from(u8::from(low <= true_g && true_g <= high));
            let said = row.best.expect("a chance");
            let bin = &mut self.bins[((said * 10.0) as usize).min(9)];
            bin.0 += f64::from(u8::from(row.key == best));
            bin.1 += said;
            bin.2 += 1.0;
        }
        for (i, a) in rows.iter().enumerate() {
            for b in &rows[i + 1..] {
                let apart = truth(&a.key) > truth(&b.key);
                self.pairs += 1.0;
                self.wrong += f64::from(u8::from((a.mean > b.mean) != apart));
                self.wrong_raw += f64::from(u8::from((raw(yard, &a.key) > raw(yard, &b.key)) != apart));
            }
        }
    }
}

/// What a grower would work out by hand: grams picked for log-years watched.
fn raw(yard: &Invented, wood: &Option<String>) -> f64 {
    let of = yard.lives.iter().filter(|l| l.wood == *wood);
    let (grams, years) = of.fold((0.0, 0.0), |(g, y), l: &Life| {
        (g + l.grams() as f64, y + l.ages().map_or(0.0, |(a, b)| b - a))
    });
    grams / years
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1))]

    #[test]
    fn what_is_true_in_invented_yards_is_found_again(_once in Just(())) {
        let mut score = Score::default();
        for n in seeds() {
            let yard = yard(n, First::Alike);
            score.add(&yard, &compare(&question(Measure::Life), &yard.lives));
        }
        let covered = score.covered / score.intervals;
        println!("covered {covered:.3} of {}; wrong {:.3}, raw {:.3} of {} pairs; bins {:?}",
            score.intervals, score.wrong / score.pairs, score.wrong_raw / score.pairs, score.pairs,
            score.bins.map(|(so, said, n)| (n, (so / n * 100.0).round(), (said / n * 100.0).round())));
        // Forty yards have some 180 intervals: two standard errors wider than the 500's 86 to 94 %.
        let room = if yards() < 500 { 0.04 } else { 0.0 };
        prop_assert!((0.86 - room..=0.94 + room).contains(&covered), "{covered}");
        prop_assert!(score.wrong < score.wrong_raw);
        for (so, said, n) in score.bins {
            let (mean, seen) = (said / n, so / n);
            let error = (mean * (1.0 - mean) / n).sqrt();
            prop_assert!(n < 100.0 || (seen - mean).abs() <= 2.6 * error, "{seen} said {mean} of {n}");
        }
    }

    #[test]
    fn a_wood_that_only_met_one_strain_is_given_as_wide_an_interval_as_that_leaves_open(_once in Just(())) {
        let (mut covered, mut wider, mut n_told) = (0.0, 0.0, 0.0);
        for n in seeds() {
            let yard = yard(n, First::Tied);
            let held = |found: &Compared| {
                let row = found.rows.iter().find(|r| r.key.as_deref() == Some("wood-0"))?;
                row.low.zip(row.high)
            };
            let Some((low, high)) = held(&compare(&question(Measure::Life), &yard.lives)) else { continue };
            let true_g = yard.truth.iter().find(|(w, _)| w == "wood-0").expect("a truth").1;
            covered += f64::from(u8::from(low <= true_g && true_g <= high));
            let mut nameless = yard.lives;
            nameless.iter_mut().for_each(|l| l.strain = None);
            let (bare_low, bare_high) =
                held(&compare(&question(Measure::Life), &nameless)).expect("the same logs have a figure");
            n_told += 1.0;
            wider += (high / low).ln() / (bare_high / bare_low).ln();
        }
        let n = n_told;
        prop_assert!(n > 0.9 * yards() as f64, "{n}");
        println!("tied: covered {:.3} of {n}, {:.3} times as wide as without the strain", covered / n, wider / n);
        // A strain may do twice as much by its prior as it does in these yards, so more than 90 % may hold. Two
        // standard errors of forty yards' share are 0.10.
        let room = if yards() < 500 { 0.10 } else { 0.0 };
        prop_assert!(covered / n >= 0.86 - room, "{}", covered / n);
        prop_assert!(wider / n > 1.02, "{}", wider / n);
    }

    #[test]
    fn what_was_never_mixed_is_said_to_be_so_and_nothing_else_is(_once in Just(())) {
        let flags = |first| seeds().filter(|n| {
            let yard = yard(*n, first);
            !compare(&question(Measure::LogYear), &yard.lives).tied.is_empty()
        }).count() as f64;
        prop_assert_eq!(flags(First::Tied), yards() as f64);
        prop_assert!(flags(First::Alike) < 0.05 * yards() as f64);
    }
}

/// Two thousand woods of three logs each, and three thousand of one: told or not, in an eye's blink.
#[test]
fn thousands_of_tiny_groups_are_answered() {
    let many = |woods: usize, each: usize| -> Vec<Life> {
        let logs = (0..)
            .flat_map(|n| yard(n, First::Alike).lives)
            .filter(|l| l.ages().is_some_and(|(_, b)| b > 1.5));
        let rename = |(n, mut life): (usize, Life)| {
            life.id = format!("log-{n:06}");
            life.wood = Some(format!("wood-{:05}", n / each));
            life
        };
        logs.take(woods * each).enumerate().map(rename).collect()
    };
    let tiny = compare(&question(Measure::LogYear), &many(3000, 1));
    assert!(tiny.rows.len() == 3000 && tiny.answer.chance.is_none() && tiny.rows.iter().all(|r| !r.tell));
    let began = std::time::Instant::now();
    let small = compare(&question(Measure::LogYear), &many(2000, 3));
    assert!(small.rows.len() == 2000 && small.beats.len() <= 12 && small.answer.close.len() <= 12);
    assert!(small.rows.iter().all(|r| r.mean.is_none_or(|m| m.is_finite() && m > 0.0)));
    println!("2000 groups of three: {} ms with the making", began.elapsed().as_millis());
}
