//! How wet a log is, from a sample disc or published figures and its weights; what it can weigh at all.
//! Never weather: `rules/dry` says when to water.
//! Invariant: moisture is of the wet weight (wet basis) and is only worked out in the spawn run, while the wood
//! still holds the dry mass it was laid with.
//!
//! Sources: spawn dies below 23 %, 35 % and more is ideal (University of Kentucky FOR-82); 30–35 % (FOR-83); more
//! than 10 % below the first weight: water (FOR-83, whose own example, 35 to 29 lb, is 17 %: the line is 31.5 lb).

pub mod dry;

use crate::error::{Error, Result};
use crate::logs::rules::known::Known;
use crate::measure::Bounds;
use crate::where_from::{Mark, WhereFrom};
use crate::woods::rules::wood;
use crate::words::words;
use serde_json::json;

words! {
    /// Whether rain reaches a spot.
    pub enum RainReach {
        /// All of it.
        All = "all",
        /// Some: leaves keep some off.
        Some = "some",
        /// None: there is a roof.
        None = "none",
    }
}

words! {
    /// What a moisture means for the spawn.
    pub enum Band {
        /// Below 23 %: spawn dies.
        Dies = "dies",
        /// Below 30 %.
        Low = "low",
        /// 30 to 35 %: good by FOR-83, below ideal by FOR-82.
        Fair = "fair",
        /// 35 % and more.
        Ideal = "ideal",
    }
}

words! {
    /// What a dry mass was taken from.
    pub enum Basis {
        /// The batch's own sample disc.
        Disc = "disc",
        /// Published fresh moisture of the wood: an estimate.
        Published = "published",
        /// The grower's own figure for the wood.
        OwnWood = "own_wood",
    }
}

/// Per cent of the wet weight below which spawn dies (FOR-82).
pub const DIES_PCT: f64 = 23.0;
/// The lower end of FOR-83.
pub const LOW_PCT: f64 = 30.0;
/// Ideal from here on (FOR-82).
pub const IDEAL_PCT: f64 = 35.0;
/// A loss of more than so much of the first weight: water (FOR-83).
pub const LOSS_PCT: f64 = 10.0;
/// Sample logs are weighed again weekly in dry weather (FOR-83).
pub const WEIGH_DAYS: i64 = 7;
/// A disc's weight, g.
pub const DISC_G: Bounds = Bounds { min: 1, max: 50_000, unit: "g" };
/// Litres on one log, tenths.
pub const LITRES_TENTHS: Bounds = Bounds { min: 1, max: 5000, unit: "tenths_l" };
/// Weight of the cell wall itself, relative to water: no wood holds more water than the room beside it (from memory).
const CELL_WALL: f64 = 1.54;
/// Where nobody knows the wood: heavier than any fresh hardwood of the table (chosen).
const HEAVIEST_KG_M3: f64 = 1300.0;
/// What bark and a rough tape add at the most (chosen).
const MARGIN: f64 = 1.15;

/// Moisture of the wet weight, per cent: (wet − dry) / wet.
pub fn wet_basis(wet: f64, dry: f64) -> f64 {
    100.0 * (wet - dry) / wet
}

/// Per cent of the wet weight as per cent of the dry weight: 100·w / (100 − w).
pub fn to_dry_basis(wet_basis_pct: f64) -> f64 {
    100.0 * wet_basis_pct / (100.0 - wet_basis_pct)
}

/// Per cent of the dry weight as per cent of the wet weight.
pub fn to_wet_basis(dry_basis_pct: f64) -> f64 {
    100.0 * dry_basis_pct / (100.0 + dry_basis_pct)
}

/// The dry mass in a log that weighed `grams` at `pct` of the wet weight.
pub fn dry_mass(grams: f64, pct: f64) -> f64 {
    grams * (1.0 - pct / 100.0)
}

/// What a log with this dry mass weighs at `pct` of the wet weight.
pub fn weight_at(dry: f64, pct: f64) -> f64 {
    dry / (1.0 - pct / 100.0)
}

/// The weight below which a log has lost more than 10 % of its first one.
pub fn loss_line(first: f64) -> f64 {
    first * (1.0 - LOSS_PCT / 100.0)
}

