//! A yard of any size, for proofs and benches: logs and entries by the book's own way to write, many to an act.
//! Never a yard to learn from: its lives follow from a counter, not from trade.
//! Invariant: the same numbers give the same yard but for its ids, and everything in it was an act.

use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Change, Clock, Intent, Plan};
use shadeyard_backend::commands;
use shadeyard_backend::error::{Error, Result};
use std::path::Path;
use std::time::Instant;

/// Changes in one act: few enough to stay well within a transaction, many enough not to wait for the disk.
const CHANGES: usize = 4000;
/// When the youngest log was laid and entries end, RFC 3339.
const END: &str = "2026-11-25T12:00:00+01:00";
const DAY_MS: i64 = 86_400_000;
const WOODS: [&str; 6] = ["white-oak", "red-oak", "sugar-maple", "beech", "red-maple", "black-cherry"];
const SPOTS: usize = 40;
const STAGES: [&str; 4] = ["nothing", "pin", "cupped", "opening"];

/// `grow FOLDER [LOGS] [ENTRIES]`: what it made, and how long the first screens take on it.
pub fn grow(words: &[String]) -> Result<Value> {
    let number = |at: usize, usual: usize| match words.get(at) {
        Some(text) => text.parse().map_err(|_| Error::invalid("grow", "number")),
        None => Ok(usual),
    };
    let folder = words.first().ok_or_else(|| Error::invalid("folder", "empty"))?;
    let (logs, entries) = (number(1, 10_000)?, number(2, 1_000_000)?);
    let started = Instant::now();
    let book = commands::open(Path::new(folder), Clock::fixed(END)?)?;
    let ids = things(&book, logs)?;
    weather(&book)?;
    record(&book, &ids, entries)?;
    let grown = started.elapsed().as_secs_f64();
    Ok(json!({"logs": logs, "entries": entries, "grown_s": rounded(grown), "screens_ms": screens(&book)?}))
}

/// The median of five calls of each main screen, milliseconds.
fn screens(book: &Book) -> Result<Value> {
    let mut all = serde_json::Map::new();
    for (name, request) in [
        ("chores_show", json!({})),
        ("yard_list", json!({"search": ""})),
        ("tank_show", json!({})),
        ("moisture_list", json!({})),
        ("weather_show", json!({})),
    ] {
        let mut times = Vec::new();
        for _ in 0..5 {
            let started = Instant::now();
            commands::dispatch(book, name, request.clone(), None)?;
            times.push(started.elapsed().as_secs_f64() * 1000.0);
        }
        times.sort_by(f64::total_cmp);
        all.insert(name.to_owned(), json!(rounded(times[2])));
    }
    Ok(Value::Object(all))
}

fn rounded(x: f64) -> f64 {
    (x * 10.0).round() / 10.0
}

/// Spots, strains and logs.
fn things(book: &Book, logs: usize) -> Result<Vec<String>> {
    let mut batch = Batch::new(book);
    let mut spots = Vec::new();
    for n in 0..SPOTS {
        let id = book.new_id().to_string();
        batch.add(Change::set("spot", &id, "name", format!("Row {n:02}")))?;
        batch.add(Change::set("spot", &id, "walk", n))?;
        batch.add(Change::set("spot", &id, "rain", ["all", "some", "none"][n % 3]))?;
        spots.push(id);
    }
    let mut strains = Vec::new();
    for (n, class) in ["cold", "warm", "wide"].into_iter().enumerate() {
        let id = book.new_id().to_string();
        batch.add(Change::set("strain", &id, "name", format!("Strain {n}")))?;
        batch.add(Change::set("strain", &id, "mushroom", "shiitake"))?;
        batch.add(Change::set("strain", &id, "class", class))?;
        strains.push(id);
    }
    let mut ids = Vec::with_capacity(logs);
    for n in 0..logs {
        let id = book.new_id().to_string();
        let laid = format!("{}-{:02}-{:02}", 2021 + n % 6, 3 + n % 2, 1 + n % 28);
        for (name, value) in [
            ("tag", json!(format!("{:05}", n + 1))),
            ("wood", json!(WOODS[n % WOODS.len()])),
            ("d1_mm", json!(90 + n % 80)),
            ("length_mm", json!(950 + n % 150)),
            ("mushroom", json!("shiitake")),
            ("strain", json!(strains[n % strains.len()])),
            ("method", json!("drilled")),
            ("laid", json!(laid)),
            ("spot", json!(spots[n % spots.len()])),
        ] {
            batch.add(Change::set("log", &id, name, value))?;
        }
        ids.push(id);
    }
    batch.write()?;
    Ok(ids)
}

