//! What can be seen outside rounds: animals, and fungi that compete for the log; and what these mean for it.
//! Never a cure: nothing is sprayed on a food log without a label that names the crop.
//! Invariant: a log's risk of loss follows its newest sightings and never stands without one.

use crate::condition::rules::{Competitor, Extent};
use crate::due::{Chore, Due, Tap, Urgency};
use crate::logs::rules::known::Known;
use crate::where_from::{Mark, WhereFrom};
use crate::words::words;
use chrono::NaiveDate;
use std::collections::BTreeSet;

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

/// A competitor seen on a log: by a sighting, or by a look at its wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OnLog {
    /// The day.
    pub day: NaiveDate,
    /// Which; none: a word this version does not know.
    pub what: Option<Sighted>,
    /// How much.
    pub extent: Option<Reach>,
}

impl OnLog {
    /// By the words of a sighting, or of a look at the wood (`condition`), which has words of its own for the same.
    /// None: an animal, or nothing seen.
    pub fn of(day: NaiveDate, what: &str, extent: Option<&str>) -> Option<Self> {
        let what = match Competitor::of(what) {
            Some(Competitor::None) => return None,
            Some(Competitor::GreenMould) => Some(Sighted::Trichoderma),
            Some(Competitor::DarkCrust) => Some(Sighted::Crusts),
            Some(Competitor::Crust) => Some(Sighted::Stereum),
            Some(Competitor::Bracket) => Some(Sighted::Trametes),
            Some(Competitor::GreyFan) => Some(Sighted::Schizophyllum),
            Some(Competitor::Other) => Some(Sighted::OtherFungus),
            None => Sighted::of(what),
        };
        if what.is_some_and(|what| !what.is_competitor()) {
            return None;
        }
        let on_wood = |word: &str| match Extent::of(word)? {
            Extent::Spots => Some(Reach::Spot),
            Extent::Patch => Some(Reach::Part),
            Extent::Half | Extent::Most => Some(Reach::Most),
        };
        let extent = extent.and_then(|word| Reach::of(word).or_else(|| on_wood(word)));
        Some(Self { day, what, extent })
    }

    /// Those kept in `log_state.competitor`: each `day:what:extent`, with blanks between.
    pub fn kept(text: Option<&str>) -> Vec<Self> {
        let one = |kept: &str| {
            let mut parts = kept.split(':');
            let (day, what) = (parts.next()?.parse().ok()?, parts.next()?);
            Self::of(day, what, parts.next())
        };
        text.unwrap_or_default().split(' ').filter_map(one).collect()
    }
}

words! {
    /// Why a log is said to be at risk.
    pub enum LossWhy {
        /// Another fungus was seen on it.
        Seen = "seen",
        /// One that takes the wood was seen on two days or more.
        Again = "again",
        /// The newest sighting holds half the log or more.
        Half = "half",
    }
}

/// A log's risk of loss, and what it follows from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct LossView {
    /// How likely.
    pub risk: LossRisk,
    /// Why.
    pub why: LossWhy,
    /// What was seen last; null: a word of a newer version.
    pub what: Option<Sighted>,
    /// How much of the log it held; null: not said.
    pub extent: Option<Reach>,
    /// What that tells of the log.
    pub tells: Option<Tells>,
    /// The day of it.
    pub day: NaiveDate,
    /// On how many days a competitor was seen.
    pub days: i64,
}

/// A log's risk: high when the newest sighting of a competitor holds half the log, or one that takes the wood
/// was seen on two days or more; else to be watched; none without one. Whoever then sees nothing of it any
/// more has not seen it leave the wood, so a sighting does not fade.
pub fn loss_risk(seen: &[OnLog]) -> Option<LossView> {
    let newest = seen.iter().max_by_key(|s| (s.day, s.extent, s.what))?;
    let takes = |s: &&OnLog| s.what.and_then(Sighted::tells) == Some(Tells::MayBeLost);
    let why = if newest.extent == Some(Reach::Most) {
        LossWhy::Half
    } else if days_of(seen.iter().filter(takes)) > 1 {
        LossWhy::Again
    } else {
        LossWhy::Seen
    };
    Some(LossView {
        risk: if why == LossWhy::Seen { LossRisk::Watch } else { LossRisk::High },
        why,
        what: newest.what,
        extent: newest.extent,
        tells: newest.what.and_then(Sighted::tells),
        day: newest.day,
        days: i64::try_from(days_of(seen.iter())).unwrap_or(i64::MAX),
    })
}

fn days_of<'a>(seen: impl Iterator<Item = &'a OnLog>) -> usize {
    seen.map(|s| s.day).collect::<BTreeSet<_>>().len()
}

