//! Commands about spots: their list and order, each with its logs, the map, and what a spot is like.
//! Never which log stands where: that is the log's own field, and `moves` writes it.
//! Invariant: putting spots in order names every one of them once; a spot where logs lie is not taken out.

use super::rows::{self, SpotRow};
use super::rules::SpotFields;
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows::{self as logs, LogRow};
use crate::settings::rows::here;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use ts_rs::TS;

/// Asks for the spots.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotList {}

/// The spots in walking order.
#[derive(Debug, Serialize, TS)]
pub struct SpotsView {
    /// In the order they are walked.
    pub spots: Vec<SpotRow>,
}

/// Puts the spots into a walking order.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotOrder {
    /// Every spot, in the new order.
    pub spots: Vec<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `spot_list`
///
/// # Errors
/// The register's own.
pub fn spot_list(book: &Book, _: SpotList) -> Result<SpotsView> {
    book.read(|conn| Ok(SpotsView { spots: rows::all(conn)? }))
}

/// `spot_order`
///
/// # Errors
/// `Invalid` when a spot is missing, unknown or named twice.
pub fn spot_order(book: &Book, ask: SpotOrder) -> Result<Done> {
    let intent = Intent { name: "spot_order", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let known: BTreeSet<String> = rows::all(conn)?.into_iter().map(|s| s.id).collect();
        let named: BTreeSet<String> = ask.spots.iter().map(Id::to_string).collect();
        if named != known || named.len() != ask.spots.len() {
            return Err(Error::invalid("spots", "unknown_word"));
        }
        let changes = (1_i64..)
            .zip(&ask.spots)
            .map(|(walk, spot)| Change::set("spot", spot.as_str(), "walk", walk))
            .collect();
        Ok(Plan::new(changes, json!({"spots": ask.spots.len()})))
    })
}

/// Asks for a spot's page.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotShow {
    /// The spot.
    pub spot: Id,
}

/// A spot's page.
#[derive(Debug, Serialize, TS)]
pub struct SpotView {
    /// The local day.
    pub today: NaiveDate,
    /// Its id.
    pub id: String,
    /// What it is like.
    pub fields: SpotFields,
    /// Its place in the walk, from 1, and of how many.
    pub place: usize,
    /// How many spots there are.
    pub places: usize,
    /// The live logs there, by tag.
    pub logs: Vec<LogRow>,
    /// How many ended logs were there last.
    pub ended: usize,
}

/// `spot_show`
///
/// # Errors
/// `Missing` when there is no such spot.
pub fn spot_show(book: &Book, ask: SpotShow) -> Result<SpotView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let id = ask.spot.to_string();
        let fields = rows::fields(conn, &id)?;
        let spots = rows::all(conn)?;
        let place = spots.iter().position(|spot| spot.id == id).map_or(0, |at| at + 1);
        let all = logs::at_spot(conn, &id, here)?;
        let (live, ended): (Vec<_>, Vec<_>) = all.into_iter().partition(|log| log.ended.is_none());
        let rows = live.into_iter().map(|log| log.row).collect();
        let (today, places, ended) = (here.today, spots.len(), ended.len());
        Ok(SpotView { today, id, fields, place, places, logs: rows, ended })
    })
}

/// Asks for the map.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct YardMap {}

/// A station of the walk.
#[derive(Debug, Serialize, TS)]
pub struct Station {
    /// The spot; null: logs that lie nowhere in particular.
    pub spot: Option<SpotRow>,
    /// What it is like; null as above.
    pub fields: Option<SpotFields>,
    /// Its live logs by tag, as many as a map can show.
    pub logs: Vec<LogRow>,
    /// All of them.
    pub total: usize,
}

/// The yard as one walks it.
#[derive(Debug, Serialize, TS)]
pub struct MapView {
    /// The local day.
    pub today: NaiveDate,
    /// In walking order; logs without a spot come last.
    pub stations: Vec<Station>,
}

/// Logs drawn at one station; a map of more than these is a list.
const STATION_MAX: usize = 40;

