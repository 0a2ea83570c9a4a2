//! Made-up evenings in a yard, as lines for `yard script`.
//! Never anything a grower could not do from the screens.
//! Invariant: equal seeds give equal scripts, and played on an empty yard no line is refused.

use super::Dice;
use crate::journeys::{fields, jpeg};
use base64::Engine;
use serde_json::{Value, json};
use shadeyard_demo::{Cap, Scene};
use std::path::Path;

/// The lines, from number 1.
pub struct Script {
    pub lines: Vec<Value>,
    dice: Dice,
    /// The lines that added them. Spots alternate, so that none is ever without a log.
    logs: Vec<usize>,
    round: Option<usize>,
}

impl Script {
    /// `length` lines. The last one is a new log, which depends on no other.
    pub fn of(seed: u64, length: usize) -> Self {
        let mut script = Self { lines: Vec::new(), dice: Dice::new(seed), logs: Vec::new(), round: None };
        for _ in 0..4 {
            script.log_add();
        }
        while script.lines.len() < length - 1 {
            script.something();
        }
        script.lines.truncate(length - 1);
        script.log_add();
        script
    }

    /// `count` new logs and nothing else, told apart from another script's by `seed`.
    pub fn of_logs(seed: u64, count: usize) -> Self {
        let mut script = Self { lines: Vec::new(), dice: Dice::new(seed), logs: Vec::new(), round: None };
        for n in 0..count {
            let tag = format!("{seed}-{n}");
            let request = format!("00000000-0000-4000-8{seed:03x}-{n:012x}");
            script.lines.push(json!({"name": "log_add",
                "request": {"fields": fields(&tag, json!({})), "request": request}}));
        }
        script
    }

    /// A large photo kept before each of `count` looks: what needs the most memory.
    pub fn of_photos(count: usize) -> Self {
        let mut script = Self { lines: Vec::new(), dice: Dice::new(0), logs: Vec::new(), round: None };
        script.log_add();
        for n in 0..count {
            script.look_with(jpeg(1600, 1200, u8::try_from(n % 256).expect("a shade")));
        }
        script
    }

    /// Photos of a tag with a cap, its width measured in each, once more, and one of them taken back.
    pub fn of_widths(count: usize) -> Self {
        let mut script = Self { lines: Vec::new(), dice: Dice::new(0), logs: Vec::new(), round: None };
        script.log_add();
        let log = script.log();
        for n in 0..count {
            let scene = Scene {
                size: [500, 400],
                code_px: 100.0,
                cap: Some(Cap { at: [0.0, 40.0], width: 20.0 + n as f64, proud: 0.0 }),
                seed: n as u64 + 1,
                ..Scene::of(crate::photos::LOG)
            };
            let [a, b] = scene.cap_sides().expect("a cap");
            let photo = base64::engine::general_purpose::STANDARD.encode(scene.jpeg(85));
            script.lines.push(json!({"name": "photo_keep", "photo": photo}));
            let hash = format!("@{}/hash", script.lines.len());
            script.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
            for [a, b] in [[a, b], [a, [b[0] + 3.0, b[1]]]] {
                let measured =
                    json!({"log": log, "hash": hash, "a": a, "b": b, "tap_px": 1.0, "proud_mm": null});
                script.act("cap_add", json!({"measured": measured, "cap": 1}));
            }
            if n == 0 {
                script.act("undo", json!({"act": null}));
            }
        }
        script
    }

    /// `count` photos of one log, all of their originals moved out to a folder, half of their bytes at a time.
    pub fn of_moves(count: usize, out: &Path) -> Self {
        let mut script = Self { lines: Vec::new(), dice: Dice::new(0), logs: Vec::new(), round: None };
        script.log_add();
        let mut bytes = 0;
        for n in 0..count {
            let photo = jpeg(120, 90, u8::try_from(40 * n % 256).expect("a shade"));
            bytes += photo.len();
            script.look_with(photo);
        }
        for keep in [bytes / 2, 0] {
            script.act("originals_out", json!({"folder": out, "keep_bytes": keep}));
        }
        script
    }

    pub fn text(&self) -> String {
        self.lines.iter().map(|line| format!("{line}\n")).collect()
    }

    pub fn write(&self, file: &Path) {
        std::fs::write(file, self.text()).expect("a script is written");
    }

    /// A line that writes through an act; returns its number.
    fn act(&mut self, name: &str, mut request: Value) -> usize {
        let number = self.lines.len() + 1;
        request["request"] = json!(format!("00000000-0000-4000-8000-{number:012x}"));
        self.lines.push(json!({"name": name, "request": request}));
        number
    }

