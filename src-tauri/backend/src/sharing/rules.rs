//! When two things written apart look like one, and what contradicts what.
//! Never a decision: it is asked about or shown.
//! Invariant: what two devices ask about has one name on both.

use crate::words::words;

words! {
    /// How two records contradict each other. None is forbidden: each may be the truth.
    pub enum Clash {
        /// Two rounds were begun for one evening.
        TwoRounds = "two_rounds",
        /// A log's watch ended twice, for different reasons.
        EndedTwice = "ended_twice",
        /// A log has entries for days after its watch had ended.
        AfterEnding = "after_ending",
        /// A log was taken out on one device and worked on with another.
        RemovedAndUsed = "removed_and_used",
        /// Two live logs carry one tag.
        OneTag = "one_tag",
        /// Two spots have one name.
        OneSpot = "one_spot",
        /// Two strains of one mushroom have one name.
        OneStrain = "one_strain",
    }
}

/// The name under which it is remembered that two entries are not one.
pub fn apart(one: &str, other: &str) -> String {
    let (first, second) = if one <= other { (one, other) } else { (other, one) };
    format!("{first}+{second}")
}

/// All pairs of a list.
pub fn pairs<T>(list: &[T]) -> impl Iterator<Item = (&T, &T)> {
    list.iter().enumerate().flat_map(|(n, one)| list[n + 1..].iter().map(move |other| (one, other)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_entries_have_one_name_from_either_side() {
        assert_eq!(apart("b", "a"), apart("a", "b"));
        assert_eq!(pairs(&[1, 2, 3]).collect::<Vec<_>>(), [(&1, &2), (&1, &3), (&2, &3)]);
    }
}
