//! Where the three large squares of a code may lie: dark rings with a dark core, seen from any side.
//! Never which of them belong together: `grid` tries that.
//! Invariant: what is found looks right along most rays around it, not along one line only; and the same picture
//! gives the same squares, on however many cores.

use super::plane::Point;
use super::relief::Relief;

/// Rays that are cast around a middle.
pub const RAYS: usize = 24;
/// Most squares that are handed on.
const MOST: usize = 40;
/// Parts of a picture that are looked through side by side.
const PARTS: usize = 4;
/// Places that are looked at more closely in each part: noise and grids have any number of them.
const TRIED: usize = 30_000;
/// How far the edges of core, ring and outside are from the middle, modules (ISO/IEC 18004, 6.3.3).
const EDGES: [f64; 3] = [1.5, 2.5, 3.5];
/// Less than this is neither dark nor light.
const LEAST: i8 = 12;

/// A square that may be a corner of a code.
#[derive(Debug, Clone)]
pub struct Square {
    /// Its middle, pixels.
    pub middle: Point,
    /// How far its outer edge is along each ray, pixels; what was not seen is taken from the rays beside.
    pub reach: [f64; RAYS],
    /// Rays along which it looks right.
    pub rays: usize,
}

impl Square {
    /// Its outer edge's mean distance, pixels.
    pub fn size(&self) -> f64 {
        self.reach.iter().sum::<f64>() / RAYS as f64
    }

    /// How far away it is, in a measure of its own: the area that is seen of a piece of a plane goes with the
    /// third power of the distance.
    pub fn away(&self) -> f64 {
        self.reach.iter().map(|r| r * r).sum::<f64>().powf(-1.0 / 3.0)
    }

    /// Whether it is in this place and about as large.
    pub fn is_at(&self, middle: Point, size: f64) -> bool {
        let far = (self.middle[0] - middle[0]).hypot(self.middle[1] - middle[1]);
        far < 0.4 * self.size() && (0.6..1.7).contains(&(size / self.size()))
    }

    /// How far its outer edge is in the direction of a point.
    pub fn towards(&self, to: Point) -> f64 {
        let turn = (to[1] - self.middle[1]).atan2(to[0] - self.middle[0]) / std::f64::consts::TAU;
        let at = (turn + 1.0) * RAYS as f64;
        let i = at as usize;
        self.reach[i % RAYS] * (1.0 - at.fract()) + self.reach[(i + 1) % RAYS] * at.fract()
    }

    /// The same in a picture of another size.
    pub fn scaled(self, by: f64) -> Self {
        Self { middle: self.middle.map(|x| x * by), reach: self.reach.map(|x| x * by), rays: self.rays }
    }
}

/// Takes a square in, or lets the surer of two at one place stand.
pub fn take(found: &mut Vec<Square>, square: Square) {
    match found.iter_mut().find(|other| other.is_at(square.middle, square.size())) {
        None => found.push(square),
        Some(other) if other.rays < square.rays => *other = square,
        Some(_) => {}
    }
}

/// All squares that look right, the surest first.
pub fn squares(relief: &Relief) -> Vec<Square> {
    let share = relief.height.div_ceil(PARTS);
    let parts: Vec<Vec<Square>> = std::thread::scope(|scope| {
        let part = |n: usize| n * share..((n + 1) * share).min(relief.height);
        let threads: Vec<_> = (0..PARTS).map(|n| scope.spawn(move || along(relief, part(n)))).collect();
        threads.into_iter().map(|thread| thread.join().unwrap_or_default()).collect()
    });
    let mut found = Vec::new();
    parts.into_iter().flatten().for_each(|square| take(&mut found, square));
    found.sort_by(|a, b| b.rays.cmp(&a.rays).then(b.size().total_cmp(&a.size())));
    found.truncate(MOST);
    found
}

