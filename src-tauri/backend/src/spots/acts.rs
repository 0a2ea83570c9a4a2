//! Commands about spots.
//! Never which log stands where: that is the log's own field.
//! Invariant: putting spots in order names every one of them once.

use super::rows::{self, SpotRow};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::collections::BTreeSet;
use ts_rs::TS;

/// Asks for the spots.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotList {}

/// The spots in walking order.
#[derive(Debug, Serialize, TS)]
pub struct SpotsView {
    /// In the order they are walked.
    pub spots: Vec<SpotRow>,
}

/// Puts the spots into a walking order.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SpotOrder {
    /// Every spot, in the new order.
    pub spots: Vec<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `spot_list`
///
/// # Errors
/// The register's own.
pub fn spot_list(book: &Book, _: SpotList) -> Result<SpotsView> {
    book.read(|conn| Ok(SpotsView { spots: rows::all(conn)? }))
}

/// `spot_order`
///
/// # Errors
/// `Invalid` when a spot is missing, unknown or named twice.
pub fn spot_order(book: &Book, ask: SpotOrder) -> Result<Done> {
    let intent = Intent { name: "spot_order", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let known: BTreeSet<String> = rows::all(conn)?.into_iter().map(|s| s.id).collect();
        let named: BTreeSet<String> = ask.spots.iter().map(Id::to_string).collect();
        if named != known || named.len() != ask.spots.len() {
            return Err(Error::invalid("spots", "unknown_word"));
        }
        let changes = (1_i64..)
            .zip(&ask.spots)
            .map(|(walk, spot)| Change::set("spot", spot.as_str(), "walk", walk))
            .collect();
        Ok(Plan::new(changes, json!({"spots": ask.spots.len()})))
    })
}
