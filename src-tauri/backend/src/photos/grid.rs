//! From three squares to a code: where its modules lie, which are dark, what they say.
//! Never a search over the whole picture: `squares` does that.
//! Invariant: a code is only read where the parts that every code has are seen.

use super::find::{MODULES, TEXT};
use super::plane::{Plane, Point, brightness, fitted};
use super::squares::{RAYS, Square};
use image::GrayImage;
use rqrr::{Grid, SimpleGrid};

/// From one square's middle to the next, modules.
const SIDE: f64 = 18.0;
/// The same in outer half widths of a square.
const APART: f64 = SIDE / 3.5;
/// Most threes that are tried.
const TRIED: usize = 120;
/// How much the squares' own parts must look it along a first plane: 1 is exactly.
const SQUARES: f64 = 0.45;
/// How much all parts that every code has must look it along the best plane.
const WHOLE: f64 = 0.55;
/// By how much what blur mixed in from the neighbours is taken off again, tried in turn.
const SHARPER: [f64; 3] = [0.0, 0.35, 0.7];

/// Three squares that may be one code.
pub type Three = [usize; 3];

/// All threes that fit together by distance and size, the best first.
pub fn threes(all: &[Square]) -> Vec<Three> {
    // How far two are apart against what their sizes make of it, as a logarithm.
    let apart = |i: usize, j: usize| {
        let (a, b) = (&all[i], &all[j]);
        let far = (a.middle[0] - b.middle[0]).hypot(a.middle[1] - b.middle[1]);
        let reach = f64::midpoint(a.towards(b.middle), b.towards(a.middle));
        (far / reach / APART).ln().abs()
    };
    let mut found = Vec::new();
    for i in 0..all.len() {
        for j in i + 1..all.len() {
            let first = apart(i, j);
            if first > 0.45 {
                continue;
            }
            for k in j + 1..all.len() {
                let off = first + apart(i, k) + apart(j, k);
                if off < 0.8 {
                    let unseen: usize = [i, j, k].iter().map(|n| RAYS - all[*n].rays).sum();
                    found.push((off + 0.1 * unseen as f64, [i, j, k]));
                }
            }
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.truncate(TRIED);
    found.into_iter().map(|(_, three)| three).collect()
}

/// The parts that every code of this size has.
pub struct Fixed {
    /// Middles of modules, and 1 for dark or −1 for light.
    all: Vec<(Point, f64)>,
    /// Those of the three squares.
    squares: Vec<(Point, f64)>,
}

impl Fixed {
    /// Squares with their border, the small square, and the two dotted lines.
    pub fn new() -> Self {
        let n = MODULES as i32;
        let mut parts = Self { all: Vec::new(), squares: Vec::new() };
        for (x, y) in (-1..=n).flat_map(|y| (-1..=n).map(move |x| (x, y))) {
            let part = |dark| ([f64::from(x) + 0.5, f64::from(y) + 0.5], if dark { 1.0 } else { -1.0 });
            if let Some(dark) = of_a_square(x, y) {
                parts.squares.push(part(dark));
            }
            parts.all.extend(of_a_square(x, y).or_else(|| elsewhere(x, y)).map(part));
        }
        parts
    }
}

/// Whether a module of the three large squares, or of the light border around them, is dark (ISO/IEC 18004, 6.3.3).
fn of_a_square(x: i32, y: i32) -> Option<bool> {
    let last = MODULES as i32 - 4;
    let far = [(3, 3), (last, 3), (3, last)].map(|(mx, my)| (x - mx).abs().max((y - my).abs()));
    far.into_iter().find(|far| *far <= 4).map(|far| far != 2 && far != 4)
}

/// Whether another module is dark in every code of 25 modules (6.3.5, 6.3.6); `None`: it depends.
fn elsewhere(x: i32, y: i32) -> Option<bool> {
    let n = MODULES as i32;
    let far = (x - (n - 7)).abs().max((y - (n - 7)).abs());
    match (x, y) {
        _ if x < 0 || y < 0 || x >= n || y >= n => Some(false),
        _ if far <= 2 => Some(far != 1),
        (6, _) | (_, 6) => Some((x + y) % 2 == 0),
        _ => None,
    }
}

/// How well parts are seen along a plane: the correlation of dark and light, −1 to 1.
fn likeness(picture: &GrayImage, plane: &Plane, parts: &[(Point, f64)]) -> f64 {
    let (mut n, mut sum, mut squared, mut dark, mut both) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (at, is) in parts {
        let Some(value) = brightness(picture, plane.at(*at)) else { continue };
        n += 1.0;
        sum += value;
        squared += value * value;
        dark += is;
        both += value * is;
    }
    let (values, parts_of) = (squared - sum * sum / n, n - dark * dark / n);
    // Most of it must be in the picture.
    if n < 0.8 * parts.len() as f64 || values <= 0.0 || parts_of <= 0.0 {
        return -1.0;
    }
    (sum * dark / n - both) / (values * parts_of).sqrt()
}

/// A code that was read.
pub struct Read {
    /// What it says.
    pub text: String,
    /// Modules to pixels.
    pub plane: Plane,
    /// Its modules row by row; `true` is dark.
    pub dark: Vec<bool>,
}

/// Reads three squares as one code.
pub fn read(picture: &GrayImage, three: [&Square; 3], fixed: &Fixed) -> Option<Read> {
    let starts = (0..3).filter_map(|turn| {
        let mut turned = three;
        turned.rotate_left(turn);
        start(turned).filter(|four| along(picture, *four, &fixed.squares) > SQUARES)
    });
    let placed = starts.map(|four| climbed(picture, fixed, around(picture, fixed, four)));
    let (like, four) = placed.max_by(|a, b| a.0.total_cmp(&b.0))?;
    if like < WHOLE { None } else { decoded(picture, plane(four)?) }
}

/// The middles of the squares and where a fourth would be, clockwise from the upper left, which is taken to be
/// the first: by how far away each looks.
fn start([a, b, c]: [&Square; 3]) -> Option<[Point; 4]> {
    let side = |p: &Square| [p.middle[0] - a.middle[0], p.middle[1] - a.middle[1]];
    // A tag is never seen from behind.
    let turns_right = side(b)[0] * side(c)[1] > side(b)[1] * side(c)[0];
    let (b, c) = if turns_right { (b, c) } else { (c, b) };
    let away = b.away() + c.away() - a.away();
    let fourth = |i: usize| (b.away() * b.middle[i] + c.away() * c.middle[i] - a.away() * a.middle[i]) / away;
    (away > 0.2 * a.away()).then(|| [a.middle, b.middle, [fourth(0), fourth(1)], c.middle])
}

/// The plane by the middles of the three squares and where a fourth would be.
fn plane(four: [Point; 4]) -> Option<Plane> {
    let (near, far) = (3.5, 3.5 + SIDE);
    Plane::from_points([[near, near], [far, near], [far, far], [near, far]], four)
}

fn along(picture: &GrayImage, four: [Point; 4], parts: &[(Point, f64)]) -> f64 {
    plane(four).map_or(-1.0, |plane| likeness(picture, &plane, parts))
}

/// The best of many fourths, a module from one to the next: the squares' sizes tell it only roughly.
fn around(picture: &GrayImage, fixed: &Fixed, four: [Point; 4]) -> (f64, [Point; 4]) {
    let [a, b, fourth, c] = four;
    let module = |p: Point| [(p[0] - a[0]) / SIDE, (p[1] - a[1]) / SIDE];
    let (across, down) = (module(b), module(c));
    let mut best = (-1.0, four);
    for (u, v) in (-4..=4).flat_map(|u| (-4..=4).map(move |v| (f64::from(u), f64::from(v)))) {
        let moved = [0, 1].map(|i| fourth[i] + u * across[i] + v * down[i]);
        let like = along(picture, [a, b, moved, c], &fixed.all);
        if like > best.0 {
            best = (like, [a, b, moved, c]);
        }
    }
    best
}

/// Moves the four points in smaller and smaller steps to where the fixed parts are seen best.
fn climbed(picture: &GrayImage, fixed: &Fixed, start: (f64, [Point; 4])) -> (f64, [Point; 4]) {
    let (mut like, mut four) = start;
    let side = |p: Point| (p[0] - four[0][0]).hypot(p[1] - four[0][1]);
    let module = side(four[1]).max(side(four[3])) / SIDE;
    let mut step = 0.4 * module;
    // What is nothing like a code by now will not become one.
    while like > WHOLE - 0.15 && step > 0.04 * module {
        let mut moved = false;
        for i in 0..4 {
            for [dx, dy] in [[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]] {
                let mut next = four;
                next[i] = [four[i][0] + step * dx, four[i][1] + step * dy];
                let better = along(picture, next, &fixed.all);
                if better > like {
                    (like, four, moved) = (better, next, true);
                }
            }
        }
        if !moved {
            step /= 2.0;
        }
    }
    (like, four)
}

/// Reads along a plane, and then along the plane fitted to the edges that were seen.
fn decoded(picture: &GrayImage, mut plane: Plane) -> Option<Read> {
    for _ in 0..3 {
        let values = sampled(picture, &plane)?;
        let says = SHARPER.into_iter().find_map(|sharper| {
            let dark = dark(&values, sharper);
            let grid = SimpleGrid::from_func(MODULES, |x, y| dark[y * MODULES + x]);
            // Anything else that comes out is no tag, and may be noise.
            let (_, text) = Grid::new(grid).decode().ok().filter(|(_, text)| text.len() == TEXT)?;
            Some((text, dark))
        });
        if let Some((text, dark)) = says {
            return Some(Read { text, plane, dark });
        }
        let dark = dark(&values, SHARPER[1]);
        plane = fitted(picture, MODULES, &|x, y| dark[y * MODULES + x], plane)?.plane;
    }
    None
}

/// The mean brightness of each module, row by row.
fn sampled(picture: &GrayImage, plane: &Plane) -> Option<Vec<f64>> {
    let part = [0.25, 0.5, 0.75];
    let mean = |i: usize| {
        let (x, y) = ((i % MODULES) as f64, (i / MODULES) as f64);
        let points = part.iter().flat_map(|dy| part.iter().map(move |dx| [x + dx, y + dy]));
        points.map(|p| brightness(picture, plane.at(p))).sum::<Option<f64>>().map(|sum| sum / 9.0)
    };
    (0..MODULES * MODULES).map(mean).collect()
}

/// Which modules are dark: darker than halfway between what is dark and what is light around each, after the
/// neighbours' share in it was taken off.
fn dark(values: &[f64], sharper: f64) -> Vec<bool> {
    let last = MODULES - 1;
    let at = |x: usize, y: usize| values[y * MODULES + x];
    let sharp = |i: usize| {
        let (x, y) = (i % MODULES, i / MODULES);
        let beside = at(x.saturating_sub(1), y) + at((x + 1).min(last), y);
        let beside = beside + at(x, y.saturating_sub(1)) + at(x, (y + 1).min(last));
        values[i] + sharper * (values[i] - beside / 4.0)
    };
    let sharp: Vec<f64> = (0..MODULES * MODULES).map(sharp).collect();
    let halfway = |i: usize| {
        let near = |i: usize| i.saturating_sub(4)..(i + 5).min(MODULES);
        let (xs, ys) = (near(i % MODULES), near(i / MODULES));
        let mut seen: Vec<f64> = ys.flat_map(|y| sharp[y * MODULES..][xs.clone()].to_vec()).collect();
        seen.sort_by(f64::total_cmp);
        // The very darkest and lightest may be dirt or glare.
        f64::midpoint(seen[seen.len() / 8], seen[seen.len() - 1 - seen.len() / 8])
    };
    (0..MODULES * MODULES).map(|i| sharp[i] < halfway(i)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tags::rules::{code, code_text};

    #[test]
    fn what_every_code_has_is_in_a_code_of_the_tags() {
        let made = code(&code_text("0198f3a2-7b1c-7def-8abc-0123456789ab")).expect("a code");
        let fixed = Fixed::new();
        let inside = |at: &Point| at.iter().all(|x| (0.0..MODULES as f64).contains(x));
        for (at, is) in &fixed.all {
            let dark = inside(at) && made[at[1] as usize][at[0] as usize];
            assert_eq!(dark, *is > 0.0, "{at:?}");
        }
        // Three squares of 64 with their border, the small one of 25, twice nine dots, and what lies around it all.
        assert_eq!(fixed.all.iter().filter(|(at, _)| inside(at)).count(), 3 * 64 + 25 + 2 * 9);
    }
}
