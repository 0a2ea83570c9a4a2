//! Measuring caps in a photo by the tag in it.
//! Never measures by a tag it could not fit, and never keeps a width without its range.
//! Invariant: what was shown before saving is what is kept.

use super::super::find::MODULES;
use super::super::growth::{Growth, Ruler, Width, whole};
use super::super::plane::Plane;
use super::super::rows::{self, CapRow, Offered};
use super::super::{exif, rules};
use super::tie::{code_id, code_mm, codes};
use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::logs::rows as logs;
use crate::measure::Bounds;
use crate::where_from::{Mark, WhereFrom};
use serde::{Deserialize, Serialize};
use serde_json::json;
use ts_rs::TS;

/// The narrowest and widest a cap can be, tenths of mm.
const WIDTH_TENTHS: Bounds = Bounds { min: 5, max: 4000, unit: "tenths_mm" };
/// How far a cap may stand before the tag, mm.
const PROUD_MM: Bounds = Bounds { min: -50, max: 150, unit: "mm" };
/// Caps that are told apart in one flush.
const CAP: Bounds = Bounds { min: 1, max: 99, unit: "caps" };
/// A code narrower than this in the photo gives no width, pixels.
const SIDE_MIN: f64 = 60.0;

/// Asks for what measuring in a photo needs.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CapFormAsk {
    /// The log.
    pub log: Id,
    /// The photo's hash.
    pub hash: String,
}

/// What measuring in a photo needs.
#[derive(Debug, Serialize, TS)]
pub struct CapForm {
    /// The log.
    pub log: Offered,
    /// The photo.
    pub hash: String,
    /// Its width as it is looked at, pixels.
    pub width: u32,
    /// Its height.
    pub height: u32,
    /// The corners of the tag's code in it, pixels; null: there is none to measure by.
    pub corners: Option<[[f64; 2]; 4]>,
    /// Why there is none: `no_tag`, `too_small`, `unclear`, `heic`, `too_much_memory`.
    pub why_not: Option<String>,
    /// The tag is another log's.
    pub other: Option<Offered>,
    /// About how far the tag was from the camera, mm.
    pub distance_mm: Option<i64>,
    /// The printed code's width, mm.
    pub code_mm: f64,
    /// What was measured since the last picking, oldest first.
    pub caps: Vec<CapRow>,
    /// How fast they grow.
    pub growth: Option<Growth>,
}

/// A photo's tag to measure by, and whose it is.
struct Measuring {
    ruler: std::result::Result<Ruler, &'static str>,
    corners: Option<[[f64; 2]; 4]>,
    text: Option<String>,
    size: (u32, u32),
}

fn measuring(book: &Book, log: &Id, hash: &str) -> Result<Measuring> {
    let bytes = book.blob(hash)?;
    let about = rules::look_over(&bytes)?;
    let size = (about.width, about.height);
    let none = |why| Measuring { ruler: Err(why), corners: None, text: None, size };
    let codes = match codes(book, hash) {
        Ok(codes) => codes,
        Err(Error::Invalid { why: why @ ("heic" | "too_much_memory"), .. }) => return Ok(none(why)),
        Err(error) => return Err(error),
    };
    let tags: Vec<_> = codes.iter().filter(|c| c.modules == MODULES && code_id(&c.text).is_some()).collect();
    let own = tags.iter().find(|c| code_id(&c.text).as_ref() == Some(log));
    let Some(code) = own.or_else(|| tags.first()) else { return Ok(none("no_tag")) };
    let next = |i: usize| code.corners[(i + 1) % 4];
    let side: f64 =
        (0..4).map(|i| (code.corners[i][0] - next(i)[0]).hypot(code.corners[i][1] - next(i)[1])).sum::<f64>()
            / 4.0;
    let ruler = match code.fit {
        Some(_) if side < SIDE_MIN => Err("too_small"),
        None => Err("unclear"),
        Some((plane, off, edges)) => Ok(Ruler {
            plane: Plane(plane),
            off,
            edges,
            size: [f64::from(size.0), f64::from(size.1)],
            focal_35mm: exif::read(&bytes).focal_35mm,
        }),
    };
    Ok(Measuring { ruler, corners: Some(code.corners), text: Some(code.text.clone()), size })
}

/// `cap_form`
///
/// # Errors
/// `Missing` when the log or the photo is not here, `Damaged` when its file is not what its name says.
pub fn cap_form(book: &Book, ask: CapFormAsk) -> Result<CapForm> {
    let found = measuring(book, &ask.log, &ask.hash)?;
    book.read(|conn| {
        let tag = logs::tag(conn, ask.log.as_str())?;
        let whose = found.text.as_deref().and_then(code_id);
        let other = match &whose {
            Some(id) if *id != ask.log => rows::offered(conn, id.as_str())?,
            _ => None,
        };
        let distance = found.ruler.as_ref().ok().and_then(Ruler::distance);
        Ok(CapForm {
            log: Offered { log: ask.log.to_string(), tag },
            hash: ask.hash.clone(),
            width: found.size.0,
            height: found.size.1,
            corners: found.corners.filter(|_| found.ruler.is_ok()),
            why_not: found.ruler.as_ref().err().map(|why| (*why).to_owned()),
            other,
            distance_mm: distance.map(whole),
            code_mm: code_mm(),
            caps: rows::caps(conn, ask.log.as_str())?,
            growth: rows::growth(conn, ask.log.as_str())?,
        })
    })
}

