//! Shiitake on a log, from pins to upturned caps.
//! Never the log, never Hericium.
//! Invariant: a later stage is never drawn smaller than an earlier one.

use super::canvas::{Canvas, Frame, Ink, lattice, light, noise, smooth};
use super::log::Log;
use crate::chance::Chance;

/// What a stage looks like.
#[derive(Clone, Copy)]
struct Look {
    radius: (f32, f32),
    count: (i64, i64),
    /// Height of the dome above the rim, as a share of the radius.
    dome: f32,
    /// How much of the rim is seen below it, as a share of the radius.
    rim: f32,
    /// Width of the pale band where the rim has rolled open.
    open: f32,
    stem: f32,
}

fn look_of(stage: &str) -> Option<Look> {
    let look = |radius, count, dome, rim, open, stem| Look { radius, count, dome, rim, open, stem };
    Some(match stage {
        "pin" => look((13.0, 22.0), (11, 17), 0.95, 0.55, 0.0, 0.2),
        "button" => look((44.0, 58.0), (7, 10), 0.92, 0.36, 0.0, 0.75),
        "cupped" => look((78.0, 94.0), (5, 7), 0.68, 0.34, 0.05, 0.75),
        "opening" => look((98.0, 116.0), (4, 5), 0.48, 0.32, 0.13, 0.75),
        "flat" => look((122.0, 138.0), (3, 5), 0.20, 0.34, 0.07, 0.70),
        "upturned" => look((128.0, 146.0), (3, 4), 0.24, 0.42, 0.0, 0.65),
        _ => return None,
    })
}

struct Cap {
    root: (f32, f32),
    rim: (f32, f32),
    radius: f32,
    tilt: f32,
    grain: u32,
    tone: Ink,
}

/// Draws one flush at a stage; other words leave the log bare.
pub fn grow(canvas: &mut Canvas, log: &Log, stage: &str, chance: &mut Chance) {
    let Some(look) = look_of(stage) else { return };
    let mut caps: Vec<Cap> =
        (0..chance.whole(look.count.0, look.count.1)).map(|n| place(log, look, n, chance)).collect();
    caps.sort_by(|a, b| a.rim.1.total_cmp(&b.rim.1));
    for cap in &caps {
        shade_below(canvas, cap);
        draw_stem(canvas, cap);
        if stage == "upturned" { draw_upturned(canvas, cap, look) } else { draw_cap(canvas, cap, look) }
    }
}

/// Caps stand in loose bunches along the log, on its upper side.
fn place(log: &Log, look: Look, n: i64, chance: &mut Chance) -> Cap {
    let radius = chance.span(look.radius.0, look.radius.1) * chance.span(0.82, 1.0);
    let room = 640.0 / look.count.1 as f32;
    let back = 110.0 + room * (n as f32 + chance.span(0.15, 0.85));
    let across = chance.span(-0.80, 0.22);
    let root = log.at(back, across);
    let out = radius * look.stem * chance.span(0.85, 1.25);
    let rim = (root.0 + chance.span(-0.35, 0.35) * out, root.1 + out * (across * 0.75 - 0.45));
    let tones = [Ink(0.44, 0.28, 0.17), Ink(0.37, 0.24, 0.15), Ink(0.50, 0.34, 0.21)];
    let tone = tones[(chance.bits() % 3) as usize];
    let tilt = (rim.0 - root.0) / radius * 0.25 + chance.span(-0.10, 0.10);
    Cap { root, rim, radius, tilt, grain: chance.bits() as u32, tone }
}

impl Cap {
    /// Right and up from the middle of the rim, in radii.
    fn local(&self, x: f32, y: f32) -> (f32, f32) {
        let (sin, cos) = self.tilt.sin_cos();
        let (dx, dy) = ((x - self.rim.0) / self.radius, (y - self.rim.1) / self.radius);
        (dx * cos + dy * sin, dx * sin - dy * cos)
    }

