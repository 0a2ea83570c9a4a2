//! Where a log is in its life: one state, worked out from what its record says and the day.
//! Never a forecast, and never a rule about what may be written next: `follows` has those.
//! Invariant: a log has exactly one state on any day, whatever its record holds.

use super::{Method, State, Why};
use crate::looks::rules::Stage;
use crate::measure::Rough;
use crate::strains::rules::{Mushroom, StrainClass, fewest_months};
use chrono::{Days, Months, NaiveDate};

/// Days after which caps that were seen and neither picked nor seen again are no longer counted as
/// out: from button to full size is a matter of days (common practice, no source).
pub const SEEN_DAYS: i64 = 21;

/// Rest after a picking or a soak, days: the lower end of 7–10 weeks (University of Kentucky FOR-85).
pub const REST_DAYS: i64 = 49;

/// Days after a soak in which its pins are awaited: pins a few days after the soak, picking within
/// one to two weeks (common practice, no source).
pub const SOAKED_DAYS: i64 = 14;

/// An entry's place in time: the day it is about, then when it was written (ms since 1970).
pub type When = (NaiveDate, i64);

/// What the record says of a log, as far as its state and what may follow depend on it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// When it was laid.
    pub laid: Option<Rough>,
    /// What it carries.
    pub mushroom: Option<Mushroom>,
    /// Its strain's class.
    pub class: Option<StrainClass>,
    /// How it was inoculated.
    pub method: Option<Method>,
    /// What the newest look saw, and when.
    pub seen: Option<(Stage, NaiveDate)>,
    /// When that look was written, ms.
    pub seen_at: Option<i64>,
    /// Whether that look is newer than the newest picking.
    pub seen_after_picking: bool,
    /// The newest picking's day.
    pub picked: Option<NaiveDate>,
    /// When that picking was written, ms.
    pub picked_at: Option<i64>,
    /// The first day anything fruited or was picked.
    pub first_fruit: Option<NaiveDate>,
    /// The newest time it went into a tank.
    pub soaked_in: Option<When>,
    /// The newest time it was lifted out of one.
    pub soaked_out: Option<When>,
    /// How often it went into a tank.
    pub soaks: i64,
    /// Its weight when it was last lifted out, g; none: not weighed then.
    pub soaked_grams: Option<i64>,
    /// The first weighing: g and day.
    pub first_grams: Option<(i64, NaiveDate)>,
    /// The newest weighing: g and day.
    pub last_grams: Option<(i64, NaiveDate)>,
    /// The newest watering's day.
    pub last_watered: Option<NaiveDate>,
    /// The newest day something was done to it: re-waxed, turned and so on.
    pub last_tending: Option<NaiveDate>,
    /// Why its watch ended.
    pub ended: Option<Why>,
    /// The day it ended.
    pub ended_day: Option<NaiveDate>,
}

/// The log's state on `today`.
pub fn state(facts: &Facts, today: NaiveDate, southern: bool) -> State {
    if let Some(why) = facts.ended {
        return why.state();
    }
    if in_tank(facts) {
        return State::Soaking;
    }
    if let Some(stage) = caps_out(facts, today) {
        return if stage.is_first_sign() { State::Pins } else { State::Fruiting };
    }
    if facts.laid.is_none() && facts.first_fruit.is_none() {
        return State::Waiting;
    }
    // A log too young to fruit is soaked for its moisture, and goes on with its spawn run.
    if is_young(facts, today, southern) {
        return State::SpawnRun;
    }
    if awaits_pins(facts, today) {
        return State::Soaked;
    }
    if rest_until(facts).is_some_and(|day| today < day) {
        return State::Resting;
    }
    State::MayFruit
}

/// Whether it lies in a tank: nothing after it went in says that it came out. Fruit seen or picked
/// since says so too; a look that saw nothing does not, as one may look at it in the water.
pub fn in_tank(facts: &Facts) -> bool {
    let Some(into) = facts.soaked_in else { return false };
    let fruit = seen(facts).filter(|_| facts.seen.is_some_and(|(stage, _)| stage != Stage::Nothing));
    let out = [facts.soaked_out, picked(facts), fruit];
    facts.ended.is_none() && out.into_iter().flatten().all(|when| when < into)
}

/// The stage of caps that were seen lately and not picked since.
pub fn caps_out(facts: &Facts, today: NaiveDate) -> Option<Stage> {
    let (stage, day) = facts.seen?;
    let lately = (today - day).num_days() <= SEEN_DAYS;
    (stage != Stage::Nothing && lately && facts.seen_after_picking && facts.ended.is_none()).then_some(stage)
}

/// Whether it was laid, has not fruited, and is too young to have done so even if it was laid on
/// the first day its rough date allows. A log whose laying nobody knows is not young.
pub fn is_young(facts: &Facts, today: NaiveDate, southern: bool) -> bool {
    let months = fewest_months(facts.mushroom.unwrap_or(Mushroom::Shiitake), facts.class);
    facts.first_fruit.is_none() && is_younger(facts, months, today, southern)
}

/// Whether fewer than `months` have passed since the first day its laying allows.
pub(super) fn is_younger(facts: &Facts, months: u32, today: NaiveDate, southern: bool) -> bool {
    let Some((first, _)) = facts.laid.as_ref().and_then(|l| l.span(southern)) else { return false };
    first.checked_add_months(Months::new(months)).is_some_and(|day| today < day)
}