/// The squares that some lines of the picture pass.
fn along(relief: &Relief, lines: std::ops::Range<usize>) -> Vec<Square> {
    let mut found: Vec<Square> = Vec::new();
    let mut tried = 0;
    for y in lines {
        let mut line = Line::default();
        for (x, value) in relief.row(y).iter().enumerate() {
            let Some((middle, module)) = line.next(*value, x) else { continue };
            let at = [middle, y as f64 + 0.5];
            if found.iter().rev().any(|square| square.is_at(at, 4.0 * module)) {
                continue;
            }
            tried += 1;
            if tried > TRIED {
                return found;
            }
            if let Some(square) = around(relief, at, module) {
                take(&mut found, square);
            }
        }
    }
    found
}

/// The square around a point, when most rays from it pass core, ring and outside in the right measure.
fn around(relief: &Relief, near: Point, module: f64) -> Option<Square> {
    let mut middle = near;
    // To the core's middle, up and down, then along, then once more.
    for way in [[0.0, 1.0], [1.0, 0.0], [0.0, 1.0], [1.0, 0.0]] {
        let (a, b) = (core(relief, middle, way, module)?, core(relief, middle, way.map(|x| -x), module)?);
        middle = [0, 1].map(|i| middle[i] + way[i] * (a - b) / 2.0);
        if !(1.0..7.5).contains(&((a + b) / module)) {
            return None;
        }
    }
    // A look along every third ray tells most others off.
    let some = (0..RAYS).step_by(3).filter(|i| ray(relief, middle, direction(*i), module).is_some());
    if some.count() < 4 {
        return None;
    }
    let mut rays = [None; RAYS];
    for _ in 0..3 {
        for (i, edges) in rays.iter_mut().enumerate() {
            *edges = ray(relief, middle, direction(i), module);
        }
        middle = centred(middle, &rays)?;
    }
    let seen = rays.map(|ray| ray.map(|edges| edges[2]));
    let count = seen.iter().flatten().count();
    if count * 3 < RAYS * 2 {
        return None;
    }
    let mut reach = [0.0; RAYS];
    for (i, reach) in reach.iter_mut().enumerate() {
        let before = (0..RAYS).find_map(|d| seen[(i + RAYS - d) % RAYS])?;
        let after = (0..RAYS).find_map(|d| seen[(i + d) % RAYS])?;
        *reach = f64::midpoint(before, after);
    }
    Some(Square { middle, reach, rays: count })
}

/// Moved to where opposite edges are equally far; `None` when too few are seen.
fn centred(middle: Point, rays: &[Option<[f64; 3]>; RAYS]) -> Option<Point> {
    let (mut step, mut pairs) = ([0.0, 0.0], 0.0);
    for i in 0..RAYS / 2 {
        if let (Some(a), Some(b)) = (rays[i], rays[i + RAYS / 2]) {
            let off = (0..3).map(|n| a[n] - b[n]).sum::<f64>() / 6.0;
            let [dx, dy] = direction(i);
            step = [step[0] + off * dx, step[1] + off * dy];
            pairs += 1.0;
        }
    }
    // Along rays all around the steps add up to half of what each is.
    (pairs >= 3.0).then(|| [0, 1].map(|i| middle[i] + 2.0 * step[i] / pairs))
}

/// How fine a ray is looked along, pixels.
fn step(module: f64) -> f64 {
    (module / 4.0).clamp(0.4, 2.0)
}

/// How far the core goes on in a direction.
fn core(relief: &Relief, from: Point, [dx, dy]: Point, module: f64) -> Option<f64> {
    let step = step(module);
    let (mut far, mut last) = (0.0, relief.at(from)?);
    while far < 5.0 * module {
        far += step;
        let value = relief.at([from[0] + far * dx, from[1] + far * dy])?;
        if value > 0.0 {
            return Some(far - step * value / (value - last));
        }
        last = value;
    }
    None
}