    fn frame(&self) -> Frame {
        Frame::around(self.rim.0, self.rim.1, self.radius * 1.25)
    }
}

fn shade_below(canvas: &mut Canvas, cap: &Cap) {
    let (x, y) = cap.root;
    canvas.disc(
        (x - cap.radius * 0.12, y + cap.radius * 0.18),
        cap.radius * 0.62,
        cap.radius * 0.9,
        (Ink(0.02, 0.015, 0.01), 0.72),
    );
}

fn draw_stem(canvas: &mut Canvas, cap: &Cap) {
    let (x0, y0) = cap.root;
    let (dx, dy) = (cap.rim.0 - x0, cap.rim.1 - y0);
    let long = (dx * dx + dy * dy).sqrt().max(1.0);
    let (ux, uy) = (dx / long, dy / long);
    let half = cap.radius * 0.20 + 2.0;
    canvas.paint(Frame::around(x0 + dx / 2.0, y0 + dy / 2.0, long * 0.6 + half * 1.6), |x, y| {
        let along = (x - x0) * ux + (y - y0) * uy;
        let across = (y - y0) * ux - (x - x0) * uy;
        let t = along / long;
        if !(-0.08..=1.05).contains(&t) {
            return None;
        }
        let width = half * (1.25 - 0.35 * t);
        let edge = width - across.abs();
        let v = (across / width).clamp(-1.0, 1.0);
        let thread = 0.86 + 0.2 * noise(across / 2.2, along / 24.0, cap.grain);
        let ink = Ink(0.84, 0.74, 0.58).lit(thread * (0.95 - 0.5 * smooth(0.55, 1.0, t)));
        (edge > 0.0).then(|| (ink.under(light(-uy * v, ux * v, (1.0 - v * v).sqrt())), edge.min(1.0)))
    });
}

fn draw_cap(canvas: &mut Canvas, cap: &Cap, look: Look) {
    canvas.paint(cap.frame(), |x, y| {
        let (u, v) = cap.local(x, y);
        let lump = 1.0 + 0.05 * (noise(u * 2.0 + 4.0, 1.0, cap.grain) - 0.5);
        let u = u / lump;
        if u.abs() >= 1.0 {
            return None;
        }
        let across = (1.0 - u * u).sqrt();
        let (top, low) = (look.dome * across.powf(0.9) + 0.02, -look.rim * across);
        let edge = (top - v).min(v - low) * cap.radius;
        if edge <= 0.0 {
            return None;
        }
        let height = (v - low) / (top - low);
        let ink = if v < low + look.open * across.sqrt() {
            gill_band(cap, u)
        } else {
            skin(cap, look, u, v, height)
        };
        Some((ink, edge.min(1.0)))
    });
}

/// The pale underside that shows once the rim has rolled open.
fn gill_band(cap: &Cap, u: f32) -> Ink {
    let line = 0.80 + 0.2 * (u.asin() * cap.radius * 0.42).sin();
    Ink(0.90, 0.82, 0.64).lit(line).under(light(u * 0.5, 0.35, 0.75))
}

fn skin(cap: &Cap, look: Look, u: f32, v: f32, height: f32) -> Ink {
    // Seen a little from above: the crown of the dome lies where the rim's far side would.
    let crown = look.dome * 0.45;
    let (du, dv) = (u, (v - crown) / (look.dome * 0.55 + look.rim + 0.25));
    let out = (du * du + dv * dv).sqrt();
    let cloud = noise(u * 5.0 + 8.0, v * 5.0 + 8.0, cap.grain);
    let ink = cap.tone.lit(0.62).towards(cap.tone, smooth(0.0, 0.9, out + 0.4 * (cloud - 0.5)));
    let ink = ink.towards(Ink(0.72, 0.56, 0.38), smooth(0.66, 1.0, out) * 0.7);
    let fleck = flecks(cap, u, v) * smooth(0.40, 0.80, out);
    let ink = ink.towards(Ink(0.90, 0.82, 0.68), fleck * 0.72);
    let ny = 0.70 - 1.40 * height.powf(0.85);
    let nz = (1.0 - u * u * 0.8 - ny * ny * 0.6).max(0.05).sqrt();
    let rolled = 1.0 - 0.35 * smooth(0.16, 0.0, height);
    let facing = (u * 0.35 - ny * 0.55 + nz * 0.76) / (u * u + ny * ny + nz * nz).sqrt();
    let wet = smooth(0.86, 1.0, facing);
    ink.under(light(u * 0.8, ny * 0.8, nz))
        .lit(rolled * 1.12)
        .plus(Ink(0.9, 0.85, 0.75).lit(wet * wet * 0.26))
}

