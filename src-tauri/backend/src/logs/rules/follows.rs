//! Which entry may follow which state of a log: the one table, for every act that writes on a log.
//! Never the writing, and never a question's words: the screen has a sentence for each reason.
//! Invariant: every pair of state and entry has an answer; only what cannot be is refused.
//!
//! What comes from another device or an archive is never judged by this: it was true for its writer.
//! An entry about a day before the log's end is judged as if the log had not ended: yesterday's
//! picking may be typed after today's gift.

use super::life::{SEEN_DAYS, SOAKED_DAYS, in_tank, is_young, is_younger, rest_until, state};
use super::{Facts, Method, State};
use crate::error::{Error, Result};
use crate::looks::rules::Stage;
use crate::strains::rules::{Mushroom, OutOfSeason, StrainClass, out_of_season};
use crate::words::words;
use chrono::NaiveDate;
use serde_json::Value;

words! {
    /// What may be written on a log.
    pub enum Kind {
        /// A look that saw nothing.
        Look = "look",
        /// A look that saw fruit.
        Fruit = "fruit",
        /// A harvest.
        Picking = "picking",
        /// A stop of a round.
        Check = "check",
        /// Into the tank.
        SoakIn = "soak_in",
        /// Out of the tank.
        SoakOut = "soak_out",
        /// Its weight.
        Weighing = "weighing",
        /// Water on it.
        Watering = "watering",
        /// To another spot.
        Move = "move",
        /// A look at the wood itself.
        Condition = "condition",
        /// Something done to it.
        Tending = "tending",
        /// The end of its watch.
        Ending = "ending",
        /// Its ending taken back.
        Unending = "unending",
    }
}

words! {
    /// Why an entry asks first, or cannot be.
    pub enum Reason {
        /// It is wood waiting to be laid.
        NotLaid = "not_laid",
        /// It is younger than a log fruits or should be soaked.
        TooYoung = "too_young",
        /// It is still resting from its last picking or soak.
        StillResting = "still_resting",
        /// Caps are out on it.
        CapsOut = "caps_out",
        /// A cold strain: as a rule not forced (Washington State University).
        ColdStrain = "cold_strain",
        /// A totem: its joints part in the tank.
        Totem = "totem",
        /// Drilled Hericium: watered, as a rule not soaked.
        Hericium = "hericium",
        /// It lies in the tank.
        InTank = "in_tank",
        /// It is not in a tank.
        NotInTank = "not_in_tank",
        /// Its watch has ended.
        EndedAlready = "ended_already",
        /// It left the yard.
        Away = "away",
        /// Its watch has not ended.
        NotEnded = "not_ended",
        /// The day lies before the one it needs.
        DayBefore = "day_before",
    }
}

/// The table's answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Follows {
    /// It may be written as it is.
    Fits,
    /// It may be written when the grower says that it is so.
    Asks(Vec<Reason>),
    /// It cannot be.
    Refused(Reason),
}

impl Follows {
    /// The reasons to ask about; none when it fits.
    ///
    /// # Errors
    /// `Conflict` with the reason's word when it is refused.
    pub fn asked(self) -> Result<Vec<Reason>> {
        match self {
            Self::Fits => Ok(Vec::new()),
            Self::Asks(reasons) => Ok(reasons),
            Self::Refused(reason) => Err(Error::conflict(reason.word(), Value::Null)),
        }
    }
}

/// When a thing is written: the day it is about, today, and the yard's place.
#[derive(Debug, Clone, Copy)]
pub struct On {
    /// The day the entry is about.
    pub day: NaiveDate,
    /// The local day.
    pub today: NaiveDate,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
    /// Fewest months from laying to a first soak; none: as young as a log fruits. The careful 12 is
    /// a full year (University of Kentucky FOR-85).
    pub soak_months: Option<u32>,
}

/// What to ask before fruit is written on a log: reasons of the table, and whether its class fruits in
/// these months at all. Asked once a flush: not when fruit was seen or picked on it lately, nor in the
/// weeks after a soak, which brings a flush at any time.
pub fn fruit_asks(facts: &Facts, on: On) -> (Vec<Reason>, Option<OutOfSeason>) {
    let reasons = match follows(Kind::Fruit, facts, on) {
        Follows::Fits => Vec::new(),
        Follows::Asks(reasons) => reasons,
        Follows::Refused(reason) => vec![reason],
    };
    let lately = |day: Option<NaiveDate>, days: i64| day.is_some_and(|d| (on.day - d).num_days() <= days);
    let seen = facts.seen.filter(|(stage, _)| *stage != Stage::Nothing).map(|(_, day)| day);
    let forced = lately(facts.soaked_out.map(|(day, _)| day), SOAKED_DAYS + SEEN_DAYS);
    let known = lately(seen, SEEN_DAYS) || lately(facts.picked, SEEN_DAYS);
    let season = out_of_season(facts.class, on.day, on.southern).filter(|_| !known && !forced);
    (reasons, season)
}

