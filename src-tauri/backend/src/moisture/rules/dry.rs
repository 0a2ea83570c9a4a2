//! When logs want water, from the rain that reaches them, heat and the days since; and who gets it first.
//! Never a forecast: days that are not in the register are not guessed.
//! Invariant: where the weather is not known nothing is said to be dry, but for a roof, under which no rain falls.
//!
//! Sources: 25 mm of rain a week suffices (University of Kentucky FOR-82); more than 7 dry days, above all over
//! 24 °C: water overnight (FOR-85). How much a canopy keeps off is our own choice: half.

use super::{Band, RainReach, WEIGH_DAYS, moisture};
use crate::due::{Chore, Due, Tap, Urgency};
use crate::logs::rules::State;
use crate::logs::rules::known::Known;
use crate::weather::rules::Day;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, NaiveDate};
use serde_json::json;
use std::collections::BTreeMap;

/// Rain in a week that suffices, tenths of mm (FOR-82).
pub const WEEK_TENTHS: i64 = 250;
/// Dry days after which to water (FOR-85).
pub const DRY_DAYS: i64 = 7;
/// A hot day, tenths of °C (FOR-85).
pub const HOT_DC: i64 = 240;
/// Rain that wets anything at all, tenths of mm (chosen).
const WET_TENTHS: i64 = 10;
/// Below this warmest hour of the week wood hardly dries, tenths of °C (chosen).
const COLD_DC: i64 = 50;
/// Days of the last week that must be in the register.
const KNOWN_DAYS: usize = 5;
/// Litres for one log when there are few, tenths (chosen).
pub const SIP_TENTHS: i64 = 20;

/// What the last days brought to a spot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drought {
    /// Rain that reached it in the last seven days, tenths of mm.
    pub week_tenths: i64,
    /// Days since rain wet it; at most those looked back on.
    pub dry_days: i64,
    /// The week's warmest, tenths of °C.
    pub hottest_dc: Option<i64>,
}

/// Of rain that falls, tenths of mm, what reaches a spot.
pub fn reaching(rain_tenths: i64, reach: Option<RainReach>) -> i64 {
    match reach.unwrap_or(RainReach::Some) {
        RainReach::All => rain_tenths,
        RainReach::Some => rain_tenths / 2,
        RainReach::None => 0,
    }
}

/// What the days up to today brought to a spot; `None` when too few of them are known. `days` by day.
pub fn drought(days: &[Day], reach: Option<RainReach>, today: NaiveDate) -> Option<Drought> {
    let week: Vec<&Day> = days.iter().filter(|d| d.day <= today && (today - d.day).num_days() < 7).collect();
    let told = week.iter().filter(|d| d.rain_tenths.is_some()).count();
    let roof = reach == Some(RainReach::None);
    if told < KNOWN_DAYS && !roof {
        return None;
    }
    let reached = |d: &Day| reaching(d.rain_tenths.unwrap_or(0), reach);
    let first = days.iter().map(|d| d.day).min().unwrap_or(today);
    let wet = days.iter().filter(|d| d.day <= today && reached(d) >= WET_TENTHS).map(|d| d.day).max();
    let dry_days = wet.map_or((today - first).num_days() + 1, |day| (today - day).num_days());
    Some(Drought {
        week_tenths: week.iter().map(|d| reached(d)).sum(),
        dry_days,
        hottest_dc: week.iter().filter_map(|d| d.max_dc).max(),
    })
}

/// Whether a log wants water by the weather: little rain in the week, and more than seven dry days since rain or
/// watering; not in a cold week.
pub fn thirsty(drought: &Drought, watered: Option<NaiveDate>, today: NaiveDate) -> bool {
    let since_water = watered.map(|day| (today - day).num_days());
    let dry = since_water.map_or(drought.dry_days, |days| days.min(drought.dry_days));
    let cold = drought.hottest_dc.is_some_and(|dc| dc < COLD_DC);
    drought.week_tenths < WEEK_TENTHS && dry > DRY_DAYS && !cold
}

/// Who gets water first when there is little: the spawn run, then pins, then caps, then the rest.
pub fn first_served(state: State) -> u8 {
    match state {
        State::SpawnRun => 0,
        State::Pins => 1,
        State::Fruiting => 2,
        _ => 3,
    }
}

/// Whether its watch goes on and it lies where water is of use.
fn drinks(log: &Known) -> bool {
    log.is_live() && log.facts.laid.is_some() && !log.in_tank
}

/// Whether its weight says that it wants water. Water since the weighing has changed that.
pub fn by_weight(log: &Known) -> bool {
    let since = log.watered.is_none_or(|w| log.last.is_some_and(|(_, day)| day > w));
    since && moisture(log).is_some_and(|m| m.water)
}

/// On whose word one waters by the weather.
pub fn sky_from() -> WhereFrom {
    WhereFrom::new(
        "water_sky",
        Mark::Published,
        "University of Kentucky FOR-82 (25 mm of rain a week suffices) and FOR-85 (more than 7 dry days, above all \
         over 24 °C)",
    )
}

