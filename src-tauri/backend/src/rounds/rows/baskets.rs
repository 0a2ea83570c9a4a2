//! Reading baskets: what was picked together and is weighed in the kitchen.
//! Never writes, and never shares a weight out: that is a rule.
//! Invariant: a basket is open until its weight is typed, also after its round has ended.

use crate::book::Moment;
use crate::error::{Error, Result};
use chrono::NaiveDate;
use rusqlite::{Connection, OptionalExtension, params};

/// A basket.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
#[ts(rename = "Basket")]
pub struct Basket {
    /// Its id.
    pub id: String,
    /// The day of its pickings.
    pub day: NaiveDate,
    /// When it was begun, RFC 3339 with the local offset.
    pub opened: String,
    /// Its whole weight, g; null: not weighed yet.
    pub grams: Option<i64>,
    /// What lies in it, log by log.
    pub pickings: Vec<InBasket>,
    /// It was weighed on two devices: the weights each gave, g. One basket, or two?
    pub twice: Vec<WeighedTwice>,
}

/// A picking in a basket.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct InBasket {
    /// The entry.
    pub entry: String,
    /// The log.
    pub log: String,
    /// Its tag.
    pub tag: String,
    /// Caps; null: not counted.
    pub caps: Option<i64>,
    /// Its share, g; null: not weighed yet.
    pub grams: Option<i64>,
    /// The act that wrote it.
    pub act: String,
}

/// One of two weighings of one basket.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct WeighedTwice {
    /// The act.
    pub act: String,
    /// The device.
    pub device: String,
    /// Its weight, g.
    pub grams: i64,
    /// When, RFC 3339 with the local offset.
    pub at: String,
}

/// Two baskets of one day, filled on two devices, with pickings of the same logs: one basket entered twice, or two?
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct BasketPair {
    /// The one.
    pub one: Basket,
    /// The device that began it.
    pub one_by: String,
    /// The other.
    pub other: Basket,
    /// The device that began it.
    pub other_by: String,
    /// Tags of the logs that lie in both.
    pub tags: Vec<String>,
}

/// Whether a basket is there: what it was begun by may have been taken back, but not while something lies in it.
const STANDS: &str = "(basket.void = 0 OR EXISTS(SELECT 1 FROM entry e JOIN picking p ON p.entry = e.id
    WHERE e.kind = 'picking' AND e.day = basket.day AND e.void = 0 AND p.basket = basket.id))";

const BASKET: &str =
    "SELECT id, day, coalesce(opened, 0), coalesce(zone, '+00:00'), grams FROM basket WHERE day IS NOT NULL";

/// Baskets that wait for their weight or for an answer, oldest first.
///
/// # Errors
/// The register's own.
pub fn waiting(conn: &Connection) -> Result<Vec<Basket>> {
    let mut list = conn.prepare_cached(&format!("{BASKET} AND {STANDS} ORDER BY day, opened, id"))?;
    let rows = list.query_map([], |r| r.get::<_, String>(0))?;
    let ids: Vec<String> = rows.collect::<rusqlite::Result<_>>()?;
    let all = ids.iter().map(|id| one(conn, id)).collect::<Result<Vec<_>>>()?;
    let empty = |b: &Basket| b.pickings.is_empty();
    Ok(all.into_iter().filter(|b| !empty(b) && (b.grams.is_none() || !b.twice.is_empty())).collect())
}

/// Pairs of baskets that nobody has answered yet, newest day first. Each pair is asked about once, not log by log.
///
/// # Errors
/// The register's own.
pub fn pairs(conn: &Connection) -> Result<Vec<BasketPair>> {
    let mut list = conn.prepare_cached(
        "WITH by AS MATERIALIZED (SELECT b.id, b.day, (SELECT min(f.device) FROM field f WHERE f.thing = b.id AND f.name = 'opened')
             AS device FROM basket b)
         SELECT a.id, coalesce(a.device, ''), b.id, coalesce(b.device, '') FROM by a JOIN by b ON b.day = a.day AND b.id > a.id
         WHERE EXISTS(SELECT 1 FROM entry e CROSS JOIN picking p ON p.entry = e.id CROSS JOIN act x ON x.n = e.act
               CROSS JOIN entry g CROSS JOIN picking q ON q.entry = g.id CROSS JOIN act y ON y.n = g.act
             WHERE e.kind = 'picking' AND e.day = a.day AND e.void = 0 AND p.basket = a.id
               AND g.log = e.log AND g.day = a.day AND g.kind = 'picking' AND g.void = 0 AND q.basket = b.id
               AND (a.device <> b.device OR x.device <> y.device))
           AND NOT EXISTS(SELECT 1 FROM apart WHERE apart.id = a.id || '+' || b.id AND apart.void = 0)
         ORDER BY a.day DESC, a.id, b.id",
    )?;
    let rows = list.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?)))?;
    let found: Vec<(String, String, String, String)> = rows.collect::<rusqlite::Result<_>>()?;
    let pair = |(one, one_by, other, other_by): (String, String, String, String)| {
        let (one, other) = (self::one(conn, &one)?, self::one(conn, &other)?);
        let both = |p: &&InBasket| other.pickings.iter().any(|q| q.log == p.log);
        let mut tags: Vec<String> = one.pickings.iter().filter(both).map(|p| p.tag.clone()).collect();
        tags.dedup();
        Ok(BasketPair { one, one_by, other, other_by, tags })
    };
    found.into_iter().map(pair).collect()
}

