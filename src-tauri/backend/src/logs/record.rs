//! Reading a log's record: its entries, newest first, with their photos.
//! Never writes, and never the sums over them: `log_state` has those.
//! Invariant: a voided entry is not shown; a photo whose file is not here yet is.

use super::rules::Why;
use crate::book::Moment;
use crate::condition::rules::{Bark, Competitor, Cracks, Extent, Pecked, Tend, Wax};
use crate::error::Result;
use crate::looks::rules::Stage;
use crate::moves::rules::MoveWhy;
use crate::photos::rows::{self as photos, PhotoRow};
use crate::pickings::rules::By;
use crate::rounds::rules::{Damage, How, Sighted};
use crate::soaking::rules::Part;
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
    /// Into the tank or out of it.
    Soak {
        /// Which.
        part: Part,
        /// The water, tenths of °C; null: not measured.
        water_dc: Option<i64>,
        /// The log's weight, g; null: not weighed.
        grams: Option<i64>,
    },
    /// Its weight.
    Weighing {
        /// g.
        grams: i64,
    },
    /// Watered.
    Watering {
        /// Litres, tenths; null: not said.
        litres_tenths: Option<i64>,
    },
    /// A pest or a competitor, outside a round.
    Sighting {
        /// What was seen.
        what: Sighted,
        /// How many; null: not counted.
        n: Option<i64>,
    },
    /// The end of its watch.
    Ending {
        /// Why.
        why: Why,
    },
    /// Carried to another spot.
    Move {
        /// The spot's id.
        spot_id: Option<String>,
        /// The spot's name now.
        spot: Option<String>,
        /// Why.
        #[serde(rename = "reason")]
        why: MoveWhy,
    },
    /// A look at the wood itself; null: not looked at.
    Condition {
        /// The bark.
        bark: Option<Bark>,
        /// Cracks in the ends.
        cracks: Option<Cracks>,
        /// The wax.
        wax: Option<Wax>,
        /// Plugs pecked out.
        pecked: Option<Pecked>,
        /// Another fungus.
        competitor: Option<Competitor>,
        /// How far that has spread.
        extent: Option<Extent>,
    },
    /// Something done for the log.
    Tending {
        /// What.
        what: Tend,
    },
    /// A photo that came without a look.
    Photo {},
    /// A cap measured in a photo.
    Measure {
        /// Its number in its flush.
        cap: i64,
        /// Width, tenths of mm.
        width_tenths: i64,
        /// As little as.
        low_tenths: i64,
        /// As much as.
        high_tenths: i64,
    },
}

const RECORD: &str = "
  SELECT e.id, a.device || ':' || a.seq AS act, e.day, e.at, e.zone, e.note, e.kind, k.seen, p.grams, p.caps,
    p.damaged_pct, p.by, c.round, c.how, c.slugs, c.damage, x.why,
    o.part, o.water_dc, o.grams AS soak_grams, w.grams AS weighed, u.litres_tenths,
    m.spot AS to_spot, ms.name AS to_spot_name, m.why AS move_why, t.what AS tended,
    q.bark, q.cracks, q.wax, q.pecked, q.competitor, q.extent,
    z.cap, z.width_tenths, z.low_tenths, z.high_tenths,
    g.what AS sighted, g.n AS sighted_n
  FROM entry e JOIN act a ON a.n = e.act
  LEFT JOIN look k ON k.entry = e.id LEFT JOIN picking p ON p.entry = e.id
  LEFT JOIN \"check\" c ON c.entry = e.id LEFT JOIN ending x ON x.entry = e.id
  LEFT JOIN soak o ON o.entry = e.id LEFT JOIN weighing w ON w.entry = e.id LEFT JOIN watering u ON u.entry = e.id
  LEFT JOIN \"move\" m ON m.entry = e.id LEFT JOIN spot ms ON ms.id = m.spot
  LEFT JOIN condition q ON q.entry = e.id LEFT JOIN tending t ON t.entry = e.id
  LEFT JOIN photo f ON f.entry = e.id LEFT JOIN measure z ON z.entry = e.id
  LEFT JOIN sighting g ON g.entry = e.id
  WHERE e.log = ?1 AND e.void = 0 AND f.of IS NULL ORDER BY e.day DESC, e.at DESC, e.id DESC";

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
        "soak" => Part::of(&word("part")?).map(|part| soak(r, part)).transpose()?,
        "weighing" => r.get::<_, Option<i64>>("weighed")?.map(|grams| What::Weighing { grams }),
        "watering" => Some(What::Watering { litres_tenths: r.get("litres_tenths")? }),
        "photo" => Some(What::Photo {}),
        "measure" => Some(What::Measure {
            cap: r.get("cap")?,
            width_tenths: r.get("width_tenths")?,
            low_tenths: r.get("low_tenths")?,
            high_tenths: r.get("high_tenths")?,
        }),
        "sighting" => {
            let n = r.get("sighted_n")?;
            Sighted::of(&word("sighted")?).map(|what| What::Sighting { what, n })
        }
        "ending" => Why::of(&word("why")?).map(|why| What::Ending { why }),
        "move" => Some(What::Move {
            spot_id: r.get("to_spot")?,
            spot: r.get("to_spot_name")?,
            why: MoveWhy::of(&word("move_why")?).unwrap_or(MoveWhy::Plain),
        }),
        "condition" => Some(What::Condition {
            bark: Bark::of(&word("bark")?),
            cracks: Cracks::of(&word("cracks")?),
            wax: Wax::of(&word("wax")?),
            pecked: Pecked::of(&word("pecked")?),
            competitor: Competitor::of(&word("competitor")?),
            extent: Extent::of(&word("extent")?),
        }),
        "tending" => Tend::of(&word("tended")?).map(|what| What::Tending { what }),
        _ => None,
    })
}

fn soak(r: &Row<'_>, part: Part) -> rusqlite::Result<What> {
    Ok(What::Soak { part, water_dc: r.get("water_dc")?, grams: r.get("soak_grams")? })
}
