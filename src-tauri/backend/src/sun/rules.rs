//! Sunset and dark for one evening at one place, by the NREL Solar Position Algorithm.
//! Never today's date, a place by name, or words.
//! Invariant: each day has one evening, whatever the longitude and the clock's offset.

use crate::words::words;
use chrono::{
    DateTime, Datelike, Days, FixedOffset, NaiveDate, NaiveDateTime, NaiveTime, TimeDelta, TimeZone,
    Timelike, Utc,
};
use solar_positioning::{Horizon, Location, SolarEvents, SolarPositions, delta_t};

/// What the sun does in one evening. Whole seconds, in the offset that was asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Evening {
    /// The sun's upper rim is gone: its centre at −0.8333° (refraction and half its width).
    pub sunset: Option<DateTime<FixedOffset>>,
    /// Civil twilight ends: the sun's centre at −6°.
    pub dark: Option<DateTime<FixedOffset>>,
    /// When the round is due: `dark` and the minutes asked for.
    pub go: Option<DateTime<FixedOffset>>,
    /// Why something above is absent; `None` when nothing is.
    pub why: Option<NoDusk>,
}

words! {
    /// Why an evening lacks a sunset or a dusk.
    pub enum NoDusk {
        /// Nobody has said where the yard is: for callers; [`tonight`] needs a place.
        NoPlace = "no_place",
        /// Polar day.
        SunNeverSets = "sun_never_sets",
        /// The sun goes down but not 6° down: it never gets dark.
        NeverDark = "never_dark",
        /// Polar night. `dark` still stands where noon brings twilight; without it, it is dark all day.
        SunNeverRises = "sun_never_rises",
    }
}

/// Sunset, dark and the round's hour for the evening of a local day.
///
/// `lat`, `lon`: degrees, north and east positive. `offset_minutes`: the clock's offset from UTC
/// that evening, minutes, east positive. `after_min`: minutes from dark to the round.
/// The evening runs from the sun's noon nearest the clock's noon of that day to the next one, so
/// a sunset past midnight still belongs to the day before, and a clock set for another part of
/// the world still gets one sunset a day. `None` when place or offset can't be.
pub fn tonight(
    lat: f64,
    lon: f64,
    evening: NaiveDate,
    offset_minutes: i32,
    after_min: i64,
) -> Option<Evening> {
    if !(-90.0..=90.0).contains(&lat) || !(-180.0..=180.0).contains(&lon) {
        return None;
    }
    let offset = FixedOffset::east_opt(offset_minutes.checked_mul(60)?)?;
    let at = Location { latitude: lat, longitude: lon };
    let delta_t = delta_t::estimate_from_date(evening.year(), evening.month()).ok()?;
    let noon = sun_noon(lon, evening, offset, delta_t)?;
    let falls = |horizon| {
        let end = noon + TimeDelta::days(1);
        let time = SolarEvents::new().next_set(&noon, &end, at, delta_t, horizon).ok()??;
        Some(whole_second(time)?.with_timezone(&offset))
    };
    let sunset = falls(Horizon::SunriseSunset);
    let dark = falls(Horizon::CivilTwilight);
    let height = SolarPositions::new().at(&noon, at, 0.0, delta_t, None).ok()?.elevation_angle();
    let why = why_not(sunset.is_some(), dark.is_some(), height);
    let go = dark.and_then(|dark| dark.checked_add_signed(TimeDelta::try_minutes(after_min)?));
    Some(Evening { sunset, dark, go, why })
}

/// The day whose evening a local time belongs to: before noon it is still last night.
pub fn evening_of(local: NaiveDateTime) -> NaiveDate {
    let day = local.date();
    if local.hour() >= 12 { day } else { day.checked_sub_days(Days::new(1)).unwrap_or(day) }
}

fn why_not(sets: bool, darkens: bool, noon_height: f64) -> Option<NoDusk> {
    let risen = noon_height > Horizon::SunriseSunset.elevation_angle();
    let twilight = noon_height > Horizon::CivilTwilight.elevation_angle();
    match (sets, darkens) {
        (true, true) => None,
        (true, false) => Some(NoDusk::NeverDark),
        (false, _) if risen => Some(NoDusk::SunNeverSets),
        // Near a pole the sun can circle for days between 0 and 6 degrees down.
        (false, false) if twilight => Some(NoDusk::NeverDark),
        (false, _) => Some(NoDusk::SunNeverRises),
    }
}

