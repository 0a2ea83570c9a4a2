//! From a posterior to what may be said of it: who leads, how surely, how many more logs would tell.
//! Never a sentence: the screen has the words.
//! Invariant: what is called best is best with at least the probability of `priors::SURE`.

use super::pooling::{Contest, Posterior};
use super::priors;
use super::reply::{Answer, GroupRow, Untold, Verdict};
use statrs::distribution::{ContinuousCDF, Normal};

/// Rows that are compared at most pair by pair.
pub const PAIRS: usize = 12;

/// Puts the rows in order, gives the told ones their chances, and says who did best. `at` is each
/// row's group in the posterior; `row_variance` the variance of one more log on the log scale.
pub fn say(
    rows: &mut Vec<GroupRow>,
    at: &[usize],
    posterior: Option<&Posterior>,
    greatest: bool,
    row_variance: f64,
) -> (Answer, Vec<Vec<f64>>) {
    let means = posterior.map(Posterior::means).unwrap_or_default();
    let value = |i: usize| at.get(i).and_then(|j| means.get(*j)).copied().unwrap_or(f64::NEG_INFINITY);
    let sign = if greatest { 1.0 } else { -1.0 };
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.sort_by(|a, b| {
        let told = rows[*b].tell.cmp(&rows[*a].tell);
        let better = (sign * value(*b)).total_cmp(&(sign * value(*a)));
        let more = rows[*b].logs.cmp(&rows[*a].logs);
        let rest = if rows[*a].tell { better } else { more };
        told.then(rest).then_with(|| rows[*a].key.cmp(&rows[*b].key))
    });
    let who: Vec<usize> = order.iter().filter(|i| rows[**i].tell).map(|i| at[*i]).collect();
    let mut old: Vec<Option<GroupRow>> = rows.drain(..).map(Some).collect();
    rows.extend(order.iter().filter_map(|i| old[*i].take()));
    let Some(posterior) = posterior.filter(|_| !who.is_empty()) else {
        return (Answer::bare(empty(rows)), Vec::new());
    };
    let contest = posterior.contest(&who, greatest, PAIRS);
    for (row, best) in rows.iter_mut().zip(&contest.best) {
        row.best = Some(*best);
    }
    let need = || more_logs(&who, &means, rows, row_variance);
    (verdict(rows, &contest, need), contest.beats.clone())
}

fn empty(rows: &[GroupRow]) -> Verdict {
    if rows.is_empty() || rows.iter().all(|r| r.logs == 0) {
        Verdict::NoLogs
    } else if rows.iter().all(|r| r.fruited == 0)
        || rows.iter().all(|r| matches!(r.why, Some(Untold::NothingSeen | Untold::TooYoung)))
    {
        Verdict::NothingYet
    } else {
        Verdict::TooFew
    }
}

fn verdict(rows: &[GroupRow], contest: &Contest, need: impl Fn() -> Option<u32>) -> Answer {
    let told: Vec<&GroupRow> = rows.iter().filter(|r| r.tell).collect();
    let Some(first) = told.first() else { return Answer::bare(empty(rows)) };
    let chance = contest.best.first().copied();
    let sure = chance.is_some_and(|p| p >= priors::SURE);
    let kind = match told.len() {
        1 => Verdict::OneGroup,
        _ if sure => Verdict::Best,
        _ => Verdict::Close,
    };
    let as_good = |(i, _): &(usize, &&GroupRow)| {
        *i > 0 && contest.beats.first().is_none_or(|b| b.get(*i).is_none_or(|p| *p < priors::SURE))
    };
    let mut close: Vec<String> =
        told.iter().enumerate().filter(as_good).take(PAIRS).filter_map(|(_, r)| r.name.clone()).collect();
    if kind == Verdict::Best {
        close.clear();
    } else if kind == Verdict::Close && close.is_empty() {
        close.extend(told.get(1).and_then(|r| r.name.clone()));
    }
    Answer {
        kind,
        key: first.key.clone(),
        name: first.name.clone(),
        chance: chance.filter(|_| told.len() > 1),
        close,
        need: if kind == Verdict::Close { need() } else { None },
    }
}

/// More logs of each of the first two with which a true difference as large as the one seen would be
/// told in four cases of five: 2·s²·(z₀.₉ + z₀.₈)²/gap², less the smaller count there is. `None` past
/// [`priors::MOST_NEEDED`].
fn more_logs(who: &[usize], means: &[f64], rows: &[GroupRow], variance: f64) -> Option<u32> {
    let (first, second) = (who.first()?, who.get(1)?);
    let gap = means[*first] - means[*second];
    let normal = Normal::standard();
    let z = normal.inverse_cdf(priors::SURE) + normal.inverse_cdf(0.8);
    let each = (2.0 * variance * z * z / (gap * gap)).ceil();
    let here = rows.first()?.used.min(rows.get(1)?.used);
    let more = each - f64::from(here);
    (more <= f64::from(priors::MOST_NEEDED)).then_some(more.max(1.0) as u32)
}
