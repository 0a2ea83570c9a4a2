//! What a batch of wood can be, and how long wood may wait between felling and laying.
//! Never the register or the clock: the felling day and the day come in.
//! Invariant: without a felling day nothing is called fresh or stale.

use crate::error::{Error, Result};
use crate::logs::rules::Method;
use crate::measure::{self, Bounds, Rough};
use crate::strains::rules::Mushroom;
use crate::where_from::{Mark, WhereFrom};
use chrono::{Days, NaiveDate};
use serde_json::json;

/// Days from felling to laying: about a month; after that wild fungi get ahead (common practice, no
/// source).
pub const FRESH_DAYS: u64 = 30;

/// The same for Hericium totems: within three months (published: extension forest farming).
pub const FRESH_TOTEM_DAYS: u64 = 91;

/// A sample disc's weight, g.
const DISC: Bounds = Bounds { min: 1, max: 20_000, unit: "g" };

/// What the grower says of a batch.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(deny_unknown_fields)]
pub struct BatchFields {
    /// The grower's name for it.
    pub name: String,
    /// The wood's id; null when not known.
    pub wood: Option<String>,
    /// When the trees were felled.
    pub felled: Option<Rough>,
    /// Where the wood comes from.
    pub source: String,
    /// A sample disc as it was cut, g; null: none was weighed.
    #[ts(type = "number | null")]
    pub disc_wet_g: Option<i64>,
    /// The same disc oven-dry, g.
    #[ts(type = "number | null")]
    pub disc_dry_g: Option<i64>,
    /// Whether it is doubtful what its logs carry: they stay out of comparisons of strains.
    pub doubtful: bool,
    /// The grower's words.
    pub note: String,
}

impl BatchFields {
    /// The fields with blanks trimmed, or what is wrong with them.
    ///
    /// # Errors
    /// `Invalid`, naming the field.
    pub fn checked(&self, today: NaiveDate, southern: bool) -> Result<Self> {
        let mut fields = self.clone();
        fields.name = measure::text_within("name", &self.name, measure::NAME_CHARS)?;
        fields.source = measure::text_within("source", &self.source, measure::NAME_CHARS)?;
        fields.note = measure::text_within("note", &self.note, measure::NOTE_CHARS)?;
        if fields.name.is_empty() {
            return Err(Error::invalid("name", "empty"));
        }
        if let Some(felled) = &self.felled {
            felled.check().map_err(|e| e.at("felled"))?;
            if felled.surely_after(today, southern) {
                return Err(Error::invalid("felled", "future"));
            }
        }
        self.disc_wet_g.map(|g| DISC.check("disc_wet_g", g)).transpose()?;
        self.disc_dry_g.map(|g| DISC.check("disc_dry_g", g)).transpose()?;
        match (self.disc_wet_g, self.disc_dry_g) {
            (None, Some(_)) => Err(Error::invalid("disc_wet_g", "empty")),
            (Some(wet), Some(dry)) if dry >= wet => {
                Err(Error::invalid_with("disc_dry_g", "dry_heavier", json!({"wet": wet})))
            }
            _ => Ok(fields),
        }
    }

    /// The disc's moisture on the wet basis, per cent: (wet − dry)/wet.
    pub fn moisture_pct(&self) -> Option<f64> {
        let (wet, dry) = (self.disc_wet_g? as f64, self.disc_dry_g? as f64);
        Some(100.0 * (wet - dry) / wet)
    }
}

/// How long wood can wait for one use of it.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Freshness {
    /// True for Hericium laid as totems; else for any mushroom on drilled logs.
    pub totem: bool,
    /// The last day to lay it, if it was felled on the first day its date allows.
    pub by: NaiveDate,
    /// Days left to that day; below nought it is past.
    pub left: i64,
    /// Days left if it was felled on the last day its date allows.
    pub left_most: i64,
    /// Past even then.
    pub stale: bool,
    /// Where the limit comes from.
    pub from: WhereFrom,
}

/// Days since felling, fewest and most; `None` when nobody knows the day.
pub fn days_since(felled: Option<&Rough>, today: NaiveDate, southern: bool) -> Option<(i64, i64)> {
    let (first, last) = felled?.span(southern)?;
    Some(((today - last.min(today)).num_days(), (today - first).num_days()))
}

