//! What the comparison of woods promises.
//! Never statistics on bare numbers: those are tested beside them.
//! Invariant: each expectation can be worked out with a pencil.

use super::*;
use proptest::prelude::*;

const TODAY: &str = "2026-11-25";

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap_or_default()
}

/// A log laid two years of 365.25 days before the day of the review, near enough.
fn life(wood: &str, grams: i64, pickings: u32) -> LogLife {
    LogLife {
        wood: Some(wood.into()),
        laid: Rough::parse("2024-11-24").ok(),
        ended: None,
        first_fruit: (pickings > 0).then(|| day("2025-10-01")),
        grams,
        pickings,
        unweighed: 0,
        litres: Some(10.0),
        young: false,
    }
}

fn young(wood: &str) -> LogLife {
    LogLife { laid: Rough::parse("2026-10").ok(), young: true, ..life(wood, 0, 0) }
}

fn review(lives: &[LogLife]) -> (Answer, Vec<WoodRow>) {
    side_by_side(lives, day(TODAY), false)
}

fn logs(wood: &str, grams: &[i64]) -> Vec<LogLife> {
    grams.iter().map(|g| life(wood, *g, u32::from(*g > 0))).collect()
}

#[test]
fn the_rate_is_the_mean_over_logs_of_grams_per_log_year() {
    let (_, woods) = review(&logs("sugar-maple", &[1000, 2000, 3000]));
    let [row] = woods.as_slice() else { unreachable!("one wood") };
    let years = 731.0 / 365.25;
    assert!(row.per_log_year.as_ref().is_some_and(|r| (r.mean - 2000.0 / years).abs() < 1e-9 && r.n == 3));
    assert!(row.per_litre.as_ref().is_some_and(|r| (r.mean - 200.0).abs() < 1e-9));
    assert!(row.log_years.as_ref().is_some_and(|y| (y.low - 3.0 * years).abs() < 1e-9 && y.low == y.high));
    assert_eq!((row.name.as_deref(), row.tell, row.why), (Some("sugar maple"), true, None));
}

#[test]
fn a_log_in_its_spawn_run_is_counted_and_not_taken_for_barren() {
    let mut lives = logs("beech", &[900, 1000, 1100]);
    let before = review(&lives).1;
    lives.push(young("beech"));
    let after = review(&lives).1;
    assert_eq!(after[0].per_log_year, before[0].per_log_year);
    assert_eq!(after[0].log_years, before[0].log_years);
    assert_eq!((after[0].logs, after[0].spawn_run), (4, 1));
    let (_, woods) = review(&[young("beech"), young("beech"), young("beech")]);
    assert_eq!((woods[0].tell, woods[0].why), (false, Some(Untold::TooYoung)));
    assert_eq!((&woods[0].log_years, &woods[0].per_log_year), (&None, &None));
}

#[test]
fn a_log_that_ended_before_it_fruited_counts_as_nothing_gained() {
    let mut lost = young("beech");
    lost.ended = Some(day("2026-11-20"));
    let mut lives = logs("beech", &[900, 1000, 1100]);
    lives.push(lost);
    let rate = review(&lives).1.remove(0).per_log_year;
    assert!(rate.is_some_and(|r| r.n == 4 && (r.mean - 750.0 * 365.25 / 731.0).abs() < 1e-9));
}

#[test]
fn a_rough_laying_date_widens_the_log_years_and_an_unknown_one_leaves_them() {
    let rough = LogLife { laid: Rough::parse("2024").ok(), ..life("beech", 500, 1) };
    let unknown = LogLife { laid: Some(Rough::unknown()), ..life("beech", 700, 1) };
    let (_, woods) = review(&[rough, unknown]);
    let row = &woods[0];
    let span = (694.0 / 365.25, 1059.0 / 365.25);
    assert!(row.log_years.as_ref().is_some_and(|y| (y.low - span.0).abs() + (y.high - span.1).abs() < 1e-9));
    assert_eq!((row.undated, row.grams, row.per_log_year.as_ref()), (1, 1200, None));
    assert!(row.per_litre.as_ref().is_some_and(|r| r.n == 2 && (r.mean - 60.0).abs() < 1e-9));
}