/// How far `now` is below `before`, per cent of `before`; negative when it is heavier.
pub fn below_pct(before: i64, now: i64) -> f64 {
    100.0 * (before - now) as f64 / before as f64
}

/// What a moisture means.
pub fn band(pct: f64) -> Band {
    match pct {
        p if p < DIES_PCT => Band::Dies,
        p if p < LOW_PCT => Band::Low,
        p if p < IDEAL_PCT => Band::Fair,
        _ => Band::Ideal,
    }
}

/// A sample disc's two weights, or what cannot be true of them.
///
/// # Errors
/// `Invalid` on `wet_g` or `dry_g`.
pub fn disc(wet_g: i64, dry_g: i64) -> Result<(i64, i64)> {
    DISC_G.check("wet_g", wet_g)?;
    DISC_G.check("dry_g", dry_g)?;
    if dry_g >= wet_g {
        return Err(Error::invalid_with("dry_g", "dry_heavier", json!({"wet_g": wet_g, "dry_g": dry_g})));
    }
    Ok((wet_g, dry_g))
}

/// Moisture of the wood as it was laid, per cent of the wet weight, and what it was taken from.
pub fn laid_moisture(log: &Known) -> Option<(f64, Basis)> {
    if let Some((wet, dry)) = log.disc {
        return Some((wet_basis(wet as f64, dry as f64), Basis::Disc));
    }
    if let Some(pct) = log.own_moisture {
        return Some((pct as f64, Basis::OwnWood));
    }
    Some((fresh_moisture(log)?, Basis::Published))
}

/// The wood's published fresh moisture, per cent of the wet weight.
pub fn fresh_moisture(log: &Known) -> Option<f64> {
    let green = wood(log.wood.as_deref()?)?.green?;
    Some(to_wet_basis(green.moisture_pct))
}

/// How wet a log is, in its spawn run.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Moisture {
    /// Per cent of the wet weight; null: neither a disc nor the wood's figure is known.
    pub pct: Option<f64>,
    /// What that means; null: not known.
    pub band: Option<Band>,
    /// What the dry mass was taken from.
    pub basis: Option<Basis>,
    /// How far it is below its first weight, per cent.
    pub below_first_pct: f64,
    /// The weight at which it has lost 10 % of the first, g.
    pub line_g: i64,
    /// What it weighs at 35 %, g.
    pub ideal_g: Option<i64>,
    /// What it weighs at 23 %, g.
    pub dies_g: Option<i64>,
    /// The wood was under 35 % on the day it was felled: that alone alarms nobody.
    pub felled_dry: bool,
    /// Whether it wants water.
    pub water: bool,
    /// Where it comes from.
    pub from: WhereFrom,
}

/// How wet a log is, in its spawn run and once it was weighed.
pub fn moisture(log: &Known) -> Option<Moisture> {
    let (first, last) = (log.first?.0, log.last?.0);
    if !log.in_spawn_run() {
        return None;
    }
    let laid = laid_moisture(log);
    let dry = laid.map(|(pct, _)| dry_mass(first as f64, pct));
    let pct = dry.map(|dry| wet_basis(last as f64, dry).max(0.0));
    let felled_dry = laid.is_some_and(|(pct, _)| pct < IDEAL_PCT);
    let below = below_pct(first, last);
    let lost = (last as f64) < loss_line(first as f64);
    let floor = laid.map_or(LOW_PCT, |(laid, _)| LOW_PCT.min(laid - 3.0)).max(DIES_PCT);
    Some(Moisture {
        pct,
        band: pct.map(band),
        basis: laid.map(|(_, basis)| basis),
        below_first_pct: below,
        line_g: whole(loss_line(first as f64)),
        ideal_g: dry.map(|dry| whole(weight_at(dry, IDEAL_PCT))),
        dies_g: dry.map(|dry| whole(weight_at(dry, DIES_PCT))),
        felled_dry,
        water: lost || pct.is_some_and(|pct| pct < floor),
        from: moisture_from(log, first, last, laid),
    })
}

