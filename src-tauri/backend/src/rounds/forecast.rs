//! When the caps of a look will be cupped: a range of days from the stage seen, the warmth, the growth
//! measured and the yard's own fruitings; and how forecasts that were kept came out.
//! Never one day alone: always a range in which 80 of 100 should lie.
//! Invariant: each own fruiting moves the forecast towards what this yard does and changes its width by what
//! it varies; without any, common practice and a wide range speak.
//!
//! The days from a stage to cupped are taken as log-normal about a usual figure at 15 °C. Mean and spread of
//! the yard's own departures from it are learnt by the normal-inverse-gamma rule (a standard conjugate prior,
//! e.g. Gelman et al., Bayesian Data Analysis), so the range is a Student t's.

use crate::looks::rules::Stage;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, NaiveDate};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// The warmth at which the usual figures stand, tenths of °C (our choice).
pub const USUAL_DC: f64 = 150.0;
/// Ten degrees more make it so many times as fast (rule of thumb for growth, from memory).
pub const Q10: f64 = 2.0;
/// How many own fruitings the usual figure weighs as much as.
pub const PRIOR_WEIGHT: f64 = 2.0;
/// How many own fruitings the usual spread weighs as much as.
pub const PRIOR_FREEDOM: f64 = 6.0;
/// The usual spread, as a standard deviation of the logarithm (our choice: wide).
pub const PRIOR_SPREAD: f64 = 0.4;
/// The spread of a forecast by measured growth alone, likewise (our choice): caps of one flush are picked at widths
/// that differ, and none grows evenly.
const GROWTH_SPREAD: f64 = 0.3;
/// How wide a shiitake cap is when it is cupped, mm: caps of about 5 to 10 cm are picked (common practice, no
/// source); the lower part, since the widest is on a flush's way there first.
pub const CUPPED_MM: f64 = 60.0;
/// How many of the yard's own cupped caps that width weighs as much as (our choice).
pub const CUPPED_WEIGHT: f64 = 5.0;
/// Warmth outside these counts as these, tenths of °C: growth stands still in frost and does not go on for ever.
const WARMTH_DC: (f64, f64) = (20.0, 300.0);
/// Leaves a tenth above.
const UPPER: f64 = 0.9;

/// Days from a stage to cupped at 15 °C: "a matter of days" for shiitake from buttons, within one to two weeks
/// of the soak from pins (common practice, no source); half of it for the stage between. None: no forecast.
pub fn usual_days(stage: Stage) -> Option<f64> {
    match stage {
        Stage::Pin => Some(6.0),
        Stage::Button => Some(3.0),
        Stage::Knob => Some(10.0),
        Stage::ShortSpines => Some(5.0),
        _ => None,
    }
}

/// A fruiting of this yard that was followed from a stage until it was cupped or picked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Followed {
    /// The stage of the look.
    pub stage: Stage,
    /// Days from it to cupped.
    pub days: f64,
    /// Mean warmth between, tenths of °C.
    pub mean_dc: Option<f64>,
}

/// Growth that was measured on photos.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Growth {
    /// Millimetres that the widest cap had to go, at its newest measure, to the usual width of a cupped one.
    pub to_go_mm: f64,
    /// Millimetres a day.
    pub mm_a_day: f64,
    /// How far that may be off, as a share of it.
    pub off: f64,
    /// Days from the first look at the stage to that measure; less than none: it was measured before.
    pub since_days: f64,
}

/// The width of a cupped cap to reckon with, mm: the usual one, drawn towards the yard's own.
pub fn cupped_mm(own_mm: &[f64]) -> f64 {
    (CUPPED_MM * CUPPED_WEIGHT + own_mm.iter().sum::<f64>()) / (CUPPED_WEIGHT + own_mm.len() as f64)
}

/// Days after the look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// One in ten is sooner.
    pub low: f64,
    /// Half are sooner.
    pub mid: f64,
    /// One in ten is later.
    pub high: f64,
    /// Of how many own fruitings.
    pub own: usize,
}

/// The range for caps first seen at `stage` just now. `mean_dc`: the warmth to reckon with, tenths of °C.
pub fn forecast(
    stage: Stage,
    mean_dc: Option<f64>,
    growth: Option<Growth>,
    followed: &[Followed],
) -> Option<Range> {
    let usual = (usual_days(stage)? * slowness(mean_dc)).ln();
    let apart: Vec<f64> = followed.iter().filter_map(departure).collect();
    let (mean, spread, freedom) = learnt(&apart);
    let (mut mid, mut wide) = (usual + mean, spread);
    // Two tellers of one time, each by how sure it is.
    if let Some((days, off)) = growth.and_then(days_to_go) {
        let (ours, theirs) = (1.0 / (wide * wide), 1.0 / (GROWTH_SPREAD * GROWTH_SPREAD + off * off));
        mid = (mid * ours + days.ln() * theirs) / (ours + theirs);
        wide = (1.0 / (ours + theirs)).sqrt();
    }
    let reach = wide * StudentsT::new(0.0, 1.0, freedom).ok()?.inverse_cdf(UPPER);
    let own = apart.len();
    Some(Range { low: (mid - reach).exp(), mid: mid.exp(), high: (mid + reach).exp(), own })
}

