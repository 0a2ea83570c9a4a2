//! How a night round is walked, and what its stops amount to.
//! Never a time of night: `sun` has that.
//! Invariant: the walking order is total, and a log stands in it once.

use crate::measure::natural_order;
use crate::words::words;

words! {
    /// How a stop was done.
    pub enum How {
        /// Looked at by itself.
        Seen = "seen",
        /// Ticked clean with the rest of its spot.
        Clean = "clean",
        /// Passed over.
        Skipped = "skipped",
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
    /// Why a log is walked to before its neighbours.
    pub enum Risk {
        /// Caps or pins are out.
        Caps = "caps",
        /// It was damaged of late.
        Damage = "damage",
    }
}

/// For how many days damage makes a log one to look at first.
pub const DAMAGE_DAYS: i64 = 30;

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

/// Which of two logs is walked to first: by spot; within it caps out, then past damage, then the
/// rest; then by tag.
pub fn walking_order(a: &Place<'_>, b: &Place<'_>) -> std::cmp::Ordering {
    let key = |p: &Place<'_>| (p.walk.is_none(), p.walk, p.risk.is_none(), p.risk);
    key(a).cmp(&key(b)).then_with(|| natural_order(a.tag, b.tag)).then_with(|| a.id.cmp(b.id))
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
