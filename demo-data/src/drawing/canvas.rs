//! Colour, light and grain: the paper that everything is drawn on.
//! Never a shape of the trade.
//! Invariant: a colour is linear-looking 0…1 per channel, and drawing outside the paper is no error.

use crate::chance::Chance;

/// Width of every drawing, pixels.
pub const WIDTH: usize = 1200;
/// Height of every drawing, pixels.
pub const HEIGHT: usize = 900;

/// Red, green, blue, 0…1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink(pub f32, pub f32, pub f32);

impl Ink {
    /// This colour with its brightness scaled.
    pub fn lit(self, by: f32) -> Self {
        Self(self.0 * by, self.1 * by, self.2 * by)
    }

    /// A share `t` of the way to another colour.
    pub fn towards(self, other: Self, t: f32) -> Self {
        let t = t.clamp(0.0, 1.0);
        Self(
            self.0 + (other.0 - self.0) * t,
            self.1 + (other.1 - self.1) * t,
            self.2 + (other.2 - self.2) * t,
        )
    }

    /// Each channel times the other's: the colour of a thing under a coloured light.
    pub fn under(self, light: Self) -> Self {
        Self(self.0 * light.0, self.1 * light.1, self.2 * light.2)
    }

    /// Both lights together.
    pub fn plus(self, other: Self) -> Self {
        Self(self.0 + other.0, self.1 + other.1, self.2 + other.2)
    }
}

/// The light on a surface that faces (x right, y down, z to the viewer): a cool sky at dusk and a
/// warm lamp held by the one who looks.
pub fn light(x: f32, y: f32, z: f32) -> Ink {
    let sky = (0.5 - 0.5 * y) * 0.42;
    let lamp = (x * 0.38 - y * 0.45 + z * 0.80).max(0.0) * 0.92;
    Ink(0.50, 0.62, 0.78).lit(sky).plus(Ink(1.0, 0.88, 0.68).lit(lamp))
}

/// The drawing so far.
pub struct Canvas {
    dots: Vec<Ink>,
}

/// A rectangle of pixels, x0 ≤ x < x1.
#[derive(Debug, Clone, Copy)]
pub struct Frame {
    /// Left.
    pub x0: f32,
    /// Top.
    pub y0: f32,
    /// Right.
    pub x1: f32,
    /// Bottom.
    pub y1: f32,
}

impl Frame {
    /// The square around a point.
    pub fn around(x: f32, y: f32, reach: f32) -> Self {
        Self { x0: x - reach, y0: y - reach, x1: x + reach, y1: y + reach }
    }

    /// The whole paper.
    pub fn whole() -> Self {
        Self { x0: 0.0, y0: 0.0, x1: WIDTH as f32, y1: HEIGHT as f32 }
    }
}

impl Canvas {
    /// Paper of one colour.
    pub fn new(ink: Ink) -> Self {
        Self { dots: vec![ink; WIDTH * HEIGHT] }
    }

    /// Paints each pixel of a frame with the colour and cover (0…1) that `paint` gives it.
    pub fn paint(&mut self, frame: Frame, paint: impl Fn(f32, f32) -> Option<(Ink, f32)>) {
        let (x0, x1) = (clip(frame.x0, WIDTH), clip(frame.x1.ceil(), WIDTH));
        let (y0, y1) = (clip(frame.y0, HEIGHT), clip(frame.y1.ceil(), HEIGHT));
        for y in y0..y1 {
            let row = y * WIDTH;
            let Some(dots) = self.dots.get_mut(row + x0..row + x1.max(x0)) else { continue };
            for (x, dot) in (x0..).zip(dots) {
                if let Some((ink, cover)) = paint(x as f32 + 0.5, y as f32 + 0.5) {
                    *dot = dot.towards(ink, cover);
                }
            }
        }
    }

