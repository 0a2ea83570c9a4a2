//! Journeys: they speak only the commands' JSON, on a real register, with a clock that stands still.
//! Never a look inside the register's tables.
//! Invariant: each journey makes its own yard and leaves nothing behind.

mod bad_input;
mod baskets;
mod chores;
mod demo;
mod first_logs;
mod flushes;
mod fungi;
mod grown;
mod import;
mod last_night;
mod life;
mod lives;
mod moisture;
mod night;
mod photos;
mod review;
mod rounds;
mod season;
mod spots;
mod taking_back;
mod tank;
mod walking;

use serde_json::{Value, json};
use shadeyard_backend::book::{Book, Clock};
use shadeyard_backend::commands;
use shadeyard_backend::error::Error;
use tempfile::TempDir;

/// A yard in a folder of its own.
pub struct Yard {
    pub folder: TempDir,
    pub clock: Clock,
    book: Option<Book>,
}

impl Yard {
    /// An empty yard on the evening of `2026-10-03`.
    pub fn new() -> Self {
        Self::at("2026-10-03T18:30:00+02:00")
    }

    pub fn at(now: &str) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let clock = Clock::fixed(now).expect("an instant");
        let book = commands::open(folder.path(), clock.clone()).expect("an empty yard opens");
        Self { folder, clock, book: Some(book) }
    }

    pub fn book(&self) -> &Book {
        self.book.as_ref().expect("the yard is open")
    }

    /// Closes the register and opens it again.
    pub fn restart(&mut self) {
        self.book = None;
        self.book = Some(commands::open(self.folder.path(), self.clock.clone()).expect("it opens again"));
    }

    /// Closes the register; what is left is its folder.
    pub fn close(self) -> (TempDir, Clock) {
        drop(self.book);
        (self.folder, self.clock)
    }

    pub fn now(&self, rfc3339: &str) {
        self.clock.set(rfc3339).expect("an instant");
    }

    pub fn attempt(&self, name: &str, request: Value) -> Result<Value, Error> {
        commands::dispatch(self.book(), name, request, None)
    }

    /// Does a command that must work.
    pub fn call(&self, name: &str, request: Value) -> Value {
        self.attempt(name, request.clone()).unwrap_or_else(|e| panic!("{name} {request}: {}", e.reply()))
    }

    /// Does a command that must be refused; returns what the screen gets.
    pub fn refused(&self, name: &str, request: Value) -> Value {
        match self.attempt(name, request) {
            Ok(reply) => panic!("{name} was not refused: {reply}"),
            Err(error) => error.reply(),
        }
    }

    /// A write with a request id of its own; returns `Done`.
    pub fn act(&self, name: &str, request: Value) -> Value {
        self.call(name, asked(request))
    }

    /// Adds a log with only a tag and a mushroom, and what `more` says; returns its id.
    pub fn log(&self, tag: &str, more: Value) -> String {
        let done = self.act("log_add", json!({"fields": fields(tag, more)}));
        text(&done["said"]["log"])
    }

    pub fn keep_photo(&self, bytes: Vec<u8>) -> Result<Value, Error> {
        commands::dispatch(self.book(), "photo_keep", Value::Null, Some(bytes))
    }
}

/// The request with a fresh request id.
pub fn asked(mut request: Value) -> Value {
    request["request"] = json!(uuid());
    request
}

pub fn uuid() -> String {
    use std::sync::atomic::{AtomicU64, Ordering};
    static NEXT: AtomicU64 = AtomicU64::new(1);
    format!("00000000-0000-4000-8000-{:012x}", NEXT.fetch_add(1, Ordering::SeqCst))
}

/// All fields of a log, empty but for tag and mushroom and what `more` says.
pub fn fields(tag: &str, more: Value) -> Value {
    let mut all = json!({"tag": tag, "wood": null, "d_mm": [], "length_mm": null, "felled": null,
        "mushroom": "shiitake", "strain": null, "strain_class": null, "spawn": null, "method": null,
        "laid": "XXXX", "spot": null, "note": "", "batch": null, "lot": null});
    for (name, value) in more.as_object().into_iter().flatten() {
        all[name] = value.clone();
    }
    all
}

pub fn text(value: &Value) -> String {
    value.as_str().unwrap_or_else(|| panic!("not a text: {value}")).to_owned()
}

/// A small drawn JPEG, different for each `shade`.
pub fn jpeg(width: u32, height: u32, shade: u8) -> Vec<u8> {
    encoded(width, height, shade, image::ImageFormat::Jpeg)
}

pub fn encoded(width: u32, height: u32, shade: u8, format: image::ImageFormat) -> Vec<u8> {
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        image::Rgb([shade, u8::try_from(x % 256).unwrap_or(0), u8::try_from(y % 256).unwrap_or(0)])
    });
    let mut out = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut out, format).expect("a picture is encoded");
    out.into_inner()
}