/// How far the three edges are along a ray, when they are in measure.
fn ray(relief: &Relief, from: Point, [dx, dy]: Point, module: f64) -> Option<[f64; 3]> {
    let (step, least) = (step(module), f64::from(LEAST));
    let mut edges = [0.0; 3];
    let (mut n, mut far, mut crossed) = (0, 0.0, 0.0);
    let mut last = relief.at(from).filter(|value| *value <= 0.0)?;
    while n < 3 {
        far += step;
        if far > module * 12.0 {
            return None;
        }
        let value = relief.at([from[0] + far * dx, from[1] + far * dy])?;
        if (value > 0.0) != (last > 0.0) {
            crossed = far - step * value / (value - last);
        }
        last = value;
        // Out of the core it gets light, then dark, then light.
        if if n == 1 { value < -least } else { value > least } {
            edges[n] = crossed;
            n += 1;
        }
    }
    let unit = edges[2] / EDGES[2];
    let right = |n: usize| (edges[n] - EDGES[n] * unit).abs() < 0.75 * unit;
    (right(0) && right(1)).then_some(edges)
}

fn direction(ray: usize) -> Point {
    let (sin, cos) = (std::f64::consts::TAU * ray as f64 / RAYS as f64).sin_cos();
    [cos, sin]
}

/// The last runs of dark and light along a line, with ends between the pixels.
#[derive(Default)]
struct Line {
    /// Where the last runs began, the newest last.
    starts: [f64; 6],
    dark: bool,
    last: i8,
    crossed: f64,
}

impl Line {
    /// Takes the next pixel: the middle of a core and its module, when five runs of 1 : 1 : 3 : 1 : 1 have just ended.
    fn next(&mut self, value: i8, x: usize) -> Option<(f64, f64)> {
        if (value > 0) != (self.last > 0) {
            let (a, b) = (f64::from(self.last), f64::from(value));
            self.crossed = x as f64 - 0.5 + a / (a - b);
        }
        self.last = value;
        let turned = if self.dark { value > LEAST } else { value < -LEAST };
        if !turned {
            return None;
        }
        self.dark = !self.dark;
        self.starts.rotate_left(1);
        self.starts[5] = self.crossed;
        let s = self.starts;
        if self.dark || s[0] <= 0.0 {
            return None;
        }
        let module = (s[5] - s[0]) / 7.0;
        let off = |n: usize, wide: f64| (s[n + 1] - s[n] - wide * module).abs() / module;
        let right = [0, 1, 3, 4].iter().all(|n| off(*n, 1.0) < 0.75) && off(2, 3.0) < 1.3;
        (right && module > 1.1).then_some((f64::midpoint(s[2], s[3]), module))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{GrayImage, Luma};

    /// One large square with its middle at (60, 50), turned by 30°, its module 4 pixels; and a plain ring beside it.
    fn picture() -> GrayImage {
        GrayImage::from_fn(200, 100, |x, y| {
            let (dx, dy) = (f64::from(x) + 0.5 - 60.0, f64::from(y) + 0.5 - 50.0);
            let (sin, cos) = 30.0_f64.to_radians().sin_cos();
            let far = (dx * cos + dy * sin).abs().max((dy * cos - dx * sin).abs()) / 4.0;
            let ring = (f64::from(x) - 150.0).hypot(f64::from(y) - 50.0);
            let dark = far < 1.5 || (2.5..3.5).contains(&far) || (20.0..24.0).contains(&ring);
            Luma([if dark { 60 } else { 200 }])
        })
    }

    #[test]
    fn a_turned_square_is_found_where_it_is_and_a_ring_is_none() {
        let found = squares(&Relief::of(&picture()));
        assert_eq!(found.len(), 1, "{found:?}");
        let square = &found[0];
        assert!((square.middle[0] - 60.0).hypot(square.middle[1] - 50.0) < 0.3, "{:?}", square.middle);
        let (sin, cos) = 30.0_f64.to_radians().sin_cos();
        let edge = square.towards([60.0 + 50.0 * cos, 50.0 + 50.0 * sin]);
        assert!((edge - 14.0).abs() < 0.7, "{edge}");
    }
}
