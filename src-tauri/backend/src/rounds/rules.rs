//! How a round is walked, what can be said at a stop, and when a round is due.
//! Never a time of night: `sun` has that.
//! Invariant: the walking order is total, and a log stands in it once.

pub use super::sightings::{OnLog, Sighted, dues as fungus_dues};
use crate::looks::rules::Stage;
use crate::measure::natural_order;
use crate::words::words;
use chrono::{Days, NaiveDate, NaiveDateTime, Timelike};

words! {
    /// What a round is for.
    pub enum RoundKind {
        /// Slugs, after dark.
        Night = "night",
        /// Caps to be picked.
        Picking = "picking",
    }
}

words! {
    /// When what is entered happened.
    pub enum RoundWhen {
        /// Just now.
        Now = "now",
        /// In the night that has passed: it is typed in afterwards.
        LastNight = "last_night",
    }
}

words! {
    /// How a stop was done.
    pub enum How {
        /// Looked at by itself.
        Seen = "seen",
        /// Ticked clean with the rest of its spot.
        Clean = "clean",
        /// Passed over.
        Skipped = "skipped",
        /// Counted by a child: damage was not judged.
        Tallied = "tallied",
    }
}

words! {
    /// Damage seen on a log's caps.
    pub enum Damage {
        /// None.
        None = "none",
        /// Some.
        Some = "some",
        /// Much.
        Much = "much",
    }
}

words! {
    /// Why a log is walked to before its neighbours, in the order in which they are walked to.
    pub enum Risk {
        /// Caps or pins are out.
        Caps = "caps",
        /// It was damaged of late.
        Damage = "damage",
        /// The night suits slugs, and slugs were found on it of late.
        Slugs = "slugs",
        /// The night suits slugs, and it is wet from the tank or from watering.
        Wet = "wet",
    }
}

words! {
    /// Other animals at a log.
    pub enum OtherSeen {
        /// Fungus beetles and other beetles.
        Beetles = "beetles",
        /// Springtails.
        Springtails = "springtails",
        /// Mice and voles.
        Mice = "mice",
        /// Squirrels.
        Squirrels = "squirrels",
        /// Birds.
        Birds = "birds",
        /// Deer.
        Deer = "deer",
    }
}

words! {
    /// Where slugs hid.
    pub enum Hid {
        /// Under the caps.
        Caps = "caps",
        /// Under the log.
        Under = "under",
        /// In cracks of the bark.
        Bark = "bark",
        /// In the litter beside it.
        Litter = "litter",
        /// On the cut face.
        Face = "face",
    }
}

words! {
    /// What was done about them.
    pub enum Did {
        /// Picked off by hand.
        HandPicked = "hand_picked",
        /// Iron phosphate beside the logs, as its label says.
        IronPhosphate = "iron_phosphate",
        /// A barrier.
        Barrier = "barrier",
        /// The log was moved.
        Moved = "moved",
        /// Caps were picked early.
        PickedEarly = "picked_early",
    }
}

/// For how many days damage, and slugs on a slug night, make a log one to look at first (our choice).
pub const BEFORE_DAYS: i64 = 30;
/// For how many days before the evening's a log that was soaked or watered counts as wet (our choice: that day and
/// the one before).
pub const WET_DAYS: i64 = 1;

/// What a log's place within its spot follows from.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct AtRisk {
    /// Pins or caps are out.
    pub caps: bool,
    /// Damage was found on it of late.
    pub damaged: bool,
    /// Slugs were found on it of late.
    pub slugs: bool,
    /// It is wet from the tank or from watering: slugs like it near 100 % humidity (Oregon State slug portal).
    pub wet: bool,
}

/// Why a log is walked to before its neighbours. What only slugs make of it counts on a slug night alone: on a quiet
/// one, and without weather, nobody is sent to it first for that.
pub fn risk(log: &AtRisk, slug_night: bool) -> Option<Risk> {
    match log {
        AtRisk { caps: true, .. } => Some(Risk::Caps),
        AtRisk { damaged: true, .. } => Some(Risk::Damage),
        AtRisk { slugs: true, .. } if slug_night => Some(Risk::Slugs),
        AtRisk { wet: true, .. } if slug_night => Some(Risk::Wet),
        _ => None,
    }
}

/// What the walking order depends on. `walk` counts spots from 0; logs in no spot come last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place<'a> {
    /// The spot's place in the walk.
    pub walk: Option<usize>,
    /// Why it is walked to first within its spot.
    pub risk: Option<Risk>,
    /// The log's tag.
    pub tag: &'a str,
    /// The log's id, where tags are the same.
    pub id: &'a str,
}

/// Which of two logs is walked to first: by spot; within it caps out, then past damage, then what a slug night
/// makes of it, then the rest; then by tag.
pub fn walking_order(a: &Place<'_>, b: &Place<'_>) -> std::cmp::Ordering {
    let key = |p: &Place<'_>| (p.walk.is_none(), p.walk, p.risk.is_none(), p.risk);
    key(a).cmp(&key(b)).then_with(|| natural_order(a.tag, b.tag)).then_with(|| a.id.cmp(b.id))
}

