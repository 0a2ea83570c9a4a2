//! What is due: one shape for every room's dues, so that the chores can put them in one order.
//! Never when something is due: each room's rules say that.
//! Invariant: the order is total: urgency, then the kind of chore, then the day it was due from, then its key.

use crate::where_from::WhereFrom;
use crate::words::words;
use chrono::NaiveDate;
use serde_json::{Map, Value};
use std::collections::BTreeMap;

words! {
    /// How much it presses.
    pub enum Urgency {
        /// Something spoils while it waits.
        Now = "now",
        /// Today.
        Today = "today",
        /// Within days.
        Soon = "soon",
        /// When there is time.
        Can = "can",
    }
}

words! {
    /// What is to be done, in the order in which equally urgent chores stand.
    pub enum Chore {
        /// Frost tonight: pick, drain the tank, soak nothing.
        Frost = "frost",
        /// Lift logs out of the tank.
        Lift = "lift",
        /// Pick what is ripe.
        Pick = "pick",
        /// A night round: caps are out.
        Round = "round",
        /// Lay wood before it is stale.
        Lay = "lay",
        /// Water logs that dry out.
        Water = "water",
        /// Weigh the sample logs again.
        Weigh = "weigh",
        /// Look at pins that were seen: they grow in days.
        LookAgain = "look_again",
        /// Look for pins some days after a soak.
        LookPins = "look_pins",
        /// Look at logs that may fruit in the weather there is.
        LookSeason = "look_season",
        /// The rest is over: they may be soaked again.
        RestOver = "rest_over",
        /// Old enough and more, and never fruited.
        Overdue = "overdue",
        /// Another fungus is on the wood: set the log apart, or watch it.
        Fungus = "fungus",
        /// The last backup is old.
        Backup = "backup",
    }
}

/// A log that a chore is about.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
pub struct DueLog {
    /// Its id.
    pub id: String,
    /// Its tag.
    pub tag: String,
}

/// The one tap that does it: a command, or the screen where it is done.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Tap {
    /// The screen's name in the router's table; null: `command` does it.
    pub screen: Option<String>,
    /// What stands in the screen's address.
    pub params: BTreeMap<String, String>,
    /// The command that does it at once.
    pub command: Option<String>,
    /// Its request, but for the request id.
    #[ts(type = "Record<string, any>")]
    pub request: Map<String, Value>,
}

impl Tap {
    /// A screen.
    pub fn screen(name: &str, params: &[(&str, &str)]) -> Self {
        let params = params.iter().map(|(k, v)| ((*k).to_owned(), (*v).to_owned())).collect();
        Self { screen: Some(name.to_owned()), params, command: None, request: Map::new() }
    }

    /// A command; `request` is a JSON object.
    pub fn command(name: &str, request: Value) -> Self {
        let request = if let Value::Object(map) = request { map } else { Map::new() };
        Self { screen: None, params: BTreeMap::new(), command: Some(name.to_owned()), request }
    }
}

/// One chore.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Due {
    /// Names it for putting it off: the same until something new makes it due.
    pub key: String,
    /// What is to be done.
    pub what: Chore,
    /// How much it presses.
    pub urgency: Urgency,
    /// The day it is due from; null: no day in particular.
    pub since: Option<NaiveDate>,
    /// The logs, by tag.
    pub logs: Vec<DueLog>,
    /// The spot's name, where it is about one.
    pub spot: Option<String>,
    /// Values for the sentence that says why.
    #[ts(type = "Record<string, any>")]
    pub why: Map<String, Value>,
    /// On whose word it is due.
    pub from: WhereFrom,
    /// What does it.
    pub tap: Tap,
}

impl Due {
    /// A chore without logs or reasons yet.
    pub fn new(key: String, what: Chore, urgency: Urgency, from: WhereFrom, tap: Tap) -> Self {
        let (logs, why) = (Vec::new(), Map::new());
        Self { key, what, urgency, since: None, logs, spot: None, why, from, tap }
    }

    /// With one more value for its sentence.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.why.insert(name.to_owned(), value.into());
        self
    }

    /// Due from this day.
    #[must_use]
    pub fn since(mut self, day: Option<NaiveDate>) -> Self {
        self.since = day;
        self
    }
}

/// The order on the screen.
pub fn order(a: &Due, b: &Due) -> std::cmp::Ordering {
    let key = |d: &Due| (d.urgency, d.what, d.since.is_none(), d.since);
    key(a).cmp(&key(b)).then_with(|| a.key.cmp(&b.key))
}
