//! Night rounds as they were walked: where slugs were found and what they had eaten.
//! Never what was picked.
//! Invariant: more slugs where it is wet, mild and where caps stand.

use crate::growth;
use crate::seasons::{Deed, Grower, Stop};
use chrono::{Datelike, NaiveDate};

/// The round of an evening and its time, if the grower goes out.
pub fn plan(grower: &mut Grower<'_>, day: NaiveDate) -> Option<(String, Deed)> {
    let inputs = grower.inputs;
    let month = inputs.months.get(day.month0() as usize)?;
    let (mean, wet) = growth::weather(inputs, &grower.calendar, day);
    let crawling = slugs_like(mean, wet);
    let fruit = grower.lives.iter().any(|life| life.stands(day) && life.fruit(day).is_some());
    if !fruit || crawling < 0.15 || !grower.chance.happens(month.round_share * 1.6) {
        return None;
    }
    let stops = (0..grower.lives.len()).filter_map(|log| stop(grower, log, day, crawling)).collect();
    let broken_off = grower.chance.happens(0.08);
    Some((month.round_at.clone(), Deed::Round { stops, broken_off }))
}

/// 0…1: slugs are about between 4 and 20 °C when it is wet (Oregon State slug portal; Dainton 1954).
fn slugs_like(mean: f64, wet: f64) -> f64 {
    let night = mean - 4.0;
    if (2.0..=20.0).contains(&night) { wet * (1.0 - (night - 11.0).abs() / 14.0) } else { 0.0 }
}

fn stop(grower: &mut Grower<'_>, log: usize, day: NaiveDate, crawling: f64) -> Option<Stop> {
    let life = grower.lives.get(log).filter(|life| life.stands(day))?;
    let stage = life.fruit(day).map(|(_, stage)| stage);
    let spot = grower.inputs.spots.iter().find(|spot| spot.name == life.line.spot);
    let (many, dry) = spot.map_or((1.0, 0.0), |spot| (spot.slugs, spot.dry));
    let bait = match stage {
        None => 0.12,
        Some("pin" | "knob") => 0.7,
        Some("button" | "short_spines") => 1.3,
        Some(_) => 2.2,
    };
    let expected = 3.2 * many * bait * (crawling - dry).max(0.05);
    let chance = &mut grower.chance;
    // How many sit there varies more than plain counting would: a factor, then rounding at random.
    let slugs = (expected * chance.factor(0.6) + chance.unit() - 0.5).round().max(0.0) as i64;
    let skipped = chance.happens(0.02);
    if stage.is_none() && slugs == 0 && !skipped {
        return None;
    }
    let damage = match slugs {
        _ if skipped || stage.is_none() => "none",
        0..=2 => "none",
        3..=6 => "some",
        _ => "much",
    };
    Some(Stop { log, slugs: if skipped { 0 } else { slugs }, damage, skipped })
}