/// The evening an entry belongs to. Last night is the evening before today's noon, whatever the hour.
pub fn evening(local: NaiveDateTime, when: RoundWhen) -> NaiveDate {
    match when {
        RoundWhen::Now => crate::sun::rules::evening_of(local),
        RoundWhen::LastNight => local.date().checked_sub_days(Days::new(1)).unwrap_or(local.date()),
    }
}

/// The hour from which a night is over (our choice).
const MORNING: u32 = 6;

/// Whether the night of `evening` was last night and is over: what is entered about it is typed in afterwards.
pub fn is_over(local: NaiveDateTime, evening_of: NaiveDate) -> bool {
    local.hour() >= MORNING && evening(local, RoundWhen::LastNight) == evening_of
}

/// The evening that "tonight" means: in the small hours the one that still runs, from six on this day's.
pub fn coming_evening(local: NaiveDateTime) -> NaiveDate {
    if local.hour() < MORNING { crate::sun::rules::evening_of(local) } else { local.date() }
}

/// How soon a log is to be picked; smaller is sooner. Cupped caps before those that are late already:
/// these have lost what haste could save, but are still eaten first (common practice, no source).
pub fn urgency(stage: Stage) -> u8 {
    match stage {
        Stage::Opening => 0,
        Stage::Cupped | Stage::LongSpines => 1,
        Stage::Flat | Stage::Upturned | Stage::Yellowing => 2,
        Stage::Button | Stage::ShortSpines => 3,
        Stage::Pin | Stage::Knob => 4,
        Stage::Nothing => 5,
    }
}

/// Whether caps at this stage are picked now.
pub fn is_ripe(stage: Stage) -> bool {
    urgency(stage) <= 2
}

/// A weight in grams shared out by counts, exactly: each gets its whole share and the largest
/// remainders one gram more (the first of equals). Without any count all count alike.
/// Nobody gets a share that makes the sum another.
pub fn share_out(grams: i64, counts: &[i64]) -> Vec<i64> {
    let known: i128 = counts.iter().map(|c| i128::from((*c).max(0))).sum();
    let weight = |c: &i64| if known == 0 { 1 } else { i128::from((*c).max(0)) };
    let total = if known == 0 { counts.len() as i128 } else { known };
    if total == 0 {
        return Vec::new();
    }
    let whole: Vec<i128> = counts.iter().map(|c| i128::from(grams) * weight(c) / total).collect();
    let mut order: Vec<usize> = (0..counts.len()).collect();
    let rest = |n: usize| i128::from(grams) * weight(&counts[n]) % total;
    order.sort_by_key(|n| (std::cmp::Reverse(rest(*n)), *n));
    let left = i128::from(grams) - whole.iter().sum::<i128>();
    let mut shares: Vec<i64> = whole.iter().map(|w| i64::try_from(*w).unwrap_or(0)).collect();
    for n in order.into_iter().take(usize::try_from(left).unwrap_or(0)) {
        shares[n] += 1;
    }
    shares
}

/// A round that is due today, as Chores shows it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "RoundDue")]
pub struct Due {
    /// Which round.
    pub kind: RoundKind,
    /// Logs it is due for.
    pub logs: usize,
    /// Why: the most urgent stage seen, or `weather`.
    pub why: String,
    /// How often today: twice in warm spells.
    pub times: u8,
}

/// What is known of a log on the day that dues are asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Fruiting {
    /// The stage of caps out.
    pub stage: Stage,
    /// The day to look again, if one was named or forecast.
    pub look_on: Option<NaiveDate>,
}

/// A warm spell: a mean day of this many tenths of °C or more, on which caps can go from cupped to
/// flat between morning and evening (our choice).
pub const WARM_DC: i64 = 200;

/// Which rounds today asks for. `mean_dc`: today's mean, tenths of °C. `slugs`: whether the weather
/// of the night suits them; none: not known.
pub fn dues(fruiting: &[Fruiting], today: NaiveDate, mean_dc: Option<i64>, slugs: Option<bool>) -> Vec<Due> {
    let due = |f: &&Fruiting| is_ripe(f.stage) || f.look_on.is_none_or(|day| day <= today);
    let now: Vec<&Fruiting> = fruiting.iter().filter(due).collect();
    let mut found = Vec::new();
    if let Some(first) = now.iter().min_by_key(|f| urgency(f.stage)) {
        let times = if mean_dc.is_some_and(|t| t >= WARM_DC) { 2 } else { 1 };
        let why = first.stage.word().to_owned();
        found.push(Due { kind: RoundKind::Picking, logs: now.len(), why, times });
    }
    if !fruiting.is_empty() && slugs != Some(false) {
        let why = if slugs == Some(true) { "weather" } else { "caps" };
        found.push(Due { kind: RoundKind::Night, logs: fruiting.len(), why: why.to_owned(), times: 1 });
    }
    found
}

/// Words with blanks between, as they are kept; none when there are none.
pub fn kept_words(words: &[&str]) -> Option<String> {
    let mut words = words.to_vec();
    words.sort_unstable();
    words.dedup();
    (!words.is_empty()).then(|| words.join(" "))
}

