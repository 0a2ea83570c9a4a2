//! Which mushrooms the yard grows and how strains are classed.
//! Never a seller's name: strains are named by the grower.
//! Invariant: only shiitake strains have a class.

use crate::words::words;

words! {
    /// What a log carries.
    pub enum Mushroom {
        /// Lentinula edodes.
        Shiitake = "shiitake",
        /// Hericium erinaceus.
        Erinaceus = "erinaceus",
        /// Hericium americanum.
        Americanum = "americanum",
    }
}

words! {
    /// A shiitake strain's class by the season it fruits in.
    pub enum StrainClass {
        /// Fruits in the cool months.
        Cold = "cold",
        /// Fruits in early summer and early autumn.
        Warm = "warm",
        /// Fruits all season and answers best to forcing.
        Wide = "wide",
    }
}

impl Mushroom {
    /// Whether it is one of the Hericium species.
    pub fn is_hericium(self) -> bool {
        matches!(self, Self::Erinaceus | Self::Americanum)
    }
}

/// Fewest months from laying to a first fruit: wide-range and warm 6, cold 9, shiitake of unknown
/// class 6 (common practice, no source); Hericium 6 (University of Kentucky FOR-85 and University
/// of Maryland RES-11 give 6–18 months for logs in general).
pub fn fewest_months(mushroom: Mushroom, class: Option<StrainClass>) -> u32 {
    match (mushroom, class) {
        (Mushroom::Shiitake, Some(StrainClass::Cold)) => 9,
        _ => 6,
    }
}