#[test]
fn wood_waiting_to_be_laid_is_counted_and_nothing_else() {
    let waiting = LogLife { laid: None, litres: None, ..life("beech", 0, 0) };
    let row = review(&[waiting]).1.remove(0);
    assert_eq!((row.logs, row.spawn_run, row.undated, row.unmeasured), (1, 0, 0, 0));
    assert_eq!((row.log_years, row.per_litre, row.why), (None, None, Some(Untold::FewLogs)));
}

#[test]
fn an_unweighed_picking_counts_as_the_logs_own_mean_in_the_rate_and_not_in_the_sum() {
    let mut lives = logs("beech", &[1000, 1000]);
    lives.push(LogLife { unweighed: 1, ..life("beech", 750, 4) });
    let row = review(&lives).1.remove(0);
    assert_eq!((row.grams, row.unweighed, row.pickings), (2750, 1, 6));
    assert!(row.per_log_year.is_some_and(|r| (r.mean - 1000.0 * 365.25 / 731.0).abs() < 1e-9));
}

#[test]
fn a_wood_picked_mostly_without_weights_is_not_told() {
    let unweighed = |n| vec![LogLife { unweighed: 2, ..life("beech", 0, 2) }; n];
    let row = review(&unweighed(3)).1.remove(0);
    assert_eq!((row.why, row.per_log_year), (Some(Untold::NoWeights), None));
    let mut lives = logs("beech", &[0, 0, 0, 800]);
    lives.extend(unweighed(2));
    assert_eq!(review(&lives).1.remove(0).why, Some(Untold::NoWeights));
    lives.extend(logs("beech", &[700]));
    assert_eq!(review(&lives).1.remove(0).why, None);
}

#[test]
fn the_best_come_first_and_the_untold_last() {
    let lives =
        [logs("beech", &[100, 110, 120]), logs("sweetgum", &[9000, 9000]), logs("tanoak", &[500, 510, 520])];
    let woods = review(&lives.concat()).1;
    let order: Vec<_> = woods.iter().filter_map(|w| w.wood.as_deref()).collect();
    assert_eq!(order, ["tanoak", "beech", "sweetgum"]);
    assert_eq!(woods[2].why, Some(Untold::FewLogs));
}

#[test]
fn the_answer_says_no_more_than_the_logs_do() {
    let kind = |lives: &[LogLife]| review(lives).0.kind;
    assert_eq!(kind(&[]), Verdict::NoLogs);
    assert_eq!(kind(&[young("beech")]), Verdict::NoneFruited);
    assert_eq!(kind(&logs("beech", &[500, 600])), Verdict::TooFew);
    let pine = logs("pine", &[0, 0, 0]);
    assert_eq!(kind(&[logs("beech", &[500]), pine].concat()), Verdict::TooFew);
    assert_eq!(kind(&logs("beech", &[500, 600, 700])), Verdict::OneWood);
    let (answer, _) = review(&[logs("beech", &[100, 110, 120]), logs("tanoak", &[500, 510, 520])].concat());
    assert_eq!((answer.kind, answer.name.as_deref()), (Verdict::Best, Some("tanoak")));
    assert_eq!((answer.close, answer.need), (Vec::new(), None));
}

#[test]
fn woods_that_cannot_be_told_apart_are_named_with_the_logs_it_would_take() {
    let lives = [
        logs("beech", &[100, 110, 120]),
        logs("tanoak", &[300, 500, 700]),
        logs("sugar-maple", &[200, 400, 600]),
        logs("red-oak", &[190, 390, 590]),
    ];
    let (answer, _) = review(&lives.concat());
    assert_eq!((answer.kind, answer.wood.as_deref()), (Verdict::Close, Some("tanoak")));
    assert_eq!(answer.close, ["sugar maple", "red oak"]);
    // Gap half of s: 2·4·(1.6449 + 0.8416)² = 49.5, so 50 each; 3 are there.
    assert_eq!(answer.need, Some(47));
}

