//! What is true of soaking: how long, in what water, which logs one asks about first, the rest after it.
//! Never a refusal of what happened: a grower may soak what he likes, and the record says so.
//! Invariant: a log is asked about for a reason that stands in its own record.
//!
//! Sources: University of Kentucky FOR-85 (8–12 h; not before a full year; rest 7–10 weeks). About 24 h, 6–8
//! months for wide-range strains, a month's rest at the least: common practice. At most 48 h, water 5.5–11 °C
//! cooler than the air: from memory. Cold strains are generally not forced: Washington State University.

use crate::due::{Chore, Due, Tap, Urgency};
use crate::error::{Error, Result};
use crate::logs::rules::follows::{Kind, On, Reason, follows};
use crate::logs::rules::known::Known;
use crate::logs::rules::life as logs;
use crate::measure::Bounds;
use crate::settings::rules::Forcing;
use crate::strains::rules::StrainClass;
use crate::where_from::{Mark, WhereFrom};
use crate::words::words;
use chrono::{Days, Months, NaiveDate};
use serde_json::{Value, json};

words! {
    /// Into the tank or out of it.
    pub enum Part {
        /// In.
        In = "in",
        /// Out.
        Out = "out",
    }
}

words! {
    /// Where a log in the tank stands.
    pub enum Lift {
        /// Not yet 8 hours.
        Soaking = "soaking",
        /// 8 to 24 hours: may come out.
        MayLift = "may_lift",
        /// More than 24 hours: lift it.
        LiftNow = "lift_now",
        /// More than 48 hours: too long.
        TooLong = "too_long",
    }
}

/// Water's temperature, tenths of °C: from ice to bath.
pub const WATER_DC: Bounds = Bounds { min: -5, max: 450, unit: "tenths_c" };
/// A log's weight, g: a twig to what two people lift.
pub const LOG_GRAMS: Bounds = Bounds { min: 100, max: 500_000, unit: "g" };
/// Minutes ago that something may have happened when it is typed.
pub const AGO_MIN: Bounds = Bounds { min: 0, max: 7 * 24 * 60, unit: "min" };
/// Logs in one load.
pub const LOGS_MAX: usize = 500;

/// Hours in the tank: from here a log may come out (FOR-85: 8–12 h).
pub const FROM_H: i64 = 8;
/// The upper end of FOR-85.
pub const FOR85_H: i64 = 12;
/// About a day (common practice; Washington State University's 24-hour immersion).
pub const DAY_H: i64 = 24;
/// At the most, in cold water (from memory).
pub const MOST_H: i64 = 48;
/// Full months before the first soak, careful (FOR-85: a full year).
pub const CAREFUL_MONTHS: u32 = 12;
/// The same for wide-range strains, quick: the upper end of 6–8 months (common practice).
pub const QUICK_MONTHS: u32 = 8;
/// Rest after a soak or a picking, days: 7 to 10 weeks (FOR-85).
pub const REST_DAYS: (i64, i64) = (49, 70);
/// The shortest rest that growers quote, days (common practice).
pub const SHORTEST_REST_DAYS: i64 = 30;
/// Water is clearly cooler than the air from this difference on, tenths of °C (from memory: 5.5–11 °C).
pub const COOLER_DC: i64 = 55;
/// Pins show some days after a soak, picking follows within two weeks (common practice).
pub const PINS_DAYS: (i64, i64) = (3, 14);

const MS_PER_H: i64 = 3_600_000;

/// Where a log stands that has been in the tank for so long, milliseconds.
pub fn lift(ms: i64) -> Lift {
    match ms.div_euclid(MS_PER_H) {
        h if h < FROM_H => Lift::Soaking,
        h if h < DAY_H => Lift::MayLift,
        h if h < MOST_H => Lift::LiftNow,
        _ => Lift::TooLong,
    }
}

/// Whether water of `water_dc` is clearly cooler than air of `air_dc`; `None` where either is not known.
pub fn clearly_cooler(water_dc: Option<i64>, air_dc: Option<i64>) -> Option<bool> {
    Some(air_dc? - water_dc? >= COOLER_DC)
}

/// The months before a first soak, by the grower's choice and the strain's class.
pub fn fewest_months(forcing: Forcing, class: Option<StrainClass>) -> u32 {
    match (forcing, class) {
        (Forcing::Quick, Some(StrainClass::Wide)) => QUICK_MONTHS,
        _ => CAREFUL_MONTHS,
    }
}