/// The sun's upper transit nearest the clock's noon of that day.
fn sun_noon(lon: f64, day: NaiveDate, offset: FixedOffset, delta_t: f64) -> Option<DateTime<Utc>> {
    const DAY_S: i64 = 86_400;
    const SECONDS_PER_DEGREE: f64 = 240.0;
    let noon = NaiveTime::from_hms_opt(12, 0, 0)?;
    let clock_noon = day.and_time(noon).and_local_timezone(offset).single()?.with_timezone(&Utc);
    let mean_noon =
        Utc.from_utc_datetime(&day.and_time(noon)) - TimeDelta::seconds((lon * SECONDS_PER_DEGREE) as i64);
    let apart = (clock_noon - mean_noon).num_seconds();
    let days = (apart + DAY_S / 2).div_euclid(DAY_S);
    let near = mean_noon + TimeDelta::days(days);
    // The equation of time never passes 17 minutes.
    let (from, to) = (near - TimeDelta::minutes(30), near + TimeDelta::minutes(30));
    SolarEvents::new().next_transit(&from, &to, lon, delta_t).ok()?
}

fn whole_second(time: DateTime<Utc>) -> Option<DateTime<Utc>> {
    Utc.timestamp_opt((time.timestamp_millis() + 500).div_euclid(1000), 0).single()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    #[test]
    fn a_place_off_the_earth_or_a_clock_off_the_day_has_no_evening() {
        assert_eq!(tonight(90.1, 0.0, day("2026-11-25"), 0, 0), None);
        assert_eq!(tonight(0.0, f64::NAN, day("2026-11-25"), 0, 0), None);
        assert_eq!(tonight(0.0, 0.0, day("2026-11-25"), 1440, 0), None);
    }

    #[test]
    fn the_small_hours_belong_to_the_evening_before() {
        let at = |text: &str| text.parse::<NaiveDateTime>().map(evening_of).ok();
        assert_eq!(at("2026-11-25T19:00:00"), Some(day("2026-11-25")));
        assert_eq!(at("2026-11-25T00:30:00"), Some(day("2026-11-24")));
        assert_eq!(at("2026-11-25T11:59:59"), Some(day("2026-11-24")));
        assert_eq!(at("2026-11-25T12:00:00"), Some(day("2026-11-25")));
    }

    proptest! {
        #[test]
        fn one_sunset_a_day_at_any_longitude_and_offset(
            lat in -60.0..60.0f64, lon in -180.0..180.0f64, hours in -12..15i32, n in 0..20_000u64,
        ) {
            let date = day("2000-01-01") + Days::new(n);
            let found = |date| tonight(lat, lon, date, hours * 60, 120).and_then(|e| e.sunset);
            let (Some(one), Some(next)) = (found(date), found(date + Days::new(1))) else {
                return Err(TestCaseError::fail("no sunset between the polar circles"));
            };
            let apart = (next - one).num_seconds();
            prop_assert!((86_000..86_800).contains(&apart), "{one} {next}");
            prop_assert_eq!(one.offset().local_minus_utc(), hours * 3600);
            // The sun's noon is within 12 h of the clock's; here it sets 2.5 to 9.5 h after its noon.
            let after_noon = (one.naive_local() - date.and_time(NaiveTime::MIN)).num_minutes() - 720;
            prop_assert!((-590..1310).contains(&after_noon), "{date} {one}");
        }

        #[test]
        fn on_a_clock_near_the_sun_the_sunset_falls_on_that_day(
            lat in -55.0..55.0f64, lon in -180.0..180.0f64, off in -90..90i32, n in 0..20_000u64,
        ) {
            let date = day("2000-01-01") + Days::new(n);
            let minutes = ((lon * 4.0) as i32 + off).clamp(-720, 840);
            let evening = tonight(lat, lon, date, minutes, 90);
            let Some(Evening { sunset: Some(sunset), .. }) = evening else {
                return Err(TestCaseError::fail("no sunset"));
            };
            prop_assert_eq!(evening_of(sunset.naive_local()), date);
            prop_assert_eq!(sunset.date_naive(), date);
        }

        #[test]
        fn dark_comes_after_sunset_and_the_round_after_dark(
            lat in -90.0..=90.0f64, lon in -180.0..=180.0f64, n in 0..40_000u64, after in 0..480i64,
        ) {
            let date = day("1990-01-01") + Days::new(n);
            let Some(e) = tonight(lat, lon, date, 0, after) else {
                return Err(TestCaseError::fail("a place on Earth has an evening"));
            };
            prop_assert_eq!(e.go, e.dark.map(|d| d + TimeDelta::minutes(after)));
            prop_assert!(e.sunset.zip(e.dark).is_none_or(|(s, d)| s < d));
            prop_assert_eq!(e.why.is_none(), e.sunset.is_some() && e.dark.is_some());
        }
    }
}