/// What moisture asks for: watering by spot, and weighing.
pub fn dues(logs: &[Known], days: &[Day], today: NaiveDate) -> Vec<Due> {
    let mut all = water_dues(logs, days, today);
    all.extend(weigh_due(logs, days, today));
    all
}

/// Logs of one spot that want water, with the worst reason among them.
struct Thirst<'a> {
    logs: Vec<&'a Known>,
    drought: Option<Drought>,
    weighed: bool,
    dying: bool,
}

fn water_dues(logs: &[Known], days: &[Day], today: NaiveDate) -> Vec<Due> {
    let mut spots: BTreeMap<Option<&str>, Thirst<'_>> = BTreeMap::new();
    let mut droughts: BTreeMap<Option<&str>, Option<Drought>> = BTreeMap::new();
    for log in logs.iter().filter(|log| drinks(log)) {
        let spot = log.spot_id.as_deref();
        let drought = droughts.entry(spot).or_insert_with(|| drought(days, log.rain, today)).clone();
        let by_sky = drought.as_ref().is_some_and(|d| thirsty(d, log.watered, today));
        let by_weight = by_weight(log);
        if !by_sky && !by_weight {
            continue;
        }
        let entry =
            spots.entry(spot).or_insert(Thirst { logs: vec![], drought: None, weighed: false, dying: false });
        entry.logs.push(log);
        entry.drought = if by_sky { drought } else { entry.drought.take() };
        entry.weighed |= by_weight;
        entry.dying |= by_weight && moisture(log).is_some_and(|m| m.band == Some(Band::Dies));
    }
    spots.into_values().filter_map(|thirst| water_due(thirst, today)).collect()
}

fn water_due(mut thirst: Thirst<'_>, today: NaiveDate) -> Option<Due> {
    // A stable sort: within a rank the logs stay in the order of their tags.
    thirst.logs.sort_by_key(|log| first_served(log.state));
    let first = *thirst.logs.first()?;
    let hot = thirst.drought.as_ref().and_then(|d| d.hottest_dc).is_some_and(|dc| dc > HOT_DC);
    let urgency = match (thirst.dying, hot || thirst.weighed) {
        (true, _) => Urgency::Now,
        (_, true) => Urgency::Today,
        _ => Urgency::Soon,
    };
    let key = format!("water:{}", first.spot_id.as_deref().unwrap_or("none"));
    let ids: Vec<&str> = thirst.logs.iter().map(|log| log.id.as_str()).collect();
    let tap = Tap::command(
        "water_add",
        json!({"logs": ids, "spot": null, "litres_tenths": null, "day": null,
        "note": "", "draft": null}),
    );
    let mut due = Due::new(key, Chore::Water, urgency, water_from(&thirst), tap)
        .with("dry_days", thirst.drought.as_ref().map(|d| d.dry_days))
        .with("week_tenths", thirst.drought.as_ref().map(|d| d.week_tenths))
        .with("hot", hot)
        .with("weighed", thirst.weighed);
    due.since = thirst
        .drought
        .as_ref()
        .and_then(|d| today.checked_sub_days(Days::new((d.dry_days - DRY_DAYS - 1).max(0).unsigned_abs())));
    due.spot.clone_from(&first.spot);
    due.logs = thirst.logs.iter().map(|log| log.due()).collect();
    Some(due)
}

fn water_from(thirst: &Thirst<'_>) -> WhereFrom {
    match &thirst.drought {
        Some(d) => sky_from()
            .with("week_rain_tenths", d.week_tenths)
            .with("dry_days", d.dry_days)
            .with("hottest_dc", d.hottest_dc),
        None => WhereFrom::new("water_weight", Mark::Published, "University of Kentucky FOR-83 and FOR-82")
            .with("loss_pct", super::LOSS_PCT)
            .with("low_pct", super::LOW_PCT),
    }
}

/// Sample logs in their spawn run, a week after they were weighed, in dry weather.
fn weigh_due(logs: &[Known], days: &[Day], today: NaiveDate) -> Option<Due> {
    let due = |log: &&Known| {
        let Some((_, day)) = log.last.filter(|_| log.in_spawn_run()) else { return false };
        let dry = drought(days, log.rain, today)
            .is_some_and(|d| d.week_tenths < WEEK_TENTHS && d.hottest_dc.is_none_or(|dc| dc >= COLD_DC));
        dry && (today - day).num_days() >= WEIGH_DAYS
    };
    let found: Vec<&Known> = logs.iter().filter(due).collect();
    let last = found.iter().filter_map(|log| log.last).map(|(_, day)| day).min()?;
    let newest = found.iter().filter_map(|log| log.last).map(|(_, day)| day).max()?;
    let from = WhereFrom::new(
        "weigh_weekly",
        Mark::Published,
        "University of Kentucky FOR-83: weekly in dry weather",
    )
    .with("every_days", WEIGH_DAYS);
    let tap = Tap::screen("weigh", &[]);
    let mut all = Due::new(format!("weigh:{newest}"), Chore::Weigh, Urgency::Soon, from, tap)
        .with("last", last.to_string())
        .since(last.checked_add_days(Days::new(WEIGH_DAYS.unsigned_abs())));
    all.logs = found.iter().map(|log| log.due()).collect();
    Some(all)
}
