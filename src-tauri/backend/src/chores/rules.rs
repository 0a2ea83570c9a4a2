//! What the yard asks for: one pure function over the day, the logs, the weather and the settings.
//! Never a reading of the register, and never a rule of one topic: each room's `dues` say what is due in it.
//! Invariant: the same facts give the same chores in the same order; nothing is due twice.

use crate::due::{self, Chore, Due, Tap, Urgency};
use crate::logs::rules::known::Known;
use crate::logs::rules::{caps_out, due as life};
use crate::moisture::rules::dry;
use crate::pickings::rules as pickings;
use crate::rounds::rules::fungus_dues;
use crate::settings::rules::Settings;
use crate::soaking::rules as soaking;
use crate::sun::rules::{NoDusk, tonight as sun_tonight};
use crate::weather::rules::{self as weather, Day};
use crate::where_from::{Mark, WhereFrom};
use chrono::{DateTime, FixedOffset, NaiveDate, SecondsFormat};

/// Tonight's times, RFC 3339 with the local offset.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Tonight {
    /// The grower's name for the place.
    pub place: Option<String>,
    /// Sunset.
    pub sunset: Option<String>,
    /// End of civil twilight: the sun 6° down.
    pub dark: Option<String>,
    /// When the round is due: some time after dark.
    pub go: Option<String>,
    /// Minutes from dark to the round.
    pub after_min: i64,
    /// Why there is no time.
    pub why: Option<NoDusk>,
}

/// The times of `evening` at the yard's place, by a clock `offset_min` minutes east of UTC.
pub fn tonight(settings: &Settings, evening: NaiveDate, offset_min: i32) -> Tonight {
    let place = Some(settings.place.clone()).filter(|p| !p.is_empty());
    let after_min = settings.night_after_min;
    let text =
        |time: Option<DateTime<FixedOffset>>| time.map(|t| t.to_rfc3339_opts(SecondsFormat::Secs, false));
    let found = settings.at.and_then(|(lat, lon)| sun_tonight(lat, lon, evening, offset_min, after_min));
    match found {
        Some(sky) => Tonight {
            place,
            sunset: text(sky.sunset),
            dark: text(sky.dark),
            go: text(sky.go),
            after_min,
            why: sky.why,
        },
        None => Tonight { place, sunset: None, dark: None, go: None, after_min, why: Some(NoDusk::NoPlace) },
    }
}

/// All that the chores follow from.
pub struct Facts<'a> {
    /// The local day.
    pub today: NaiveDate,
    /// The day whose evening it is.
    pub evening: NaiveDate,
    /// Now, milliseconds since 1970.
    pub now_ms: i64,
    /// Noon of a local day, milliseconds since 1970.
    pub noon_ms: &'a dyn Fn(NaiveDate) -> i64,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
    /// All logs, by tag.
    pub logs: &'a [Known],
    /// Felled wood of which no log is in the register yet.
    pub piles: &'a [life::Pile],
    /// The weather of the last weeks and the days ahead, by day.
    pub days: &'a [Day],
    /// What is set for the yard.
    pub settings: &'a Settings,
    /// Tonight's times.
    pub tonight: &'a Tonight,
    /// Days without a good backup, when that is to be said.
    pub backup_old: Option<i64>,
}

/// What is due, the most urgent first.
pub fn chores(facts: &Facts<'_>) -> Vec<Due> {
    let Facts { today, logs, days, southern, .. } = *facts;
    let forcing = (facts.settings.forcing, southern);
    let mut all = Vec::new();
    all.extend(weather::dues(logs, days, today));
    all.extend(soaking::dues(logs, today, facts.now_ms, facts.noon_ms, forcing));
    all.extend(dry::dues(logs, days, today));
    all.extend(pickings::dues(logs, today));
    all.extend(life::dues(logs, facts.piles, days, today, southern));
    all.extend(fungus_dues(logs));
    all.extend(round_due(facts));
    all.extend(facts.backup_old.map(backup_due));
    all.sort_by(due::order);
    all
}

/// A night round, when caps are out that slugs could get at.
fn round_due(facts: &Facts<'_>) -> Option<Due> {
    let out = |log: &&Known| caps_out(&log.facts, facts.today).is_some();
    let found: Vec<&Known> = facts.logs.iter().filter(out).collect();
    if found.is_empty() {
        return None;
    }
    let from = WhereFrom::new("round_tonight", Mark::Common, "").with("logs", found.len());
    let tap = Tap::command("round_start", serde_json::json!({}));
    let mut due = Due::new(format!("round:{}", facts.evening), Chore::Round, Urgency::Today, from, tap)
        .with("go", facts.tonight.go.clone())
        .since(Some(facts.evening));
    due.logs = found.iter().map(|log| log.due()).collect();
    Some(due)
}

fn backup_due(days: i64) -> Due {
    let from = WhereFrom::new("backup_old", Mark::Chosen, "").with("without_days", days);
    let tap = Tap::screen("care", &[]);
    Due::new("backup".to_owned(), Chore::Backup, Urgency::Soon, from, tap).with("days", days)
}
