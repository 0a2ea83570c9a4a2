//! The season's report: its harvest, what did best, how forecasts came out, and the logs it shows.
//! Never a sum: that is in rules.
//! Invariant: a season's bounds are those of the yard's settings; figures of woods stand on all seasons.

use super::choices;
use crate::beside::beside;
use crate::book::Book;
use crate::error::Result;
use crate::logs::rows::{self as logs, Here, LogRow};
use crate::logs::rules::State;
use crate::review::rows;
use crate::review::rules::compare::compare;
use crate::review::rules::life::Life;
use crate::review::rules::question::{GroupBy, Measure, Question, number};
use crate::review::rules::reply::Compared;
use crate::review::rules::season::Seasons;
use crate::review::rules::year::{YearOf, year_of};
use crate::rounds::forecast::{Score, score};
use crate::rounds::rows::{followed, records::gap_days};
use crate::settings::rows::{here, settings};
use crate::settings::rules::usual_first;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// How many logs are shown with pictures, of each kind.
const SHOWN: usize = 3;

/// Asks for a year's harvest and the season's report.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SeasonShow {
    /// The year in which the season begins; null: the season of today.
    #[ts(optional = nullable)]
    pub year: Option<i32>,
}

/// One mushroom's woods in the season's report.
#[derive(Debug, Serialize, TS)]
pub struct SeasonBest {
    /// The mushroom.
    pub mushroom: Mushroom,
    /// The woods of all its logs, grams for a log and year.
    pub woods: Compared,
}

/// A log shown in the season's report.
#[derive(Debug, Serialize, TS)]
pub struct SeasonLog {
    /// The log.
    pub log: LogRow,
    /// Weighed in the season, g.
    #[ts(type = "number")]
    pub grams: i64,
    /// Pickings of the season that nobody weighed.
    pub unweighed: u32,
    /// Its newest photo of the season that can be shown here, by its hash.
    pub photo: Option<String>,
}

/// A year's harvest and the season's report.
#[derive(Debug, Serialize, TS)]
pub struct SeasonView {
    /// The local day.
    pub today: NaiveDate,
    /// The yard's place, as the grower named it.
    pub place: String,
    /// The harvest.
    pub season: YearOf,
    /// How the forecasts made in the season came out.
    pub forecasts: Score,
    /// What did best, by mushroom.
    pub best: Vec<SeasonBest>,
    /// The logs that gave most in the season, at most three.
    pub most: Vec<SeasonLog>,
    /// Logs with pins or caps on them today, at most three; none for a season that is over.
    pub out: Vec<SeasonLog>,
}

/// `season_show`
///
/// # Errors
/// The register's own.
pub fn season_show(book: &Book, ask: SeasonShow) -> Result<SeasonView> {
    book.read_keeping(|conn, kept| {
        let here = here(conn, book.moment())?;
        let settings = settings(conn)?;
        let seasons =
            Seasons::from_first(settings.season_first.as_deref().unwrap_or(usual_first(here.southern)));
        let lives = super::lives(conn, here, kept)?;
        let year = ask.year.unwrap_or(seasons.year_of(here.today));
        let days = (seasons.first(year), seasons.last(year));
        let gap_days = gap_days(conn)?;
        // What needs no register is worked out beside what does.
        let sums = || (best(&lives), year_of(&lives, seasons, year, here.southern, gap_days));
        let read = || -> Result<_> {
            let forecasts = score(&followed::kept(conn, Some(days))?);
            Ok((forecasts, most(conn, here, &lives, days)?, out(conn, here, &lives, days)?))
        };
        let ((best, season), read) = beside(sums, read)?;
        let (forecasts, most, out) = read?;
        Ok(SeasonView { today: here.today, place: settings.place, forecasts, best, most, out, season })
    })
}

fn best(lives: &[Life]) -> Vec<SeasonBest> {
    let asked = |mushroom| Question {
        by: GroupBy::Wood,
        measure: Measure::LogYear,
        mushroom: Some(mushroom),
        from: None,
        to: None,
        spot: None,
    };
    let of = |mushroom| SeasonBest { mushroom, woods: compare(&asked(mushroom), lives) };
    choices(lives).mushrooms.into_iter().map(of).collect()
}

/// A season's first and last day.
type Days = (NaiveDate, NaiveDate);

/// Weighed in the season, g, and the pickings of it that nobody weighed.
fn given(life: &Life, (first, last): Days) -> (i64, u32) {
    let (first, last) = (number(first), number(last));
    let mine = life.picks.iter().filter(|p| first <= p.day && p.day <= last);
    mine.fold((0, 0), |(grams, open), p| (grams + p.grams.unwrap_or(0), open + u32::from(p.grams.is_none())))
}

fn most(conn: &Connection, here: Here, lives: &[Life], season: Days) -> Result<Vec<SeasonLog>> {
    let mut gave: Vec<(&Life, (i64, u32))> = lives.iter().map(|l| (l, given(l, season))).collect();
    gave.retain(|(_, (grams, _))| *grams > 0);
    gave.sort_by(|a, b| b.1.0.cmp(&a.1.0).then_with(|| a.0.id.cmp(&b.0.id)));
    gave.into_iter().take(SHOWN).map(|(life, given)| shown(conn, here, &life.id, given, season)).collect()
}

fn out(conn: &Connection, here: Here, lives: &[Life], season: Days) -> Result<Vec<SeasonLog>> {
    if here.today < season.0 || season.1 < here.today {
        return Ok(Vec::new());
    }
    let mut found = Vec::new();
    for id in rows::seen_fruiting(conn, here.today)? {
        let given = lives.iter().find(|l| l.id == id).map_or((0, 0), |l| given(l, season));
        let log = shown(conn, here, &id, given, season)?;
        if matches!(log.log.state, State::Pins | State::Fruiting) {
            found.push(log);
        }
        if found.len() == SHOWN {
            break;
        }
    }
    Ok(found)
}

fn shown(
    conn: &Connection,
    here: Here,
    id: &str,
    (grams, unweighed): (i64, u32),
    season: Days,
) -> Result<SeasonLog> {
    let photo = rows::photo_of(conn, id, season.0, season.1)?;
    Ok(SeasonLog { log: logs::one(conn, id, here)?.row, grams, unweighed, photo })
}