/// The range for a stage that was first seen so many days ago: what has passed is over. A range that has all
/// but passed ends soon, but never lies in the past.
pub fn later(range: Range, elapsed: f64) -> Range {
    let left = |days: f64, least: f64| (days - elapsed).max(least);
    Range {
        low: left(range.low, 0.1),
        mid: left(range.mid, 0.5),
        high: left(range.high, 1.0),
        own: range.own,
    }
}

/// How much longer than at 15 °C it takes.
pub fn slowness(mean_dc: Option<f64>) -> f64 {
    let dc = mean_dc.unwrap_or(USUAL_DC).clamp(WARMTH_DC.0, WARMTH_DC.1);
    Q10.powf((USUAL_DC - dc) / 100.0)
}

/// By how much, as a logarithm, a fruiting took longer than usual.
fn departure(f: &Followed) -> Option<f64> {
    let usual = usual_days(f.stage)? * slowness(f.mean_dc);
    // Two looks on one day still lie some hours apart.
    Some((f.days.max(0.1) / usual).ln())
}

/// Where the next departure lies: middle, scale and degrees of freedom of a Student t.
fn learnt(apart: &[f64]) -> (f64, f64, f64) {
    let n = apart.len() as f64;
    let mean = if apart.is_empty() { 0.0 } else { apart.iter().sum::<f64>() / n };
    let squares: f64 = apart.iter().map(|x| (x - mean).powi(2)).sum();
    let weight = PRIOR_WEIGHT + n;
    let freedom = PRIOR_FREEDOM + n;
    let pull = PRIOR_WEIGHT * n / weight * mean * mean;
    let variance = (PRIOR_FREEDOM * PRIOR_SPREAD * PRIOR_SPREAD + squares + pull) / freedom;
    (n * mean / weight, (variance * (1.0 + 1.0 / weight)).sqrt(), freedom)
}

/// Days from the first look at the stage until the widest cap is as wide as a cupped one, and how far the growth may
/// be off as a share. None: no growth, or one so badly measured that it says nothing.
fn days_to_go(growth: Growth) -> Option<(f64, f64)> {
    let Growth { to_go_mm, mm_a_day, off, since_days } = growth;
    let sound = mm_a_day > 0.0 && to_go_mm.is_finite() && since_days.is_finite() && (0.0..1.0).contains(&off);
    sound.then(|| ((since_days + to_go_mm.max(0.5) / mm_a_day).clamp(0.1, 60.0), off))
}

/// When to look: a forecast in days of the calendar, and how often from then on.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "CuppedForecast")]
pub struct Forecast {
    /// One in ten is cupped before this day.
    pub from: NaiveDate,
    /// The middle.
    pub mid: NaiveDate,
    /// One in ten is cupped after this day.
    pub to: NaiveDate,
    /// The day to look again: before the range begins.
    pub look_on: NaiveDate,
    /// Looks a day from then on: two in warm spells.
    pub looks_a_day: u8,
    /// Of how many own fruitings.
    pub own: i64,
    /// The growth it was told by, mm a day; null: none was measured.
    pub grown_mm_a_day: Option<f64>,
    /// Where it comes from.
    pub from_what: WhereFrom,
}

/// The forecast of a look on `seen`, as days. A day to look lies a day before the range begins, but not before
/// the day after the look; in a range that has begun it is that next day.
/// `growth`: the growth it was told by, if any.
pub fn in_days(
    range: Range,
    stage: Stage,
    seen: NaiveDate,
    mean_dc: Option<i64>,
    growth: Option<Growth>,
) -> Forecast {
    let day = |days: f64| {
        let whole = if days.is_finite() { days.clamp(0.0, 365.0) } else { 365.0 };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a year above")]
        let whole = whole as u64;
        seen.checked_add_days(Days::new(whole)).unwrap_or(seen)
    };
    let (from, mid, to) = (day(range.low.floor()), day(range.mid.round()), day(range.high.ceil()));
    let next = day(1.0);
    let before = from.pred_opt().unwrap_or(from);
    let own = i64::try_from(range.own).unwrap_or(i64::MAX);
    let mark = if own == 0 && growth.and_then(days_to_go).is_none() { Mark::Common } else { Mark::Own };
    let mut from_what = WhereFrom::new("forecast_cupped", mark, "").with("stage", stage.word());
    if let Some(dc) = mean_dc {
        from_what = from_what.with("warmth_dc", dc);
    }
    if own > 0 {
        from_what = from_what.with("own_fruitings", own);
    }
    let grown = growth.filter(|growth| days_to_go(*growth).is_some());
    if let Some(Growth { to_go_mm, mm_a_day, .. }) = grown {
        from_what = from_what.with("growth_mm_a_day", tenth(mm_a_day)).with("to_go_mm", tenth(to_go_mm));
    }
    let warm = mean_dc.is_some_and(|dc| dc >= super::rules::WARM_DC);
    Forecast {
        from,
        mid,
        to,
        look_on: before.max(next),
        looks_a_day: if warm { 2 } else { 1 },
        own,
        grown_mm_a_day: grown.map(|growth| tenth(growth.mm_a_day)),
        from_what,
    }
}