/// The open basket of a round, if one was begun on it.
///
/// # Errors
/// The register's own.
pub fn open_of(conn: &Connection, round: &str) -> Result<Option<String>> {
    let sql = format!(
        "SELECT id FROM basket WHERE {STANDS} AND round = ?1 AND grams IS NULL ORDER BY opened DESC LIMIT 1"
    );
    Ok(conn.prepare_cached(&sql)?.query_row([round], |r| r.get(0)).optional()?)
}

/// The baskets of a round, oldest first.
///
/// # Errors
/// The register's own.
pub fn of_round(conn: &Connection, round: &str) -> Result<Vec<String>> {
    let sql = format!("SELECT id FROM basket WHERE {STANDS} AND round = ?1 ORDER BY opened, id");
    let mut list = conn.prepare_cached(&sql)?;
    let rows = list.query_map([round], |r| r.get(0))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// A basket.
///
/// # Errors
/// `Missing` when there is none of that id.
pub fn one(conn: &Connection, id: &str) -> Result<Basket> {
    let found = conn
        .prepare_cached(&format!("{BASKET} AND {STANDS} AND id = ?1"))?
        .query_row([id], |r| {
            let (ms, zone): (i64, String) = (r.get(2)?, r.get(3)?);
            Ok(Basket {
                id: r.get(0)?,
                day: r.get(1)?,
                opened: Moment::from_parts(ms, &zone).rfc3339(),
                grams: r.get(4)?,
                pickings: Vec::new(),
                twice: Vec::new(),
            })
        })
        .optional()?;
    let mut basket = found.ok_or(Error::Missing { what: "basket" })?;
    basket.pickings = pickings(conn, id)?;
    basket.twice = twice(conn, &basket)?;
    Ok(basket)
}

fn pickings(conn: &Connection, basket: &str) -> Result<Vec<InBasket>> {
    let mut list = conn.prepare_cached(
        "SELECT e.id, e.log, coalesce(l.tag, ''), p.caps, p.grams, a.device || ':' || a.seq
         FROM picking p JOIN entry e ON e.id = p.entry JOIN act a ON a.n = e.act LEFT JOIN log l ON l.id = e.log
         WHERE p.basket = ?1 AND e.void = 0 AND e.log IS NOT NULL ORDER BY e.at, e.id",
    )?;
    let rows = list.query_map([basket], |r| {
        Ok(InBasket {
            entry: r.get(0)?,
            log: r.get(1)?,
            tag: r.get(2)?,
            caps: r.get(3)?,
            grams: r.get(4)?,
            act: r.get(5)?,
        })
    })?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// Weighings of one basket that stand side by side: two devices gave a weight before they met.
fn twice(conn: &Connection, basket: &Basket) -> Result<Vec<WeighedTwice>> {
    let mut list = conn.prepare_cached(
        "SELECT a.device || ':' || a.seq, a.device, sum(p.grams), a.at, a.zone
         FROM picking p JOIN entry e ON e.id = p.entry JOIN act a ON a.n = e.act
         WHERE p.basket = ?1 AND e.void = 0 AND p.grams IS NOT NULL AND a.name = 'basket_weigh'
           AND NOT EXISTS(SELECT 1 FROM apart WHERE apart.id = ?2 AND apart.void = 0)
         GROUP BY a.n ORDER BY a.at, a.device",
    )?;
    let rows = list.query_map(params![basket.id, basket.id], |r| {
        let (ms, zone): (i64, String) = (r.get(3)?, r.get(4)?);
        let at = Moment::from_parts(ms, &zone).rfc3339();
        Ok(WeighedTwice { act: r.get(0)?, device: r.get(1)?, grams: r.get(2)?, at })
    })?;
    let found: Vec<WeighedTwice> = rows.collect::<rusqlite::Result<_>>()?;
    Ok(if found.len() > 1 { found } else { Vec::new() })
}

/// All columns of a picking that go on to the one that replaces it: the entry's and its own.
#[derive(Debug, Clone)]
pub struct Whole {
    /// The log.
    pub log: String,
    /// The day.
    pub day: NaiveDate,
    /// The note.
    pub note: String,
    /// Caps.
    pub caps: Option<i64>,
    /// Share damaged, per cent.
    pub damaged_pct: Option<i64>,
    /// By what.
    pub by: Option<String>,
    /// Round.
    pub round: Option<String>,
    /// Stage.
    pub stage: Option<String>,
    /// Quality.
    pub quality: Option<String>,
    /// What was said of its flush.
    pub flush: Option<String>,
}

/// A live picking as it stands.
///
/// # Errors
/// `Missing` when it is gone.
pub fn whole(conn: &Connection, entry: &str) -> Result<Whole> {
    conn.prepare_cached(
        "SELECT e.log, e.day, e.note, p.caps, p.damaged_pct, p.by, p.round, p.stage, p.quality, f.how
         FROM entry e JOIN picking p ON p.entry = e.id LEFT JOIN flush f ON f.id = e.id AND f.void = 0
         WHERE e.id = ?1 AND e.void = 0",
    )?
    .query_row([entry], |r| {
        Ok(Whole {
            log: r.get(0)?,
            day: r.get(1)?,
            note: r.get(2)?,
            caps: r.get(3)?,
            damaged_pct: r.get(4)?,
            by: r.get(5)?,
            round: r.get(6)?,
            stage: r.get(7)?,
            quality: r.get(8)?,
            flush: r.get(9)?,
        })
    })
    .optional()?
    .ok_or(Error::Missing { what: "picking" })
}