/// One cell of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Cell {
    Fits,
    Asks(Reason),
    Refused(Reason),
}

/// The table: what each state says to an entry. `SoakIn` gets more reasons from the log itself.
fn cell(state: State, kind: Kind) -> Cell {
    use Cell::{Asks, Fits, Refused};
    use Reason as R;
    match (state, kind) {
        // Nothing is unended but an ended log, and that is never refused it.
        (state, Kind::Unending) if state.is_ended() => Fits,
        (_, Kind::Unending) => Refused(R::NotEnded),
        // Out of the tank comes what is in it.
        (State::Soaking, Kind::SoakOut) => Fits,
        (_, Kind::SoakOut) => Refused(R::NotInTank),
        // A log that left may be heard of; one that ended may surprise. No work is done on either.
        (State::Given | State::Sold | State::Lent | State::Stolen, kind) => match kind {
            Kind::Ending => Refused(R::EndedAlready),
            Kind::Look | Kind::Fruit | Kind::Picking | Kind::Weighing | Kind::Condition => Asks(R::Away),
            _ => Refused(R::Away),
        },
        (State::Spent | State::Lost | State::Discarded, kind) => match kind {
            Kind::Look | Kind::Fruit | Kind::Picking | Kind::Weighing | Kind::Condition => {
                Asks(R::EndedAlready)
            }
            _ => Refused(R::EndedAlready),
        },
        (State::Soaking, Kind::SoakIn) => Refused(R::InTank),
        (State::Soaking, Kind::Fruit | Kind::Picking | Kind::Watering) => Asks(R::InTank),
        (State::Waiting, Kind::Fruit | Kind::Picking | Kind::SoakIn) => Asks(R::NotLaid),
        (State::SpawnRun, Kind::Fruit | Kind::Picking | Kind::SoakIn) => Asks(R::TooYoung),
        (State::Pins | State::Fruiting, Kind::SoakIn) => Asks(R::CapsOut),
        (State::Soaked | State::Resting, Kind::SoakIn) => Asks(R::StillResting),
        _ => Fits,
    }
}

/// Whether an entry of this kind may be written on a log of which the record says `facts`.
pub fn follows(kind: Kind, facts: &Facts, on: On) -> Follows {
    let mut then = facts.clone();
    if then.ended_day.is_some_and(|day| on.day < day) && !matches!(kind, Kind::Ending | Kind::Unending) {
        (then.ended, then.ended_day) = (None, None);
    }
    let cell = cell(state(&then, on.today, on.southern), kind);
    let before = then.soaked_in.is_some_and(|(into, _)| on.day < into);
    match cell {
        Cell::Refused(reason) => Follows::Refused(reason),
        _ if kind == Kind::SoakOut && before => Follows::Refused(Reason::DayBefore),
        Cell::Fits | Cell::Asks(_) => {
            let mut reasons = match cell {
                Cell::Asks(reason) => vec![reason],
                _ => Vec::new(),
            };
            if kind == Kind::SoakIn {
                reasons.extend(soak_reasons(&then, on));
                reasons.sort_unstable();
                reasons.dedup();
            }
            if reasons.is_empty() { Follows::Fits } else { Follows::Asks(reasons) }
        }
    }
}

