//! One invented yard: sixty-odd logs, four seasons, one careful but human grower.
//! Never a real person, place, strain or photograph.
//! Invariant: the same `until` gives the same records (only their ids differ).

mod calendar;
mod chance;
mod drawing;
mod exif;
mod growth;
mod inputs;
mod keeping;
mod pictures;
mod rounds;
mod scene;
mod seasons;
mod supply;
mod work;

pub use chance::Chance;
pub use drawing::drawn_photo;
pub use exif::with_exif;
pub use inputs::{WoodLine, woods};
pub use scene::{Cap, Scene};

use chrono::NaiveDate;
use serde_json::json;
use shadeyard_backend::error::{Error, Result};
use std::path::Path;

/// What was built.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// The invented place.
    pub place: String,
    /// Logs in the register, the ended ones too.
    pub logs: u64,
    /// Looks, pickings, checks and endings.
    pub entries: u64,
    /// Drawn pictures.
    pub photos: u64,
    /// The first and the last moment that something was entered, RFC 3339.
    pub span: (String, String),
}

/// Builds the yard in `folder`, which the register may create, with records that stop on the
/// evening before `until`.
///
/// # Errors
/// The register's own; `Bug` when an input can't be read.
pub fn build(folder: &Path, until: NaiveDate) -> Result<Report> {
    let inputs = inputs::Inputs::read()?;
    let mut steps = work::with_work(&inputs, until, seasons::plan(&inputs, until)?);
    pictures::choose(&mut steps);
    let (Some(first), Some(last)) = (steps.first(), steps.last()) else {
        return Err(Error::Bug("the plan is empty".to_owned()));
    };
    let calendar = calendar::Calendar::ending(until);
    let mut keeping = keeping::Keeping::open(folder, &inputs, calendar, first)?;
    keeping.write(&steps, pictures::draw(&steps))?;
    let settings = keeping.ask("settings_show", json!({}))?;
    let count = |name: &str| settings.get(name).and_then(serde_json::Value::as_u64).unwrap_or(0);
    Ok(Report {
        place: keeping::text_at(&settings, "/place")?,
        logs: count("logs"),
        entries: count("entries"),
        photos: count("photos"),
        span: (first.at.to_rfc3339(), last.at.to_rfc3339()),
    })
}
