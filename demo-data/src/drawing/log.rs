//! One log: bark on a cylinder, end grain on its cut face, wax on its holes.
//! Never what grows on it.
//! Invariant: every spot on the bark can be asked for as a point on the paper (`Log::at`).

use super::canvas::{Canvas, Frame, Ink, lattice, light, noise, rough, smooth};
use crate::chance::Chance;
use std::f32::consts::{PI, TAU};

/// Where a log lies or stands, and how it looks.
pub struct Log {
    end: (f32, f32),
    along: (f32, f32),
    length: f32,
    /// Half the thickness, pixels.
    pub radius: f32,
    squeeze: f32,
    bark: Bark,
    grain: u32,
}

struct Bark {
    dark: Ink,
    pale: Ink,
    furrow: f32,
}

impl Log {
    /// A log on its side, the cut face to the right.
    pub fn lying(chance: &mut Chance) -> Self {
        let radius = chance.span(150.0, 185.0);
        let (sin, cos) = chance.span(-0.07, 0.10).sin_cos();
        let end = (chance.span(900.0, 985.0), chance.span(510.0, 560.0));
        Self::new(end, (cos, sin), 1500.0, radius, chance)
    }

    /// A stump of a log on its foot, as in a totem, the cut face on top.
    pub fn standing(chance: &mut Chance) -> Self {
        let radius = chance.span(225.0, 265.0);
        let (sin, cos) = chance.span(-0.03, 0.03).sin_cos();
        let end = (chance.span(520.0, 680.0), chance.span(215.0, 260.0));
        Self::new(end, (sin, -cos), chance.span(500.0, 540.0), radius, chance)
    }

    fn new(end: (f32, f32), along: (f32, f32), length: f32, radius: f32, chance: &mut Chance) -> Self {
        let barks = [
            Bark { dark: Ink(0.20, 0.15, 0.11), pale: Ink(0.50, 0.41, 0.32), furrow: 1.0 },
            Bark { dark: Ink(0.22, 0.21, 0.19), pale: Ink(0.56, 0.54, 0.49), furrow: 0.75 },
            Bark { dark: Ink(0.27, 0.24, 0.21), pale: Ink(0.47, 0.45, 0.41), furrow: 0.35 },
            Bark { dark: Ink(0.16, 0.12, 0.10), pale: Ink(0.42, 0.31, 0.25), furrow: 0.85 },
        ];
        let pick = (chance.bits() % 4) as usize;
        let mut barks = barks.into_iter().skip(pick);
        let bark =
            barks.next().unwrap_or(Bark { dark: Ink(0.2, 0.2, 0.2), pale: Ink(0.5, 0.5, 0.5), furrow: 0.5 });
        Self { end, along, length, radius, squeeze: 0.34, bark, grain: chance.bits() as u32 }
    }

    /// The point on the paper `back` pixels from the cut face, `across` −1 (top or left edge) … 1.
    pub fn at(&self, back: f32, across: f32) -> (f32, f32) {
        let (ax, ay) = self.along;
        let side = across * self.radius;
        (self.end.0 - ax * back - ay * side, self.end.1 - ay * back + ax * side)
    }

    /// Draws the shadow, the bark, the wax and the cut face.
    pub fn draw(&self, canvas: &mut Canvas, chance: &mut Chance) {
        self.shadow(canvas);
        canvas.paint(Frame::whole(), |x, y| self.bark_at(x, y));
        self.wax(canvas, chance);
        let face = Frame::around(self.end.0, self.end.1, self.radius * 1.1);
        canvas.paint(face, |x, y| self.face_at(x, y));
    }

    /// (pixels towards the cut face, −1…1 across)
    fn local(&self, x: f32, y: f32) -> (f32, f32) {
        let (dx, dy) = (x - self.end.0, y - self.end.1);
        let (ax, ay) = self.along;
        (dx * ax + dy * ay, (dy * ax - dx * ay) / self.radius)
    }

    fn shadow(&self, canvas: &mut Canvas) {
        let stands = self.along.1.abs() > 0.5;
        let foot = if stands { self.at(self.length, 0.0) } else { self.at(0.0, 1.0) };
        let reach = if stands { self.radius * 1.5 } else { 2600.0 };
        let (ax, ay) = if stands { (1.0, 0.0) } else { self.along };
        canvas.paint(Frame { y0: foot.1 - 260.0, ..Frame::whole() }, |x, y| {
            let (dx, dy) = (x - foot.0, y - foot.1);
            let (u, v) = (dx * ax + dy * ay, dy * ax - dx * ay);
            let side = if stands { (u / reach).powi(2) } else { smooth(-60.0, 190.0, u) };
            let depth = 1.0 - side - (v / if stands { 110.0 } else { 75.0 }).powi(2);
            (depth > 0.0).then(|| (Ink(0.02, 0.02, 0.02), 0.85 * smooth(0.0, 0.7, depth)))
        });
    }

