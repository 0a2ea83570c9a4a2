//! `tidy`: the fences of the house, each a function over the tree of files with a test that it bites.
//!
//! Never here: style that rustfmt or clippy already hold. Invariant: a fence reads text and returns breaches;
//! it never writes, and it sees exactly the files that git would commit.

mod arrows;
mod colours;
mod licences;
mod pages;
mod shape;
mod spdx;
pub mod tree;
mod words;

use crate::Outcome;
use tree::{Breach, Tree};

/// Runs every fence and prints each breach with its place.
pub fn tidy() -> Outcome {
    let tree = Tree::of_the_repository()?;
    let mut breaches: Vec<Breach> = FENCES.iter().flat_map(|fence| fence(&tree)).collect();
    breaches.extend(licences::licences(&tree)?);
    for long in shape::long(&tree) {
        println!("   getting long: {}: {}", long.path, long.says);
    }
    for breach in &breaches {
        println!("   {}:{}: {}", breach.path, breach.line, breach.says);
    }
    if breaches.is_empty() {
        println!("   {} files, no breach", tree.files.len());
        Ok(())
    } else {
        Err(format!("tidy found {} breaches.", breaches.len()))
    }
}

const FENCES: [fn(&Tree) -> Vec<Breach>; 11] = [
    arrows::arrows,
    shape::lengths,
    shape::openings,
    shape::names,
    pages::one_call,
    pages::no_markup_from_text,
    pages::imports,
    colours::colours,
    words::machine,
    words::registries,
    words::unfinished,
];