/// What competitors ask for: logs likely lost are set apart, those with a first sign are watched.
pub fn dues(logs: &[Known]) -> Vec<Due> {
    let of = |risk: LossRisk| -> Vec<(&Known, LossView)> {
        let live = logs.iter().filter(|log| log.is_live());
        let views = live.filter_map(|log| Some((log, loss_risk(&log.competitors)?)));
        views.filter(|(_, view)| view.risk == risk).collect()
    };
    [due(&of(LossRisk::High), Urgency::Soon), due(&of(LossRisk::Watch), Urgency::Can)]
        .into_iter()
        .flatten()
        .collect()
}

fn due(logs: &[(&Known, LossView)], urgency: Urgency) -> Option<Due> {
    let (_, newest) = logs.iter().max_by_key(|(_, view)| view.day)?;
    let from = WhereFrom::new("loss_risk", Mark::Common, "");
    let tap = match logs {
        [(one, _)] => Tap::screen("log", &[("log", &one.id)]),
        _ => Tap::screen("yard", &[]),
    };
    let risk = newest.risk.word();
    let mut due = Due::new(format!("fungus_{risk}:{}", newest.day), Chore::Fungus, urgency, from, tap)
        .with("risk", risk)
        .with("why", newest.why.word())
        .with("what", newest.what.map(Sighted::word))
        .with("tells", newest.tells.map(Tells::word))
        .with("day", newest.day.to_string())
        .since(Some(newest.day));
    due.logs = logs.iter().map(|(log, _)| log.due()).collect();
    Some(due)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on(day: &str, what: Sighted, extent: Option<Reach>) -> OnLog {
        OnLog { day: day.parse().unwrap_or_default(), what: Some(what), extent }
    }

    fn risk_of(seen: &[OnLog]) -> Option<LossRisk> {
        loss_risk(seen).map(|view| view.risk)
    }

    #[test]
    fn a_look_at_the_wood_and_a_sighting_say_the_same_of_a_log() {
        let day = |text: &str| text.parse::<NaiveDate>().unwrap_or_default();
        let kept = "2026-05-01:bracket: 2026-05-09:none: 2026-05-20:stereum:spot 2026-05-21:slugs:";
        let seen = OnLog::kept(Some(kept));
        assert_eq!(
            seen,
            [
                on("2026-05-01", Sighted::Trametes, None),
                on("2026-05-20", Sighted::Stereum, Some(Reach::Spot))
            ]
        );
        assert_eq!(OnLog::kept(None), []);
        let half = OnLog::of(day("2026-06-01"), "green_mould", Some("half"));
        assert_eq!(half, Some(on("2026-06-01", Sighted::Trichoderma, Some(Reach::Most))));
        assert!(Competitor::ALL.iter().all(|word| {
            let seen = OnLog::of(day("2026-06-01"), word.word(), None);
            seen.is_some_and(|seen| seen.what.is_some()) == (*word != Competitor::None)
        }));
    }

    #[test]
    fn a_risk_says_what_it_follows_from() {
        let bracket = [on("2026-05-01", Sighted::Trametes, None), on("2026-05-20", Sighted::Stereum, None)];
        let first = loss_risk(&bracket[..1]).map(|v| (v.why, v.what, v.days));
        assert_eq!(first, Some((LossWhy::Seen, Some(Sighted::Trametes), 1)));
        let both = loss_risk(&bracket).map(|v| (v.why, v.what, v.tells, v.days));
        assert_eq!(both, Some((LossWhy::Again, Some(Sighted::Stereum), Some(Tells::MayBeLost), 2)));
        let half = loss_risk(&[on("2026-06-01", Sighted::Trichoderma, Some(Reach::Most))]).map(|v| v.why);
        assert_eq!(half, Some(LossWhy::Half));
    }

    #[test]
    fn a_logs_risk_follows_its_competitors_and_no_animal() {
        assert_eq!(risk_of(&[]), None);
        assert_eq!(OnLog::of("2026-05-01".parse().unwrap_or_default(), "slugs", None), None);
        let mould = on("2026-05-01", Sighted::Trichoderma, Some(Reach::Spot));
        assert_eq!(risk_of(&[mould]), Some(LossRisk::Watch));
        let more = on("2026-06-01", Sighted::Trichoderma, Some(Reach::Most));
        assert_eq!(risk_of(&[mould, more]), Some(LossRisk::High));
        assert_eq!(
            risk_of(&[on("2026-07-01", Sighted::Trichoderma, Some(Reach::Spot)), more]),
            Some(LossRisk::Watch)
        );
        let bracket = [on("2026-05-01", Sighted::Trametes, None), on("2026-05-20", Sighted::Stereum, None)];
        assert_eq!(risk_of(&bracket[..1]), Some(LossRisk::Watch));
        assert_eq!(risk_of(&bracket), Some(LossRisk::High));
        assert_eq!(
            risk_of(&[OnLog { day: NaiveDate::default(), what: None, extent: None }]),
            Some(LossRisk::Watch)
        );
    }

    #[test]
    fn every_competitor_tells_something_and_no_animal_does() {
        assert!(Sighted::ALL.iter().all(|what| what.is_competitor() == what.tells().is_some()));
    }
}
