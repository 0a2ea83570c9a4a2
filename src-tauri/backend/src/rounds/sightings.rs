//! What can be seen outside rounds: animals, and fungi that compete for the log; and what these mean for it.
//! Never a cure: nothing is sprayed on a food log without a label that names the crop.
//! Invariant: a log's risk of loss follows its newest sightings and never stands without one.

use crate::words::words;
use chrono::NaiveDate;

words! {
    /// What was seen.
    pub enum Sighted {
        /// Slugs and snails.
        Slugs = "slugs",
        /// Beetles.
        Beetles = "beetles",
        /// Springtails.
        Springtails = "springtails",
        /// Mice and voles.
        Mice = "mice",
        /// Squirrels.
        Squirrels = "squirrels",
        /// Birds.
        Birds = "birds",
        /// Deer.
        Deer = "deer",
        /// Green mould (Trichoderma).
        Trichoderma = "trichoderma",
        /// Dark crusts (Hypoxylon, Diatrype).
        Crusts = "crusts",
        /// Thin wavy shelves (Stereum).
        Stereum = "stereum",
        /// Brackets in zones (Trametes).
        Trametes = "trametes",
        /// Grey fans, split gills (Schizophyllum).
        Schizophyllum = "schizophyllum",
        /// Another fungus that was not planted.
        OtherFungus = "other_fungus",
    }
}

impl Sighted {
    /// Whether it is a fungus that competes for the wood.
    pub fn is_competitor(self) -> bool {
        self >= Self::Trichoderma
    }

    /// What a competitor tells of the log; none for animals.
    pub fn tells(self) -> Option<Tells> {
        match self {
            Self::Trichoderma => Some(Tells::TooWet),
            Self::Crusts | Self::Schizophyllum => Some(Tells::TooDry),
            Self::Stereum | Self::Trametes | Self::OtherFungus => Some(Tells::MayBeLost),
            _ => None,
        }
    }
}

words! {
    /// What a competitor tells of the log (common practice; the names are published, the reading is not).
    pub enum Tells {
        /// It lies too wet, or too little air passes.
        TooWet = "too_wet",
        /// It lies too dry or too sunny.
        TooDry = "too_dry",
        /// Another fungus holds part of the wood.
        MayBeLost = "may_be_lost",
    }
}

words! {
    /// How much of the log it holds.
    pub enum Reach {
        /// A spot or two.
        Spot = "spot",
        /// Less than half.
        Part = "part",
        /// Half or more.
        Most = "most",
    }
}

words! {
    /// How likely the log is lost to another fungus.
    pub enum LossRisk {
        /// Seen, and little of it.
        Watch = "watch",
        /// Likely.
        High = "high",
    }
}

/// A competitor seen on a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OnLog {
    /// The day.
    pub day: NaiveDate,
    /// Which; none: a word this version does not know.
    pub what: Option<Sighted>,
    /// How much.
    pub extent: Option<Reach>,
}

/// A log's risk: high when the newest sighting of a competitor holds half the log, or one that takes the wood
/// was seen on two days or more; else to be watched; none without one. Whoever then sees nothing of it any
/// more has not seen it leave the wood, so a sighting does not fade.
pub fn loss_risk(seen: &[OnLog]) -> Option<LossRisk> {
    let fungi: Vec<&OnLog> = seen.iter().filter(|s| s.what.is_none_or(Sighted::is_competitor)).collect();
    let newest = fungi.iter().max_by_key(|s| s.day)?;
    let takes = |s: &&&OnLog| s.what.and_then(Sighted::tells) == Some(Tells::MayBeLost);
    let mut days: Vec<NaiveDate> = fungi.iter().filter(takes).map(|s| s.day).collect();
    days.sort_unstable();
    days.dedup();
    let high = newest.extent == Some(Reach::Most) || days.len() > 1;
    Some(if high { LossRisk::High } else { LossRisk::Watch })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(day: &str, what: Sighted, extent: Option<Reach>) -> OnLog {
        OnLog { day: day.parse().unwrap_or_default(), what: Some(what), extent }
    }

    #[test]
    fn a_logs_risk_follows_its_competitors_and_no_animal() {
        assert_eq!(loss_risk(&[]), None);
        assert_eq!(loss_risk(&[on("2026-05-01", Sighted::Slugs, None)]), None);
        let mould = on("2026-05-01", Sighted::Trichoderma, Some(Reach::Spot));
        assert_eq!(loss_risk(&[mould]), Some(LossRisk::Watch));
        let more = on("2026-06-01", Sighted::Trichoderma, Some(Reach::Most));
        assert_eq!(loss_risk(&[mould, more]), Some(LossRisk::High));
        assert_eq!(
            loss_risk(&[on("2026-07-01", Sighted::Trichoderma, Some(Reach::Spot)), more]),
            Some(LossRisk::Watch)
        );
        let bracket = [on("2026-05-01", Sighted::Trametes, None), on("2026-05-20", Sighted::Stereum, None)];
        assert_eq!(loss_risk(&bracket[..1]), Some(LossRisk::Watch));
        assert_eq!(loss_risk(&bracket), Some(LossRisk::High));
        assert_eq!(
            loss_risk(&[OnLog { day: NaiveDate::default(), what: None, extent: None }]),
            Some(LossRisk::Watch)
        );
    }

    #[test]
    fn every_competitor_tells_something_and_no_animal_does() {
        assert!(Sighted::ALL.iter().all(|what| what.is_competitor() == what.tells().is_some()));
    }
}