    fn log(&mut self) -> Value {
        let line = self.logs[self.dice.below(self.logs.len())];
        json!(format!("@{line}/said/log"))
    }

    fn fields(&self, number: usize, note: &str) -> Value {
        let spot = ["by the spring", "north fence"][number % 2];
        let more = json!({"wood": "white-oak", "spot": spot, "d_mm": [110], "length_mm": 1000,
            "laid": "2024-05", "note": note});
        fields(&(number + 1).to_string(), more)
    }

    fn log_add(&mut self) {
        let added = self.fields(self.logs.len(), "");
        let line = self.act("log_add", json!({"fields": added, "draft": "log:new"}));
        self.logs.push(line);
    }

    fn something(&mut self) {
        match self.dice.below(12) {
            0 => self.log_add(),
            1 => {
                let number = self.dice.below(self.logs.len());
                let log = format!("@{}/said/log", self.logs[number]);
                let note = format!("turned, {}", self.dice.next());
                let changed = self.fields(number, &note);
                self.act("log_edit", json!({"log": log, "fields": changed}));
                self.perhaps_undo();
            }
            2..=4 => self.look(),
            5 | 6 => {
                let (log, grams) = (self.log(), self.dice.below(900));
                let picked = json!({"log": log, "day": null, "grams": grams, "caps": null, "damaged_pct": null,
                    "by": null, "note": ""});
                self.act("picking_add", picked);
                self.perhaps_undo();
            }
            7 => {
                let value = format!("half a form, {}", self.dice.next());
                self.lines.push(json!({"name": "draft_set", "request": {"key": "log:new", "value": value}}));
            }
            _ => self.round(),
        }
    }

    fn look(&mut self) {
        if self.dice.below(2) == 0 {
            let shade = u8::try_from(self.dice.below(256)).expect("a shade");
            if shade % 3 == 0 {
                self.photo_alone(jpeg(96, 72, shade));
            } else {
                self.look_with(jpeg(96, 72, shade));
            }
        } else {
            self.look_at(&[]);
        }
        self.perhaps_undo();
    }

    fn look_with(&mut self, photo: Vec<u8>) {
        let photo = base64::engine::general_purpose::STANDARD.encode(photo);
        self.lines.push(json!({"name": "photo_keep", "photo": photo}));
        self.look_at(&[format!("@{}/hash", self.lines.len())]);
    }

    /// Kept, looked into for a tag, put among the loose photos, and by and by to a log.
    fn photo_alone(&mut self, photo: Vec<u8>) {
        let photo = base64::engine::general_purpose::STANDARD.encode(photo);
        self.lines.push(json!({"name": "photo_keep", "photo": photo}));
        let hash = format!("@{}/hash", self.lines.len());
        self.lines.push(json!({"name": "photo_find", "request": {"hash": hash}}));
        self.act("photo_add", json!({"photos": [{"hash": hash, "log": null}]}));
        let log = self.log();
        self.act("photo_add", json!({"photos": [{"hash": hash, "log": log}]}));
    }

    fn look_at(&mut self, photos: &[String]) {
        let log = self.log();
        self.act("look_add", json!({"log": log, "seen": "pin", "photos": photos, "note": ""}));
    }

    fn perhaps_undo(&mut self) {
        if self.dice.below(4) == 0 {
            self.act("undo", json!({"act": null}));
        }
    }

    fn round(&mut self) {
        let Some(line) = self.round else {
            let line = self.act("round_start", json!({}));
            self.round = Some(line);
            // Before any log was looked at: a spot without one left would be refused.
            let first = format!("@{}/said/log", self.logs[0]);
            self.lines.push(json!({"name": "log_show", "request": {"log": first}}));
            let spot = format!("@{}/row/spot_id", self.lines.len());
            let clean = json!({"round": format!("@{line}/said/round"), "spot_id": spot});
            self.act("round_spot_clean", clean);
            return;
        };
        let round = json!(format!("@{line}/said/round"));
        match self.dice.below(8) {
            0 => {
                self.act("round_end", json!({"round": round}));
                self.round = None;
            }
            _ => {
                let (log, slugs) = (self.log(), self.dice.below(9));
                let check =
                    json!({"round": round, "log": log, "how": "seen", "slugs": slugs, "damage": "some"});
                self.act("round_check", check);
            }
        }
    }
}