/// The day from which it is old enough; `None` when nobody knows when it was laid (it is not held up) or it is not.
pub fn old_enough(log: &Known, forcing: Forcing, southern: bool) -> Option<NaiveDate> {
    let (first, _) = log.facts.laid.as_ref()?.span(southern)?;
    first.checked_add_months(Months::new(fewest_months(forcing, log.class)))
}

/// The first day after its rest from the newest soak or picking, by the shorter end of 7–10 weeks.
pub fn rest_until(log: &Known) -> Option<NaiveDate> {
    logs::rest_until(&log.facts)
}

/// Why one would ask before this log goes into the tank, or comes out, by the one table of what may follow.
///
/// # Errors
/// `Conflict` when it cannot be: it is in the tank already, or is not in it.
pub fn asks(log: &Known, part: Part, on: On, forcing: Forcing) -> Result<Vec<Reason>> {
    let kind = if part == Part::In { Kind::SoakIn } else { Kind::SoakOut };
    follows(kind, &log.facts, On { soak_months: Some(fewest_months(forcing, log.class)), ..on }).asked()
}

/// What belongs to a reason: the day from which it no longer holds.
pub fn detail(log: &Known, why: Reason, forcing: Forcing, southern: bool) -> Value {
    match why {
        Reason::TooYoung => {
            json!({"from": old_enough(log, forcing, southern), "months": fewest_months(forcing, log.class)})
        }
        Reason::StillResting => json!({"until": rest_until(log)}),
        _ => json!({}),
    }
}

/// Whether nothing speaks against soaking it.
pub fn may_go_in(log: &Known, on: On, forcing: Forcing) -> bool {
    log.is_live() && asks(log, Part::In, on, forcing).is_ok_and(|found| found.is_empty())
}

/// A water's temperature, or what is wrong with it.
///
/// # Errors
/// `Invalid` on `water_dc`.
pub fn water(dc: Option<i64>) -> Result<Option<i64>> {
    dc.map(|dc| WATER_DC.check("water_dc", dc)).transpose()
}

/// Refuses a load without logs or with too many.
///
/// # Errors
/// `Invalid` on `logs`.
pub fn load(logs: usize) -> Result<()> {
    match logs {
        0 => Err(Error::invalid("logs", "empty")),
        n if n > LOGS_MAX => Err(Error::invalid_with("logs", "too_long", json!({"max": LOGS_MAX}))),
        _ => Ok(()),
    }
}

/// When to lift, and on whose word.
pub fn lift_from() -> WhereFrom {
    WhereFrom::new(
        "lift",
        Mark::Published,
        "University of Kentucky FOR-85: 8–12 hours. About 24 hours is common practice; at most 48 hours in cold \
         water is from memory",
    )
    .with("from_hours", FROM_H)
    .with("to_hours", FOR85_H)
    .with("usual_hours", DAY_H)
    .with("most_hours", MOST_H)
}

/// How much cooler the water should be.
pub fn cooler_from() -> WhereFrom {
    WhereFrom::new("cooler", Mark::Memory, "").with("cooler_from_k", 5.5).with("cooler_to_k", 11.0)
}

/// The rest after a soak or a picking.
pub fn rest_from() -> WhereFrom {
    WhereFrom::new("rest", Mark::Published, "University of Kentucky FOR-85: rest 7 to 10 weeks")
        .with("from_days", REST_DAYS.0)
        .with("to_days", REST_DAYS.1)
}

/// The age before a first soak.
pub fn age_from(forcing: Forcing) -> WhereFrom {
    match forcing {
        Forcing::Careful => WhereFrom::new(
            "age_careful",
            Mark::Published,
            "University of Kentucky FOR-85: not before a full year",
        )
        .with("months", CAREFUL_MONTHS),
        Forcing::Quick => WhereFrom::new("age_quick", Mark::Common, "").with("months", QUICK_MONTHS),
    }
}

/// Milliseconds it has been in the tank; where the hour is not known, counted from noon of its day.
pub fn soaked_ms(log: &Known, now_ms: i64, noon_ms: impl Fn(NaiveDate) -> i64) -> Option<i64> {
    let day = log.soaked_in.filter(|_| log.in_tank)?;
    Some(now_ms - log.soaked_in_ms.unwrap_or_else(|| noon_ms(day)))
}

