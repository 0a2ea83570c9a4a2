//! What a question is answered with.
//! Never how it is worked out: `rates` and `times` do.
//! Invariant: a group that cannot be told has its reason, and every log is in one group.

use super::confounding::Tied;
use super::odd::Odd;
use super::survival::Step;
use crate::where_from::WhereFrom;
use crate::words::words;
use serde::{Serialize, Serializer};
use ts_rs::TS;

words! {
    /// Why a group can't be told yet.
    pub enum Untold {
        /// Fewer than three logs behind the figure.
        FewLogs = "few_logs",
        /// Every laid log is still in its spawn run.
        TooYoung = "too_young",
        /// There would be enough, had their pickings been weighed.
        NoWeights = "no_weights",
        /// Logs of a kind that nobody named.
        Unnamed = "unnamed",
        /// Nothing of this was ever seen.
        NothingSeen = "nothing_seen",
    }
}

words! {
    /// Why a log is not behind the figure, or only in part.
    pub enum Aside {
        /// Wood that is not laid yet.
        NotLaid = "not_laid",
        /// Laid nobody knows when.
        Undated = "undated",
        /// In its spawn run: it says nothing yet.
        SpawnRun = "spawn_run",
        /// Nothing of it was weighed, nor of any log like it.
        NoWeights = "no_weights",
        /// Without a size.
        Unmeasured = "unmeasured",
        /// Never soaked.
        NotSoaked = "not_soaked",
        /// No picking was judged for damage.
        NotJudged = "not_judged",
        /// Came to the yard after it could have fruited, or lost.
        CameLate = "came_late",
        /// Its strain is doubtful.
        Doubtful = "doubtful",
    }
}

words! {
    /// What can be said about the best group.
    pub enum Verdict {
        /// There is no log to ask about.
        NoLogs = "no_logs",
        /// Nothing of what is asked has happened yet.
        NothingYet = "nothing_yet",
        /// No named group can be told.
        TooFew = "too_few",
        /// Only one named group can be told.
        OneGroup = "one_group",
        /// Surely ahead of all others.
        Best = "best",
        /// In front, but `close` may be as good.
        Close = "close",
    }
}

/// Which did best.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Answer {
    /// What can be said.
    pub kind: Verdict,
    /// The group in front.
    pub key: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// The probability that it is the best of those that can be told.
    pub chance: Option<f64>,
    /// Names of groups that may be as good, best first.
    pub close: Vec<String>,
    /// How many more logs of each of the first two would likely tell them apart.
    pub need: Option<u32>,
}

impl Answer {
    /// An answer without a group.
    pub fn bare(kind: Verdict) -> Self {
        Self { kind, key: None, name: None, chance: None, close: Vec::new(), need: None }
    }
}

/// One log's own figure, behind the group's.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Dot {
    /// The log, for the sheet of an answer's rows; no picture names it.
    #[serde(skip)]
    #[ts(skip)]
    pub log: String,
    /// Its figure, in the measure's unit.
    pub value: f64,
    /// How much it says beside the yard's weightiest log, 0 to 1.
    pub weight: f64,
    /// Whether it is still going on: at least so much.
    pub open: bool,
}

/// Most dots of a group that a screen gets.
const DRAWN: usize = 40;

fn some<S: Serializer>(dots: &[Dot], to: S) -> Result<S::Ok, S::Error> {
    let drawn = dots.len().min(DRAWN);
    to.collect_seq((0..drawn).map(|i| &dots[i * dots.len() / drawn]))
}

/// One group.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct GroupRow {
    /// Its key; null for logs of a kind nobody named.
    pub key: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// All its logs.
    pub logs: u32,
    /// Those behind the figure.
    pub used: u32,
    /// Logs that fruited.
    pub fruited: u32,
    /// Laid logs in their spawn run.
    pub spawn_run: u32,
    /// Logs whose watch ended.
    pub ended: u32,
    /// Years that dated logs were watched.
    pub log_years: f64,
    /// Weighed, g: at least this much was picked.
    #[ts(type = "number")]
    pub grams: i64,
    /// Pickings.
    pub pickings: u32,
    /// Pickings nobody weighed.
    pub unweighed: u32,
    /// The figure by plain division or counting, nothing pooled and nothing adjusted.
    pub plain: Option<f64>,
    /// The figure.
    pub mean: Option<f64>,
    /// Lower end of its 90 % interval.
    pub low: Option<f64>,
    /// Upper end; null where it is not reached.
    pub high: Option<f64>,
    /// Probability of being the best of those that can be told.
    pub best: Option<f64>,
    /// How far it was drawn to the yard's mean, 0 to 1.
    pub pull: Option<f64>,
    /// Whether the figure stands on enough.
    pub tell: bool,
    /// Why not.
    pub why: Option<Untold>,
    /// Its logs. A screen gets some of them, evenly through all: more would hide each other.
    #[serde(serialize_with = "some")]
    pub dots: Vec<Dot>,
    /// For a time: the share without the event, by years.
    pub curve: Vec<Step>,
    /// Where the figure comes from.
    pub from: WhereFrom,
}

/// Logs that are not behind any figure.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct LeftOut {
    /// Why.
    pub why: Aside,
    /// How many.
    pub logs: u32,
}

/// A test of whether the groups differ at all.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Differ {
    /// `anova` or `log_rank`.
    pub form: String,
    /// F, or χ².
    pub value: f64,
    /// Degrees of freedom: between, or the test's.
    pub df: f64,
    /// Degrees of freedom within; null for a log-rank.
    pub df_within: Option<f64>,
    /// Probability of a greater value were all groups alike.
    pub p: f64,
}

/// The whole reply of a comparison.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Compared {
    /// The answer.
    pub answer: Answer,
    /// The groups, best first; those that can't be told last.
    pub rows: Vec<GroupRow>,
    /// `beats[a][b]`: the probability that row a is better than row b, for the first told rows.
    pub beats: Vec<Vec<f64>>,
    /// What cannot be told apart from what.
    pub tied: Vec<Tied>,
    /// Pickings to be asked about.
    pub odd: Vec<Odd>,
    /// The answer without them, when there are some.
    pub without_odd: Option<Answer>,
    /// Logs not behind the figures.
    pub left_out: Vec<LeftOut>,
    /// Whether groups differ at all.
    pub differ: Option<Differ>,
    /// Standard deviation between groups, on the log scale.
    pub between: Option<f64>,
    /// What was taken out as far as it differed between logs.
    pub adjusted: Vec<String>,
    /// The size of log, litres, that the figures speak of.
    pub litres: Option<f64>,
}
