//! Hericium on a log: a knob, then a beard of spines that lengthens and at last yellows.
//! Never the log, never shiitake.
//! Invariant: spines hang straight down, however the log lies.

use super::canvas::{Canvas, Frame, Ink, light, noise, smooth};
use super::log::Log;
use crate::chance::Chance;
use std::f32::consts::TAU;

/// What a stage looks like.
#[derive(Clone, Copy)]
struct Look {
    radius: (f32, f32),
    /// Length of the longest spines, as a share of the radius.
    spine: f32,
    /// How far it has turned yellow, 0…1.
    age: f32,
}

fn look_of(stage: &str) -> Option<Look> {
    let look = |radius, spine, age| Look { radius, spine, age };
    Some(match stage {
        "knob" => look((66.0, 84.0), 0.0, 0.0),
        "short_spines" => look((104.0, 124.0), 0.30, 0.0),
        "long_spines" => look((124.0, 146.0), 0.72, 0.05),
        "yellowing" => look((126.0, 148.0), 0.78, 1.0),
        _ => return None,
    })
}

struct Clump {
    middle: (f32, f32),
    radius: f32,
    grain: u32,
    look: Look,
}

/// Draws one or two clumps at a stage; other words leave the log bare.
pub fn grow(canvas: &mut Canvas, log: &Log, stage: &str, chance: &mut Chance) {
    let Some(look) = look_of(stage) else { return };
    let clumps = chance.whole(1, 2);
    for n in 0..clumps {
        let back = 210.0 + 250.0 * n as f32 + chance.span(-30.0, 50.0);
        let across = chance.span(-0.30, 0.20) + if n == 1 { 0.12 } else { 0.0 };
        let radius = chance.span(look.radius.0, look.radius.1) * if n == 1 { 0.74 } else { 1.0 };
        let clump = Clump { middle: log.at(back, across), radius, grain: chance.bits() as u32, look };
        clump.draw(canvas, chance);
    }
}

impl Clump {
    fn draw(&self, canvas: &mut Canvas, chance: &mut Chance) {
        let ((x, y), r) = (self.middle, self.radius);
        let hang = r * self.look.spine;
        let shade = (Ink(0.02, 0.02, 0.015), 0.42);
        canvas.disc((x - r * 0.10, y + r * 0.22 + hang * 0.4), r * 1.0, r * 0.8, shade);
        canvas.disc((x - r * 0.05, y + r * 0.35 + hang * 0.6), r * 0.75, r * 0.8, shade);
        if self.look.spine > 0.0 {
            self.lobes(canvas, chance, 34);
            self.spines(canvas, chance);
        } else {
            self.lobes(canvas, chance, 26);
        }
    }

    fn flesh(&self, tip: f32, worn: f32) -> Ink {
        let fresh = Ink(0.95, 0.91, 0.82);
        let old = Ink(0.86, 0.70, 0.40).towards(Ink(0.62, 0.42, 0.20), tip * 0.8 + worn * 0.25);
        fresh.lit(0.93 + 0.1 * worn).towards(old, self.look.age * (0.55 + 0.45 * worn))
    }

    /// The lumpy body the spines hang from.
    fn lobes(&self, canvas: &mut Canvas, chance: &mut Chance, count: i64) {
        let squat = 0.74;
        let mut lobes: Vec<(f32, f32, f32)> = (0..count)
            .map(|_| {
                let (sin, cos) = chance.span(0.0, TAU).sin_cos();
                let out = chance.span(0.0, 0.72).sqrt() * 0.85;
                (cos * out, sin * out * squat, chance.span(0.20, 0.34))
            })
            .collect();
        lobes.sort_by(|a, b| (a.2 + a.1 * 0.2).total_cmp(&(b.2 + b.1 * 0.2)));
        for (lx, ly, size) in lobes {
            let at = (self.middle.0 + lx * self.radius, self.middle.1 + ly * self.radius);
            self.lobe(canvas, at, size * self.radius, (lx, ly / squat));
        }
    }

