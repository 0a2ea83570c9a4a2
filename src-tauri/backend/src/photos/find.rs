//! Reading the codes of tags in a picture, and where each lies.
//! Never which log a code names: that is asked of the register.
//! Invariant: a code is given once, however often it was seen at different sizes.

use super::grid::{self, Fixed};
use super::plane::{Fitted, Point, fitted};
use super::relief::Relief;
use super::squares::{self, Square};
use image::GrayImage;

/// Modules along an edge of a tag's code (version 2).
pub const MODULES: usize = 25;
/// Letters in a tag's code: the 32 digits of an id.
pub(super) const TEXT: usize = 32;
/// Shortest edge that is still looked at when halving.
const SHORTEST: u32 = 90;

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

/// All codes in a picture, the largest first. Their squares are looked for in the picture as it is, halved, and
/// halved again: a large code is as plain there, and grain is gone. They are read from the picture itself.
pub fn codes(picture: &GrayImage) -> Vec<Code> {
    let squares = seen(picture);
    let fixed = Fixed::new();
    let mut used = vec![false; squares.len()];
    let mut found: Vec<Code> = Vec::new();
    for three in grid::threes(&squares) {
        if three.iter().any(|i| used[*i]) {
            continue;
        }
        let Some(read) = grid::read(picture, three.map(|i| &squares[i]), &fixed) else { continue };
        three.iter().for_each(|i| used[*i] = true);
        let fitted = fitted(picture, MODULES, &|x, y| read.dark[y * MODULES + x], read.plane);
        let fitted = fitted.filter(|f| f.off < 0.25);
        let plane = fitted.map_or(read.plane, |f| f.plane);
        if found.iter().all(|code| code.text != read.text) {
            let corners = square(MODULES).map(|p| plane.at(p));
            found.push(Code { text: read.text, corners, fitted, modules: MODULES });
        }
    }
    found.sort_by(|a, b| b.side().total_cmp(&a.side()));
    found
}

/// The squares of codes, seen at any size.
fn seen(picture: &GrayImage) -> Vec<Square> {
    let mut all = Vec::new();
    let (mut halved, mut by): (Option<GrayImage>, f64) = (None, 1.0);
    loop {
        let shown = halved.as_ref().unwrap_or(picture);
        let found = squares::squares(&Relief::of(shown));
        found.into_iter().for_each(|square| squares::take(&mut all, square.scaled(by)));
        if shown.width().min(shown.height()) / 2 < SHORTEST {
            return all;
        }
        halved = Some(half(shown));
        by *= 2.0;
    }
}

fn half(picture: &GrayImage) -> GrayImage {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let mut out = Vec::with_capacity(width * height / 4);
    for lines in picture.as_raw().chunks_exact(2 * width) {
        let (upper, lower) = lines.split_at(width);
        let pairs = upper.chunks_exact(2).zip(lower.chunks_exact(2));
        out.extend(pairs.map(|(a, b)| {
            let sum = [a[0], a[1], b[0], b[1]].iter().map(|p| u16::from(*p)).sum::<u16>();
            u8::try_from((sum + 2) / 4).unwrap_or(u8::MAX)
        }));
    }
    GrayImage::from_raw(picture.width() / 2, picture.height() / 2, out).unwrap_or_default()
}

/// The corners of a code of `size` modules.
pub fn square(size: usize) -> [Point; 4] {
    let n = f64::from(u32::try_from(size).unwrap_or(0));
    [[0.0, 0.0], [n, 0.0], [n, n], [0.0, n]]
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

    #[test]
    fn a_picture_of_noise_and_the_smallest_ones_have_none() {
        let mut state = 7_u32;
        let noise = GrayImage::from_fn(701, 333, |_, _| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            image::Luma([(state >> 24) as u8])
        });
        assert!(codes(&noise).is_empty());
        for (width, height) in [(1, 1), (1, 500), (3, 2), (9, 9)] {
            assert!(codes(&GrayImage::new(width, height)).is_empty());
        }
    }
}
