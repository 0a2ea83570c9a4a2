//! Commands about rounds as a whole: what tonight is like, what waits, what was walked, and the calendar's file.
//! Never a stop.
//! Invariant: one read, one moment.

use super::super::calendar::{Event, calendar};
use super::super::rows::baskets::{self, Basket, BasketPair};
use super::super::rows::{self, RoundRow, fruiting, nights, picking, walk};
use super::super::rules::{Due, Fruiting, RoundKind, coming_evening, dues};
use super::super::slug_weather::SlugWeather;
use crate::book::Book;
use crate::error::{Error, Result};
use crate::logs::rows::{self as logs, Here};
use crate::logs::rules::caps_out;
use crate::settings::rows::{here, settings};
use crate::spots::rows as spots;
use crate::sun::rules::{evening_of, tonight};
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::HashMap;
use ts_rs::TS;

/// Rounds that are listed.
const NEWEST: u32 = 30;
/// How long a round takes, minutes: what the calendar sets aside (our choice).
const ROUND_MIN: i64 = 30;

/// Asks for the rounds.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RoundsShow {}

/// A spot and its logs, to be chosen for a half.
#[derive(Debug, Serialize, TS)]
#[ts(rename = "RoundSpotChoice")]
pub struct SpotChoice {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Logs that a round walks to.
    pub logs: usize,
}

/// What concerns rounds now.
#[derive(Debug, Serialize, TS)]
pub struct RoundsView {
    /// The local day.
    pub today: NaiveDate,
    /// The evening that runs, or ran last.
    pub evening: NaiveDate,
    /// How tonight suits slugs; null: no weather is known.
    pub weather: Option<SlugWeather>,
    /// Rounds that are due.
    pub due: Vec<Due>,
    /// This evening's night round, if it is open.
    pub night: Option<RoundRow>,
    /// Today's picking round, if it is open.
    pub picking: Option<RoundRow>,
    /// Logs with pins or caps.
    pub caps: usize,
    /// Spots, in walking order.
    pub spots: Vec<SpotChoice>,
    /// Baskets to be weighed, or asked about.
    pub baskets: Vec<Basket>,
    /// Baskets that may be one, entered on two devices.
    pub pairs: Vec<BasketPair>,
    /// The newest rounds.
    pub rounds: Vec<RoundRow>,
    /// Whether a place is set, so that tonight has an hour.
    pub has_hour: bool,
}

/// `rounds_show`
///
/// # Errors
/// The register's own.
pub fn rounds_show(book: &Book, _: RoundsShow) -> Result<RoundsView> {
    let moment = book.moment();
    let evening = evening_of(moment.local().naive_local());
    book.read(|conn| {
        let here = here(conn, moment)?;
        let weather = nights::night(conn, coming_evening(moment.local().naive_local()))?;
        let fruiting = fruits(conn, here)?;
        let mean_dc = fruiting::Warmth::read(conn)?.lately(here.today);
        let suits = weather.as_ref().map(SlugWeather::is_slug_night);
        let open = |kind, day| -> Result<Option<RoundRow>> {
            let round = rows::open(conn, kind, &book.device())?.filter(|round| round.day == day);
            round.map(|round| row_of(conn, &round, here)).transpose()
        };
        let newest = rows::newest(conn, NEWEST)?;
        let set = settings(conn)?;
        let hour = set.at.and_then(|(lat, lon)| tonight(lat, lon, evening, moment.offset_min, 0));
        Ok(RoundsView {
            today: here.today,
            evening,
            due: dues(&fruiting, here.today, mean_dc, suits),
            weather,
            night: open(RoundKind::Night, evening)?,
            picking: open(RoundKind::Picking, here.today)?,
            caps: fruiting.len(),
            spots: choices(conn, here)?,
            baskets: baskets::waiting(conn)?,
            pairs: baskets::pairs(conn)?,
            rounds: newest.iter().map(|round| row_of(conn, round, here)).collect::<Result<_>>()?,
            has_hour: hour.is_some_and(|sky| sky.go.is_some()),
        })
    })
}

fn row_of(conn: &Connection, round: &rows::Round, here: Here) -> Result<RoundRow> {
    Ok(match round.kind {
        RoundKind::Night => rows::row(round, &walk::stops(conn, round, here)?),
        RoundKind::Picking => picking::row(round, &picking::stops(conn, round, here)?),
    })
}

/// Logs with pins or caps, and when each asks to be looked at again.
fn fruits(conn: &Connection, here: Here) -> Result<Vec<Fruiting>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, k.again FROM entry e JOIN look k ON k.entry = e.id
         WHERE e.void = 0 AND e.log IS NOT NULL ORDER BY e.day, e.at, e.id",
    )?;
    let rows = list.query_map([], |r| Ok((r.get::<_, String>(0)?, r.get::<_, Option<NaiveDate>>(1)?)))?;
    let again: HashMap<String, Option<NaiveDate>> = rows.collect::<rusqlite::Result<_>>()?;
    let all = logs::all(conn, here)?;
    let fruit = |log: &logs::Log| {
        let stage = caps_out(&log.facts, here.today)?;
        Some(Fruiting { stage, look_on: again.get(&log.row.id).copied().flatten() })
    };
    Ok(all.iter().filter_map(fruit).collect())
}

fn choices(conn: &Connection, here: Here) -> Result<Vec<SpotChoice>> {
    let all = logs::all(conn, here)?;
    let walked = |spot: &str| {
        all.iter().filter(|log| walk::is_walked_to(log) && log.row.spot_id.as_deref() == Some(spot)).count()
    };
    let choice = |spot: spots::SpotRow| SpotChoice { logs: walked(&spot.id), id: spot.id, name: spot.name };
    Ok(spots::all(conn)?.into_iter().map(choice).filter(|spot| spot.logs > 0).collect())
}

/// Asks for tonight's round as a calendar's file.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CalendarFile {}

/// A calendar's file.
#[derive(Debug, Serialize, TS)]
pub struct CalendarView {
    /// Its name.
    pub name: String,
    /// Its text (RFC 5545).
    pub text: String,
}

/// `calendar_file`
///
/// # Errors
/// `Invalid` when tonight has no hour: no place is set, or it does not get dark.
pub fn calendar_file(book: &Book, _: CalendarFile) -> Result<CalendarView> {
    let moment = book.moment();
    let evening = coming_evening(moment.local().naive_local());
    book.read(|conn| {
        let set = settings(conn)?;
        let sky =
            set.at.and_then(|(lat, lon)| tonight(lat, lon, evening, moment.offset_min, set.night_after_min));
        let Some(start) = sky.and_then(|sky| sky.go) else {
            return Err(Error::invalid_with("place", "no_hour", json!({})));
        };
        let fruiting = fruits(conn, here(conn, moment)?)?.len();
        let text = format!("Logs with pins or caps: {fruiting}. Take a lamp, gloves and a pot.");
        let uid = format!("night-{evening}@shadeyard");
        let event = Event {
            uid: &uid,
            made: moment.local().to_utc(),
            start,
            minutes: ROUND_MIN,
            title: "Night round",
            text: &text,
            place: &set.place,
        };
        Ok(CalendarView { name: format!("night-round-{evening}.ics"), text: calendar(&event) })
    })
}
