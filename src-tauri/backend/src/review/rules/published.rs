//! What trials and guides say of woods, to stand beside the yard's own figures.
//! Never mixed into a figure of the yard's.
//! Invariant: each ordering names its source.

use serde::Serialize;
use ts_rs::TS;

/// A published ordering, best first; woods in one step were not told apart.
#[derive(Debug, Clone, PartialEq, Serialize, TS)]
pub struct Published {
    /// Steps of wood ids.
    pub order: Vec<Vec<String>>,
    /// The source.
    pub source: String,
}

const SHIITAKE: [(&[&[&str]], &str); 3] = [
    (
        &[&["sugar-maple"], &["white-oak", "red-oak"]],
        "Bruhn, Mihail & Pickens 2009, Bioresource Technology 100:6472",
    ),
    (&[&["white-oak", "red-oak"], &["black-cherry", "sassafras", "sycamore"]], "HortTechnology 6(4), 1996"),
    (
        &[&["sweetgum", "white-oak"], &["red-maple"], &["ailanthus"]],
        "Frey et al. 2020, HortTechnology 30:741",
    ),
];

/// The orderings of shiitake woods that name at least two of these.
pub fn shiitake(woods: &[&str]) -> Vec<Published> {
    let names = |order: &&(&[&[&str]], &str)| {
        order.0.iter().flat_map(|step| step.iter()).filter(|w| woods.contains(w)).count() >= 2
    };
    SHIITAKE
        .iter()
        .filter(names)
        .map(|(order, source)| Published {
            order: order.iter().map(|step| step.iter().map(|w| (*w).to_owned()).collect()).collect(),
            source: (*source).to_owned(),
        })
        .collect()
}
