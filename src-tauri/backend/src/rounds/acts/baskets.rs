//! Commands about baskets: weighing one in the kitchen, and saying whether two weighings were one.
//! Never how a weight is shared out: that is a rule.
//! Invariant: the shares of a basket sum to the weight that was typed, to the gram.

use super::super::rows::baskets::{self as rows, Basket, BasketPair, InBasket};
use super::super::rules::share_out;
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::measure;
use crate::sharing::rules::apart;
use rusqlite::Connection;
use serde::Deserialize;
use serde_json::json;
use std::collections::HashMap;
use ts_rs::TS;

/// Asks for a basket.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BasketShow {
    /// The basket.
    pub basket: Id,
}

/// `basket_show`
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn basket_show(book: &Book, ask: BasketShow) -> Result<Basket> {
    book.read(|conn| rows::one(conn, ask.basket.as_str()))
}

/// One log's own weight.
#[derive(Debug, Clone, Deserialize, TS)]
#[serde(deny_unknown_fields)]
#[ts(rename = "BasketShare")]
pub struct Share {
    /// The picking.
    pub entry: Id,
    /// Grams.
    pub grams: i64,
}

/// Weighs a basket: as a whole, or log by log.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BasketWeigh {
    /// The basket.
    pub basket: Id,
    /// The whole weight, g, shared out by counts of caps; null: log by log.
    #[ts(optional = nullable)]
    pub grams: Option<i64>,
    /// Log by log, all of them; empty: shared out.
    pub each: Vec<Share>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `basket_weigh`: each picking is replaced by one with its share. Weighing again replaces again.
///
/// # Errors
/// `Missing`, or `Invalid`: no log lies in the basket, no weight, or one out of bounds.
pub fn basket_weigh(book: &Book, ask: BasketWeigh) -> Result<Done> {
    let intent = Intent { name: "basket_weigh", request: &ask.request, draft: ask.draft.as_deref() };
    book.act(intent, |conn| {
        let basket = rows::one(conn, ask.basket.as_str())?;
        if basket.pickings.is_empty() {
            return Err(Error::invalid("basket", "empty"));
        }
        let shares = shares(&basket, &ask)?;
        let total: i64 = shares.iter().sum();
        let mut changes = Vec::new();
        for (picking, grams) in basket.pickings.iter().zip(&shares) {
            changes.extend(replaced(book, conn, &basket.id, picking, *grams)?);
        }
        changes.push(Change::set("basket", &basket.id, "grams", total));
        let said = json!({"basket": basket.id, "day": basket.day, "grams": total, "logs": shares.len(),
            "shared": ask.each.is_empty()});
        Ok(Plan::new(changes, said))
    })
}

fn shares(basket: &Basket, ask: &BasketWeigh) -> Result<Vec<i64>> {
    if ask.each.is_empty() {
        let Some(grams) = ask.grams else { return Err(Error::invalid("grams", "empty")) };
        let most = measure::Bounds { max: measure::GRAMS.max * 20, ..measure::GRAMS };
        return Ok(share_out(most.check("grams", grams)?, &counts(&basket.pickings)));
    }
    let each: HashMap<&str, i64> = ask.each.iter().map(|share| (share.entry.as_str(), share.grams)).collect();
    let one = |picking: &InBasket| {
        let grams = each.get(picking.entry.as_str()).ok_or_else(|| Error::invalid("grams", "empty"))?;
        measure::GRAMS.check("grams", *grams)
    };
    basket.pickings.iter().map(one).collect()
}

/// Caps by picking. One that was not counted counts as the mean of those that were.
fn counts(pickings: &[InBasket]) -> Vec<i64> {
    let known: Vec<i64> = pickings.iter().filter_map(|p| p.caps).collect();
    let all: i64 = known.iter().sum();
    let n = i64::try_from(known.len()).unwrap_or(1).max(1);
    let mean = ((all + n / 2) / n).max(1);
    pickings.iter().map(|p| p.caps.unwrap_or(mean)).collect()
}

/// The picking with its weight, in place of the one without. What was said of its flush goes with it.
fn replaced(
    book: &Book,
    conn: &Connection,
    basket: &str,
    picking: &InBasket,
    grams: i64,
) -> Result<Vec<Change>> {
    let old = rows::whole(conn, &picking.entry)?;
    let (id, moment) = (book.new_id(), book.moment());
    let row = json!({"log": old.log, "day": old.day, "at": moment.ms, "zone": moment.zone(), "note": old.note,
        "replaces": picking.entry, "grams": grams, "caps": old.caps, "damaged_pct": old.damaged_pct, "by": old.by,
        "round": old.round, "basket": basket, "stage": old.stage, "quality": old.quality});
    let mut changes = vec![Change::put("picking", &id, row), Change::void(&picking.entry)];
    changes.extend(old.flush.map(|how| Change::set("flush", id.as_str(), "how", how)));
    Ok(changes)
}