/// What there is about the log itself that speaks against a soak.
fn soak_reasons(facts: &Facts, on: On) -> Vec<Reason> {
    let hericium = facts.mushroom.is_some_and(Mushroom::is_hericium);
    let totem = facts.method == Some(Method::Totem);
    let young = match on.soak_months {
        Some(months) => is_younger(facts, months, on.day, on.southern),
        None => is_young(facts, on.day, on.southern),
    };
    let resting = rest_until(facts).is_some_and(|until| on.day < until) && !in_tank(facts);
    [
        (Reason::TooYoung, young),
        (Reason::StillResting, resting),
        (Reason::ColdStrain, facts.class == Some(StrainClass::Cold)),
        (Reason::Totem, totem),
        (Reason::Hericium, hericium && !totem),
    ]
    .into_iter()
    .filter_map(|(reason, holds)| holds.then_some(reason))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::super::Why;
    use super::*;
    use crate::measure::Rough;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn on(text: &str) -> On {
        On { day: day(text), today: day(text), southern: false, soak_months: Some(12) }
    }

    fn facts(laid: &str) -> Facts {
        Facts { laid: Rough::parse(laid).ok(), mushroom: Some(Mushroom::Shiitake), ..Facts::default() }
    }

    #[test]
    fn a_log_is_lifted_out_only_when_it_is_in_and_goes_in_only_when_it_is_out() {
        let mut log = facts("2024-04-01");
        assert_eq!(follows(Kind::SoakOut, &log, on("2026-06-01")), Follows::Refused(Reason::NotInTank));
        assert_eq!(follows(Kind::SoakIn, &log, on("2026-06-01")), Follows::Fits);
        log.soaked_in = Some((day("2026-06-01"), 10));
        assert_eq!(follows(Kind::SoakIn, &log, on("2026-06-02")), Follows::Refused(Reason::InTank));
        assert_eq!(follows(Kind::SoakOut, &log, on("2026-06-02")), Follows::Fits);
        assert_eq!(follows(Kind::SoakOut, &log, on("2026-05-31")), Follows::Refused(Reason::DayBefore));
        log.soaked_out = Some((day("2026-06-02"), 20));
        assert_eq!(follows(Kind::SoakIn, &log, on("2026-06-10")), Follows::Asks(vec![Reason::StillResting]),);
    }

    #[test]
    fn a_soak_asks_before_a_young_a_cold_and_a_jointed_log() {
        let mut log = facts("2026-01-01");
        log.class = Some(StrainClass::Cold);
        log.method = Some(Method::Totem);
        let asked = Follows::Asks(vec![Reason::TooYoung, Reason::ColdStrain, Reason::Totem]);
        assert_eq!(follows(Kind::SoakIn, &log, on("2026-11-01")), asked);
        let quick = On { soak_months: Some(6), ..on("2026-11-01") };
        let asked = Follows::Asks(vec![Reason::ColdStrain, Reason::Totem]);
        assert_eq!(follows(Kind::SoakIn, &log, quick), asked);
        let drilled = Facts {
            mushroom: Some(Mushroom::Erinaceus),
            method: Some(Method::Drilled),
            ..facts("2024-01-01")
        };
        assert_eq!(follows(Kind::SoakIn, &drilled, on("2026-11-01")), Follows::Asks(vec![Reason::Hericium]));
    }

    #[test]
    fn an_ended_log_takes_no_work_and_its_ending_can_be_taken_back() {
        let mut log = facts("2024-04-01");
        assert_eq!(follows(Kind::Unending, &log, on("2026-06-01")), Follows::Refused(Reason::NotEnded));
        for why in Why::ALL {
            log.ended = Some(*why);
            log.ended_day = Some(day("2026-06-01"));
            let reason = if why.left() { Reason::Away } else { Reason::EndedAlready };
            assert_eq!(follows(Kind::Watering, &log, on("2026-06-02")), Follows::Refused(reason));
            assert_eq!(follows(Kind::Picking, &log, on("2026-06-02")), Follows::Asks(vec![reason]));
            assert_eq!(
                follows(Kind::Picking, &log, on("2026-05-31")),
                Follows::Fits,
                "yesterday's, typed now"
            );
            assert_eq!(follows(Kind::Ending, &log, on("2026-05-31")), Follows::Refused(Reason::EndedAlready));
            assert_eq!(follows(Kind::Unending, &log, on("2026-06-02")), Follows::Fits);
        }
    }

    #[test]
    fn every_state_answers_every_entry_and_some_entry_fits_it() {
        for state in [
            State::Waiting,
            State::SpawnRun,
            State::MayFruit,
            State::Soaking,
            State::Soaked,
            State::Pins,
            State::Fruiting,
            State::Resting,
            State::Spent,
            State::Lost,
            State::Discarded,
            State::Given,
            State::Sold,
            State::Lent,
            State::Stolen,
        ] {
            assert_eq!(cell(state, Kind::Unending) == Cell::Fits, state.is_ended(), "{state:?}");
            assert_eq!(cell(state, Kind::Ending) == Cell::Fits, !state.is_ended(), "{state:?}");
            assert!(Kind::ALL.iter().any(|kind| cell(state, *kind) == Cell::Fits), "{state:?}");
        }
        assert_eq!(State::ALL.len(), 15, "a new state needs its line above");
    }
}
