//! Reading a log's record: its entries, newest first, with their photos.
//! Never writes, and never the sums over them: `log_state` has those.
//! Invariant: a voided entry is not shown; a photo whose file is not here yet is.

use super::rules::Why;
use crate::book::Moment;
use crate::error::Result;
use crate::looks::rules::Stage;
use crate::photos::rows::{self as photos, PhotoRow};
use crate::pickings::rules::By;
use crate::rounds::rules::{Damage, How};
use chrono::NaiveDate;
use rusqlite::{Connection, Row};

/// One line of a log's record.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Entry {
    /// Its id.
    pub id: String,
    /// The act that wrote it, `device:seq`.
    pub act: String,
    /// The local day it is about.
    pub day: NaiveDate,
    /// When it was written, RFC 3339 with the local offset.
    pub at: String,
    /// The grower's words.
    pub note: String,
    /// Photos taken with it.
    pub photos: Vec<PhotoRow>,
    /// What was observed.
    pub what: What,
}

/// What an entry says.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[ts(rename = "Observed")]
pub enum What {
    /// A check of the log.
    Look {
        /// The cap stage, or nothing.
        seen: Stage,
    },
    /// A harvest.
    Picking {
        /// Weight, g; null: not weighed.
        grams: Option<i64>,
        /// Number of caps; null: not counted.
        caps: Option<i64>,
        /// Share damaged, per cent; null: not judged.
        damaged_pct: Option<i64>,
        /// By what.
        by: Option<By>,
    },
    /// A stop of a round.
    Check {
        /// The round.
        round: String,
        /// How it was done.
        how: How,
        /// Slugs and snails found.
        slugs: i64,
        /// Damage seen.
        damage: Damage,
    },
    /// The end of its watch.
    Ending {
        /// Why.
        why: Why,
    },
}

const RECORD: &str = "
  SELECT e.id, a.device || ':' || a.seq AS act, e.day, e.at, e.zone, e.note, e.kind, k.seen, p.grams, p.caps,
    p.damaged_pct, p.by, c.round, c.how, c.slugs, c.damage, x.why
  FROM entry e JOIN act a ON a.n = e.act
  LEFT JOIN look k ON k.entry = e.id LEFT JOIN picking p ON p.entry = e.id
  LEFT JOIN \"check\" c ON c.entry = e.id LEFT JOIN ending x ON x.entry = e.id
  WHERE e.log = ?1 AND e.void = 0 AND e.kind <> 'photo' ORDER BY e.day DESC, e.at DESC, e.id DESC";

/// A log's entries, newest first. Entries of a kind this version does not know are left out.
///
/// # Errors
/// The register's own.
pub fn of(conn: &Connection, log: &str) -> Result<Vec<Entry>> {
    let mut photos = photos::of_log(conn, log)?;
    let mut list = conn.prepare_cached(RECORD)?;
    let rows = list.query_map([log], |r| {
        let Some(what) = what(r)? else { return Ok(None) };
        let id: String = r.get("id")?;
        let (at, zone): (i64, String) = (r.get("at")?, r.get("zone")?);
        Ok(Some(Entry {
            act: r.get("act")?,
            day: r.get("day")?,
            at: Moment::from_parts(at, &zone).rfc3339(),
            note: r.get("note")?,
            photos: photos.remove(&id).unwrap_or_default(),
            what,
            id,
        }))
    })?;
    Ok(rows.filter_map(rusqlite::Result::transpose).collect::<rusqlite::Result<_>>()?)
}

fn what(r: &Row<'_>) -> rusqlite::Result<Option<What>> {
    let kind: String = r.get("kind")?;
    let word = |name: &str| Ok::<_, rusqlite::Error>(r.get::<_, Option<String>>(name)?.unwrap_or_default());
    Ok(match kind.as_str() {
        "look" => Stage::of(&word("seen")?).map(|seen| What::Look { seen }),
        "picking" => Some(What::Picking {
            grams: r.get("grams")?,
            caps: r.get("caps")?,
            damaged_pct: r.get("damaged_pct")?,
            by: By::of(&word("by")?),
        }),
        "check" => match (How::of(&word("how")?), Damage::of(&word("damage")?)) {
            (Some(how), Some(damage)) => {
                Some(What::Check { round: r.get("round")?, how, slugs: r.get("slugs")?, damage })
            }
            _ => None,
        },
        "ending" => Why::of(&word("why")?).map(|why| What::Ending { why }),
        _ => None,
    })
}
