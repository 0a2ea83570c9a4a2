//! What a look at the wood can find, and what can be done for a log.
//! Never what grows on it: looks have that. Never words for the screen.
//! Invariant: a part that nobody looked at is not said; `none` says that somebody did.

use crate::logs::rules::Method;
use crate::words::words;

words! {
    /// The bark.
    pub enum Bark {
        /// Tight all round.
        Tight = "tight",
        /// Loose in places.
        Loose = "loose",
        /// Off in places.
        Off = "off",
        /// Most of it is off.
        Bare = "bare",
    }
}

words! {
    /// Cracks in the ends.
    pub enum Cracks {
        /// None.
        None = "none",
        /// As fine as a hair.
        Fine = "fine",
        /// Wide enough for a coin.
        Wide = "wide",
    }
}

words! {
    /// The wax over the holes and ends.
    pub enum Wax {
        /// On every hole.
        Whole = "whole",
        /// Off some.
        Some = "some",
        /// Off most.
        Off = "off",
    }
}

words! {
    /// Plugs pecked or pulled out.
    pub enum Pecked {
        /// None.
        None = "none",
        /// Some.
        Some = "some",
        /// Many.
        Many = "many",
    }
}

words! {
    /// Another fungus in the wood.
    pub enum Competitor {
        /// None to be seen.
        None = "none",
        /// Green mould: Trichoderma.
        GreenMould = "green_mould",
        /// Dark crusts: Hypoxylon, Diatrype.
        DarkCrust = "dark_crust",
        /// Crusts with a rim: Stereum.
        Crust = "crust",
        /// Thin brackets: Trametes.
        Bracket = "bracket",
        /// Grey fans: Schizophyllum.
        GreyFan = "grey_fan",
        /// Something else.
        Other = "other",
    }
}

words! {
    /// How far it has spread.
    pub enum Extent {
        /// A few spots.
        Spots = "spots",
        /// A patch.
        Patch = "patch",
        /// About half of the log.
        Half = "half",
        /// Most of it.
        Most = "most",
    }
}

words! {
    /// What was done for a log.
    pub enum Tend {
        /// Waxed again where wax was off.
        Rewax = "rewax",
        /// Turned round or end for end.
        Turn = "turn",
        /// Stacked anew.
        Restack = "restack",
        /// Lifted off the soil.
        Lift = "lift",
        /// Litter and weeds cleared away.
        Clear = "clear",
        /// A totem put into its bag.
        Bag = "bag",
        /// A totem's bag taken off.
        BagOff = "bag_off",
        /// A totem's foot set into the soil.
        Foot = "foot",
    }
}

impl Tend {
    /// Whether it is a step of totems alone.
    pub fn of_totems(self) -> bool {
        matches!(self, Self::Bag | Self::BagOff | Self::Foot)
    }

    /// Whether it can be done to a log of this method. A totem stands with its foot in the soil and its
    /// sections on each other: it is neither turned nor lifted. A log of unknown method may be either.
    pub fn fits(self, method: Option<Method>) -> bool {
        match method {
            Some(Method::Totem) => !matches!(self, Self::Turn | Self::Lift),
            Some(_) => !self.of_totems(),
            None => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn totems_have_their_own_steps() {
        let fits = |method| Tend::ALL.iter().filter(|tend| tend.fits(method)).count();
        assert_eq!((fits(Some(Method::Drilled)), fits(Some(Method::Totem)), fits(None)), (5, 6, 8));
        assert!(!Tend::Foot.fits(Some(Method::Drilled)));
        assert!(!Tend::Turn.fits(Some(Method::Totem)));
    }
}