    fn bark_at(&self, x: f32, y: f32) -> Option<(Ink, f32)> {
        let (u, v) = self.local(x, y);
        let wobble = 0.035 * (noise(u / 90.0, 1.0, self.grain) - 0.5) * self.bark.furrow;
        let edge = 1.0 + wobble - v.abs();
        if edge <= 0.0 || u > self.squeeze * self.radius {
            return None;
        }
        let depth = (1.0 - v * v).max(0.0).sqrt();
        let foot = -self.length - self.squeeze * self.radius * depth;
        let cover = (edge * self.radius).min(1.0) * smooth(foot - 1.5, foot + 1.5, u);
        if cover <= 0.0 || (u > 0.0 && (u / (self.squeeze * self.radius)).powi(2) + v * v > 1.0) {
            return None;
        }
        // Around the log, not across it, so that the bark runs closer together towards the rim.
        let turn = v.clamp(-1.0, 1.0).asin() * self.radius;
        let (tone, slope) = self.bark_relief(u, turn);
        let moss = smooth(0.50, 0.66, rough(u / 130.0, turn / 90.0, self.grain ^ 0x77, 3) - 0.12 * v);
        let ink = self.bark.dark.towards(self.bark.pale, tone);
        let ink = ink.towards(Ink(0.20, 0.27, 0.10).lit(0.6 + 0.8 * tone), moss * 0.8);
        let (nx, ny) = (-self.along.1 * (v + slope), self.along.0 * (v + slope));
        let under = 1.0 - 0.55 * smooth(0.2, 1.0, ny) - 0.25 * smooth(0.3, 1.0, nx.abs());
        Some((ink.under(light(nx, ny, depth)).lit(under * (0.55 + 0.6 * tone)), cover))
    }

    /// How pale the bark is (0…1) and how it tilts.
    fn bark_relief(&self, u: f32, turn: f32) -> (f32, f32) {
        let bend = 26.0 * noise(u / 150.0, turn / 60.0, self.grain ^ 0x11);
        let plate = |t: f32| rough(u / 85.0, (t + bend) / 15.0, self.grain, 3);
        let (here, next) = (plate(turn), plate(turn + 3.0));
        let crack = smooth(0.30, 0.52, here);
        let flake = noise(u / 9.0, turn / 6.0, self.grain ^ 0x22);
        let deep = 1.0 - self.bark.furrow * (1.0 - crack);
        let tone = (0.25 + 0.6 * here + 0.28 * (flake - 0.5)) * deep;
        (tone.clamp(0.0, 1.0), (here - next) * 2.2 * self.bark.furrow)
    }

    /// Rows of sealed holes.
    fn wax(&self, canvas: &mut Canvas, chance: &mut Chance) {
        for (row, across) in [-0.55_f32, 0.05, 0.62].into_iter().enumerate() {
            let turn = (1.0 - across * across).sqrt();
            for n in 0..12 {
                let back = 60.0 + 128.0 * n as f32 + 64.0 * (row % 2) as f32 + chance.span(-8.0, 8.0);
                if back > self.length - 20.0 {
                    continue;
                }
                let (x, y) = self.at(back, across + chance.span(-0.02, 0.02));
                let size = chance.span(7.5, 9.5) * (0.55 + 0.45 * turn);
                let worn = chance.span(0.35, 0.8);
                canvas.disc((x + 1.5, y + 2.0), size + 1.0, 3.0, (Ink(0.05, 0.04, 0.03), 0.55));
                canvas.disc((x, y), size, 2.5, (Ink(0.66, 0.56, 0.36).lit(worn), 0.9));
                canvas.disc((x - 2.0, y - 2.5), size * 0.4, 3.0, (Ink(0.85, 0.78, 0.58).lit(worn), 0.7));
            }
        }
    }

    fn face_at(&self, x: f32, y: f32) -> Option<(Ink, f32)> {
        let (u, v) = self.local(x, y);
        let u = u / self.squeeze / self.radius;
        let away = (u * u + v * v).sqrt();
        let turn = v.atan2(u);
        let lump = 1.0 + 0.03 * (noise(turn * 2.0 + 9.0, 2.0, self.grain ^ 0x31) - 0.5);
        let edge = (lump - away) * self.radius * 0.5;
        if edge <= 0.0 {
            return None;
        }
        let wobble = 0.05 * noise(u * 2.4 + 5.0, v * 2.4, self.grain ^ 0x41);
        let ring = ((away + wobble) * 62.0).sin() * 0.5 + 0.5;
        let heart = smooth(0.62, 0.40, away + wobble);
        let sap = Ink(0.70, 0.58, 0.42).towards(Ink(0.50, 0.35, 0.22), heart);
        let ray = noise(turn * 26.0, away * 3.0, self.grain ^ 0x51);
        let crack = self.crack(turn, away);
        let stain = rough(u * 2.0 + 3.0, v * 2.0, self.grain ^ 0x61, 3);
        let ink = sap.lit(0.80 + 0.16 * ring + 0.10 * ray).lit(0.72 + 0.45 * stain);
        let ink = ink.towards(Ink(0.09, 0.06, 0.04), crack);
        let rim = smooth(0.90, 0.94, away / lump);
        let ink = ink.towards(self.bark.dark.lit(0.9), rim);
        Some((ink.under(light(self.along.0 * 0.6, self.along.1 * 0.6, 0.72)), edge.min(1.0)))
    }

    /// Drying cracks run out from the heart.
    fn crack(&self, turn: f32, away: f32) -> f32 {
        (0..5).fold(0.0_f32, |worst, n| {
            let lane = lattice(n, 7, self.grain) * TAU - PI;
            let reach = 0.35 + 0.5 * lattice(n, 8, self.grain);
            let off = ((turn - lane + 3.0 * PI).rem_euclid(TAU) - PI).abs() * away;
            let width = 0.016 * (1.0 - away / reach).max(0.0);
            worst.max(smooth(width + 0.008, width, off) * smooth(reach, reach - 0.1, away))
        })
    }
}
