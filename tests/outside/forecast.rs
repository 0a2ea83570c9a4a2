//! The forecast of cupped caps, held against yards of our own invention: no yard, no log and no day of these is
//! real, and nothing here says how shiitake grow. Three laws of growth were fixed before the first run; the
//! figures they must give stand in the issue.

use chrono::NaiveDate;
use proptest::prelude::*;
use shadeyard_backend::looks::rules::Stage;
use shadeyard_backend::rounds::forecast::{
    Followed, PRIOR_FREEDOM, PRIOR_SPREAD, PRIOR_WEIGHT, forecast, in_days, slowness, usual_days,
};

/// How an invented yard grows.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Law {
    /// As the forecast takes it: log-normal about the yard's own pace.
    Own,
    /// A gamma law, a flatter answer to warmth, and looks once a day.
    Mild,
    /// Half of the fruitings stand still for days in a dry spell, and warmth does the opposite above 20 °C.
    Bad,
}

/// Chance that is the same in every run (SplitMix64).
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let (a, b) = (self.unit().max(1e-12), self.unit());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    /// Marsaglia and Tsang 2000, for shapes of 1 and more.
    fn gamma(&mut self, shape: f64) -> f64 {
        let d = shape - 1.0 / 3.0;
        loop {
            let x = self.normal();
            let v = (1.0 + x / (9.0 * d).sqrt()).powi(3);
            if v > 0.0 && self.unit().max(1e-300).ln() < 0.5 * x * x + d - d * v + d * v.ln() {
                return d * v;
            }
        }
    }
}

/// What 300 yards gave.
#[derive(Debug, Default)]
struct Result {
    asked: usize,
    within: usize,
    shown: usize,
    miss: f64,
    week_miss: f64,
}

impl Result {
    fn pct(part: usize, of: usize) -> f64 {
        100.0 * part as f64 / of as f64
    }
}

/// Pickings a yard has seen before it is asked.
const SEEN: usize = 8;
/// Forecasts asked of each yard.
const ASKED: usize = 6;

fn simulate(law: Law, yards: usize, seed: u64) -> Result {
    let mut dice = Dice(seed);
    let mut all = Result::default();
    for _ in 0..yards {
        yard(law, &mut dice, &mut all);
    }
    all
}

fn yard(law: Law, dice: &mut Dice, all: &mut Result) {
    // The yard's own pace and spread: drawn from the very law that the forecast starts from, in its own family.
    let spread2 = PRIOR_FREEDOM * PRIOR_SPREAD * PRIOR_SPREAD / (2.0 * dice.gamma(PRIOR_FREEDOM / 2.0));
    let pace = dice.normal() * (spread2 / PRIOR_WEIGHT).sqrt();
    let mut followed = Vec::new();
    for n in 0..SEEN + ASKED {
        let stage = if dice.unit() < 0.6 { Stage::Pin } else { Stage::Button };
        let dc = 60.0 + 180.0 * dice.unit();
        let days = days(law, stage, dc, pace, spread2.sqrt(), dice);
        if n >= SEEN {
            let range = forecast(stage, Some(dc), None, &followed).expect("pins and buttons have a forecast");
            all.asked += 1;
            all.within += usize::from(range.low <= days && days <= range.high);
            let day = NaiveDate::from_ymd_opt(2026, 5, 1).expect("a day");
            let shown = in_days(range, stage, day, None, None);
            let took = days.floor() as i64;
            all.shown +=
                usize::from((shown.from - day).num_days() <= took && took <= (shown.to - day).num_days());
            all.miss += (range.mid - days).abs();
            // Pins come some days after the soak; buttons some days later still. The rule of a week knows the soak.
            let since_soak =
                3.0 * (0.3 * dice.normal()).exp() + if stage == Stage::Button { 3.0 } else { 0.0 };
            all.week_miss += (7.0 - (since_soak + days)).abs();
        }
        // A look once a day finds the caps cupped up to a day late.
        let found = if law == Law::Own { days } else { days.ceil() };
        followed.push(Followed { stage, days: found, mean_dc: Some(dc) });
    }
}

fn days(law: Law, stage: Stage, dc: f64, pace: f64, spread: f64, dice: &mut Dice) -> f64 {
    let usual = usual_days(stage).expect("a stage with a usual figure");
    match law {
        Law::Own => usual * slowness(Some(dc)) * (pace + spread * dice.normal()).exp(),
        Law::Mild => {
            let warmth = 1.6_f64.powf((150.0 - dc) / 100.0);
            let shape = 1.0 / (spread * spread).clamp(0.04, 0.6);
            usual * warmth * pace.exp() * dice.gamma(shape.max(1.0)) / shape.max(1.0)
        }
        Law::Bad => {
            let warmth = if dc > 200.0 { 2.0 } else { 1.0 };
            let still = if dice.unit() < 0.5 { 6.0 * dice.unit() } else { 0.0 };
            still + usual * warmth * (0.15 * dice.normal()).exp()
        }
    }
}

/// 300 yards when proving, a share of them else.
fn yards() -> usize {
    if std::env::var("PROVE_CASES").is_ok() { 300 } else { 60 }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1))]

    #[test]
    fn on_invented_yards_eighty_in_a_hundred_lie_within_and_the_week_is_beaten(_once in Just(())) {
        let yards = yards();
        // A share of the yards says less: the bounds are wider by what chance does to it.
        let slack = if yards < 300 { 4.0 } else { 0.0 };
        for (law, low, high) in [(Law::Own, 77.0, 83.0), (Law::Mild, 72.0, 88.0), (Law::Bad, 0.0, 100.0)] {
            let found = simulate(law, yards, 0x5eed_0006);
            let (within, shown) = (Result::pct(found.within, found.asked), Result::pct(found.shown, found.asked));
            let (miss, week) = (found.miss / found.asked as f64, found.week_miss / found.asked as f64);
            println!("invented yards | {law:?} | {yards} | {} forecasts | {within:.1} % within | {shown:.1} % by the days shown | miss {miss:.2} d | a week after the soak {week:.2} d", found.asked);
            prop_assert!(within >= low - slack && within <= high + slack, "{:?}: {within:.1} %", law);
            prop_assert!(law == Law::Bad || miss < week, "{:?}: {miss:.2} against {week:.2}", law);
        }
    }
}