    /// As `paint`, in blocks of two by two pixels: for what is out of focus anyway.
    pub fn paint_coarse(&mut self, frame: Frame, paint: impl Fn(f32, f32) -> Option<(Ink, f32)>) {
        let (y0, y1) = (clip(frame.y0, HEIGHT) & !1, clip(frame.y1.ceil(), HEIGHT));
        for y in (y0..y1).step_by(2) {
            let Some(rows) = self.dots.get_mut(y * WIDTH..(y + 2) * WIDTH) else { continue };
            let (upper, lower) = rows.split_at_mut(WIDTH);
            let blocks = upper.chunks_exact_mut(2).zip(lower.chunks_exact_mut(2));
            for (x, (upper, lower)) in (0_u16..).step_by(2).zip(blocks) {
                if let Some((ink, cover)) = paint(f32::from(x) + 1.0, y as f32 + 1.0) {
                    for dot in upper.iter_mut().chain(lower) {
                        *dot = dot.towards(ink, cover);
                    }
                }
            }
        }
    }

    /// A soft disc; `soft` is the width of its rim in pixels.
    pub fn disc(&mut self, (x, y): (f32, f32), radius: f32, soft: f32, (ink, cover): (Ink, f32)) {
        self.paint(Frame::around(x, y, radius + soft), |px, py| {
            let away = ((px - x).powi(2) + (py - y).powi(2)).sqrt();
            let inside = ((radius + soft * 0.5 - away) / soft.max(0.01)).clamp(0.0, 1.0);
            (inside > 0.0).then_some((ink, inside * cover))
        });
    }

    /// Darkens the corners, adds grain, and gives the bytes: three a pixel, row by row.
    pub fn develop(self, seed: u64) -> Vec<u8> {
        let mut chance = Chance::new(seed);
        let mut bytes = Vec::with_capacity(self.dots.len() * 3);
        for (n, dot) in self.dots.iter().enumerate() {
            let x = (n % WIDTH) as f32 / WIDTH as f32 - 0.5;
            let y = (n / WIDTH) as f32 / HEIGHT as f32 - 0.5;
            let corner = 1.0 - 0.85 * (x * x + y * y);
            let grain = (chance.bits() >> 40) as f32 / (1_u32 << 24) as f32 - 0.5;
            for channel in [dot.0, dot.1, dot.2] {
                let shown = (channel * corner * 1.45) / (1.0 + channel * corner * 0.42) + grain * 0.02;
                bytes.push((shown.clamp(0.0, 1.0) * 255.0) as u8);
            }
        }
        bytes
    }
}

fn clip(at: f32, most: usize) -> usize {
    if at <= 0.0 { 0 } else { (at as usize).min(most) }
}

/// 0 below `from`, 1 above `to`, smooth between.
pub fn smooth(from: f32, to: f32, x: f32) -> f32 {
    let t = ((x - from) / (to - from)).clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// Smooth noise in 0…1 that changes about once a unit.
pub fn noise(x: f32, y: f32, seed: u32) -> f32 {
    let (fx, fy) = (x.floor(), y.floor());
    let (ix, iy) = (fx as i32, fy as i32);
    let (tx, ty) = (x - fx, y - fy);
    let (sx, sy) = (tx * tx * (3.0 - 2.0 * tx), ty * ty * (3.0 - 2.0 * ty));
    let top = lattice(ix, iy, seed) * (1.0 - sx) + lattice(ix + 1, iy, seed) * sx;
    let low = lattice(ix, iy + 1, seed) * (1.0 - sx) + lattice(ix + 1, iy + 1, seed) * sx;
    top * (1.0 - sy) + low * sy
}

/// Noise of several sizes on top of each other, 0…1.
pub fn rough(x: f32, y: f32, seed: u32, sizes: u32) -> f32 {
    let (mut sum, mut weight, mut scale) = (0.0, 0.0, 1.0);
    for n in 0..sizes {
        let share = 1.0 / scale;
        sum += noise(x * scale, y * scale, seed.wrapping_add(n * 977)) * share;
        weight += share;
        scale *= 2.0;
    }
    sum / weight
}

/// A number in 0…1 of one crossing of a grid.
pub fn lattice(x: i32, y: i32, seed: u32) -> f32 {
    let mut h = (x as u32).wrapping_mul(0x8da6_b343) ^ (y as u32).wrapping_mul(0xd816_3841) ^ seed;
    h = (h ^ (h >> 15)).wrapping_mul(0x2c1b_3c6d);
    h = (h ^ (h >> 12)).wrapping_mul(0x297a_2d39);
    (h ^ (h >> 15)) as f32 / u32::MAX as f32
}
