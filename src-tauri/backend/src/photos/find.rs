//! Reading the codes of tags in a picture, and where each lies.
//! Never which log a code names: that is asked of the register.
//! Invariant: a code is given once, however often it was seen at different sizes.

use super::plane::{Fitted, Plane, Point, brightness, fitted};
use image::{GrayImage, imageops};
use rqrr::{BitGrid, Grid, PreparedImage, SimpleGrid};

/// Modules along an edge of a tag's code (version 2).
pub const MODULES: usize = 25;
/// The largest picture that is looked at doubled, pixels: small codes are a matter of small pictures.
const DOUBLED: u32 = 3_000_000;
/// Shortest edge that is still looked at when halving.
const SHORTEST: u32 = 200;

/// A code that was read.
#[derive(Debug, Clone)]
pub struct Code {
    /// What it says.
    pub text: String,
    /// Its corners in the picture, pixels: upper left, upper right, lower right, lower left of the code itself.
    pub corners: [Point; 4],
    /// Modules to pixels, fitted to its edges; `None` when its edges are too weak to measure by.
    pub fitted: Option<Fitted>,
    /// Modules along an edge.
    pub modules: usize,
}

impl Code {
    /// The mean length of its edges in the picture, pixels.
    pub fn side(&self) -> f64 {
        let next = |i: usize| self.corners[(i + 1) % 4];
        let edges = (0..4).map(|i| (self.corners[i][0] - next(i)[0]).hypot(self.corners[i][1] - next(i)[1]));
        edges.sum::<f64>() / 4.0
    }
}

/// All codes in a picture, the largest first. The picture is looked at as it is, halved, and (a small one)
/// doubled: each finds what the others miss.
pub fn codes(picture: &GrayImage) -> Vec<Code> {
    let mut found: Vec<Code> = Vec::new();
    look(picture, 1.0, picture, &mut found);
    let (width, height) = picture.dimensions();
    let (mut smaller, mut scale) = (None::<GrayImage>, 1.0);
    // A code of phone-camera size is as plain in the half; noise and paper grain are gone there.
    while width.min(height) / 2 >= SHORTEST && scale > 0.3 {
        let half = halved(smaller.as_ref().unwrap_or(picture));
        scale /= 2.0;
        look(&half, scale, picture, &mut found);
        if half.width().min(half.height()) / 2 < SHORTEST {
            break;
        }
        smaller = Some(half);
    }
    if width * height <= DOUBLED {
        let double = imageops::resize(picture, width * 2, height * 2, imageops::FilterType::Triangle);
        look(&double, 2.0, picture, &mut found);
    }
    found.sort_by(|a, b| b.side().total_cmp(&a.side()));
    found
}

fn halved(picture: &GrayImage) -> GrayImage {
    GrayImage::from_fn(picture.width() / 2, picture.height() / 2, |x, y| {
        let p = |dx, dy| u16::from(picture.get_pixel(2 * x + dx, 2 * y + dy).0[0]);
        image::Luma([u8::try_from((p(0, 0) + p(1, 0) + p(0, 1) + p(1, 1) + 2) / 4).unwrap_or(u8::MAX)])
    })
}

/// Looks at one size. `scale` is its size against the picture; corners are the picture's own.
fn look(shown: &GrayImage, scale: f64, picture: &GrayImage, found: &mut Vec<Code>) {
    let (width, height) = (shown.width() as usize, shown.height() as usize);
    let pixels = shown.as_raw();
    let mut prepared = PreparedImage::prepare_from_greyscale(width, height, |x, y| pixels[y * width + x]);
    for grid in prepared.detect_grids() {
        let corners = grid.bounds.map(|p| [f64::from(p.x) / scale, f64::from(p.y) / scale]);
        let Some(code) = read(&grid, corners, picture) else { continue };
        match found.iter_mut().find(|other| other.text == code.text) {
            None => found.push(code),
            Some(other) if better(&code, other) => *other = code,
            Some(_) => {}
        }
    }
}

fn better(one: &Code, other: &Code) -> bool {
    let off = |code: &Code| code.fitted.map_or(f64::INFINITY, |f| f.off);
    off(one) < off(other)
}

/// Reads a grid as it was found; and when that fails, once more from the picture itself by the plane fitted
/// to its edges, which a tilted tag's middle needs.
fn read<G: BitGrid>(grid: &Grid<G>, corners: [Point; 4], picture: &GrayImage) -> Option<Code> {
    let size = grid.grid.size();
    let plane = Plane::from_points(square(size), corners)?;
    let bits = |x: usize, y: usize| grid.grid.bit(y, x);
    let first = fitted(picture, size, &bits, plane);
    if let Ok((_, text)) = grid.decode() {
        return Some(code(text, corners, first, size));
    }
    let plane = first.map_or(plane, |f| f.plane);
    let sampled = sampled(picture, size, &plane)?;
    let (_, text) = Grid::new(SimpleGrid::from_func(size, |x, y| sampled[y * size + x])).decode().ok()?;
    let again = fitted(picture, size, &|x, y| sampled[y * size + x], plane);
    Some(code(text, corners, again, size))
}

fn code(text: String, rough: [Point; 4], fitted: Option<Fitted>, modules: usize) -> Code {
    let fitted = fitted.filter(|f| f.off < 0.25);
    let corners = fitted.map_or(rough, |f| square(modules).map(|p| f.plane.at(p)));
    Code { text, corners, fitted, modules }
}

/// The corners of a code of `size` modules.
pub fn square(size: usize) -> [Point; 4] {
    let n = f64::from(u32::try_from(size).unwrap_or(0));
    [[0.0, 0.0], [n, 0.0], [n, n], [0.0, n]]
}

/// The modules of a code as the picture has them along a plane: darker than halfway between what is dark and
/// light around each.
fn sampled(picture: &GrayImage, size: usize, plane: &Plane) -> Option<Vec<bool>> {
    let n = |i: usize| f64::from(u32::try_from(i).unwrap_or(0));
    let mean = |x: usize, y: usize| {
        let points = [[0.5, 0.5], [0.3, 0.5], [0.7, 0.5], [0.5, 0.3], [0.5, 0.7]];
        let values = points.map(|[dx, dy]| brightness(picture, plane.at([n(x) + dx, n(y) + dy])));
        Some(values.into_iter().collect::<Option<Vec<_>>>()?.into_iter().sum::<f64>() / 5.0)
    };
    let values: Vec<f64> = (0..size * size).map(|i| mean(i % size, i / size)).collect::<Option<_>>()?;
    let around = |x: usize, y: usize| {
        let near = |i: usize| i.saturating_sub(4)..(i + 5).min(size);
        let seen = near(y).flat_map(|y| near(x).map(move |x| (x, y))).map(|(x, y)| values[y * size + x]);
        let (low, high) = seen.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        f64::midpoint(low, high)
    };
    Some((0..size * size).map(|i| values[i] < around(i % size, i / size)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_without_a_code_has_none() {
        let picture = GrayImage::from_fn(640, 480, |x, y| {
            image::Luma([u8::try_from((x * 7 + y * 13) % 256).unwrap_or(0)])
        });
        assert!(codes(&picture).is_empty());
    }
}