fn moisture_from(log: &Known, first: i64, last: i64, laid: Option<(f64, Basis)>) -> WhereFrom {
    let from = match laid {
        Some((_, Basis::Disc)) => WhereFrom::new("moisture_disc", Mark::Own, "").of_logs(1),
        Some((pct, Basis::OwnWood)) => {
            WhereFrom::new("moisture_own_wood", Mark::Own, "").with("laid_pct", pct)
        }
        Some((pct, Basis::Published)) => WhereFrom::new(
            "moisture_published",
            Mark::Derived,
            "USDA Forest Service, Forest Inventory and Analysis, REF_SPECIES",
        )
        .with("laid_pct", pct),
        None => WhereFrom::new("moisture_loss", Mark::Published, "University of Kentucky FOR-83"),
    };
    let from = from.with("first_g", first).with("last_g", last);
    match log.disc {
        Some((wet, dry)) => from.with("disc_wet_g", wet).with("disc_dry_g", dry),
        None => from,
    }
}

/// How far a log is below its weight after its last soak, per cent; only once its spawn run is over.
pub fn below_soaked(log: &Known) -> Option<f64> {
    let (last, day) = log.last?;
    let (out, soaked) = log.soaked_out.zip(log.soaked_grams)?;
    (!log.in_spawn_run() && day >= out).then(|| below_pct(soaked, last))
}

/// Weight of its fresh wood, kg/m³: the grower's own figure or the table's.
pub fn density(log: &Known) -> Option<f64> {
    if let Some(own) = log.own_density {
        return Some(own as f64);
    }
    Some(wood(log.wood.as_deref()?)?.green?.density())
}

/// About what it weighs fresh, g: volume times fresh density, without bark.
pub fn about_grams(log: &Known) -> Option<i64> {
    Some(whole(log.litres()? * density(log)?))
}

/// Where that comes from.
pub fn about_from(log: &Known) -> Option<WhereFrom> {
    let from = WhereFrom::new(
        "log_weight",
        Mark::Derived,
        "Wood Handbook, chapter 4; USDA Forest Service REF_SPECIES",
    );
    Some(from.with("litres", log.litres()?).with("density_kg_m3", density(log)?))
}

/// The most its wood can weigh, soaked full, g, with a margin for bark and tape; `None` without its size.
pub fn most_grams(log: &Known) -> Option<i64> {
    let green = log.wood.as_deref().and_then(wood).and_then(|w| w.green);
    let full = green.map_or(HEAVIEST_KG_M3, |g| 1000.0 * (g.gravity + 1.0 - g.gravity / CELL_WALL));
    Some(whole(log.litres()? * full * MARGIN))
}

/// The least: its wood without any water, less a margin; `None` without size or wood.
pub fn least_grams(log: &Known) -> Option<i64> {
    let green = log.wood.as_deref().and_then(wood)?.green?;
    Some(whole(log.litres()? * 1000.0 * green.gravity * 0.5))
}

/// Whether a weight is one that its wood can have.
pub fn can_weigh(log: &Known, grams: i64) -> std::result::Result<(), (&'static str, i64)> {
    if let Some(most) = most_grams(log).filter(|most| grams > *most) {
        return Err(("too_heavy", most));
    }
    // Eaten wood is lighter than it was laid: only in the spawn run can a weight be too small.
    if let Some(least) = least_grams(log).filter(|least| grams < *least && log.in_spawn_run()) {
        return Err(("too_light", least));
    }
    Ok(())
}

#[allow(clippy::cast_possible_truncation, reason = "a log weighs less than 500 kg")]
fn whole(grams: f64) -> i64 {
    grams.round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_meet_at_the_published_thresholds() {
        let found: Vec<Band> = [22.9, 23.0, 29.9, 30.0, 34.9, 35.0].into_iter().map(band).collect();
        assert_eq!(found, [Band::Dies, Band::Low, Band::Low, Band::Fair, Band::Fair, Band::Ideal]);
    }

    #[test]
    fn a_disc_is_lighter_dry_than_wet() {
        assert!(disc(480, 269).is_ok());
        assert!(disc(269, 480).is_err());
        assert!(disc(300, 300).is_err(), "no fresh wood is bone-dry");
    }
}