/// The white scales of the cap, one to a cell of a grid.
fn flecks(cap: &Cap, u: f32, v: f32) -> f32 {
    let size = 0.13;
    let (gx, gy) = ((u / size).floor() as i32, (v / size * 1.25).floor() as i32);
    let mut best = 0.0_f32;
    for (x, y) in [(gx, gy), (gx - 1, gy), (gx + 1, gy), (gx, gy - 1), (gx, gy + 1)] {
        let luck = |n: u32| lattice(x, y, cap.grain.wrapping_add(n));
        let (mx, my) = ((x as f32 + luck(1)) * size, (y as f32 + luck(2)) * size / 1.25);
        let reach = size * (0.08 + 0.34 * luck(3) * luck(4));
        let away = ((u - mx).powi(2) * 0.7 + (v - my).powi(2) * 1.8).sqrt();
        best = best.max(smooth(reach, reach * 0.5, away));
    }
    best
}

/// A cap gone over: the rim above the middle, the gills in sight.
fn draw_upturned(canvas: &mut Canvas, cap: &Cap, look: Look) {
    canvas.paint(cap.frame(), |x, y| {
        let (u, v) = cap.local(x, y);
        let wave = 0.07 * (noise(u * 3.2 + 6.0, 2.0, cap.grain) - 0.5);
        if u.abs() >= 1.0 {
            return None;
        }
        let across = (1.0 - u * u).sqrt();
        let lift = look.dome + wave;
        let (top, lip) = (lift + 0.20 * across, lift - 0.20 * across);
        let low = lift - (lift + look.rim) * (1.0 - u.abs().powf(2.4)) - 0.02;
        let edge = (top - v).min(v - low.min(lip)) * cap.radius;
        if edge <= 0.0 {
            return None;
        }
        let ink = if v > lip {
            let depth = ((v - lip) / (top - lip)).clamp(0.0, 1.0);
            let worn = noise(u * 9.0, v * 20.0, cap.grain);
            let ink =
                cap.tone.lit(0.62 + 0.35 * worn).towards(Ink(0.86, 0.74, 0.54), flecks(cap, u, v) * 0.5);
            ink.under(light(-u * 0.6, -0.6, 0.5)).lit(0.62 + 0.45 * depth)
        } else {
            gills(cap, u, v, lip - low)
        };
        let bright = smooth(0.035, 0.0, (v - lip).abs()) * smooth(1.0, 0.9, u.abs());
        Some((ink.towards(Ink(0.72, 0.56, 0.36), bright * 0.7), edge.min(1.0)))
    });
}

fn gills(cap: &Cap, u: f32, v: f32, deep: f32) -> Ink {
    let fan = u / (0.30 + 0.70 * smooth(-0.45, 0.25, v)).max(0.2);
    let line = 0.70 + 0.30 * (fan * 46.0).sin().abs();
    let shade = 0.55 + 0.5 * smooth(-0.5, 0.25, v) - 0.12 * deep;
    let old = Ink(0.88, 0.78, 0.58).towards(Ink(0.70, 0.52, 0.32), noise(u * 4.0, v * 4.0, cap.grain) * 0.7);
    old.lit(line * shade).under(light(u * 0.7, 0.1, 0.75))
}