/// What soaking asks for: lift now, look for pins, rest over.
pub fn dues(
    logs: &[Known],
    today: NaiveDate,
    now_ms: i64,
    noon_ms: &dyn Fn(NaiveDate) -> i64,
    (forcing, southern): (Forcing, bool),
) -> Vec<Due> {
    let mut all = Vec::new();
    all.extend(lift_due(logs, now_ms, noon_ms));
    all.extend(pins_due(logs, today));
    all.extend(rest_due(logs, today, forcing, southern));
    all
}

fn lift_due(logs: &[Known], now_ms: i64, noon_ms: &dyn Fn(NaiveDate) -> i64) -> Option<Due> {
    let tank: Vec<(&Known, i64)> =
        logs.iter().filter_map(|log| Some((log, soaked_ms(log, now_ms, noon_ms)?))).collect();
    let ready: Vec<&(&Known, i64)> = tank.iter().filter(|(_, ms)| *ms >= FROM_H * MS_PER_H).collect();
    let longest = ready.iter().map(|(_, ms)| *ms).max()?;
    let since = ready.iter().filter_map(|(log, _)| log.soaked_in).min()?;
    let urgency = match lift(longest) {
        Lift::TooLong | Lift::LiftNow => Urgency::Now,
        _ => Urgency::Today,
    };
    let ids: Vec<&str> = ready.iter().map(|(log, _)| log.id.as_str()).collect();
    let tap = Tap::command(
        "soak_out",
        json!({"logs": ids, "weights": [], "ago_min": 0, "day": null, "note": "",
        "sure": false, "draft": null}),
    );
    let newest = ready.iter().filter_map(|(log, _)| log.soaked_in).max()?;
    let mut due = Due::new(format!("lift:{newest}"), Chore::Lift, urgency, lift_from(), tap)
        .with("hours", longest / MS_PER_H)
        .with("stage", lift(longest))
        .since(Some(since));
    due.logs = ready.iter().map(|(log, _)| log.due()).collect();
    Some(due)
}

/// Some days after the soak, when nobody has looked since.
fn pins_due(logs: &[Known], today: NaiveDate) -> Option<Due> {
    let due = |log: &&Known| {
        let Some(out) = log.soaked_out.filter(|_| !log.in_tank && log.is_live()) else { return false };
        let days = (today - out).num_days();
        let looked = log.facts.seen.map(|(_, day)| day).max(log.facts.picked);
        (PINS_DAYS.0..=PINS_DAYS.1).contains(&days)
            && looked.is_none_or(|day| (day - out).num_days() < PINS_DAYS.0)
    };
    let found: Vec<&Known> = logs.iter().filter(due).collect();
    let out = found.iter().filter_map(|log| log.soaked_out).max()?;
    let first = found.iter().filter_map(|log| log.soaked_out).min()?;
    let from = WhereFrom::new("pins_after_soak", Mark::Common, "")
        .with("from_days", PINS_DAYS.0)
        .with("to_days", PINS_DAYS.1);
    let tap = match found.as_slice() {
        [one] => Tap::screen("look", &[("log", &one.id)]),
        _ => Tap::screen("tank", &[]),
    };
    let mut all = Due::new(format!("look_pins:{out}"), Chore::LookPins, Urgency::Today, from, tap)
        .with("soaked", first.to_string())
        .since(first.checked_add_days(Days::new(PINS_DAYS.0.unsigned_abs())));
    all.logs = found.iter().map(|log| log.due()).collect();
    Some(all)
}

/// Logs that were soaked before and whose rest has ended in the last ten weeks.
fn rest_due(logs: &[Known], today: NaiveDate, forcing: Forcing, southern: bool) -> Option<Due> {
    let over = |log: &&Known| {
        log.soaks > 0
            && may_go_in(log, On { day: today, today, southern, soak_months: None }, forcing)
            && rest_until(log).is_some_and(|until| (0..REST_DAYS.1).contains(&(today - until).num_days()))
    };
    let found: Vec<&Known> = logs.iter().filter(over).collect();
    let since = found.iter().filter_map(|log| rest_until(log)).min()?;
    let newest = found.iter().filter_map(|log| rest_until(log)).max()?;
    let tap = Tap::screen("tank", &[]);
    let mut due = Due::new(format!("rest_over:{newest}"), Chore::RestOver, Urgency::Can, rest_from(), tap)
        .with("since", since.to_string())
        .since(Some(since));
    due.logs = found.iter().map(|log| log.due()).collect();
    Some(due)
}
