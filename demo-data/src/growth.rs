//! What a log bears and when: the truth that the grower's looks and pickings only sample.
//! Never what was written down.
//! Invariant: a log's growth depends on its own line, its place in the list and the calendar alone.

use crate::calendar::Calendar;
use crate::chance::Chance;
use crate::inputs::{FruitingLine, Inputs, LogLine};
use chrono::{Datelike, Days, NaiveDate};

const SEED: u64 = 46;
/// Volume of the log that the table of woods speaks of.
const USUAL_LITRES: f64 = 14.0;
/// The least days between two flushes: a log rests seven to ten weeks (Kentucky FOR-85).
const REST_DAYS: i64 = 50;

/// One flush.
#[derive(Debug, Clone)]
pub struct Flush {
    /// The day its pins break the bark.
    pub pins: NaiveDate,
    /// What it weighs if it is all picked in time.
    pub grams: f64,
    /// Days of growth for each day at 14 °C.
    pub pace: f64,
}

/// The chance of one log.
pub fn chance_of(log: usize, about: &str) -> Chance {
    Chance::named(SEED, &format!("{about} {log}"))
}

/// Mean temperature of a day, °C, and how wet it is, 0…1.
pub fn weather(inputs: &Inputs, calendar: &Calendar, day: NaiveDate) -> (f64, f64) {
    let month = inputs.months.get(day.month0() as usize);
    let season = usize::try_from(calendar.season(day) - 1).ok().and_then(|n| inputs.seasons.get(n));
    let spell = day.num_days_from_ce().div_euclid(4);
    let mut chance = Chance::named(SEED, &format!("weather {spell}"));
    let (warmer, wetter) = season.map_or((0.0, 0.0), |s| (s.warmer_c, s.wetter));
    let mean = month.map_or(10.0, |m| m.mean_c) + warmer + chance.between(-3.5, 3.5);
    let wet = month.map_or(0.5, |m| m.wet) + wetter + chance.between(-0.35, 0.35);
    (mean, wet.clamp(0.0, 1.0))
}

/// All flushes of a log, oldest first; none before its spawn run is over.
pub fn flushes(inputs: &Inputs, calendar: &Calendar, log: usize, line: &LogLine) -> Vec<Flush> {
    let mut chance = chance_of(log, "growth");
    let class = class_of(inputs, line);
    let Some(fruiting) = inputs.fruiting.iter().find(|f| f.class == class) else { return Vec::new() };
    let Some(laid) = laid_day(calendar, line) else { return Vec::new() };
    let months = chance.between(fruiting.first_from, fruiting.first_to);
    let Some(ready) = laid.checked_add_days(Days::new((months * 30.4) as u64)) else { return Vec::new() };
    let mut all = Vec::new();
    for (year, grams) in (0..).zip(yearly(inputs, line, &mut chance)) {
        let from = ready.checked_add_days(Days::new(365 * year)).unwrap_or(ready);
        let season =
            usize::try_from(calendar.season(from)).ok().and_then(|n| inputs.seasons.get(n.checked_sub(1)?));
        let grams = grams * season.map_or(1.0, |s| s.yield_factor);
        all.extend(year_of(inputs, calendar, fruiting, (from, grams), &mut chance));
    }
    all.sort_by_key(|flush| flush.pins);
    // Two years' flushes that would stand on the log together are one.
    all.dedup_by(|later, earlier| {
        let together = (later.pins - earlier.pins).num_days() < REST_DAYS / 2;
        earlier.grams += if together { later.grams } else { 0.0 };
        together
    });
    all
}

/// The class of a log's strain, `hericium` for both Hericium, `wide` where the strain is unknown.
pub fn class_of(inputs: &Inputs, line: &LogLine) -> String {
    if line.mushroom != "shiitake" {
        return "hericium".to_owned();
    }
    let strain = inputs.strains.iter().find(|s| s.name == line.strain && s.mushroom == line.mushroom);
    strain.and_then(|s| s.class.clone()).unwrap_or_else(|| "wide".to_owned())
}

