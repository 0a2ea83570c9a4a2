//! The wood at dusk behind every log: trunks, leaf litter, a little sky between the leaves.
//! Never the log itself.
//! Invariant: it is darker than what lies on it, so that caps stand out.

use super::canvas::{Canvas, Frame, HEIGHT, Ink, WIDTH, light, noise, rough, smooth};
use crate::chance::Chance;
use std::f32::consts::TAU;

const HORIZON: f32 = 330.0;

/// Fills the paper with the ground and what stands behind it.
pub fn lay(canvas: &mut Canvas, chance: &mut Chance) {
    let grain = chance.bits() as u32;
    backdrop(canvas, grain);
    sky_between_leaves(canvas, chance);
    for depth in [0.35, 0.6, 1.0] {
        trunks(canvas, chance, depth);
    }
    soil(canvas, grain);
    litter(canvas, chance);
}

fn backdrop(canvas: &mut Canvas, grain: u32) {
    canvas.paint_coarse(Frame { y1: HORIZON + 60.0, ..Frame::whole() }, |x, y| {
        let haze = rough(x / 260.0, y / 160.0, grain, 3);
        let high = Ink(0.13, 0.19, 0.21);
        let low = Ink(0.23, 0.25, 0.20);
        Some((high.towards(low, y / HORIZON).lit(0.55 + 0.7 * haze), 1.0))
    });
}

fn sky_between_leaves(canvas: &mut Canvas, chance: &mut Chance) {
    for _ in 0..42 {
        let at = (chance.span(0.0, WIDTH as f32), chance.span(-20.0, 190.0));
        let radius = chance.span(7.0, 24.0);
        let warm = chance.span(0.0, 1.0);
        let ink = Ink(0.45, 0.58, 0.62).towards(Ink(0.80, 0.62, 0.42), warm * warm);
        canvas.disc(at, radius, radius * 0.7, (ink, chance.span(0.10, 0.34)));
    }
}

/// A row of trunks; the nearer (`depth` 1) the wider and darker.
fn trunks(canvas: &mut Canvas, chance: &mut Chance, depth: f32) {
    for _ in 0..chance.whole(3, 6) {
        let x = chance.span(-40.0, WIDTH as f32 + 40.0);
        let half = chance.span(9.0, 30.0) * (0.4 + depth);
        let lean = chance.span(-0.06, 0.06);
        let foot = HORIZON - 30.0 + 70.0 * depth;
        let grain = chance.bits() as u32;
        let soft = 10.0 - 6.0 * depth;
        let ink = Ink(0.20, 0.23, 0.21).towards(Ink(0.085, 0.08, 0.07), depth);
        let frame = Frame { x0: x - half - 60.0, y0: 0.0, x1: x + half + 60.0, y1: foot + 14.0 };
        canvas.paint(frame, |px, py| {
            let spread = half * (1.0 + 0.5 * smooth(foot - 60.0, foot + 14.0, py));
            let across = px - x - lean * (foot - py);
            let cover = smooth(spread + soft, spread - soft, across.abs());
            let bark = 0.72 + 0.55 * noise(across / 7.0, py / 46.0, grain);
            let round = 0.75 + 0.5 * (across / spread).clamp(-1.0, 1.0);
            (cover > 0.0).then(|| (ink.lit(bark * round), cover * smooth(foot + 14.0, foot - 4.0, py)))
        });
    }
}

fn soil(canvas: &mut Canvas, grain: u32) {
    canvas.paint_coarse(Frame { y0: HORIZON - 50.0, ..Frame::whole() }, |x, y| {
        let near = ((y - HORIZON) / (HEIGHT as f32 - HORIZON)).clamp(0.0, 1.0);
        let clod = rough(x / 46.0, y / 24.0, grain ^ 0x50, 3);
        let ink = Ink(0.15, 0.13, 0.09).towards(Ink(0.26, 0.19, 0.12), near);
        let moss = smooth(0.55, 0.72, rough(x / 190.0, y / 90.0, grain ^ 0x99, 2));
        let ink = ink.towards(Ink(0.13, 0.19, 0.08), moss * 0.75).lit(0.35 + 1.1 * clod);
        let edge = HORIZON - 8.0 + 26.0 * noise(x / 70.0, 3.0, grain);
        Some((ink, smooth(edge - 22.0, edge + 22.0, y)))
    });
}

/// Fallen leaves, far ones first.
fn litter(canvas: &mut Canvas, chance: &mut Chance) {
    let leaves = 620;
    for n in 0..leaves {
        let near = (n as f32 / leaves as f32).powf(0.75);
        let at = (
            chance.span(-30.0, WIDTH as f32 + 30.0),
            HORIZON + 12.0 + near * (HEIGHT as f32 - HORIZON + 20.0) + chance.span(-14.0, 14.0),
        );
        leaf(canvas, chance, at, 5.0 + 27.0 * near);
    }
}

fn leaf(canvas: &mut Canvas, chance: &mut Chance, (x, y): (f32, f32), size: f32) {
    let inks = [
        Ink(0.46, 0.27, 0.12),
        Ink(0.38, 0.24, 0.14),
        Ink(0.52, 0.37, 0.17),
        Ink(0.30, 0.17, 0.10),
        Ink(0.34, 0.31, 0.15),
    ];
    let ink = inks[(chance.bits() % 5) as usize].lit(chance.span(0.55, 1.05));
    let (sin, cos) = chance.span(0.0, TAU).sin_cos();
    let (long, slim) = (size * chance.span(0.8, 1.3), size * chance.span(0.34, 0.6));
    let squat = chance.span(0.4, 0.75);
    let fold = chance.span(-0.5, 0.5);
    canvas.paint(Frame::around(x + 2.0, y + 4.0, long * 1.1), |px, py| {
        let inside = leaf_inside(px - x - 2.0, (py - y - 4.0) / squat, (sin, cos), (long, slim)).0;
        (inside > 0.0).then_some((Ink(0.03, 0.03, 0.03), 0.45 * inside))
    });
    canvas.paint(Frame::around(x, y, long), |px, py| {
        let (inside, u, v) = leaf_inside(px - x, (py - y) / squat, (sin, cos), (long, slim));
        if inside <= 0.0 {
            return None;
        }
        let vein = if v.abs() < 0.07 { 0.72 } else { 1.0 };
        let rib = 0.94 + 0.1 * ((u * 9.0 + v.abs() * 5.0).sin());
        Some((ink.lit(vein * rib).under(light(fold * v.signum(), -0.55, 0.8)), inside))
    });
}

/// How far inside a pointed leaf, and where along and across it.
fn leaf_inside(x: f32, y: f32, (sin, cos): (f32, f32), (long, slim): (f32, f32)) -> (f32, f32, f32) {
    let u = (x * cos + y * sin) / long;
    let v = (y * cos - x * sin) / slim;
    let edge = 1.0 - u * u - v.abs() * (1.0 + 0.35 * u);
    ((edge * slim * 0.7).clamp(0.0, 1.0), u, v)
}
