//! When logs are brought in from the frost and when they go out again.
//! Never the register, the weather or the clock: what is known of them comes in.
//! Invariant: without a forecast the month decides, and the answer says which of the two it was.

use crate::logs::rules::State;
use crate::words::words;
use chrono::{Datelike, NaiveDate};

words! {
    /// Why logs were moved.
    pub enum MoveWhy {
        /// No reason of the season.
        Plain = "plain",
        /// In from the frost.
        BringIn = "bring_in",
        /// Out again, back to rain and cold.
        HardenOff = "harden_off",
        /// Not carried: its page had named another spot.
        Corrected = "corrected",
    }
}

words! {
    /// What makes it time for a log.
    pub enum MoveReason {
        /// Frost, and caps or pins that it would spoil.
        FrostOnCaps = "frost_on_caps",
        /// Frost, and a log just soaked: its pins come in the cold.
        FrostAfterSoak = "frost_after_soak",
        /// Frost, and a first winter: young spawn grows on where it is kept from frost.
        FrostFirstWinter = "frost_first_winter",
        /// It stands inside, and frost is over.
        FrostOver = "frost_over",
    }
}

words! {
    /// What the answer leans on.
    pub enum FrostBasis {
        /// The coldest night known to come.
        Forecast = "forecast",
        /// The month of the year.
        Month = "month",
    }
}

/// What is known of the nights to come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Forecast {
    /// The lowest temperature expected, tenths of °C.
    pub min_dc: i64,
}

/// What is known of a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// Its state.
    pub state: State,
    /// Whether its spot is kept from frost.
    pub heated: bool,
}

/// At and under this, tenths of °C, caps are spoilt. (Water freezes; our own choice of the line.)
pub const FROST_DC: i64 = 0;

/// Whether frost is to be reckoned with, and what says so. Without a forecast: November to March in the
/// north, May to September in the south (common practice in temperate yards, no source).
pub fn frost(forecast: Option<Forecast>, today: NaiveDate, southern: bool) -> (bool, FrostBasis) {
    match forecast {
        Some(night) => (night.min_dc <= FROST_DC, FrostBasis::Forecast),
        None => {
            let month = if southern { (today.month() + 5) % 12 + 1 } else { today.month() };
            (!(4..=10).contains(&month), FrostBasis::Month)
        }
    }
}

/// Why a log should be brought in now; `None`: it may stay. (Common practice, no source.)
pub fn bring_in(log: Standing, frost: bool) -> Option<MoveReason> {
    if log.heated || !frost {
        return None;
    }
    match log.state.word() {
        "pins" | "fruiting" => Some(MoveReason::FrostOnCaps),
        "soaking" | "soaked" => Some(MoveReason::FrostAfterSoak),
        "spawn_run" => Some(MoveReason::FrostFirstWinter),
        _ => None,
    }
}

/// Why a log should go out again; `None`: it may stay. (Common practice, no source.)
pub fn harden_off(log: Standing, frost: bool) -> Option<MoveReason> {
    let at_work = matches!(log.state.word(), "pins" | "fruiting" | "soaking");
    (log.heated && !frost && !at_work).then_some(MoveReason::FrostOver)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn the_month_decides_until_a_forecast_does() {
        assert_eq!(frost(None, day("2026-01-10"), false), (true, FrostBasis::Month));
        assert_eq!(frost(None, day("2026-05-10"), false), (false, FrostBasis::Month));
        assert_eq!(frost(None, day("2026-07-10"), true), (true, FrostBasis::Month));
        assert_eq!(frost(None, day("2026-01-10"), true), (false, FrostBasis::Month));
        assert_eq!(
            frost(Some(Forecast { min_dc: -5 }), day("2026-05-10"), false),
            (true, FrostBasis::Forecast)
        );
        assert_eq!(
            frost(Some(Forecast { min_dc: 1 }), day("2026-01-10"), false),
            (false, FrostBasis::Forecast)
        );
    }

    #[test]
    fn caps_come_in_before_frost_and_what_is_inside_goes_out_after_it() {
        let log = |state, heated| Standing { state, heated };
        assert_eq!(bring_in(log(State::Fruiting, false), true), Some(MoveReason::FrostOnCaps));
        assert_eq!(bring_in(log(State::SpawnRun, false), true), Some(MoveReason::FrostFirstWinter));
        assert_eq!(bring_in(log(State::Resting, false), true), None);
        assert_eq!(bring_in(log(State::Fruiting, true), true), None);
        assert_eq!(bring_in(log(State::Fruiting, false), false), None);
        assert_eq!(harden_off(log(State::MayFruit, true), false), Some(MoveReason::FrostOver));
        assert_eq!(harden_off(log(State::Fruiting, true), false), None);
        assert_eq!(harden_off(log(State::MayFruit, true), true), None);
        assert_eq!(harden_off(log(State::MayFruit, false), false), None);
    }
}