/// The first day after its rest: counted from its newest picking or from its newest soak, whichever
/// is later. `None` for a log that was never picked or soaked.
pub fn rest_until(facts: &Facts) -> Option<NaiveDate> {
    let soaked = facts.soaked_out.map(|(day, _)| day);
    let from = facts.picked.max(soaked)?;
    from.checked_add_days(Days::new(REST_DAYS.unsigned_abs()))
}

fn awaits_pins(facts: &Facts, today: NaiveDate) -> bool {
    let Some(out) = facts.soaked_out else { return false };
    (today - out.0).num_days() <= SOAKED_DAYS && picked(facts).is_none_or(|when| when < out)
}

fn seen(facts: &Facts) -> Option<When> {
    facts.seen.map(|(_, day)| (day, facts.seen_at.unwrap_or_default()))
}

fn picked(facts: &Facts) -> Option<When> {
    facts.picked.map(|day| (day, facts.picked_at.unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn facts(laid: &str) -> Facts {
        Facts { laid: Rough::parse(laid).ok(), mushroom: Some(Mushroom::Shiitake), ..Facts::default() }
    }

    #[test]
    fn a_log_goes_from_spawn_run_to_may_fruit_after_the_fewest_months() {
        let mut log = facts("2025-04-10");
        assert_eq!(state(&log, day("2025-10-09"), false), State::SpawnRun);
        assert_eq!(state(&log, day("2025-10-10"), false), State::MayFruit);
        log.class = Some(StrainClass::Cold);
        assert_eq!(state(&log, day("2025-10-10"), false), State::SpawnRun);
        assert_eq!(state(&log, day("2026-01-10"), false), State::MayFruit);
    }

    #[test]
    fn an_inherited_log_is_never_called_young() {
        assert_eq!(state(&facts("XXXX"), day("2026-05-01"), false), State::MayFruit);
        assert_eq!(state(&Facts::default(), day("2026-05-01"), false), State::Waiting);
    }

    #[test]
    fn caps_seen_count_until_picked_or_three_weeks_old() {
        let mut log = facts("2024-04-01");
        log.seen = Some((Stage::Pin, day("2026-05-01")));
        log.seen_after_picking = true;
        log.first_fruit = Some(day("2026-05-01"));
        assert_eq!(state(&log, day("2026-05-03"), false), State::Pins);
        log.seen = Some((Stage::Cupped, day("2026-05-04")));
        assert_eq!(state(&log, day("2026-05-05"), false), State::Fruiting);
        assert_eq!(state(&log, day("2026-05-26"), false), State::MayFruit);
        log.picked = Some(day("2026-05-05"));
        log.seen_after_picking = false;
        assert_eq!(state(&log, day("2026-05-06"), false), State::Resting);
        assert_eq!(state(&log, day("2026-06-23"), false), State::MayFruit);
        log.ended = Some(Why::Lost);
        assert_eq!(state(&log, day("2026-05-06"), false), State::Lost);
    }

    #[test]
    fn a_soak_goes_through_the_tank_the_wait_for_pins_and_the_rest() {
        let mut log = facts("2024-04-01");
        log.soaked_in = Some((day("2026-06-01"), 10));
        assert_eq!(state(&log, day("2026-06-01"), false), State::Soaking);
        assert_eq!(state(&log, day("2026-07-01"), false), State::Soaking, "nobody lifted it out");
        log.soaked_out = Some((day("2026-06-02"), 20));
        assert_eq!(state(&log, day("2026-06-02"), false), State::Soaked);
        assert_eq!(state(&log, day("2026-06-16"), false), State::Soaked);
        assert_eq!(state(&log, day("2026-06-17"), false), State::Resting);
        assert_eq!(state(&log, day("2026-07-20"), false), State::Resting);
        assert_eq!(state(&log, day("2026-07-21"), false), State::MayFruit);
        log.soaked_in = Some((day("2026-07-21"), 30));
        assert_eq!(state(&log, day("2026-07-21"), false), State::Soaking, "in again");
        log.ended = Some(Why::Lent);
        assert_eq!(state(&log, day("2026-07-21"), false), State::Lent);
    }

    #[test]
    fn a_log_that_fruited_since_is_not_in_the_tank() {
        let mut log = facts("2024-04-01");
        log.soaked_in = Some((day("2026-06-01"), 10));
        log.seen = Some((Stage::Nothing, day("2026-06-01")));
        log.seen_at = Some(20);
        assert!(in_tank(&log), "it was looked at in the water");
        log.seen = Some((Stage::Pin, day("2026-06-05")));
        log.seen_after_picking = true;
        assert_eq!(state(&log, day("2026-06-05"), false), State::Pins);
        log.picked = Some(day("2026-06-09"));
        log.seen_after_picking = false;
        assert_eq!(state(&log, day("2026-06-10"), false), State::Resting);
    }

    #[test]
    fn a_young_log_goes_on_with_its_spawn_run_after_a_soak() {
        let mut log = facts("2026-04-01");
        log.soaked_in = Some((day("2026-06-01"), 10));
        log.soaked_out = Some((day("2026-06-02"), 20));
        assert_eq!(state(&log, day("2026-06-03"), false), State::SpawnRun);
        log.laid = None;
        assert_eq!(
            state(&log, day("2026-06-03"), false),
            State::Waiting,
            "dry wood is soaked before it is laid"
        );
    }
}
