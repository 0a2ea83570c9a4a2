//! Many logs alike, added in one act: what they share, and each with its own size and tag.
//! Never a second way of checking a log: each is checked as one alone would be.
//! Invariant: a tag that another live log carries is passed over, and said.

use crate::book::{Book, Change, Done, Intent, Plan};
use crate::error::{Error, Result};
use crate::logs::naming::Naming;
use crate::logs::rows;
use crate::logs::rules::{LogFields, next_tag};
use crate::measure::Bounds;
use crate::settings::rows::here;
use serde::Deserialize;
use serde_json::json;
use ts_rs::TS;

/// Logs in one act.
const LOGS: Bounds = Bounds { min: 1, max: 200, unit: "logs" };
/// Tags passed over that are said by name.
const SAID_MAX: usize = 10;

/// One log's size.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// None to three diameters, mm.
    pub d_mm: Vec<i64>,
    /// Length, mm.
    pub length_mm: Option<i64>,
}

/// Adds logs that differ in tag and size only.
#[derive(Debug, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct LogsAdd {
    /// What they share; its tag is the first one, its size counts for nothing.
    pub fields: LogFields,
    /// One a log, in the order of their tags.
    pub sizes: Vec<Size>,
    /// Makes a double tap one act.
    pub request: String,
    /// The draft that this makes needless.
    #[ts(optional = nullable)]
    pub draft: Option<String>,
}

/// `logs_add`
///
/// # Errors
/// `Invalid`, naming the field; `sizes` with `{at}`, counted from 1, when one of them is wrong.
pub fn logs_add(book: &Book, ask: LogsAdd) -> Result<Done> {
    let intent = Intent { name: "logs_add", request: &ask.request, draft: ask.draft.as_deref() };
    LOGS.check("sizes", i64::try_from(ask.sizes.len()).unwrap_or(i64::MAX))?;
    book.act(intent, |conn| {
        let here = here(conn, book.moment())?;
        let new_id = || book.new_id();
        let mut naming = Naming::new(conn, &new_id);
        super::plannable(conn, &ask.fields, None)?;
        let (mut made, mut tags, mut passed) = (Vec::new(), Vec::new(), Vec::new());
        let mut tag = ask.fields.tag.trim().to_owned();
        for (at, size) in (1_i64..).zip(&ask.sizes) {
            while !tag.is_empty() && !rows::same_tag(conn, &tag, "")?.is_empty() {
                passed.push(std::mem::take(&mut tag));
                tag = next_tag(passed.last().into_iter().map(String::as_str));
            }
            let mut fields = ask.fields.clone();
            (fields.tag, fields.d_mm, fields.length_mm) = (tag, size.d_mm.clone(), size.length_mm);
            let fields = fields.checked(here.today, here.southern).map_err(|error| placed(error, at))?;
            let id = book.new_id();
            let columns = naming.columns(&fields)?;
            made.extend(columns.into_iter().map(|(name, value)| Change::set("log", id.as_str(), name, value)));
            tag = next_tag([fields.tag.as_str()].into_iter());
            tags.push(fields.tag);
        }
        let mut changes = naming.changes;
        changes.append(&mut made);
        let said = json!({
            "n": tags.len(), "first": tags.first(), "last": tags.last(), "mushroom": ask.fields.mushroom.word(),
            "passed": passed.get(..passed.len().min(SAID_MAX)), "passed_n": passed.len(),
            "conifer": super::is_conifer(conn, &ask.fields)?,
        });
        Ok(Plan::new(changes, said))
    })
}

/// A fault of one size names which.
fn placed(error: Error, at: i64) -> Error {
    match error {
        Error::Invalid { field, why, mut detail } if field == "d_mm" || field == "length_mm" => {
            detail.insert("at".into(), json!(at));
            Error::Invalid { field, why, detail }
        }
        other => other,
    }
}