/// `yard_map`
///
/// # Errors
/// The register's own.
pub fn yard_map(book: &Book, _: YardMap) -> Result<MapView> {
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let mut at: std::collections::BTreeMap<Option<String>, Vec<LogRow>> =
            std::collections::BTreeMap::new();
        for log in logs::all(conn, here)?.into_iter().filter(|log| log.ended.is_none()) {
            at.entry(log.row.spot_id.clone()).or_default().push(log.row);
        }
        let mut stations = Vec::new();
        let station = |spot: Option<SpotRow>, fields, mut logs: Vec<LogRow>| {
            let total = logs.len();
            logs.truncate(STATION_MAX);
            Station { spot, fields, logs, total }
        };
        for spot in rows::all(conn)? {
            let fields = rows::fields(conn, &spot.id)?;
            let logs = at.remove(&Some(spot.id.clone())).unwrap_or_default();
            stations.push(station(Some(spot), Some(fields), logs));
        }
        // A spot whose name has not come yet over a merge counts as none.
        let nowhere: Vec<LogRow> = at.into_values().flatten().collect();
        if !nowhere.is_empty() {
            stations.push(station(None, None, nowhere));
        }
        Ok(MapView { today: here.today, stations })
    })
}

/// Adds a spot, or changes what is said of one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotSave {
    /// The spot; null for a new one.
    #[ts(optional = nullable)]
    pub spot: Option<Id>,
    /// All its fields as they should be.
    pub fields: SpotFields,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `spot_save`
///
/// # Errors
/// `Missing`, `Invalid` on the field (`name` is `taken` when another spot bears it), or `Conflict` when nothing
/// was changed.
pub fn spot_save(book: &Book, ask: SpotSave) -> Result<Done> {
    let intent = Intent { name: "spot_save", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let fields = ask.fields.checked()?;
        let named = rows::find(conn, &fields.name)?;
        let old = ask.spot.as_ref().map(|id| rows::fields(conn, id.as_str())).transpose()?;
        let asked = ask.spot.as_ref().map(Id::to_string);
        if let Some((other, false)) = &named
            && asked.as_ref() != Some(other)
        {
            return Err(Error::invalid_with("name", "taken", json!({"word": fields.name})));
        }
        let mut changes = Vec::new();
        let id = match (asked, named) {
            (Some(id), _) => id,
            // One of this name that was taken out comes back, with the logs that name it.
            (None, Some((id, _))) => {
                changes.push(Change::set("spot", &id, "void", 0));
                id
            }
            (None, None) => {
                let id = book.new_id().to_string();
                changes.push(Change::set("spot", &id, "walk", rows::next_walk(conn)?));
                id
            }
        };
        let before = old.as_ref().map(columns);
        for (at, (name, value)) in columns(&fields).into_iter().enumerate() {
            if before.as_ref().is_none_or(|before| before.get(at).is_none_or(|(_, old)| *old != value)) {
                changes.push(Change::set("spot", &id, name, value));
            }
        }
        if changes.is_empty() {
            return Err(Error::conflict("nothing_changed", Value::Null));
        }
        let renamed = old.as_ref().filter(|old| old.name != fields.name).map(|old| old.name.clone());
        let said = json!({"spot": id, "name": fields.name, "new": old.is_none(), "was": renamed});
        Ok(Plan::new(changes, said))
    })
}

fn columns(fields: &SpotFields) -> Vec<(&'static str, Value)> {
    vec![
        ("name", json!(fields.name)),
        ("shade", json!(fields.shade)),
        ("ground", json!(fields.ground)),
        ("water", json!(fields.water)),
        ("rain", json!(fields.rain)),
        ("winter_sun", json!(fields.winter_sun.map(i64::from))),
        ("heated", json!(fields.heated.map(i64::from))),
        ("note", json!(fields.note)),
    ]
}

/// Takes a spot out.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotOut {
    /// The spot.
    pub spot: Id,
    /// Makes a double tap one act.
    pub request: String,
}

/// `spot_out`
///
/// # Errors
/// `Missing`, or `Conflict` (`spot_in_use`, `{logs}`) while live logs lie there.
pub fn spot_out(book: &Book, ask: SpotOut) -> Result<Done> {
    let intent = Intent { name: "spot_out", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let id = ask.spot.as_str();
        let fields = rows::fields(conn, id)?;
        let there = rows::all(conn)?.into_iter().find(|spot| spot.id == id).map_or(0, |spot| spot.logs);
        if there > 0 {
            return Err(Error::conflict("spot_in_use", json!({"logs": there})));
        }
        Ok(Plan::new(vec![Change::set("spot", id, "void", 1)], json!({"spot": id, "name": fields.name})))
    })
}