fn weather(book: &Book) -> Result<()> {
    let mut batch = Batch::new(book);
    let today = book.moment();
    for n in 0..400_i64 {
        let day = day_of(today.ms - n * DAY_MS);
        for (name, value) in [
            ("min_dc", json!(20 - n % 40)),
            ("max_dc", json!(90 + n % 60)),
            ("rain_tenths", json!((n % 9) * 7)),
        ] {
            batch.add(Change::set("weather", &day, name, value))?;
        }
    }
    batch.write()
}

/// Looks, pickings, weighings, waterings and soaks, turn about, over six years.
fn record(book: &Book, ids: &[String], entries: usize) -> Result<()> {
    let mut batch = Batch::new(book);
    let end = book.moment().ms;
    // Log by log: what is known of a log is worked out once an act, and an act of few logs asks for that seldom.
    let of_log = |at: usize| (at..entries).step_by(ids.len());
    for n in (0..ids.len()).flat_map(of_log) {
        let log = &ids[n % ids.len()];
        let back = (n / ids.len()) as i64;
        let ms = end - (1 + (back * 19 + (n % 17) as i64) % 2000) * DAY_MS;
        let (kind, own) = match (n / ids.len() + n) % 10 {
            0..=4 => ("look", json!({"seen": STAGES[n % STAGES.len()]})),
            5 | 6 => ("picking", json!({"grams": 50 + n % 900, "caps": n % 30})),
            7 => ("weighing", json!({"grams": 8000 + n % 9000})),
            8 => ("watering", json!({"litres_tenths": 20})),
            _ => ("soak", json!({"part": if back % 2 == 0 { "in" } else { "out" }, "water_dc": 90})),
        };
        let mut row = json!({"log": log, "day": day_of(ms), "at": ms, "zone": "+01:00", "note": ""});
        if let (Value::Object(row), Value::Object(own)) = (&mut row, own) {
            row.extend(own);
        }
        batch.add(Change::put(kind, &book.new_id(), row))?;
    }
    batch.write()
}

fn day_of(ms: i64) -> String {
    let days = chrono::Days::new(ms.div_euclid(DAY_MS).unsigned_abs());
    chrono::NaiveDate::default().checked_add_days(days).unwrap_or_default().to_string()
}

/// Changes waiting to be written as one act.
struct Batch<'a> {
    book: &'a Book,
    changes: Vec<Change>,
}

impl<'a> Batch<'a> {
    fn new(book: &'a Book) -> Self {
        Self { book, changes: Vec::new() }
    }

    fn add(&mut self, change: Change) -> Result<()> {
        self.changes.push(change);
        if self.changes.len() < CHANGES { Ok(()) } else { self.write_on() }
    }

    fn write_on(&mut self) -> Result<()> {
        let changes = std::mem::take(&mut self.changes);
        let request = self.book.new_id().to_string();
        let intent = Intent { name: "grow", request: &request, draft: None };
        let n = changes.len();
        self.book.act(intent, |_| Ok(Plan::new(changes, json!({"n": n})))).map(drop)
    }

    fn write(mut self) -> Result<()> {
        if self.changes.is_empty() { Ok(()) } else { self.write_on() }
    }
}
