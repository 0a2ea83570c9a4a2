//! Writes the plan into a register, the way the app does: by its commands, one after the other.
//! Never into the register's files or tables.
//! Invariant: a refused command ends the build; nothing planned is left out silently.

use crate::calendar::Calendar;
use crate::chance::Chance;
use crate::growth;
use crate::inputs::{Inputs, LogLine};
use crate::seasons::{Deed, Picked, Step, Stop};
use chrono::{DateTime, FixedOffset, TimeDelta};
use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::{Error, Result};
use std::collections::BTreeMap;
use std::path::Path;

/// The invented place, and whole degrees far from it all.
const PLACE: &str = "Nowhere Hollow";
const LATITUDE: f64 = 46.0;
const LONGITUDE: f64 = 10.0;

/// One register being filled.
pub struct Keeping<'a> {
    book: Book,
    clock: Clock,
    inputs: &'a Inputs,
    calendar: Calendar,
    pictures: BTreeMap<u64, Vec<u8>>,
    /// Register ids by place in `logs.csv`.
    ids: BTreeMap<usize, String>,
    requests: Chance,
    spots_in_order: bool,
    now: DateTime<FixedOffset>,
}

impl<'a> Keeping<'a> {
    /// Opens the register as it was on the day of the first step, and sets it up.
    ///
    /// # Errors
    /// The register's own.
    pub fn open(folder: &Path, inputs: &'a Inputs, calendar: Calendar, first: &Step) -> Result<Self> {
        let clock = Clock::fixed(&first.at.to_rfc3339())?;
        let book = commands::open(folder, clock.clone())?;
        let requests = Chance::named(46, "requests");
        let pictures = BTreeMap::new();
        let (ids, spots_in_order, now) = (BTreeMap::new(), false, first.at);
        let mut keeping =
            Self { book, clock, inputs, calendar, pictures, ids, requests, spots_in_order, now };
        keeping.act(
            "settings_set",
            json!({"place": PLACE, "lat": LATITUDE, "lon": LONGITUDE, "night_after_min": 120}),
        )?;
        Ok(keeping)
    }

    /// Writes all steps.
    ///
    /// # Errors
    /// The first refusal, as the command gave it.
    pub fn write(&mut self, steps: &[Step], pictures: BTreeMap<u64, Vec<u8>>) -> Result<()> {
        self.pictures = pictures;
        for step in steps {
            self.now = step.at;
            self.clock.set(&self.now.to_rfc3339())?;
            self.deed(&step.deed)?;
            if !self.spots_in_order && !matches!(step.deed, Deed::Enter { .. }) {
                self.put_spots_in_order()?;
            }
        }
        Ok(())
    }

    /// One command without a request id.
    ///
    /// # Errors
    /// The command's own.
    pub fn ask(&self, name: &str, request: Value) -> Result<Value> {
        commands::dispatch(&self.book, name, request, None)
    }

    fn act(&mut self, name: &str, mut request: Value) -> Result<Value> {
        let (high, low) = (self.requests.bits(), self.requests.bits());
        // A version 4 UUID in its usual grouping, from this yard's own chance.
        let uuid = format!(
            "{:08x}-{:04x}-4{:03x}-{:04x}-{:012x}",
            high >> 32,
            (high >> 16) & 0xffff,
            high & 0xfff,
            0x8000 | ((low >> 48) & 0x3fff),
            low & 0xffff_ffff_ffff
        );
        if let Some(fields) = request.as_object_mut() {
            fields.insert("request".to_owned(), Value::String(uuid));
        }
        self.ask(name, request)
    }

    fn deed(&mut self, deed: &Deed) -> Result<()> {
        match deed {
            Deed::Enter { log } => self.enter(*log),
            Deed::Lay { log } => {
                let line = self.line(*log)?;
                let fields = self.fields(line, false);
                let log = self.id(*log)?;
                self.act("log_edit", json!({"log": log, "fields": fields})).map(drop)
            }
            Deed::Look { log, seen, note, pictures } => self.look(*log, seen, note, pictures),
            Deed::Pick { log, picked, note, slip } => self.pick(*log, picked, note, *slip),
            Deed::End { log, why } => {
                let note = match why.as_str() {
                    "spent" => "falls apart in the hand",
                    "lost" => "gone after the snow slide",
                    _ => "green mould all over",
                };
                let log = self.id(*log)?;
                self.act("log_end", json!({"log": log, "why": why, "day": null, "note": note})).map(drop)
            }
            Deed::Round { stops, broken_off } => self.round(stops, *broken_off),
        }
    }

    fn enter(&mut self, log: usize) -> Result<()> {
        let line = self.line(log)?;
        let fields = self.fields(line, !line.lay_later.is_empty());
        let done = self.act("log_add", json!({"fields": fields}))?;
        let id = text_at(&done, "/said/log")?;
        self.ids.insert(log, id);
        Ok(())
    }

