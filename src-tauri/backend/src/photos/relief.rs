//! How dark or light each pixel of a picture is beside what lies around it.
//! Never what it shows: `squares` looks for that. Invariant: twice the light gives the same relief, so that
//! dusk and shade do not matter as long as a tag's paper is told from its ink.

use super::plane::Point;
use image::GrayImage;

/// The edge of a block that the darkest and the lightest are taken of, pixels.
const BLOCK: usize = 8;
/// Blocks to each side that are looked at.
const AROUND: usize = 2;
/// Less than this between the darkest and the lightest is no tag: sixteenths of a level.
const FLAT: f32 = 18.0 * 16.0;

/// Each pixel between the darkest and the lightest around it: −127 to 127; 0 where there is little between them.
pub struct Relief {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    cells: Vec<i8>,
}

impl Relief {
    /// Of a picture.
    pub fn of(picture: &GrayImage) -> Self {
        let (width, height) = (picture.width() as usize, picture.height() as usize);
        let smooth = smoothed(picture);
        let (across, scales) = scales(&smooth, width);
        let mut cells = vec![0_i8; width * height];
        let mut line = vec![Scale::default(); across];
        for (y, out) in cells.chunks_mut(width).enumerate() {
            let (above, below, share) = between(y, scales.len() / across);
            for (x, scale) in line.iter_mut().enumerate() {
                *scale = scales[above * across + x].towards(scales[below * across + x], share);
            }
            let values = &smooth[y * width..(y + 1) * width];
            // From one block's middle to the next; the first half block stands for itself.
            let (mut from, mut to, mut pair) = (0, (BLOCK / 2).min(width), [line[0]; 2]);
            for next in 1.. {
                for (i, (cell, value)) in out[from..to].iter_mut().zip(&values[from..to]).enumerate() {
                    let scale = pair[0].towards(pair[1], (i as f32 + 0.5) / BLOCK as f32);
                    *cell = ((f32::from(*value) - scale.middle) * scale.by) as i8;
                }
                if to == width {
                    break;
                }
                pair = [line[next - 1], line[next.min(across - 1)]];
                (from, to) = (to, (to + BLOCK).min(width));
            }
        }
        Self { width, height, cells }
    }

    /// A line of pixels.
    pub fn row(&self, y: usize) -> &[i8] {
        &self.cells[y * self.width..(y + 1) * self.width]
    }

    /// Between the pixels; `None` outside. Pixel (0, 0) has its middle at (0.5, 0.5).
    pub fn at(&self, [x, y]: Point) -> Option<f64> {
        let (x, y) = (x - 0.5, y - 0.5);
        let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 - 1.0 && y < self.height as f64 - 1.0;
        if !inside {
            return None;
        }
        let i = y as usize * self.width + x as usize;
        let (x, y) = (x.fract(), y.fract());
        let p = |i: usize| f64::from(self.cells[i]);
        let upper = p(i) * (1.0 - x) + p(i + 1) * x;
        let lower = p(i + self.width) * (1.0 - x) + p(i + self.width + 1) * x;
        Some(upper * (1.0 - y) + lower * y)
    }
}

/// What is taken off a value, and by what the rest is multiplied.
#[derive(Debug, Clone, Copy, Default)]
struct Scale {
    middle: f32,
    by: f32,
}

impl Scale {
    fn towards(self, other: Self, share: f32) -> Self {
        let mix = |a: f32, b: f32| a + (b - a) * share;
        Self { middle: mix(self.middle, other.middle), by: mix(self.by, other.by) }
    }
}

/// The two blocks whose middles a pixel lies between, and how far towards the second.
fn between(at: usize, count: usize) -> (usize, usize, f32) {
    let at = (at as f32 + 0.5) / BLOCK as f32 - 0.5;
    let low = (at.max(0.0) as usize).min(count - 1);
    (low, (low + 1).min(count - 1), (at - low as f32).clamp(0.0, 1.0))
}

/// Blocks across, and the scale of each by the darkest and the lightest in it and around it.
fn scales(smooth: &[i16], width: usize) -> (usize, Vec<Scale>) {
    let across = width.div_ceil(BLOCK);
    let mut blocks = Vec::new();
    for lines in smooth.chunks(width * BLOCK) {
        let from = blocks.len();
        blocks.resize(from + across, (i16::MAX, i16::MIN));
        for line in lines.chunks(width) {
            for (block, part) in blocks[from..].iter_mut().zip(line.chunks(BLOCK)) {
                *block = part.iter().fold(*block, |(low, high), v| (low.min(*v), high.max(*v)));
            }
        }
    }
    let blocks = widened(&widened(&blocks, across, true), across, false);
    let scale = |(low, high): &(i16, i16)| {
        let range = f32::from(*high) - f32::from(*low);
        let by = if range < FLAT { 0.0 } else { 254.0 / range };
        Scale { middle: f32::midpoint(f32::from(*low), f32::from(*high)), by }
    };
    (across, blocks.iter().map(scale).collect())
}

/// The darkest and lightest of each block and its neighbours along a row or a column.
fn widened(blocks: &[(i16, i16)], across: usize, along: bool) -> Vec<(i16, i16)> {
    let down = blocks.len() / across;
    let one = |i: usize| {
        let (x, y) = (i % across, i / across);
        let (at, count) = if along { (x, across) } else { (y, down) };
        let near = at.saturating_sub(AROUND)..=(at + AROUND).min(count - 1);
        let block = |n: usize| blocks[if along { y * across + n } else { n * across + x }];
        near.map(block).fold((i16::MAX, i16::MIN), |a, b| (a.0.min(b.0), a.1.max(b.1)))
    };
    (0..blocks.len()).map(one).collect()
}

/// Sixteenths of a level: each pixel with its neighbours, 1 : 2 : 1 both ways, which takes the grain off.
fn smoothed(picture: &GrayImage) -> Vec<i16> {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let row = |y: usize| &picture.as_raw()[y * width..(y + 1) * width];
    let mut out = Vec::with_capacity(width * height);
    let mut sums = vec![0_i16; width];
    for y in 0..height {
        let (above, here, below) = (row(y.saturating_sub(1)), row(y), row((y + 1).min(height - 1)));
        for (x, sum) in sums.iter_mut().enumerate() {
            *sum = i16::from(above[x]) + 2 * i16::from(here[x]) + i16::from(below[x]);
        }
        let side = |x: usize| sums[x.saturating_sub(1)] + 2 * sums[x] + sums[(x + 1).min(width - 1)];
        out.extend((0..width).map(side));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_the_light_gives_the_same_relief_and_a_plain_picture_gives_none() {
        let bright =
            GrayImage::from_fn(67, 41, |x, y| image::Luma([if (x / 9 + y / 9) % 2 == 0 { 240 } else { 40 }]));
        let dim = GrayImage::from_fn(67, 41, |x, y| image::Luma([bright.get_pixel(x, y).0[0] / 4]));
        let (bright, dim) = (Relief::of(&bright), Relief::of(&dim));
        for y in 0..41 {
            assert!(bright.row(y).iter().zip(dim.row(y)).all(|(a, b)| a.abs_diff(*b) <= 3), "line {y}");
        }
        assert!(bright.row(4)[4] > 100 && bright.row(4)[13] < -100);
        let plain = GrayImage::from_fn(30, 9, |x, _| image::Luma([u8::try_from(100 + x / 5).unwrap()]));
        assert!(Relief::of(&plain).row(3).iter().all(|cell| *cell == 0));
    }
}
