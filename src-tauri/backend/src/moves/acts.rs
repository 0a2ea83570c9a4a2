//! Commands about moves: which logs, where to, and the act that says they were carried.
//! Never a spot's own fields.
//! Invariant: where a log is now follows from its moves; one typed late tells only what was.

use super::rows as moves;
use super::rules::{self, FrostBasis, MoveReason, MoveWhy, Standing};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::{self, Log};
use crate::logs::rules::State;
use crate::logs::rules::follows::{Kind, follows};
use crate::measure::{self, Bounds};
use crate::settings::rows::here;
use crate::spots::rows as spots;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::BTreeSet;
use ts_rs::TS;

/// Logs in one act.
const LOGS: Bounds = Bounds { min: 1, max: 2000, unit: "logs" };

/// Asks which logs could be moved.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MoveFormAsk {
    /// Only the logs at this spot; null: all.
    #[ts(optional = nullable)]
    pub spot: Option<Id>,
    /// Only this log.
    #[ts(optional = nullable)]
    pub log: Option<Id>,
}

/// A log that could be moved.
#[derive(Debug, Serialize, TS)]
pub struct MoveLog {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
    /// The wood's common name.
    pub wood_name: Option<String>,
    /// What it carries.
    pub mushroom: Mushroom,
    /// Its state.
    pub state: State,
    /// Where it is.
    pub spot_id: Option<String>,
    /// The name of that spot.
    pub spot: Option<String>,
    /// Why it should come in now.
    pub bring_in: Option<MoveReason>,
    /// Why it should go out now.
    pub harden_off: Option<MoveReason>,
}

/// Which logs could be moved, and where to.
#[derive(Debug, Serialize, TS)]
pub struct MoveForm {
    /// The local day.
    pub today: NaiveDate,
    /// Spots in walking order.
    pub spots: Vec<spots::SpotRow>,
    /// Those that are kept from frost.
    pub heated: Vec<String>,
    /// Whether frost is to be reckoned with.
    pub frost: bool,
    /// What says so.
    pub basis: FrostBasis,
    /// The logs that are live, by tag.
    pub logs: Vec<MoveLog>,
}

/// `move_form`
///
/// # Errors
/// `Missing` when there is no such spot or log.
pub fn move_form(book: &Book, ask: MoveFormAsk) -> Result<MoveForm> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let logs = match (&ask.log, &ask.spot) {
            (Some(log), _) => vec![rows::one(conn, log.as_str(), here)?],
            (None, Some(spot)) => {
                spots::fields(conn, spot.as_str())?;
                rows::at_spot(conn, spot.as_str(), here)?
            }
            (None, None) => rows::all(conn, here)?,
        };
        let heated = spots::heated(conn)?;
        let forecast = moves::coldest_to_come(conn, here.today)?;
        let (frost, basis) = rules::frost(forecast, here.today, here.southern);
        let logs = logs.into_iter().filter(|log| log.ended.is_none());
        let logs = logs.map(|log| could_move(log, &heated, frost)).collect();
        let heated = heated.into_iter().collect();
        Ok(MoveForm { today: here.today, spots: spots::all(conn)?, heated, frost, basis, logs })
    })
}

fn could_move(log: Log, heated: &BTreeSet<String>, frost: bool) -> MoveLog {
    let row = log.row;
    let heated = row.spot_id.as_ref().is_some_and(|spot| heated.contains(spot));
    let standing = Standing { state: row.state, heated };
    MoveLog {
        bring_in: rules::bring_in(standing, frost),
        harden_off: rules::harden_off(standing, frost),
        id: row.id,
        tag: row.tag,
        wood_name: row.wood_name,
        mushroom: row.mushroom,
        state: row.state,
        spot_id: row.spot_id,
        spot: row.spot,
    }
}

/// Says that logs were carried to a spot.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogMove {
    /// The logs.
    pub logs: Vec<Id>,
    /// Where to.
    pub spot: Id,
    /// Why.
    pub why: MoveWhy,
    /// The day; null: today.
    #[ts(optional = nullable)]
    pub day: Option<NaiveDate>,
    /// The grower's words.
    pub note: String,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `log_move`
///
/// # Errors
/// `Missing`, `Invalid`, or `Conflict` when one of the logs has ended.
pub fn log_move(book: &Book, ask: LogMove) -> Result<Done> {
    let intent = Intent { name: "log_move", request: &ask.request, draft: ask.draft.as_deref() };
    let logs: BTreeSet<&str> = ask.logs.iter().map(Id::as_str).collect();
    LOGS.check("logs", i64::try_from(logs.len()).unwrap_or(i64::MAX))?;
    book.act(intent, |conn| {
        let moment = book.moment();
        let here = here(conn, moment)?;
        let day = ask.day.unwrap_or(here.today);
        if day > here.today {
            return Err(Error::invalid("day", "future"));
        }
        let note = measure::text_within("note", &ask.note, measure::NOTE_CHARS)?;
        let spot = ask.spot.as_str();
        let name = spots::fields(conn, spot)?.name;
        let (mut changes, mut late, mut tag) = (Vec::new(), 0, None);
        for log in &logs {
            let log = rows::one(conn, log, here)?;
            follows(Kind::Move, &log.facts, here.on(day)).asked()?;
            let id = &log.row.id;
            let row = json!({"log": id, "day": day, "at": moment.ms, "zone": moment.zone(), "note": note,
                "spot": spot, "why": ask.why});
            changes.push(Change::put("move", &book.new_id(), row));
            late += usize::from(moves::moved_after(conn, id, day)?);
            tag = Some(log.row.tag);
        }
        let tag = tag.filter(|_| logs.len() == 1);
        let said = json!({"n": logs.len(), "tag": tag, "spot": spot, "name": name, "why": ask.why, "day": day,
            "late": late});
        Ok(Plan::new(changes, said))
    })
}