#[test]
fn logs_of_an_unnamed_wood_are_a_row_and_never_the_answer() {
    let unnamed = LogLife { wood: None, ..life("", 900, 1) };
    let (answer, woods) = review(&[unnamed.clone(), unnamed.clone(), unnamed]);
    assert_eq!((answer.kind, woods[0].wood.as_deref(), woods[0].tell), (Verdict::TooFew, None, true));
}

fn any_life() -> impl Strategy<Value = LogLife> {
    let wood = prop::option::of(prop::sample::select(vec!["beech", "tanoak", "pine", "nobody-knows"]));
    let laid =
        prop::sample::select(vec!["", "XXXX", "2022", "2023-05", "2023-24", "2025-03-01", "2026-11-25"]);
    let ended = prop::option::of(prop::sample::select(vec!["2021-01-01", "2025-03-01", "2026-10-01"]));
    let litres = prop::option::of(0.0..90.0f64);
    (wood, laid, ended, litres, 0..9u32, 0..9u32, 0..5000i64, any::<bool>()).prop_map(
        |(wood, laid, ended, litres, pickings, unweighed, grams, young)| {
            let unweighed = unweighed.min(pickings);
            LogLife {
                wood: wood.map(str::to_owned),
                laid: Rough::parse(laid).ok(),
                ended: ended.map(day),
                first_fruit: (pickings > 2).then(|| day("2025-09-01")),
                grams: if pickings > unweighed { grams } else { 0 },
                pickings,
                unweighed,
                litres,
                young,
            }
        },
    )
}

proptest! {
    #[test]
    fn nothing_is_lost_between_the_logs_and_the_woods(lives in prop::collection::vec(any_life(), 0..40)) {
        let (_, woods) = review(&lives);
        let sum = |of: fn(&WoodRow) -> u32| woods.iter().map(of).sum::<u32>() as usize;
        prop_assert_eq!(sum(|w| w.logs), lives.len());
        prop_assert_eq!(woods.iter().map(|w| w.grams).sum::<i64>(), lives.iter().map(|l| l.grams).sum::<i64>());
        prop_assert_eq!(sum(|w| w.pickings), lives.iter().map(|l| l.pickings as usize).sum::<usize>());
        prop_assert_eq!(sum(|w| w.unweighed), lives.iter().map(|l| l.unweighed as usize).sum::<usize>());
        prop_assert_eq!(sum(|w| w.ended), lives.iter().filter(|l| l.ended.is_some()).count());
    }

    #[test]
    fn the_order_of_the_logs_changes_nothing(lives in prop::collection::vec(any_life(), 0..40), cut in 0..40usize) {
        let mut turned = lives.clone();
        turned.rotate_left(cut.min(lives.len()));
        turned.reverse();
        prop_assert_eq!(review(&lives), review(&turned));
    }

    #[test]
    fn every_number_is_one_and_every_silence_has_its_reason(lives in prop::collection::vec(any_life(), 0..40)) {
        let (answer, woods) = review(&lives);
        for row in &woods {
            prop_assert_eq!(row.tell, row.why.is_none());
            for range in [&row.per_log_year, &row.per_litre].into_iter().flatten() {
                prop_assert!(range.low >= 0.0 && range.low <= range.mean && range.mean <= range.high);
                prop_assert!(range.high.is_finite());
            }
            prop_assert!(!row.tell || row.per_log_year.as_ref().is_some_and(|r| r.n as usize >= FEWEST_LOGS));
            prop_assert!(row.log_years.as_ref().is_none_or(|y| y.low <= y.high && y.high.is_finite()));
        }
        let told = |w: &&WoodRow| w.tell && w.wood.is_some();
        prop_assert_eq!(answer.wood.is_some(), answer.name.is_some());
        prop_assert!(answer.wood.is_none() || answer.wood == woods.iter().find(told).and_then(|w| w.wood.clone()));
        prop_assert_eq!(answer.kind == Verdict::Close, !answer.close.is_empty());
    }
}
