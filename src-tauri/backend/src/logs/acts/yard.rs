//! The yard's list: found by words, narrowed down by what logs are, a page at a time.
//! Never an entry: lists live on what is derived.
//! Invariant: `found` counts all that fit, however many are sent.

use crate::book::Book;
use crate::error::Result;
use crate::logs::rows::{self, Log, LogRow};
use crate::logs::rules::State;
use crate::logs::search::{self, FoundAt};
use crate::measure::natural_order;
use crate::settings::rows::here;
use crate::strains::rules::Mushroom;
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, HashMap};
use ts_rs::TS;

/// Asks for the yard's logs.
#[derive(Debug, Default, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct YardList {
    /// Part of a tag, or beginnings of words of notes; empty for all.
    pub search: String,
    /// Only of this wood: its id; empty: of a wood nobody knows.
    #[ts(optional = nullable)]
    pub wood: Option<String>,
    /// Only with this mushroom.
    #[ts(optional = nullable)]
    pub mushroom: Option<Mushroom>,
    /// Only of the strain of this name; empty: of one without a name.
    #[ts(optional = nullable)]
    pub strain: Option<String>,
    /// Only at this spot: its id; empty: at none.
    #[ts(optional = nullable)]
    pub spot: Option<String>,
    /// Only in this state.
    #[ts(optional = nullable)]
    pub state: Option<State>,
    /// At most so many; null: all.
    #[ts(optional = nullable)]
    pub limit: Option<u32>,
}

/// Something to narrow the list by.
#[derive(Debug, Serialize, TS)]
pub struct Choice {
    /// What to ask for.
    pub value: String,
    /// Its name; empty for what has none.
    pub name: String,
    /// Logs of it in the whole register.
    pub logs: i64,
}

/// All that the list can be narrowed by.
#[derive(Debug, Serialize, TS)]
pub struct YardChoices {
    /// Woods, by name.
    pub woods: Vec<Choice>,
    /// Mushrooms.
    pub mushrooms: Vec<Choice>,
    /// Strains, by name.
    pub strains: Vec<Choice>,
    /// Spots, by name.
    pub spots: Vec<Choice>,
    /// States, in the order of a life.
    pub states: Vec<Choice>,
}

/// The yard's logs.
#[derive(Debug, Serialize, TS)]
pub struct YardView {
    /// The local day.
    pub today: NaiveDate,
    /// Logs in the register.
    pub total: usize,
    /// Logs that fit what was asked.
    pub found: usize,
    /// The first of those, by tag; an exact match first.
    pub logs: Vec<LogRow>,
    /// Where those were found that their tag did not bring.
    pub places: Vec<FoundAt>,
    /// What the list can be narrowed by.
    pub choices: YardChoices,
}

/// `yard_list`
///
/// # Errors
/// The register's own.
pub fn yard_list(book: &Book, ask: YardList) -> Result<YardView> {
    let search = ask.search.trim().to_lowercase();
    book.read(|conn| {
        let here = here(conn, book.moment())?;
        let all = rows::all(conn, here)?;
        let (total, choices) = (all.len(), choices(&all));
        let mut places = HashMap::new();
        if !search.is_empty() {
            places.extend(search::places(conn, &search)?.into_iter().map(|place| (place.log.clone(), place)));
        }
        let by_tag = |row: &LogRow| row.tag.to_lowercase().contains(&search);
        let fits = |row: &LogRow| narrowed(&ask, row) && (by_tag(row) || places.contains_key(&row.id));
        let mut logs: Vec<LogRow> = all.into_iter().map(|log| log.row).filter(fits).collect();
        logs.sort_by_key(|row| (row.tag.to_lowercase() != search, !by_tag(row)));
        let found = logs.len();
        logs.truncate(ask.limit.map_or(found, |limit| limit as usize));
        let places =
            logs.iter().filter(|row| !by_tag(row)).filter_map(|row| places.remove(&row.id)).collect();
        Ok(YardView { today: here.today, total, found, logs, places, choices })
    })
}

fn narrowed(ask: &YardList, row: &LogRow) -> bool {
    let is = |asked: &Option<String>, held: Option<&String>| {
        asked.as_ref().is_none_or(|asked| held.map_or("", String::as_str) == asked)
    };
    is(&ask.wood, row.wood.as_ref())
        && is(&ask.strain, row.strain.as_ref())
        && is(&ask.spot, row.spot_id.as_ref())
        && ask.mushroom.is_none_or(|mushroom| mushroom == row.mushroom)
        && ask.state.is_none_or(|state| state == row.state)
}

fn choices(all: &[Log]) -> YardChoices {
    let gather = |of: &dyn Fn(&LogRow) -> (String, String)| {
        let mut found: BTreeMap<String, (String, i64)> = BTreeMap::new();
        for log in all {
            let (value, name) = of(&log.row);
            found.entry(value).or_insert((name, 0)).1 += 1;
        }
        let mut found: Vec<Choice> =
            found.into_iter().map(|(value, (name, logs))| Choice { value, name, logs }).collect();
        // What has no name comes last.
        found.sort_by(|a, b| {
            a.value.is_empty().cmp(&b.value.is_empty()).then_with(|| natural_order(&a.name, &b.name))
        });
        found
    };
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let word = |word: &str| (word.to_owned(), word.to_owned());
    let mut states = gather(&|row| word(row.state.word()));
    states.sort_by_key(|choice| State::of(&choice.value));
    YardChoices {
        woods: gather(&|row| (text(&row.wood), text(&row.wood_name))),
        mushrooms: gather(&|row| word(row.mushroom.word())),
        strains: gather(&|row| (text(&row.strain), text(&row.strain))),
        spots: gather(&|row| (text(&row.spot_id), text(&row.spot))),
        states,
    }
}