/// The words kept in a text that this version knows.
pub fn read_words<T>(text: Option<&str>, of: impl Fn(&str) -> Option<T>) -> Vec<T> {
    text.unwrap_or_default().split(' ').filter_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_walk_goes_spot_by_spot_and_risk_comes_first_within_one() {
        let place = |walk, risk, tag| Place { walk, risk, tag, id: tag };
        let mut stops = [
            place(None, Some(Risk::Caps), "1"),
            place(Some(1), None, "2"),
            place(Some(0), None, "10"),
            place(Some(0), None, "9"),
            place(Some(0), Some(Risk::Damage), "31"),
            place(Some(0), Some(Risk::Caps), "40"),
            place(Some(1), Some(Risk::Damage), "12"),
        ];
        stops.sort_by(walking_order);
        let tags: Vec<&str> = stops.iter().map(|s| s.tag).collect();
        assert_eq!(tags, ["40", "31", "9", "10", "12", "2", "1"]);
    }

    #[test]
    fn a_slug_night_sends_the_walker_to_slimed_and_wet_logs_and_a_quiet_one_does_not() {
        let log = |caps, damaged, slugs, wet| AtRisk { caps, damaged, slugs, wet };
        let table = [
            (log(true, true, true, true), Some(Risk::Caps), Some(Risk::Caps)),
            (log(false, true, true, true), Some(Risk::Damage), Some(Risk::Damage)),
            (log(false, false, true, true), Some(Risk::Slugs), None),
            (log(false, false, false, true), Some(Risk::Wet), None),
            (log(false, false, false, false), None, None),
        ];
        for (log, on_a_slug_night, on_a_quiet_one) in table {
            assert_eq!((risk(&log, true), risk(&log, false)), (on_a_slug_night, on_a_quiet_one), "{log:?}");
        }
        assert!(Risk::Caps < Risk::Damage && Risk::Damage < Risk::Slugs && Risk::Slugs < Risk::Wet);
    }

    #[test]
    fn a_basket_is_shared_out_to_the_gram() {
        assert_eq!(share_out(100, &[1, 1, 1]), [34, 33, 33]);
        assert_eq!(share_out(640, &[5, 3, 0]), [400, 240, 0]);
        assert_eq!(share_out(10, &[2, 1]), [7, 3]);
        assert_eq!(share_out(9, &[0, 0]), [5, 4], "without counts all count alike");
        assert_eq!(share_out(9, &[]), Vec::<i64>::new());
    }

    #[test]
    fn last_night_is_the_evening_before_this_day_and_now_the_one_that_runs() {
        let at = |text: &str| text.parse::<NaiveDateTime>().unwrap_or_default();
        let day = |text: &str| text.parse::<NaiveDate>().unwrap_or_default();
        assert_eq!(evening(at("2026-10-04T00:40:00"), RoundWhen::Now), day("2026-10-03"));
        assert_eq!(evening(at("2026-10-04T00:40:00"), RoundWhen::LastNight), day("2026-10-03"));
        assert_eq!(evening(at("2026-10-04T15:00:00"), RoundWhen::LastNight), day("2026-10-03"));
        assert_eq!(evening(at("2026-10-04T21:00:00"), RoundWhen::Now), day("2026-10-04"));
        let over = |text: &str| is_over(at(text), day("2026-10-03"));
        assert!(!over("2026-10-03T22:00:00") && !over("2026-10-04T05:59:00"), "it still runs");
        assert!(over("2026-10-04T06:00:00") && over("2026-10-04T21:00:00") && !over("2026-10-05T08:00:00"));
    }

    #[test]
    fn a_ripe_log_makes_the_picking_round_due_and_one_to_look_at_later_does_not() {
        let today: NaiveDate = "2026-10-03".parse().unwrap_or_default();
        let later = Fruiting { stage: Stage::Pin, look_on: today.checked_add_days(Days::new(2)) };
        assert_eq!(dues(&[], today, None, Some(true)), []);
        let found = dues(std::slice::from_ref(&later), today, None, None);
        assert_eq!(found.iter().map(|d| d.kind).collect::<Vec<_>>(), [RoundKind::Night]);
        let ripe = Fruiting { stage: Stage::Cupped, look_on: None };
        let found = dues(&[later, ripe], today, Some(220), Some(false));
        assert_eq!(found, [Due { kind: RoundKind::Picking, logs: 1, why: "cupped".to_owned(), times: 2 }]);
    }

    proptest! {
        #[test]
        fn a_share_out_always_sums_to_the_weight_and_is_fair(
            grams in 0..50_000i64, counts in prop::collection::vec(0..200i64, 1..12),
        ) {
            let shares = share_out(grams, &counts);
            prop_assert_eq!(shares.iter().sum::<i64>(), grams);
            let all: i64 = counts.iter().sum();
            for (share, count) in shares.iter().zip(&counts) {
                let (count, all) = if all == 0 { (1, counts.len() as i64) } else { (*count, all) };
                let exact = grams as f64 * count as f64 / all as f64;
                prop_assert!((*share as f64 - exact).abs() < 1.0);
            }
        }
    }
}
