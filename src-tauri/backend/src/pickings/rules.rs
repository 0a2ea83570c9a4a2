//! What can damage caps.
//! Never a sum over logs.
//! Invariant: none of these words is a guess; who did not see the culprit leaves it empty.

use crate::words::words;

words! {
    /// What damaged the caps.
    pub enum By {
        /// Slugs and snails.
        Slugs = "slugs",
        /// Beetles, springtails, fly larvae.
        Insects = "insects",
        /// Mice and voles.
        Mice = "mice",
        /// Squirrels.
        Squirrels = "squirrels",
        /// Birds.
        Birds = "birds",
        /// Deer.
        Deer = "deer",
        /// Something else, said in the note.
        Other = "other",
    }
}