    fn lobe(&self, canvas: &mut Canvas, (x, y): (f32, f32), size: f32, (bx, by): (f32, f32)) {
        canvas.paint(Frame::around(x, y, size), |px, py| {
            let (u, v) = ((px - x) / size, (py - y) / size);
            let away = u * u + v * v;
            if away >= 1.0 {
                return None;
            }
            let fuzz = noise(px / 5.0, py / 5.0, self.grain);
            let round = (1.0 - away).sqrt();
            let (nx, ny) = (0.45 * u + 0.55 * bx, 0.45 * v + 0.6 * by);
            let fold = 0.68 + 0.32 * smooth(0.0, 0.55, round);
            let ink = self.flesh(0.0, fuzz).lit(fold * (0.9 + 0.14 * fuzz));
            Some((ink.under(light(nx, ny, 0.45 + 0.5 * round)), ((1.0 - away) * size * 0.5).min(1.0)))
        });
    }

    /// The lowest spines first: each row hangs over the roots of the one below.
    fn spines(&self, canvas: &mut Canvas, chance: &mut Chance) {
        let rows = 19;
        for row in 0..rows {
            let down = 0.92 - 1.74 * row as f32 / (rows - 1) as f32;
            let half = (1.0 - down * down).max(0.0).sqrt();
            for n in 0..(half * 36.0) as i64 + 2 {
                let place = (n as f32 + chance.span(0.0, 1.0)) / ((half * 36.0).floor() + 2.0);
                self.hang((place * 2.0 - 1.0) * half, down, canvas, chance);
            }
        }
    }

    /// One spine from a spot on the ball, `side` and `down` −1…1.
    fn hang(&self, side: f32, down: f32, canvas: &mut Canvas, chance: &mut Chance) {
        let r = self.radius;
        let bulge = (1.0 - side * side - down * down).max(0.0).sqrt();
        let low = smooth(-0.9, 0.5, down);
        let length = r * (0.12 + self.look.spine * low * chance.span(0.70, 1.0)) * (0.75 + 0.3 * bulge);
        let squat = 0.80;
        let root = (
            self.middle.0 + side * r,
            self.middle.1 + (down * squat + 0.08 * bulge) * r + chance.span(-5.0, 5.0),
        );
        let lean = side * (1.0 - low) * r * 0.16 + side * length * 0.05 + chance.span(-2.5, 2.5);
        self.spine(canvas, root, (length, lean), (side, down * 0.95, 0.3 + 0.65 * bulge), chance);
    }

    fn spine(
        &self,
        canvas: &mut Canvas,
        (x, y): (f32, f32),
        (length, lean): (f32, f32),
        facing: (f32, f32, f32),
        chance: &mut Chance,
    ) {
        let thick = self.radius * 0.036 * chance.span(0.85, 1.2) + 1.0;
        let worn = chance.span(0.0, 1.0);
        let frame = Frame {
            x0: x - thick - lean.abs(),
            y0: y - thick,
            x1: x + thick + lean.abs(),
            y1: y + length + 1.0,
        };
        canvas.paint(frame, |px, py| {
            let t = (py - y) / length;
            let width = thick * (1.0 - t.max(0.0).powf(1.7)).max(0.0).sqrt();
            let across = px - x - lean * t.max(0.0).powi(2);
            let edge = if t < 0.0 {
                thick - (across.powi(2) + (py - y).powi(2)).sqrt()
            } else {
                width - across.abs()
            };
            if edge <= 0.0 || width <= 0.2 {
                return None;
            }
            let v = (across / width).clamp(-1.0, 1.0);
            let ink = self.flesh(t.max(0.0), worn).lit(0.66 + 0.34 * smooth(-0.1, 0.45, t));
            let side = 1.0 - 0.42 * smooth(0.35, 1.0, v.abs());
            Some((
                ink.under(light(facing.0 * 0.6 + v * 0.3, facing.1 * 0.6, facing.2)).lit(side),
                edge.min(1.0),
            ))
        });
    }
}
