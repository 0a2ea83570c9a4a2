//! From what the grower says of a log to the columns it is kept in: strains and spots by name.
//! Never checks what was said, and never writes: new strains and spots come out as changes.
//! Invariant: within one `Naming`, the same name is the same strain or spot, also a new one.

use super::rules::LogFields;
use crate::book::Change;
use crate::error::{Error, Result};
use crate::ids::Id;
use crate::spots::rows as spots;
use crate::strains::rows as strains;
use crate::strains::rules::{Mushroom, StrainClass};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::collections::HashMap;

/// A nameless strain is known by its class, a named one by its name alone.
type StrainKey = (Mushroom, String, Option<StrainClass>);

/// Finds strains and spots by name in the register and among those that it made itself.
pub struct Naming<'a> {
    conn: &'a Connection,
    new_id: &'a dyn Fn() -> Id,
    strains: HashMap<StrainKey, (String, Option<StrainClass>)>,
    spots: HashMap<String, String>,
    walk: Option<i64>,
    /// What has to be written so that the names exist.
    pub changes: Vec<Change>,
}

impl<'a> Naming<'a> {
    /// Names as the register has them now.
    pub fn new(conn: &'a Connection, new_id: &'a dyn Fn() -> Id) -> Self {
        let (strains, spots) = (HashMap::new(), HashMap::new());
        Self { conn, new_id, strains, spots, walk: None, changes: Vec::new() }
    }

    /// A log's columns and values.
    ///
    /// # Errors
    /// The register's own.
    pub fn columns(&mut self, fields: &LogFields) -> Result<Vec<(&'static str, Value)>> {
        self.known(fields)?;
        let strain = self.strain(fields)?;
        let spot = fields.spot.as_deref().map(|name| self.spot(name)).transpose()?;
        let d = |n: usize| json!(fields.d_mm.get(n));
        Ok(vec![
            ("tag", json!(fields.tag)),
            ("wood", json!(fields.wood)),
            ("d1_mm", d(0)),
            ("d2_mm", d(1)),
            ("d3_mm", d(2)),
            ("length_mm", json!(fields.length_mm)),
            ("felled", json!(fields.felled)),
            ("mushroom", fields.mushroom.into()),
            ("strain", json!(strain)),
            ("spawn", json!(fields.spawn)),
            ("method", json!(fields.method)),
            ("laid", json!(fields.laid)),
            ("spot", json!(spot)),
            ("batch", json!(fields.batch)),
            ("lot", json!(fields.lot)),
            ("note", json!(fields.note)),
        ])
    }

    /// What is named by its id must be in the register; what was taken out still is.
    fn known(&self, fields: &LogFields) -> Result<()> {
        let there = |sql: &str, id: &str| -> Result<bool> {
            Ok(self.conn.prepare_cached(sql)?.query_row([id], |r| r.get(0))?)
        };
        let unknown = |field, id: &str| Err(Error::invalid_with(field, "unknown_word", json!({"word": id})));
        if let Some(id) = &fields.wood
            && crate::woods::rules::wood(id).is_none()
            && !there("SELECT EXISTS(SELECT 1 FROM wood WHERE id = ?1)", id)?
        {
            return unknown("wood", id);
        }
        if let Some(id) = &fields.batch
            && !there("SELECT EXISTS(SELECT 1 FROM batch WHERE id = ?1)", id)?
        {
            return unknown("batch", id);
        }
        if let Some(id) = &fields.lot
            && !there("SELECT EXISTS(SELECT 1 FROM lot WHERE id = ?1)", id)?
        {
            return unknown("lot", id);
        }
        Ok(())
    }

    fn strain(&mut self, fields: &LogFields) -> Result<Option<String>> {
        let (name, class) = (fields.strain.as_deref(), fields.strain_class);
        if name.is_none() && class.is_none() {
            return Ok(None);
        }
        let name = name.unwrap_or_default();
        // As SQLite's NOCASE counts letters alike.
        let key = (fields.mushroom, name.to_ascii_lowercase(), class.filter(|_| name.is_empty()));
        let (id, known) = match self.strains.get(&key) {
            Some(found) => found.clone(),
            None => self.strain_kept(fields.mushroom, name, class)?,
        };
        if class.is_some() && class != known {
            self.changes.push(Change::set("strain", &id, "class", json!(class.map(StrainClass::word))));
        }
        self.strains.insert(key, (id.clone(), class.or(known)));
        Ok(Some(id))
    }

    fn strain_kept(
        &mut self,
        mushroom: Mushroom,
        name: &str,
        class: Option<StrainClass>,
    ) -> Result<(String, Option<StrainClass>)> {
        if let Some((id, known, void)) = strains::find(self.conn, mushroom, name, class)? {
            if void {
                self.changes.push(Change::set("strain", &id, "void", json!(0)));
            }
            return Ok((id, known));
        }
        let id = (self.new_id)().to_string();
        let mut set = |name: &str, value: Value| self.changes.push(Change::set("strain", &id, name, value));
        set("name", json!(name));
        set("mushroom", json!(mushroom.word()));
        set("class", json!(class.map(StrainClass::word)));
        Ok((id, class))
    }

    fn spot(&mut self, name: &str) -> Result<String> {
        let key = name.to_ascii_lowercase();
        if let Some(id) = self.spots.get(&key) {
            return Ok(id.clone());
        }
        let id = match spots::find(self.conn, name)? {
            Some((id, void)) => {
                if void {
                    self.changes.push(Change::set("spot", &id, "void", 0));
                }
                id
            }
            None => self.spot_made(name)?,
        };
        self.spots.insert(key, id.clone());
        Ok(id)
    }

    fn spot_made(&mut self, name: &str) -> Result<String> {
        let id = (self.new_id)().to_string();
        let walk = match self.walk {
            Some(last) => last + 1,
            None => spots::next_walk(self.conn)?,
        };
        self.walk = Some(walk);
        self.changes.push(Change::set("spot", &id, "name", name));
        self.changes.push(Change::set("spot", &id, "walk", walk));
        Ok(id)
    }
}