/// A forecast that was kept, and the day the caps were first seen cupped or were picked; none: not yet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kept {
    /// The day of the look.
    pub seen: NaiveDate,
    /// Days after it, tenths: low, mid, high.
    pub tenths: (i64, i64, i64),
    /// The day it happened.
    pub cupped: Option<NaiveDate>,
}

fn tenth(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

/// How forecasts came out.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "ForecastScore")]
pub struct Score {
    /// Forecasts whose caps were seen cupped.
    pub n: usize,
    /// Of these, within the days that were shown.
    pub hits: usize,
    /// Share within, per cent.
    pub hit_pct: Option<f64>,
    /// Mean distance of the middle from what happened, days.
    pub miss_days: Option<f64>,
    /// Forecasts still open.
    pub open: usize,
    /// So few that the share says little.
    pub few: bool,
}

/// Fewer outcomes than this say little: even 8 of 10 is anything from 5 to 9 in 10 (binomial, 80 %).
pub const FEW: usize = 10;

/// How kept forecasts came out.
pub fn score(kept: &[Kept]) -> Score {
    let (mut n, mut hits, mut miss) = (0, 0, 0.0);
    for k in kept {
        let Some(cupped) = k.cupped else { continue };
        let took = (cupped - k.seen).num_days();
        let (low, mid, high) = k.tenths;
        n += 1;
        hits += usize::from(low.div_euclid(10) <= took && took <= (high + 9).div_euclid(10));
        miss += (took as f64 - mid as f64 / 10.0).abs();
    }
    let per = |x: f64| (n > 0).then(|| x / n as f64);
    Score {
        n,
        hits,
        hit_pct: per(100.0 * hits as f64),
        miss_days: per(miss),
        open: kept.len() - n,
        few: n < FEW,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pins(days: f64) -> Followed {
        Followed { stage: Stage::Pin, days, mean_dc: None }
    }

    #[test]
    fn warmth_and_growth_move_the_range_and_ripe_caps_have_none() {
        let mid = |dc, growth| forecast(Stage::Pin, dc, growth, &[]).map(|r| (r.mid * 10.0).round() / 10.0);
        assert_eq!(mid(None, None), Some(6.0));
        assert_eq!(mid(Some(250.0), None), Some(3.0), "ten degrees more, twice as fast");
        assert_eq!(mid(Some(50.0), None), Some(12.0));
        assert_eq!(forecast(Stage::Cupped, None, None, &[]), None);
        let grown = |mm_a_day| Growth { to_go_mm: 40.0, mm_a_day, off: 0.0, since_days: 0.0 };
        let slow = mid(None, Some(grown(4.0)));
        assert!(slow > Some(7.0) && slow < Some(10.0), "{slow:?}");
        assert_eq!(mid(None, Some(grown(0.0))), Some(6.0), "no growth is no figure");
        assert_eq!(
            mid(None, Some(Growth { off: 1.2, ..grown(4.0) })),
            Some(6.0),
            "anything from none to twice"
        );
    }

    #[test]
    fn measured_growth_narrows_and_moves_the_range_as_by_hand() {
        // Buttons: 3 days at 15 °C, spread 0.4·√1.5 = 0.48990. Measured: 30 mm to go at 5 mm a day, 6 days, spread 0.3.
        // Weights 4.16667 and 11.11111: mid e^1.60276 = 4.967, spread 0.25584; t 0.9 of 6 is 1.43976 (tables), reach 0.36834.
        let growth = Growth { to_go_mm: 30.0, mm_a_day: 5.0, off: 0.0, since_days: 0.0 };
        let usual = forecast(Stage::Button, None, None, &[]);
        let grown = forecast(Stage::Button, None, Some(growth), &[]);
        let (Some(usual), Some(grown)) = (usual, grown) else { unreachable!("buttons have a forecast") };
        let near = |a: f64, b: f64| (a - b).abs() < 0.002;
        assert!(near(grown.mid, 4.967) && near(grown.low, 3.437) && near(grown.high, 7.179), "{grown:?}");
        assert!(grown.high / grown.low < usual.high / usual.low, "{grown:?} {usual:?}");
        let rough = forecast(Stage::Button, None, Some(Growth { off: 0.4, ..growth }), &[]);
        assert!(
            rough.is_some_and(|r| r.high / r.low > grown.high / grown.low),
            "badly measured says less: {rough:?}"
        );
        let later = forecast(Stage::Button, None, Some(Growth { since_days: 2.0, ..growth }), &[]);
        assert!(later.is_some_and(|r| r.mid > grown.mid), "measured two days after the look: {later:?}");
    }

    #[test]
    fn the_width_of_a_cupped_cap_is_drawn_towards_the_yards_own() {
        assert!((cupped_mm(&[]) - 60.0).abs() < 1e-9);
        assert!(
            (cupped_mm(&[40.0; 5]) - 50.0).abs() < 1e-9,
            "five of its own weigh as much as common practice"
        );
    }

    #[test]
    fn the_yards_own_fruitings_narrow_the_range_and_shift_it() {
        let usual = forecast(Stage::Pin, None, None, &[]);
        let own = forecast(Stage::Pin, None, None, &[9.0, 9.5, 10.0, 10.5, 9.0, 10.0, 9.5, 10.2].map(pins));
        let (Some(usual), Some(own)) = (usual, own) else { unreachable!("pins have a forecast") };
        assert!(own.mid > 8.0 && own.mid < 10.0, "{own:?}");
        assert!(own.high / own.low < usual.high / usual.low, "{own:?} {usual:?}");
    }

    #[test]
    fn a_look_comes_before_the_range_and_twice_a_day_in_warmth() {
        let seen: NaiveDate = "2026-10-03".parse().unwrap_or_default();
        let range = Range { low: 4.2, mid: 6.0, high: 8.1, own: 0 };
        let shown = in_days(range, Stage::Pin, seen, Some(210), None);
        let days = [shown.from, shown.mid, shown.to, shown.look_on].map(|d| (d - seen).num_days());
        assert_eq!((days, shown.looks_a_day), ([4, 6, 9, 3], 2));
        let soon = in_days(Range { low: 0.4, mid: 1.0, high: 2.0, own: 3 }, Stage::Button, seen, None, None);
        assert_eq!(((soon.look_on - seen).num_days(), soon.looks_a_day), (1, 1));
        assert_eq!((soon.grown_mm_a_day, soon.from_what.mark), (None, Mark::Own));
        let growth = Some(Growth { to_go_mm: 30.0, mm_a_day: 4.96, off: 0.1, since_days: 0.0 });
        let grown = in_days(Range { own: 0, ..range }, Stage::Button, seen, None, growth);
        assert_eq!((grown.grown_mm_a_day, grown.from_what.mark), (Some(5.0), Mark::Own));
        assert!(
            grown.from_what.inputs.iter().any(|i| i.name == "growth_mm_a_day" && i.value == 5.0),
            "{grown:?}"
        );
    }

    #[test]
    fn forecasts_are_scored_by_the_days_that_were_shown() {
        let seen: NaiveDate = "2026-10-03".parse().unwrap_or_default();
        let kept = |after: Option<u64>| Kept {
            seen,
            tenths: (42, 60, 81),
            cupped: after.and_then(|n| seen.checked_add_days(Days::new(n))),
        };
        let score = score(&[kept(Some(4)), kept(Some(9)), kept(Some(3)), kept(None)]);
        assert_eq!((score.n, score.hits, score.open, score.few), (3, 2, 1, true));
        assert!(score.miss_days.is_some_and(|m| (m - (2.0 + 3.0 + 3.0) / 3.0).abs() < 1e-9), "{score:?}");
        assert_eq!(super::score(&[]).hit_pct, None);
    }

    proptest! {
        #[test]
        fn a_range_is_always_in_order_and_finite(
            days in prop::collection::vec(0.0..60.0f64, 0..30), dc in -300.0..500.0f64, mm in -1.0..20.0f64,
        ) {
            let own: Vec<Followed> = days.into_iter().map(pins).collect();
            let growth = Some(Growth { to_go_mm: 30.0, mm_a_day: mm, off: 0.1, since_days: mm });
            let range = forecast(Stage::Button, Some(dc), growth, &own);
            prop_assert!(range.is_some_and(|r| 0.0 < r.low && r.low < r.mid && r.mid < r.high && r.high.is_finite()));
        }
    }
}
