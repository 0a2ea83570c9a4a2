//! Writes the plan into a register, the way the app does: by its commands, one after the other.
//! Never into the register's files or tables.
//! Invariant: a refused command ends the build; nothing planned is left out silently.

use crate::calendar::Calendar;
use crate::chance::Chance;
use crate::growth;
use crate::inputs::{Inputs, LogLine};
use crate::seasons::{Deed, Picked, Step, Stop};
use chrono::{DateTime, Datelike, FixedOffset, NaiveDate, TimeDelta};
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
    /// Register ids of strains, batches and lots, by kind and name.
    supplies: BTreeMap<String, String>,
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
        let (ids, supplies, spots_in_order, now) = (BTreeMap::new(), BTreeMap::new(), false, first.at);
        let mut keeping =
            Self { book, clock, inputs, calendar, pictures, ids, supplies, requests, spots_in_order, now };
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
        let baskets = basket_days(steps);
        for (n, step) in steps.iter().enumerate() {
            self.now = step.at;
            self.clock.set(&self.now.to_rfc3339())?;
            match (&step.deed, baskets.get(&step.at.date_naive())) {
                (Deed::Pick { .. }, Some(day)) => self.pick_into_basket(steps, day, n)?,
                (deed, _) => self.deed(deed)?,
            }
            if !self.spots_in_order && !matches!(step.deed, Deed::Enter { .. } | Deed::Upkeep { .. }) {
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

    pub(crate) fn inputs(&self) -> &'a Inputs {
        self.inputs
    }

    /// An input's date as the register writes it.
    pub(crate) fn date(&self, text: &str) -> String {
        self.calendar.date(text)
    }

    /// The id of a strain, batch or lot that is in the register.
    pub(crate) fn supplied(&self, key: &str) -> Option<String> {
        self.supplies.get(key).cloned()
    }

    /// Remembers it.
    pub(crate) fn is_supplied(&mut self, key: &str, id: String) {
        self.supplies.insert(key.to_owned(), id);
    }

    pub(crate) fn act(&mut self, name: &str, mut request: Value) -> Result<Value> {
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
                self.supply(line, true)?;
                let fields = self.fields(line, false);
                let log = self.id(*log)?;
                self.act("log_edit", json!({"log": log, "fields": fields})).map(drop)
            }
            Deed::Look { log, seen, note, pictures } => self.look(*log, seen, note, pictures),
            Deed::Pick { log, picked, note, slip } => self.pick(*log, picked, note, *slip),
            Deed::End { log, why } => {
                if why == "discarded" {
                    self.sighting(*log, "trichoderma", "most")?;
                }
                let note = match why.as_str() {
                    "spent" => "falls apart in the hand",
                    "lost" => "gone after the snow slide",
                    "given" => "to the house across the lane, with its care slip",
                    _ => "green mould all over",
                };
                let log = self.id(*log)?;
                self.act("log_end", json!({"log": log, "why": why, "day": null, "note": note})).map(drop)
            }
            Deed::Soak { logs, into } => self.soak(logs, *into),
            Deed::Weigh { log, grams } => {
                let weights = json!([{"log": self.id(*log)?, "grams": grams}]);
                let weigh = json!({"weights": weights, "day": null, "note": "", "sure": false});
                self.done("weigh_add", weigh)
            }
            Deed::Water { spot } => {
                let list = self.ask("spot_list", json!({}))?;
                let spots = list.pointer("/spots").and_then(Value::as_array).cloned().unwrap_or_default();
                let Some(found) = spots.iter().find(|s| s.get("name").and_then(Value::as_str) == Some(spot))
                else {
                    return Ok(());
                };
                let water = json!({"logs": [], "spot": found.get("id"), "litres_tenths": 20, "day": null, "note": ""});
                self.act("water_add", water).map(drop)
            }
            Deed::Disc { tag, wet_g, dry_g } => self.disc(tag, *wet_g, *dry_g),
            Deed::Weather { text } => {
                let take = json!({"text": text, "units": "tenths", "from": null, "over_typed": false});
                self.act("weather_take", take).map(drop)
            }
            Deed::Round { stops, broken_off } => self.round(stops, *broken_off),
            Deed::Upkeep { line } => self.upkeep(*line),
        }
    }

    /// A command that may ask first; this grower asks for nothing unusual.
    fn done(&mut self, name: &str, request: Value) -> Result<()> {
        let reply = self.act(name, request)?;
        let asked = reply.pointer("/asks/0").is_some();
        if asked { Err(Error::Bug(format!("{name} asked first: {reply}"))) } else { Ok(()) }
    }

    fn soak(&mut self, logs: &[usize], into: bool) -> Result<()> {
        let ids = logs.iter().map(|log| self.id(*log)).collect::<Result<Vec<_>>>()?;
        // Still resting, too young: this grower knows, and does it all the same.
        let mut load =
            json!({"logs": ids, "weights": [], "ago_min": 0, "day": null, "note": "", "sure": true});
        if into && let Some(load) = load.as_object_mut() {
            load.insert("water_dc".to_owned(), json!(95));
        }
        self.done(if into { "soak_in" } else { "soak_out" }, load)
    }

    fn disc(&mut self, tag: &str, wet_g: i64, dry_g: i64) -> Result<()> {
        let Some(log) = self.inputs.logs.iter().position(|line| line.tag == tag) else { return Ok(()) };
        let line = self.line(log)?;
        let mut fields = self.fields(line, false);
        let batch = json!({"name": "Oak from the brook", "wood": line.wood, "felled": fields.get("felled"), "source": "",
            "disc_wet_g": null, "disc_dry_g": null, "doubtful": false, "note": ""});
        let batch = text_at(&self.act("batch_set", json!({"batch": null, "fields": batch}))?, "/said/batch")?;
        self.act("disc_set", json!({"batch": batch, "wet_g": wet_g, "dry_g": dry_g}))?;
        let log = self.id(log)?;
        if let Some(fields) = fields.as_object_mut() {
            fields.insert("batch".to_owned(), json!(batch));
        }
        self.act("log_edit", json!({"log": log, "fields": fields})).map(drop)
    }

    fn enter(&mut self, log: usize) -> Result<()> {
        let line = self.line(log)?;
        self.supply(line, line.lay_later.is_empty() && !line.laid.is_empty())?;
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
        let (batch, lot) = self.batch_and_lot(line);
        json!({
            "tag": line.tag, "batch": batch, "lot": lot, "wood": known(&line.wood), "d_mm": d_mm, "length_mm": line.length_mm,
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
        self.act("picking_add", entry(picked.grams))?;
        if let Some(by @ ("mice" | "squirrels" | "birds" | "deer")) = picked.by {
            self.act("sighting_add", sighting(&log, by, None))?;
        }
        Ok(())
    }

    /// A competitor on a log.
    fn sighting(&mut self, log: usize, what: &str, extent: &str) -> Result<()> {
        let log = self.id(log)?;
        self.act("sighting_add", sighting(&log, what, Some(extent))).map(drop)
    }

    /// One picking of a day on which all went into one basket: the first starts the picking round, the last
    /// ends it, and in the kitchen each log's caps are weighed by themselves.
    fn pick_into_basket(&mut self, steps: &[Step], day: &[usize], n: usize) -> Result<()> {
        if day.first() == Some(&n) {
            self.act("round_start", json!({"kind": "picking"}))?;
        }
        let view = self.ask("rounds_show", json!({}))?;
        let round = text_at(&view, "/picking/id")?;
        let Some(Step { deed: Deed::Pick { log, picked, .. }, .. }) = steps.get(n) else { return Ok(()) };
        let log = self.id(*log)?;
        self.act(
            "pick_take",
            json!({"round": round, "log": log, "seen": null, "grams": null, "basket": true, "caps": picked.caps,
                "damaged_pct": picked.damaged_pct, "by": picked.by, "quality": null, "photos": []}),
        )?;
        if day.last() != Some(&n) {
            return Ok(());
        }
        self.act("round_end", json!({"round": round}))?;
        let view = self.ask("rounds_show", json!({}))?;
        let basket = text_at(&view, "/baskets/0/id")?;
        let none = Vec::new();
        let entries = view.pointer("/baskets/0/pickings").and_then(Value::as_array).unwrap_or(&none);
        let mut each = Vec::new();
        for (entry, n) in entries.iter().zip(day) {
            let Some(Step { deed: Deed::Pick { picked, .. }, .. }) = steps.get(*n) else { continue };
            each.push(json!({"entry": text_at(entry, "/entry")?, "grams": picked.grams}));
        }
        self.act("basket_weigh", json!({"basket": basket, "grams": null, "each": each})).map(drop)
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
            let mut check =
                json!({"round": round, "log": log, "how": how, "slugs": stop.slugs, "damage": stop.damage});
            // Worked out from the stop itself, so that no chance is drawn that other parts of the yard draw too.
            if stop.slugs > 0 && !stop.skipped {
                let hid =
                    ["under", "caps", "bark", "litter"][(stop.log + stop.slugs.unsigned_abs() as usize) % 4];
                check["hid"] = json!([hid]);
                check["did"] = json!(if stop.slugs > 6 {
                    vec!["hand_picked", "iron_phosphate"]
                } else {
                    vec!["hand_picked"]
                });
            }
            if stop.slugs == 2 && stop.log % 5 == 0 {
                check["others"] = json!(["beetles"]);
            }
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

impl Keeping<'_> {
    /// A line of `upkeep.csv`.
    fn upkeep(&mut self, line: usize) -> Result<()> {
        let inputs = self.inputs;
        let unreadable = |what: &str| Error::Bug(format!("upkeep.csv: {what}"));
        let upkeep = inputs.upkeep.get(line).ok_or_else(|| unreadable("no such line"))?;
        let words: Vec<&str> = upkeep.what.split(' ').collect();
        let word = |at: usize| words.get(at).filter(|word| **word != "-");
        let mut logs = Vec::new();
        for tag in upkeep.logs.split(' ').filter(|tag| !tag.is_empty()) {
            let log = inputs.logs.iter().position(|log| log.tag == tag).ok_or_else(|| unreadable(tag))?;
            // A log that ended or has not come yet is passed over, whatever year the yard ends in.
            if let Some(id) = self.ids.get(&log) {
                logs.push(id.clone());
            }
        }
        match upkeep.deed.as_str() {
            "spot" => {
                let fields = json!({"name": upkeep.spot, "shade": word(0), "ground": word(1), "water": word(2),
                    "rain": word(3), "winter_sun": word(4) == Some(&"yes"), "heated": word(5) == Some(&"yes"),
                    "note": upkeep.note});
                let spot = self.spot(&upkeep.spot)?;
                self.act("spot_save", json!({"spot": spot, "fields": fields})).map(drop)
            }
            "move" => {
                let spot = self.spot(&upkeep.spot)?;
                let why =
                    json!({"logs": logs, "spot": spot, "why": upkeep.what, "day": null, "note": upkeep.note});
                self.act("log_move", why).map(drop)
            }
            "tend" => {
                let deed = json!({"logs": logs, "what": upkeep.what, "day": null, "note": upkeep.note});
                self.act("tend_add", deed).map(drop)
            }
            "condition" => {
                let log = logs.first().ok_or_else(|| unreadable(&upkeep.logs))?;
                let found = json!({"log": log, "bark": word(0), "cracks": word(1), "wax": word(2), "pecked": word(3),
                    "competitor": word(4), "extent": word(5), "day": null, "photos": [], "note": upkeep.note});
                self.act("condition_add", found).map(drop)
            }
            other => Err(unreadable(other)),
        }
    }

    fn spot(&self, name: &str) -> Result<Option<String>> {
        let list = self.ask("spot_list", json!({}))?;
        let spots = list.pointer("/spots").and_then(Value::as_array).cloned().unwrap_or_default();
        let found = spots.iter().find(|spot| spot.pointer("/name").and_then(Value::as_str) == Some(name));
        found.map(|spot| text_at(spot, "/id")).transpose()
    }
}

fn sighting(log: &str, what: &str, extent: Option<&str>) -> Value {
    json!({"log": log, "spot": null, "what": what, "when": "now", "n": null, "extent": extent, "hid": [], "did": [],
        "photos": [], "note": ""})
}

/// Days of the last year on which all pickings went into one basket: three logs or more, each weighed, none
/// mistyped. The places of their steps, by day.
fn basket_days(steps: &[Step]) -> BTreeMap<NaiveDate, Vec<usize>> {
    let last = steps.last().map_or(0, |step| step.at.year());
    let mut days: BTreeMap<NaiveDate, (Vec<usize>, bool)> = BTreeMap::new();
    for (n, step) in steps.iter().enumerate().filter(|(_, step)| step.at.year() == last) {
        if let Deed::Pick { picked, slip, note, .. } = &step.deed {
            let day = days.entry(step.at.date_naive()).or_insert((Vec::new(), true));
            day.0.push(n);
            day.1 &= picked.grams.is_some() && !slip && note.is_empty();
        }
    }
    let whole = days.into_iter().filter(|(_, (all, fine))| *fine && all.len() >= 3);
    whole.map(|(day, (all, _))| (day, all)).collect()
}

/// The text at a place in a reply.
///
/// # Errors
/// `Bug` when the reply has none there.
pub fn text_at(reply: &Value, pointer: &str) -> Result<String> {
    let text = reply.pointer(pointer).and_then(Value::as_str);
    text.map(str::to_owned).ok_or_else(|| Error::Bug(format!("a reply without {pointer}: {reply}")))
}
