//! Reading what was found at the stops of a night round.
//! Never writes, and never which stop comes first: the walk has that.
//! Invariant: a log has at most one check that counts in a round; of a log that two people checked in their halves
//! the tallies are added and the worse damage stands.

use super::super::rules::{Damage, Did, Hid, How, OtherSeen, read_words};
use super::Round;
use crate::error::Result;
use rusqlite::Connection;
use std::collections::HashMap;

/// What was found at a stop.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct CheckRow {
    /// The entry.
    pub id: String,
    /// How it was done.
    pub how: How,
    /// Slugs and snails found.
    pub slugs: i64,
    /// Damage seen.
    pub damage: Damage,
    /// Other animals seen.
    pub others: Vec<OtherSeen>,
    /// Where slugs hid.
    pub hid: Vec<Hid>,
    /// What was done.
    pub did: Vec<Did>,
}

/// The checks of a round and its halves, by log. A second check on one device replaces the first; two that stand
/// side by side were made apart by two people, so tallies are added and the worse damage stands.
pub(super) fn joined(conn: &Connection, round: &Round) -> Result<HashMap<String, CheckRow>> {
    let mut found: HashMap<String, CheckRow> = HashMap::new();
    for id in round.ids() {
        for (log, check) in live(conn, id)? {
            match found.get_mut(&log) {
                None => drop(found.insert(log, check)),
                Some(_) if check.how == How::Skipped => {}
                Some(have) if have.how == How::Skipped => *have = check,
                Some(have) => {
                    have.slugs += check.slugs;
                    have.damage = have.damage.max(check.damage);
                    if have.how == How::Tallied {
                        have.how = check.how;
                    }
                    have.others.extend(check.others);
                    have.hid.extend(check.hid);
                    have.did.extend(check.did);
                }
            }
        }
    }
    for check in found.values_mut() {
        check.others.sort_unstable();
        check.others.dedup();
        check.hid.sort_unstable();
        check.hid.dedup();
        check.did.sort_unstable();
        check.did.dedup();
    }
    Ok(found)
}

/// The checks of a round that stand, oldest first.
fn live(conn: &Connection, round: &str) -> Result<Vec<(String, CheckRow)>> {
    let mut list = conn.prepare_cached(
        "SELECT e.log, e.id, c.how, c.slugs, c.damage, c.others, c.hid, c.did
         FROM \"check\" c JOIN entry e ON e.id = c.entry
         WHERE c.round = ?1 AND e.void = 0 AND e.log IS NOT NULL ORDER BY e.at, e.id",
    )?;
    let rows = list.query_map([round], |r| {
        let (how, damage): (String, String) = (r.get(2)?, r.get(4)?);
        let words = |n: usize| r.get::<_, Option<String>>(n);
        let Some((how, damage)) = How::of(&how).zip(Damage::of(&damage)) else { return Ok(None) };
        let check = CheckRow {
            id: r.get(1)?,
            how,
            slugs: r.get(3)?,
            damage,
            others: read_words(words(5)?.as_deref(), OtherSeen::of),
            hid: read_words(words(6)?.as_deref(), Hid::of),
            did: read_words(words(7)?.as_deref(), Did::of),
        };
        Ok(Some((r.get::<_, String>(0)?, check)))
    })?;
    let found: Vec<Option<(String, CheckRow)>> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(found.into_iter().flatten().collect())
}

/// The checks of a log that stand in a round: more than one only when two people made them apart.
///
/// # Errors
/// The register's own.
pub fn checks_of(conn: &Connection, round: &str, log: &str) -> Result<Vec<String>> {
    Ok(live(conn, round)?.into_iter().filter(|(of, _)| of == log).map(|(_, check)| check.id).collect())
}
