//! Simulated yards: all invented, logs, woods and chance, so that what is true of them is known.
//! Never a figure about real wood.
//! Invariant: the same number gives the same yard.

use shadeyard_backend::logs::rules::{Method, Spawn};
use shadeyard_backend::review::rules::chance::Chance;
use shadeyard_backend::review::rules::life::{Life, Pick};
use shadeyard_backend::review::rules::question::{GroupBy, Measure, Question};
use shadeyard_backend::strains::rules::Mushroom;

/// 25 November 2026.
pub const TODAY: i32 = 20_782;

/// A yard and what is true in it.
pub struct Invented {
    pub lives: Vec<Life>,
    /// Each wood's id and what a log of it gives in its life, g, at the size and strains of the logs there.
    pub truth: Vec<(String, f64)>,
}

/// What is asked of it.
pub fn question(measure: Measure) -> Question {
    Question { by: GroupBy::Wood, measure, mushroom: None, from: None, to: None, spot: None }
}

/// Shares of a life by years from the first fruit.
const SHARES: [f64; 4] = [1.0 / 6.0, 1.0 / 3.0, 1.0 / 3.0, 1.0 / 6.0];

/// What is special about the first wood of a yard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum First {
    /// Nothing.
    Alike,
    /// It carries a strain that no other wood has.
    Tied,
}

/// Yard number `n`: three to six woods that lie more or less apart, 3 to 20 logs of each, of unequal ages,
/// two or three strains with small effects of their own, pickings nobody weighed, logs given away.
pub fn yard(n: u64, first: First) -> Invented {
    let mut chance = Chance::new(n.wrapping_mul(0x1234_5678_9abc_def1) ^ 0xf00d);
    let whole =
        |chance: &mut Chance, from: f64, to: f64| (from + chance.share() * (to - from + 0.999)).floor();
    let woods = whole(&mut chance, 3.0, 6.0) as usize;
    let between = 0.1 + 0.6 * chance.share();
    let strains: Vec<f64> =
        (0..whole(&mut chance, 2.0, 3.0) as usize).map(|_| 0.15 * chance.normal()).collect();
    // Chance of its own, so that all else is as in the other yards of this number.
    let own = 0.15 * Chance::new(n ^ 0x71ed).normal();
    let (mut lives, mut levels) = (Vec::new(), Vec::new());
    for wood in 0..woods {
        let level = 1800.0 * (between * chance.normal()).exp();
        levels.push(level);
        for _ in 0..whole(&mut chance, 3.0, 20.0) as usize {
            let strain = if first == First::Tied && wood == 0 {
                strains.len()
            } else {
                (chance.share() * strains.len() as f64 * 0.9999) as usize
            };
            let effect = strains.get(strain).copied().unwrap_or(own);
            lives.push(log(lives.len(), (wood, strain), level * effect.exp(), &mut chance));
        }
    }
    let of_log = |life: &Life| -> f64 {
        let at: usize = life.strain.as_deref().and_then(|s| s[1..].parse().ok()).expect("a strain");
        strains.get(at).copied().unwrap_or(own)
    };
    let size = |life: &Life| (life.litres.expect("litres") / 14.0).ln() * 0.7;
    let mean = lives.iter().map(|l| of_log(l) + size(l)).sum::<f64>() / lives.len() as f64;
    let truth =
        levels.iter().enumerate().map(|(w, level)| (format!("wood-{w}"), level * mean.exp())).collect();
    Invented { lives, truth }
}

fn log(n: usize, (wood, strain): (usize, usize), level: f64, chance: &mut Chance) -> Life {
    let laid = TODAY - 90 - (chance.share() * 5.0 * 365.0) as i32;
    let litres = 14.0 * (0.3 * chance.normal()).exp();
    // A factor whose mean is 1.
    let luck = (0.2 * chance.normal() - 0.02).exp();
    let life = level * luck * (litres / 14.0).powf(0.7);
    let first = laid + (270.0 + 70.0 * chance.share()) as i32;
    let given = chance.share() < 0.08;
    let over = first + 4 * 365;
    let end = if given { laid + (chance.share() * f64::from(TODAY - laid)) as i32 } else { over.min(TODAY) };
    let died = !given && over < TODAY;
    let picks = pickings(first, end, life, chance);
    Life {
        id: format!("log-{n:05}"),
        tag: n.to_string(),
        wood: Some(format!("wood-{wood}")),
        wood_name: Some(format!("wood {wood}")),
        mushroom: Mushroom::Shiitake,
        strain: Some(format!("s{strain}")),
        class: None,
        doubtful: false,
        method: Some(Method::Drilled),
        spawn: Some(Spawn::Plug),
        spot: Some(["near", "far", "brook"][(chance.share() * 2.999) as usize].to_owned()),
        wood_source: None,
        spawn_source: None,
        is_laid: true,
        laid: Some((laid, laid)),
        watched: None,
        end,
        ended: given || died,
        died,
        lost: false,
        fruit: picks.first().map(|p| p.day),
        soaks: Vec::new(),
        competitor: None,
        litres: Some(litres),
        thick_mm: Some(120.0),
        dry_kg: None,
        young: end - laid < 183,
        picks,
    }
}

/// Two flushes a year whose weights differ by half, every ninth picking not weighed.
fn pickings(first: i32, end: i32, life: f64, chance: &mut Chance) -> Vec<Pick> {
    let mut picks = Vec::new();
    for (year, share) in SHARES.iter().enumerate() {
        let parts = [(0.45 * chance.normal()).exp(), (0.45 * chance.normal()).exp()];
        for (half, part) in parts.iter().enumerate() {
            let day = first + year as i32 * 365 + half as i32 * 182 + (chance.share() * 120.0) as i32;
            // The mean of a flush stands whatever its neighbour gives.
            let grams = life * share / 2.0 * part / (0.45_f64 * 0.45 / 2.0).exp();
            let weighed = chance.share() > 1.0 / 9.0;
            if day <= end {
                let grams = weighed.then(|| (grams.round() as i64).max(1));
                picks.push(Pick { day, grams, damaged_pct: None, how: None });
            }
        }
    }
    picks
}
