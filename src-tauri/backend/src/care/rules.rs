//! When a backup is due and when it must be said that the last one is old.
//! Never a file.
//! Invariant: without anything new to lose nothing is due and nothing is said.

const HOUR_MS: i64 = 3600 * 1000;
const DAY_MS: i64 = 24 * HOUR_MS;

/// A last good backup of so many days ago is old.
pub const OLD_DAYS: i64 = 7;
/// A backup is made by itself after so many hours.
pub const EVERY_H: i64 = 20;
/// Acts that a yard may have before a missing backup is spoken of.
pub const FEW_ACTS: i64 = 20;

/// What is known of the last good backup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// When it was taken, milliseconds since 1970; `None`: there is none.
    pub last: Option<i64>,
    /// When the first act was done, milliseconds since 1970.
    pub first_act: Option<i64>,
    /// Acts that are not in it.
    pub since: i64,
}

/// Days for which acts have had no good backup, when that is long enough to be said: a week of
/// the yard's work is what a grower can still put together from memory. A yard that was never
/// backed up is left alone for its first acts: somebody is only trying the program.
/// Common practice, no source.
pub fn backup_old(standing: Standing, now_ms: i64) -> Option<i64> {
    let (from, said) = match standing.last {
        Some(last) => (last, standing.since > 0),
        None => (standing.first_act?, standing.since > FEW_ACTS),
    };
    let days = now_ms.saturating_sub(from).div_euclid(DAY_MS);
    match standing.last {
        Some(_) => (said && days >= OLD_DAYS).then_some(days),
        None => said.then_some(days.max(0)),
    }
}

/// Whether a backup is due by itself: something is new, and the last good one is not from about
/// this day, before or (when the clock has been wrong) after.
pub fn backup_due(standing: Standing, now_ms: i64) -> bool {
    let near = |last: i64| now_ms.abs_diff(last) < (EVERY_H * HOUR_MS).unsigned_abs();
    standing.since > 0 && !standing.last.is_some_and(near)
}

/// Whether a device's last stamp is more than a day ahead of the clock here: one of the two is wrong.
pub fn is_ahead(stamp_ms: i64, now_ms: i64) -> bool {
    stamp_ms.saturating_sub(now_ms) > DAY_MS
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: i64 = 1_790_000_000_000;

    fn standing(days: Option<i64>, since: i64) -> Standing {
        Standing { last: days.map(|d| NOW - d * DAY_MS), first_act: Some(NOW - 30 * DAY_MS), since }
    }

    #[test]
    fn a_week_without_a_backup_is_said_only_when_something_is_new() {
        assert_eq!(backup_old(standing(Some(7), 1), NOW), Some(7));
        assert_eq!(backup_old(standing(Some(6), 1), NOW), None);
        assert_eq!(backup_old(standing(Some(400), 0), NOW), None);
    }

    #[test]
    fn a_yard_never_backed_up_is_left_alone_for_its_first_twenty_acts() {
        assert_eq!(backup_old(standing(None, 20), NOW), None);
        assert_eq!(backup_old(standing(None, 21), NOW), Some(30));
        assert_eq!(backup_old(Standing { last: None, first_act: None, since: 0 }, NOW), None);
    }

    #[test]
    fn a_backup_is_due_after_twenty_hours_and_whenever_the_clock_was_wrong() {
        let at = |hours: i64, since| Standing { last: Some(NOW - hours * HOUR_MS), first_act: None, since };
        assert!(!backup_due(at(19, 5), NOW));
        assert!(backup_due(at(20, 5), NOW));
        assert!(!backup_due(at(200, 0), NOW));
        assert!(backup_due(at(-200, 1), NOW));
        assert!(backup_due(standing(None, 1), NOW));
    }

    #[test]
    fn a_day_ahead_is_a_wrong_clock() {
        assert!(is_ahead(NOW + DAY_MS + 1, NOW));
        assert!(!is_ahead(NOW + DAY_MS, NOW));
    }
}