/// The days that wood may wait for this use.
pub fn fresh_days(mushroom: Mushroom, method: Option<Method>) -> u64 {
    let totem = mushroom.is_hericium() && method == Some(Method::Totem);
    if totem { FRESH_TOTEM_DAYS } else { FRESH_DAYS }
}

/// How long wood felled then can wait: for drilled logs, and for Hericium totems.
pub fn freshness(felled: Option<&Rough>, today: NaiveDate, southern: bool) -> Vec<Freshness> {
    let Some((first, last)) = felled.and_then(|f| f.span(southern)) else { return Vec::new() };
    let of = |totem: bool| {
        let days = if totem { FRESH_TOTEM_DAYS } else { FRESH_DAYS };
        let by = first.checked_add_days(Days::new(days))?;
        let most = last.min(today).max(first).checked_add_days(Days::new(days))?;
        let (left, left_most) = ((by - today).num_days(), (most - today).num_days());
        let from = if totem {
            WhereFrom::new(
                "fresh_totem",
                Mark::Published,
                "Extension forest farming guide on Hericium totems",
            )
        } else {
            WhereFrom::new("fresh_drilled", Mark::Common, "")
        };
        let from = from.with("felled", felled.map(Rough::as_str)).with("fresh_days", days);
        Some(Freshness { totem, by, left, left_most, stale: left_most < 0, from })
    };
    [false, true].into_iter().filter_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap_or_default()
    }

    fn left(felled: &str, today: &str) -> Vec<(bool, i64, i64, bool)> {
        let felled = Rough::parse(felled).ok();
        let found = freshness(felled.as_ref(), day(today), false);
        found.into_iter().map(|f| (f.totem, f.left, f.left_most, f.stale)).collect()
    }

    #[test]
    fn wood_is_fresh_for_a_month_and_for_totems_three() {
        assert_eq!(left("2026-02-10", "2026-02-10"), [(false, 30, 30, false), (true, 91, 91, false)]);
        assert_eq!(left("2026-02-10", "2026-03-12"), [(false, 0, 0, false), (true, 61, 61, false)]);
        assert_eq!(left("2026-02-10", "2026-03-13"), [(false, -1, -1, true), (true, 60, 60, false)]);
    }

    #[test]
    fn a_rough_felling_day_is_stale_only_when_it_must_be() {
        assert_eq!(left("2026-02", "2026-03-15"), [(false, -12, 15, false), (true, 49, 76, false)]);
        assert_eq!(left("2026", "2026-03-15"), [(false, -43, 30, false), (true, 18, 91, false)]);
        assert!(left("XXXX", "2026-03-15").is_empty());
        let felled = Rough::parse("2026-02").ok();
        assert_eq!(days_since(felled.as_ref(), day("2026-03-15"), false), Some((15, 42)));
        assert_eq!(days_since(None, day("2026-03-15"), false), None);
    }

    #[test]
    fn a_disc_heavier_dry_than_wet_is_refused() {
        let batch = BatchFields {
            name: "oak".into(),
            wood: None,
            felled: None,
            source: String::new(),
            disc_wet_g: Some(480),
            disc_dry_g: Some(269),
            doubtful: false,
            note: String::new(),
        };
        let fields = batch.checked(day("2026-03-01"), false).unwrap();
        assert!((fields.moisture_pct().unwrap() - 43.96).abs() < 0.01);
        let heavier = BatchFields { disc_dry_g: Some(480), ..batch.clone() };
        let reply = heavier.checked(day("2026-03-01"), false).unwrap_err().reply();
        assert_eq!((&reply["field"], &reply["detail"]["why"]), (&json!("disc_dry_g"), &json!("dry_heavier")));
        let half = BatchFields { disc_wet_g: None, ..batch.clone() };
        assert_eq!(half.checked(day("2026-03-01"), false).unwrap_err().reply()["field"], "disc_wet_g");
        let future = BatchFields { felled: Rough::parse("2026-03-02").ok(), ..batch };
        assert_eq!(future.checked(day("2026-03-01"), false).unwrap_err().reply()["detail"]["why"], "future");
    }
}
