//! What can be seen on a log, by mushroom.
//! Never a forecast.
//! Invariant: every stage but `nothing` means that the log fruits.

use crate::strains::rules::Mushroom;
use crate::words::words;

words! {
    /// What a look found: the cap stage, or nothing.
    pub enum Stage {
        /// No sign of fruit.
        Nothing = "nothing",
        /// Shiitake breaking through the bark.
        Pin = "pin",
        /// A closed button.
        Button = "button",
        /// The rim still turned under: the time to pick.
        Cupped = "cupped",
        /// The rim lets go of the stem.
        Opening = "opening",
        /// Flat, shedding spores.
        Flat = "flat",
        /// The rim turned up.
        Upturned = "upturned",
        /// Hericium: a white knob without spines.
        Knob = "knob",
        /// Hericium: spines shorter than about 1 cm.
        ShortSpines = "short_spines",
        /// Hericium: spines about 1 cm, still white: the time to pick.
        LongSpines = "long_spines",
        /// Hericium: yellowing, late.
        Yellowing = "yellowing",
    }
}

/// The stages that a mushroom has, `nothing` first, then by age.
pub fn stages(mushroom: Mushroom) -> &'static [Stage] {
    use Stage::{
        Button, Cupped, Flat, Knob, LongSpines, Nothing, Opening, Pin, ShortSpines, Upturned, Yellowing,
    };
    if mushroom.is_hericium() {
        &[Nothing, Knob, ShortSpines, LongSpines, Yellowing]
    } else {
        &[Nothing, Pin, Button, Cupped, Opening, Flat, Upturned]
    }
}

impl Stage {
    /// Whether it is time to pick, or late: the rim is rolled under, letting go or open; spines of 1 cm or yellowing
    /// (common practice).
    pub fn is_ripe(self) -> bool {
        matches!(
            self,
            Self::Cupped | Self::Opening | Self::Flat | Self::Upturned | Self::LongSpines | Self::Yellowing
        )
    }

    /// Whether this is the first sign of fruit: pins, or a knob.
    pub fn is_first_sign(self) -> bool {
        matches!(self, Self::Pin | Self::Knob)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stage_belongs_to_a_mushroom() {
        for stage in Stage::ALL {
            assert!(Mushroom::ALL.iter().any(|m| stages(*m).contains(stage)), "{stage:?}");
        }
    }

    #[test]
    fn a_word_reads_as_the_stage_it_was_written_from() {
        for stage in Stage::ALL {
            assert_eq!(Stage::of(stage.word()), Some(*stage));
        }
        assert_eq!(Stage::of("overripe"), None);
    }
}