/// Asks how wide a cap is between two points.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CapTry {
    /// The log.
    pub log: Id,
    /// The photo's hash.
    pub hash: String,
    /// One side of the cap, pixels of the whole photo as it is looked at.
    pub a: [f64; 2],
    /// The other side.
    pub b: [f64; 2],
    /// How near to what was meant each point lies, pixels.
    pub tap_px: f64,
    /// How far the cap's rim stands before the tag, mm; null: not said.
    pub proud_mm: Option<i64>,
}

/// How wide a cap is.
#[derive(Debug, Serialize, TS)]
pub struct CapTried {
    /// Width, tenths of mm.
    pub width_tenths: i64,
    /// As little as.
    pub low_tenths: i64,
    /// As much as.
    pub high_tenths: i64,
    /// Where the number comes from.
    pub from: WhereFrom,
}

/// `cap_try`
///
/// # Errors
/// `Invalid` on `photo` when there is no tag to measure by, on `width` when it can be no cap.
pub fn cap_try(book: &Book, ask: CapTry) -> Result<CapTried> {
    let proud = ask.proud_mm.map(|mm| PROUD_MM.check("proud_mm", mm)).transpose()?;
    let good = |p: [f64; 2]| p.iter().all(|x| x.is_finite() && (0.0..=40_000.0).contains(x));
    if !good(ask.a) || !good(ask.b) || !(0.0..=1000.0).contains(&ask.tap_px) {
        return Err(Error::invalid("points", "unknown_word"));
    }
    let ruler = measuring(book, &ask.log, &ask.hash)?.ruler.map_err(|why| Error::invalid("photo", why))?;
    #[allow(clippy::cast_precision_loss, reason = "a few millimetres")]
    let found = ruler.width(ask.a, ask.b, ask.tap_px, proud.map(|mm| mm as f64));
    let Width { mm, low, high } = found.ok_or_else(|| Error::invalid("points", "off_plane"))?;
    let tenths = |mm: f64| whole(mm * 10.0);
    let from = WhereFrom::new("cap_width", Mark::Own, "")
        .with("code_mm", code_mm())
        .with("distance_mm", ruler.distance().map(whole))
        .with("proud_mm", proud)
        .with("focal_35mm", ruler.focal_35mm);
    Ok(CapTried {
        width_tenths: WIDTH_TENTHS.check("width", tenths(mm))?,
        low_tenths: tenths(low),
        high_tenths: tenths(high),
        from,
    })
}

/// Keeps a cap's width.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct CapAdd {
    /// What was measured.
    pub measured: CapTry,
    /// The cap's number in its flush: the same cap bears the same number in the next photo.
    pub cap: i64,
    /// Makes a double tap one act.
    pub request: String,
}

/// `cap_add`: a second width of one cap in one photo replaces the first.
///
/// # Errors
/// As [`cap_try`]; `Missing`.
pub fn cap_add(book: &Book, ask: CapAdd) -> Result<Done> {
    let intent = Intent { name: "cap_add", request: &ask.request, draft: None };
    let cap = CAP.check("cap", ask.cap)?;
    let (log, hash, proud) = (ask.measured.log.clone(), ask.measured.hash.clone(), ask.measured.proud_mm);
    let tried = cap_try(book, ask.measured)?;
    book.act(intent, |conn| {
        let tag = logs::tag(conn, log.as_str())?;
        let ties = rows::ties(conn, &hash)?;
        let tie = ties.iter().find(|tie| tie.log.as_deref() == Some(log.as_str()));
        let tie = tie.ok_or(Error::Missing { what: "photo" })?;
        let before = rows::caps(conn, log.as_str())?.into_iter().find(|m| m.photo == hash && m.cap == cap);
        let moment = book.moment();
        // What is measured later is still as wide as it was when the photo was taken.
        let (at, zone) = if tie.taken.is_some() { (moment.ms, moment.zone()) } else { (tie.at, tie.zone.clone()) };
        let row = json!({"log": log, "day": tie.day, "at": at, "zone": zone, "photo": hash, "cap": cap,
            "width_tenths": tried.width_tenths, "low_tenths": tried.low_tenths, "high_tenths": tried.high_tenths,
            "proud_mm": proud, "taken": tie.taken, "replaces": before.as_ref().map(|m| &m.entry)});
        let mut changes = vec![Change::put("measure", &book.new_id(), row)];
        changes.extend(before.map(|m| Change::void(&m.entry)));
        let said = json!({"log": log, "tag": tag, "cap": cap, "width_tenths": tried.width_tenths});
        Ok(Plan::new(changes, said))
    })
}