    fn line(&self, log: usize) -> Result<&'a LogLine> {
        self.inputs.logs.get(log).ok_or_else(|| Error::Bug(format!("no line {log} in logs.csv")))
    }

    fn id(&self, log: usize) -> Result<String> {
        self.ids.get(&log).cloned().ok_or_else(|| Error::Bug(format!("log {log} is not in the register yet")))
    }

    fn fields(&self, line: &LogLine, waiting: bool) -> Value {
        let known = |text: &str| (!text.is_empty()).then(|| self.calendar.date(text));
        let d_mm: Vec<i64> = line.d_mm.split(' ').filter_map(|d| d.parse().ok()).collect();
        let class = growth::class_of(self.inputs, line);
        let shiitake_class = (class != "hericium" && !line.strain.is_empty()).then_some(class);
        json!({
            "tag": line.tag, "wood": known(&line.wood), "d_mm": d_mm, "length_mm": line.length_mm,
            "felled": known(&line.felled), "mushroom": line.mushroom, "strain": known(&line.strain),
            "strain_class": shiitake_class, "spawn": known(&line.spawn), "method": known(&line.method),
            "laid": if waiting { None } else { known(&line.laid) }, "spot": known(&line.spot),
            "note": line.note,
        })
    }

    fn put_spots_in_order(&mut self) -> Result<()> {
        self.spots_in_order = true;
        let list = self.ask("spot_list", json!({}))?;
        let mut ids: Vec<(usize, String)> = Vec::new();
        for spot in list.pointer("/spots").and_then(Value::as_array).unwrap_or(&Vec::new()) {
            let name = text_at(spot, "/name")?;
            let place = self.inputs.spots.iter().position(|s| s.name == name);
            ids.push((place.unwrap_or(usize::MAX), text_at(spot, "/id")?));
        }
        ids.sort();
        let ids: Vec<String> = ids.into_iter().map(|(_, id)| id).collect();
        self.act("spot_order", json!({"spots": ids})).map(drop)
    }

    fn look(&mut self, log: usize, seen: &str, note: &str, pictures: &[u64]) -> Result<()> {
        let mut hashes = Vec::new();
        for seed in pictures {
            let jpeg =
                self.pictures.remove(seed).ok_or_else(|| Error::Bug("a picture was not drawn".to_owned()))?;
            let kept = commands::dispatch(&self.book, "photo_keep", json!({}), Some(jpeg))?;
            hashes.push(text_at(&kept, "/hash")?);
        }
        let log = self.id(log)?;
        self.act("look_add", json!({"log": log, "seen": seen, "photos": hashes, "note": note})).map(drop)
    }

    fn pick(&mut self, log: usize, picked: &Picked, note: &str, slip: bool) -> Result<()> {
        let log = self.id(log)?;
        let entry = |grams: Option<i64>| {
            json!({
                "log": log, "day": null, "grams": grams, "caps": picked.caps,
                "damaged_pct": picked.damaged_pct, "by": picked.by, "note": note,
            })
        };
        if slip {
            self.act("picking_add", entry(picked.grams.map(|grams| grams * 10)))?;
            self.act("undo", json!({"act": null}))?;
        }
        self.act("picking_add", entry(picked.grams)).map(drop)
    }

    /// The next log of a round is a minute further.
    fn walk_on(&mut self) -> Result<()> {
        self.now = self.now.checked_add_signed(TimeDelta::seconds(75)).unwrap_or(self.now);
        self.clock.set(&self.now.to_rfc3339())
    }

    fn round(&mut self, stops: &[Stop], broken_off: bool) -> Result<()> {
        let done = self.act("round_start", json!({}))?;
        let round = text_at(&done, "/said/round")?;
        for stop in stops {
            self.walk_on()?;
            let log = self.id(stop.log)?;
            let how = if stop.skipped { "skipped" } else { "seen" };
            let check =
                json!({"round": round, "log": log, "how": how, "slugs": stop.slugs, "damage": stop.damage});
            self.act("round_check", check)?;
        }
        let show = self.ask("round_show", json!({"round": round}))?;
        let none = Vec::new();
        let spots = show.pointer("/spots").and_then(Value::as_array).unwrap_or(&none);
        let walked = if broken_off { spots.len() / 2 } else { spots.len() };
        for spot in spots.iter().take(walked) {
            self.walk_on()?;
            if spot.pointer("/left").and_then(Value::as_i64) != Some(0) {
                let spot_id = spot.pointer("/spot_id").cloned().unwrap_or(Value::Null);
                self.act("round_spot_clean", json!({"round": round, "spot_id": spot_id}))?;
            }
        }
        self.act("round_end", json!({"round": round})).map(drop)
    }
}

/// The text at a place in a reply.
///
/// # Errors
/// `Bug` when the reply has none there.
pub fn text_at(reply: &Value, pointer: &str) -> Result<String> {
    let text = reply.pointer(pointer).and_then(Value::as_str);
    text.map(str::to_owned).ok_or_else(|| Error::Bug(format!("a reply without {pointer}: {reply}")))
}
