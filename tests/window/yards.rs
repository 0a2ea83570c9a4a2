//! Yards to open the window on, laid through the backend's own commands.
//!
//! Never here: a real yard; tags, spots and figures are invented. Invariant: a yard is closed again before
//! the window opens it, since only one at a time may hold it.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use shadeyard_backend::{
    book::{Book, Clock},
    commands,
};

/// An evening in October, an hour after dark where the clocks show +02:00.
pub const EVENING: &str = "2026-10-03T21:00:00+02:00";

/// A folder with a yard in it, gone with the test.
pub struct Yard {
    folder: tempfile::TempDir,
}

impl Yard {
    /// A folder with nothing in it yet.
    pub fn empty() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder for a yard") }
    }

    /// Six logs on two spots and one that lies nowhere in particular, all old enough to fruit.
    pub fn of_seven() -> Self {
        let yard = Self::empty();
        yard.at("2026-10-03T12:00:00+02:00", |book| {
            for (tag, wood, mushroom, spot) in [
                ("1", "red-oak", "shiitake", Some("Ditch")),
                ("2", "red-oak", "shiitake", Some("Ditch")),
                ("3", "sweetgum", "shiitake", Some("Ditch")),
                ("4", "red-oak", "shiitake", Some("Under the hemlocks")),
                ("5", "sugar-maple", "erinaceus", Some("Under the hemlocks")),
                ("6", "sugar-maple", "erinaceus", Some("Under the hemlocks")),
                ("7", "beech", "americanum", None),
            ] {
                ask(
                    book,
                    "log_add",
                    json!({"fields": fields(tag, wood, mushroom, spot), "request": request(), "draft": null}),
                );
            }
        });
        yard
    }

    /// Forty logs on two spots, twenty each; six of them with caps at six stages.
    pub fn of_forty() -> Self {
        let yard = Self::empty();
        yard.at("2026-10-03T12:00:00+02:00", |book| {
            for tag in 1..=40 {
                let spot = if tag <= 20 { "Ditch" } else { "Under the hemlocks" };
                let new = fields(&tag.to_string(), "red-oak", "shiitake", Some(spot));
                let done = ask(book, "log_add", json!({"fields": new, "request": request(), "draft": null}));
                let seen = match tag {
                    3 => "pin",
                    8 => "button",
                    15 => "cupped",
                    22 => "opening",
                    31 => "flat",
                    38 => "cupped",
                    _ => continue,
                };
                let look = json!({"log": done["said"]["log"], "seen": seen, "photos": [], "note": "", "request": request(),
                    "draft": null});
                ask(book, "look_add", look);
            }
        });
        yard
    }

    /// The same yard on a second device, which has everything the first one had.
    pub fn on_two_devices(shared: &Path) -> (Self, Self) {
        let (mine, theirs) = (Self::of_seven(), Self::empty());
        mine.at("2026-10-03T13:00:00+02:00", |book| merge(book, shared));
        theirs.at("2026-10-03T13:01:00+02:00", |book| merge(book, shared));
        (mine, theirs)
    }

    /// Its folder.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Works on the register itself, while no window holds it.
    pub fn at<T>(&self, clock: &str, work: impl FnOnce(&Book) -> T) -> T {
        let clock = Clock::fixed(clock).expect("an hour");
        let book = commands::open(self.folder(), clock).expect("the yard opens");
        work(&book)
    }

    /// The id of the log with this tag.
    pub fn log(&self, tag: &str) -> String {
        self.at(EVENING, |book| {
            let list = ask(book, "yard_list", json!({"search": tag}));
            let logs = list["logs"].as_array().expect("a list of logs");
            let log = logs.iter().find(|log| log["tag"] == tag).expect("a log with this tag");
            log["id"].as_str().expect("an id").to_owned()
        })
    }
}

/// Asks one command.
pub fn ask(book: &Book, name: &str, request: Value) -> Value {
    match commands::dispatch(book, name, request, None) {
        Ok(reply) => reply,
        Err(err) => panic!("{name}: {}", err.reply()),
    }
}

/// Begins long work and waits for its end; returns its last view.
pub fn done(book: &Book, name: &str, request: Value) -> Value {
    let job = ask(book, name, request)["job"].clone();
    let until = std::time::Instant::now() + std::time::Duration::from_secs(60);
    loop {
        let view = ask(book, "job_show", json!({"job": job}));
        if view["state"] != "running" {
            assert_eq!(view["state"], "done", "{name}: {view}");
            return view;
        }
        assert!(std::time::Instant::now() < until, "{name} ends: {view}");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
}

/// Meets the others in this folder.
pub fn merge(book: &Book, shared: &Path) {
    done(book, "merge_do", json!({"folder": shared, "request": request()}));
}

/// A picking of today, weighed.
pub fn pick(book: &Book, log: &str, grams: u32) {
    let picking = json!({"log": log, "day": null, "grams": grams, "caps": null, "damaged_pct": null, "by": null,
        "note": "", "request": request(), "draft": null});
    ask(book, "picking_add", picking);
}

/// A request id, as a form makes one.
pub fn request() -> String {
    use std::sync::atomic::{AtomicU32, Ordering};
    static NEXT: AtomicU32 = AtomicU32::new(1);
    format!("00000000-0000-4000-8000-{:012}", NEXT.fetch_add(1, Ordering::Relaxed))
}

fn fields(tag: &str, wood: &str, mushroom: &str, spot: Option<&str>) -> Value {
    json!({
        "tag": tag, "wood": wood, "d_mm": [120], "length_mm": 1000, "felled": "2024-02", "mushroom": mushroom,
        "strain": null, "strain_class": null, "spawn": "sawdust", "method": "drilled", "laid": "2024-03-20",
        "spot": spot, "note": "",
    })
}

/// A picture as a phone would take one: rings and bark, so that no two are the same.
pub fn photo(folder: &Path, name: &str, tint: u8) -> PathBuf {
    let file = folder.join(name);
    let picture = image::RgbImage::from_fn(1200, 900, |x, y| {
        let ring = (f64::from(x) - 600.0).hypot(f64::from(y) - 450.0) as u32 / 24 % 2;
        image::Rgb([120 + tint, 90 + 40 * ring as u8, 60])
    });
    picture.save_with_format(&file, image::ImageFormat::Jpeg).expect("a photo");
    file
}

/// The tag of a log on its bark with one cap beside it, as a camera would see it.
pub fn tagged(log: &str, cap_mm: f64, seed: u64) -> shadeyard_demo::Scene {
    shadeyard_demo::Scene {
        size: [1600, 1200],
        code_px: 220.0,
        off: [-0.12, -0.1],
        tilt: [18.0, 60.0],
        roll: 6.0,
        cap: Some(shadeyard_demo::Cap { at: [12.0, 52.0], width: cap_mm, proud: 0.0 }),
        seed,
        ..shadeyard_demo::Scene::of(log)
    }
}
