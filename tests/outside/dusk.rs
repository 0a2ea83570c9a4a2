//! Sunset and the end of civil twilight against almanacs.
//! Never the round's own delay: that is a plain sum, tested beside the rule.
//! Invariant: a published time is met to its own precision, a published absence exactly.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use shadeyard_backend::sun::rules::{Evening, NoDusk, evening_of, tonight};
use std::error::Error;

fn evening(lat: f64, lon: f64, day: &str, offset_min: i32) -> Option<Evening> {
    tonight(lat, lon, day.parse().ok()?, offset_min, 120)
}

fn off_by(time: Option<DateTime<chrono::FixedOffset>>, published: &str) -> Option<i64> {
    Some((time? - DateTime::parse_from_rfc3339(published).ok()?).num_seconds().abs())
}

/// Source: Reda & Andreas, Solar Position Algorithm, NREL/TP-560-34302, worked example of
/// 17 October 2003: sunset 17:20:19 at UTC−7. The example's day is the day in universal time, whose
/// sunset there is at 00:20:19: the evening of the 16th by the local clock (JPL's ephemeris has
/// 00:20:18.4 on the 17th). Ours to 2 s: ΔT is estimated, there it is 67 s.
#[test]
fn sunset_meets_the_nrel_example() {
    let found = evening(39.742_476, -105.1786, "2003-10-16", -420).and_then(|e| e.sunset);
    assert!(off_by(found, "2003-10-16T17:20:19-07:00").is_some_and(|s| s <= 2), "{found:?}");
}

/// Source: U.S. Naval Observatory, Washington, 5 March 2024: sunset 18:06, end of civil twilight
/// 18:32, given to the minute; so 60 s.
#[test]
fn sunset_and_dusk_meet_the_naval_observatorys_washington() {
    let found = evening(38.889_444, -77.035_278, "2024-03-05", -300);
    let (sunset, dark) = found.map_or((None, None), |e| (e.sunset, e.dark));
    assert!(off_by(sunset, "2024-03-05T18:06:00-05:00").is_some_and(|s| s <= 60), "{sunset:?}");
    assert!(off_by(dark, "2024-03-05T18:32:00-05:00").is_some_and(|s| s <= 60), "{dark:?}");
}

/// Source: `reference/usno_dusk.csv`, six places from 78° N to 78° S. To the minute, so 60 s; within the
/// polar circles, where the sun sinks slowly and refraction decides, 120 s.
#[test]
fn sunset_and_dusk_meet_the_naval_observatorys_tables() -> Result<(), Box<dyn Error>> {
    let mut times = 0;
    let mut absences = 0;
    for row in csv::Reader::from_reader(include_str!("reference/usno_dusk.csv").as_bytes()).records() {
        let row = row?;
        let (lat, lon): (f64, f64) = (row[1].parse()?, row[2].parse()?);
        let offset: i32 = row[3].parse()?;
        let date: NaiveDate = row[4].parse()?;
        let Ok(time) = NaiveTime::parse_from_str(&row[5], "%H:%M") else {
            absences += 1;
            let found = tonight(lat, lon, date, offset, 0).ok_or("a place has an evening")?;
            assert!(absence_agrees(&row[0], &row[5], &found), "{row:?} {found:?}");
            continue;
        };
        times += 1;
        let published = date.and_time(time);
        let local = published + TimeDelta::minutes(offset.into());
        let found = tonight(lat, lon, evening_of(local), offset, 0).ok_or("a place has an evening")?;
        let found = if &row[0] == "sunset" { found.sunset } else { found.dark };
        let seconds = found.map(|t| (t.with_timezone(&Utc).naive_utc() - published).num_seconds().abs());
        let tolerance = if lat.abs() > 66.0 { 120 } else { 60 };
        assert!(seconds.is_some_and(|s| s <= tolerance), "{row:?} {found:?}");
    }
    assert_eq!((times, absences), (339, 93));
    Ok(())
}

fn absence_agrees(what: &str, sun: &str, found: &Evening) -> bool {
    match (what, sun) {
        ("sunset", "above") => found.sunset.is_none() && found.why == Some(NoDusk::SunNeverSets),
        ("sunset", "below") => found.sunset.is_none() && found.why == Some(NoDusk::SunNeverRises),
        ("dusk", "above") => {
            found.dark.is_none() && matches!(found.why, Some(NoDusk::NeverDark | NoDusk::SunNeverSets))
        }
        _ => found.dark.is_none() && found.why == Some(NoDusk::SunNeverRises),
    }
}

/// Source: the solstices' declination of 23.44° and the poles' year, from memory.
#[test]
fn the_poles_have_one_day_and_one_night_a_year() {
    let why = |lat, day| evening(lat, 0.0, day, 0).and_then(|e| e.why);
    assert_eq!(why(90.0, "2026-06-21"), Some(NoDusk::SunNeverSets));
    assert_eq!(why(90.0, "2026-12-21"), Some(NoDusk::SunNeverRises));
    assert_eq!(why(-90.0, "2026-12-21"), Some(NoDusk::SunNeverSets));
    assert_eq!(why(-90.0, "2026-06-21"), Some(NoDusk::SunNeverRises));
    // 60.56° N is where the midsummer sun just reaches −6° at midnight: 90 − 23.44 − 6.
    assert_eq!(why(60.0, "2026-06-21"), None);
    assert_eq!(why(61.5, "2026-06-21"), Some(NoDusk::NeverDark));
}

/// Source: JPL DE440s ephemeris by Skyfield, as kept with the solar-positioning library: sunset at
/// 78.216667 N 15.633333 E on 25 August 2020 is 21:45:07 UTC, the first after the polar day.
/// Shallow: 0.0003° of the algorithm's uncertainty is seconds of time here, so 15 s.
#[test]
fn the_first_sunset_after_the_polar_day_is_not_missed() {
    let found = evening(78.216_667, 15.633_333, "2020-08-25", 120);
    let sunset = found.as_ref().and_then(|e| e.sunset);
    assert!(off_by(sunset, "2020-08-25T23:45:07+02:00").is_some_and(|s| s <= 15), "{sunset:?}");
    assert_eq!(found.and_then(|e| e.why), Some(NoDusk::NeverDark));
}