/// Says whether weighings of one basket on two devices were one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BasketAnswer {
    /// The basket.
    pub basket: Id,
    /// The weighing that stays, as its act; null: they were two baskets, and both stay.
    #[ts(optional = nullable)]
    pub keep: Option<String>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `basket_answer`
///
/// # Errors
/// `Missing`, or `Conflict` when nothing is asked of this basket any more.
pub fn basket_answer(book: &Book, ask: BasketAnswer) -> Result<Done> {
    let intent = Intent { name: "basket_answer", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let basket = rows::one(conn, ask.basket.as_str())?;
        if basket.twice.is_empty() {
            return Err(Error::conflict("answered", serde_json::Value::Null));
        }
        let mut changes = Vec::new();
        if let Some(keep) = &ask.keep {
            let stays = basket.twice.iter().find(|w| w.act == *keep).ok_or(Error::Missing { what: "act" })?;
            let out = basket.pickings.iter().filter(|p| p.act != *keep && p.grams.is_some());
            changes.extend(out.map(|p| Change::void(&p.entry)));
            changes.push(Change::set("basket", &basket.id, "grams", stays.grams));
        } else {
            let all: i64 = basket.twice.iter().map(|w| w.grams).sum();
            changes.push(Change::set("apart", &basket.id, "void", 0));
            changes.push(Change::set("basket", &basket.id, "grams", all));
            changes.extend(apart_by_log(&basket.pickings));
        }
        let said = json!({"basket": basket.id, "day": basket.day, "same": ask.keep.is_some(),
            "n": basket.twice.len()});
        Ok(Plan::new(changes, said))
    })
}

/// Says whether two baskets that were begun on two devices are one.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BasketPairAnswer {
    /// The one.
    pub one: Id,
    /// The other.
    pub other: Id,
    /// The basket that stays; null: they are two, and both stay.
    #[ts(optional = nullable)]
    pub keep: Option<Id>,
    /// Makes a double tap one act.
    pub request: String,
}

/// `basket_pair_answer`: of one basket entered twice, the other's pickings of the logs in both are taken out. What lies
/// in the other alone stays: somebody picked it.
///
/// # Errors
/// `Missing`, `Invalid` on `keep`, or `Conflict` when nothing is asked of these any more.
pub fn basket_pair_answer(book: &Book, ask: BasketPairAnswer) -> Result<Done> {
    let intent = Intent { name: "basket_pair_answer", request: &ask.request, draft: None };
    book.act(intent, |conn| {
        let asked = |pair: &BasketPair| {
            let ids = [pair.one.id.as_str(), pair.other.id.as_str()];
            ids.contains(&ask.one.as_str()) && ids.contains(&ask.other.as_str()) && ask.one != ask.other
        };
        let Some(pair) = rows::pairs(conn)?.into_iter().find(asked) else {
            return Err(Error::conflict("answered", serde_json::Value::Null));
        };
        let said = json!({"day": pair.one.day, "same": ask.keep.is_some(), "n": 2, "tags": pair.tags});
        let changes = match &ask.keep {
            None => {
                let name = apart(&pair.one.id, &pair.other.id);
                vec![Change::set("apart", &name, "void", 0)]
            }
            Some(keep) if keep.as_str() == pair.one.id => taken_out(&pair.one, &pair.other),
            Some(keep) if keep.as_str() == pair.other.id => taken_out(&pair.other, &pair.one),
            Some(_) => return Err(Error::invalid("keep", "unknown_word")),
        };
        Ok(Plan::new(changes, said))
    })
}

/// Takes out what `gone` has of the logs in `stays`; a basket that is empty then goes with it, and one that was
/// weighed keeps the weight of what is left.
fn taken_out(stays: &Basket, gone: &Basket) -> Vec<Change> {
    let twice = |p: &&InBasket| stays.pickings.iter().any(|q| q.log == p.log);
    let (out, left): (Vec<&InBasket>, Vec<&InBasket>) = gone.pickings.iter().partition(twice);
    let mut changes: Vec<Change> = out.iter().map(|p| Change::void(&p.entry)).collect();
    if left.is_empty() {
        changes.push(Change::set("basket", &gone.id, "void", 1));
    } else if gone.grams.is_some() {
        let grams: i64 = left.iter().filter_map(|p| p.grams).sum();
        changes.push(Change::set("basket", &gone.id, "grams", grams));
    }
    changes
}

/// The same answer for every log in the basket, so that none is asked about again by itself.
fn apart_by_log(pickings: &[InBasket]) -> Vec<Change> {
    let mut found = Vec::new();
    for (n, one) in pickings.iter().enumerate() {
        for other in pickings.iter().skip(n + 1).filter(|other| other.log == one.log) {
            let name = apart(&one.entry, &other.entry);
            found.push(Change::set("apart", &name, "void", 0));
        }
    }
    found
}