/// The day the spawn went in; for a rough date one that it can mean.
fn laid_day(calendar: &Calendar, line: &LogLine) -> Option<NaiveDate> {
    let text = if line.lay_later.is_empty() { &line.laid } else { &line.lay_later };
    if text.is_empty() {
        return None;
    }
    calendar.day(text).or_else(|| NaiveDate::from_ymd_opt(calendar.first_year - 1, 5, 10))
}

/// Grams of each year from the first fruit, before the season's weather.
fn yearly(inputs: &Inputs, line: &LogLine, chance: &mut Chance) -> Vec<f64> {
    let wood = if line.wood.is_empty() { "red-oak" } else { &line.wood };
    let Some(truth) = inputs.woods.iter().find(|w| w.wood == wood && w.mushroom == line.mushroom) else {
        return Vec::new();
    };
    // A log's own luck: spawn, knots, how fresh the wood was. No log differs by more for its wood.
    let own = chance.factor(0.15);
    let size = (litres(line) / USUAL_LITRES).powf(0.7);
    let shares = truth.shares.split(' ').filter_map(|share| share.parse::<f64>().ok());
    shares.map(|share| truth.life_g * share / 100.0 * own * size * chance.factor(0.12)).collect()
}

fn litres(line: &LogLine) -> f64 {
    let d: Vec<f64> = line.d_mm.split(' ').filter_map(|d| d.parse().ok()).collect();
    match (d.is_empty(), line.length_mm) {
        (false, Some(length)) => {
            let mean = d.iter().sum::<f64>() / d.len() as f64;
            std::f64::consts::FRAC_PI_4 * mean * mean * length as f64 / 1e6
        }
        _ => USUAL_LITRES,
    }
}

/// One year's grams spread over its flushes.
fn year_of(
    inputs: &Inputs,
    calendar: &Calendar,
    fruiting: &FruitingLine,
    (from, grams): (NaiveDate, f64),
    chance: &mut Chance,
) -> Vec<Flush> {
    let wanted = chance.whole(fruiting.flushes_from, fruiting.flushes_to);
    let mut days: Vec<NaiveDate> = Vec::new();
    for _ in 0..400 {
        let day = from.checked_add_days(Days::new(chance.whole(0, 364) as u64)).unwrap_or(from);
        let weight = fruiting.months().get(day.month0() as usize).copied().unwrap_or(0.0);
        let (_, wet) = weather(inputs, calendar, day);
        let apart = days.iter().all(|other| (day - *other).num_days().abs() >= REST_DAYS);
        if apart && chance.happens(weight / 10.0 * (0.35 + wet)) {
            days.push(day);
        }
        if days.len() as i64 == wanted {
            break;
        }
    }
    let parts: Vec<f64> = days.iter().map(|_| chance.factor(0.35)).collect();
    let sum: f64 = parts.iter().sum();
    days.into_iter()
        .zip(parts)
        .map(|(pins, part)| {
            let (mean, _) = weather(inputs, calendar, pins);
            Flush { pins, grams: grams * part / sum, pace: (1.0 + (mean - 14.0) * 0.05).clamp(0.55, 1.35) }
        })
        .collect()
}

impl Flush {
    /// The stage on a day; `None` before the pins and after the last cap has rotted.
    pub fn stage(&self, mushroom: &str, day: NaiveDate) -> Option<&'static str> {
        let age = (day - self.pins).num_days() as f64 * self.pace;
        let ladder: &[(f64, &'static str)] = if mushroom == "shiitake" {
            &[
                (3.0, "pin"),
                (6.0, "button"),
                (9.0, "cupped"),
                (12.0, "opening"),
                (16.0, "flat"),
                (24.0, "upturned"),
            ]
        } else {
            &[(5.0, "knob"), (10.0, "short_spines"), (17.0, "long_spines"), (26.0, "yellowing")]
        };
        if age < 0.0 {
            return None;
        }
        ladder.iter().find(|(end, _)| age < *end).map(|(_, stage)| *stage)
    }
}
