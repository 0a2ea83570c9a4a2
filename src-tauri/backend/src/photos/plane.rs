//! The plane of a printed tag in a photo: from points of the picture to millimetres on the tag, and back.
//! Never a file, a code's meaning or a word for the screen.
//! Invariant: a width is only ever given with how far it can be off.

use image::GrayImage;

/// A point: pixels of a picture, or modules of a code.
pub type Point = [f64; 2];

/// A mapping between two planes (a homography), row by row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane(pub [f64; 9]);

impl Plane {
    /// The mapping that takes four points to four others; `None` when three of them lie on a line.
    pub fn from_points(from: [Point; 4], to: [Point; 4]) -> Option<Self> {
        // Around the middle and of size one: squares of pixels and modules together would lose the digits.
        let (near, far) = (Self::levelled(&from)?, Self::levelled(&to)?);
        let mut sums = Sums::default();
        for ([x, y], [u, v]) in from.map(|p| near.at(p)).into_iter().zip(to.map(|p| far.at(p))) {
            sums.add([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], u, 1.0);
            sums.add([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y], v, 1.0);
        }
        Some(near.then(&Self::of(sums.solve()?)).then(&far.inverse()?))
    }

    /// Puts points around the origin, at a distance of about one.
    fn levelled(points: &[Point]) -> Option<Self> {
        let n = f64::from(u32::try_from(points.len()).ok()?);
        let middle = [0, 1].map(|i| points.iter().map(|p| p[i]).sum::<f64>() / n);
        let away = points.iter().map(|p| (p[0] - middle[0]).hypot(p[1] - middle[1])).sum::<f64>() / n;
        let scale = 1.0 / away;
        scale
            .is_finite()
            .then(|| Self([scale, 0.0, -scale * middle[0], 0.0, scale, -scale * middle[1], 0.0, 0.0, 1.0]))
    }

    /// This mapping, and then another.
    fn then(&self, next: &Self) -> Self {
        let (a, b) = (&next.0, &self.0);
        let mut out = [0.0; 9];
        for (i, cell) in out.iter_mut().enumerate() {
            let (row, column) = (i / 3, i % 3);
            *cell = (0..3).map(|k| a[3 * row + k] * b[3 * k + column]).sum();
        }
        Self(out)
    }

    fn of(h: [f64; 8]) -> Self {
        Self([h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0])
    }

    /// Where a point goes.
    pub fn at(&self, [x, y]: Point) -> Point {
        let m = &self.0;
        let w = m[6] * x + m[7] * y + m[8];
        [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w]
    }

    /// The way back.
    pub fn inverse(&self) -> Option<Self> {
        let m = &self.0;
        let cofactors = [
            m[4] * m[8] - m[5] * m[7],
            m[2] * m[7] - m[1] * m[8],
            m[1] * m[5] - m[2] * m[4],
            m[5] * m[6] - m[3] * m[8],
            m[0] * m[8] - m[2] * m[6],
            m[2] * m[3] - m[0] * m[5],
            m[3] * m[7] - m[4] * m[6],
            m[1] * m[6] - m[0] * m[7],
            m[0] * m[4] - m[1] * m[3],
        ];
        let det = m[0] * cofactors[0] + m[1] * cofactors[3] + m[2] * cofactors[6];
        (det.abs() > f64::MIN_POSITIVE && det.is_finite()).then(|| Self(cofactors.map(|c| c / det)))
    }
}

/// Sums of a least-squares problem in eight unknowns.
#[derive(Default)]
struct Sums {
    square: [[f64; 8]; 8],
    right: [f64; 8],
}

impl Sums {
    fn add(&mut self, row: [f64; 8], value: f64, weight: f64) {
        for i in 0..8 {
            for j in 0..8 {
                self.square[i][j] += weight * row[i] * row[j];
            }
            self.right[i] += weight * row[i] * value;
        }
    }

    /// Gauss's elimination with the largest pivot.
    fn solve(mut self) -> Option<[f64; 8]> {
        for i in 0..8 {
            let best = (i..8).max_by(|a, b| self.square[*a][i].abs().total_cmp(&self.square[*b][i].abs()))?;
            self.square.swap(i, best);
            self.right.swap(i, best);
            let pivot = self.square[i][i];
            if pivot.abs() < 1e-12 || !pivot.is_finite() {
                return None;
            }
            for row in i + 1..8 {
                let share = self.square[row][i] / pivot;
                for column in i..8 {
                    self.square[row][column] -= share * self.square[i][column];
                }
                self.right[row] -= share * self.right[i];
            }
        }
        let mut found = [0.0; 8];
        for i in (0..8).rev() {
            let rest: f64 = (i + 1..8).map(|j| self.square[i][j] * found[j]).sum();
            found[i] = (self.right[i] - rest) / self.square[i][i];
        }
        found.iter().all(|x| x.is_finite()).then_some(found)
    }
}

/// The picture's brightness between its pixels, 0–255; `None` outside. Pixel (0, 0) has its middle at (0.5, 0.5).
pub fn brightness(picture: &GrayImage, [x, y]: Point) -> Option<f64> {
    let (x, y) = (x - 0.5, y - 0.5);
    let (width, height) = picture.dimensions();
    if !(x >= 0.0 && y >= 0.0 && x < f64::from(width) - 1.0 && y < f64::from(height) - 1.0) {
        return None;
    }
    let (fx, fy) = (x.fract(), y.fract());
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "within the picture, asked above"
    )]
    let (left, top) = (x as u32, y as u32);
    let p = |dx, dy| f64::from(picture.get_pixel(left + dx, top + dy).0[0]);
    let upper = p(0, 0) * (1.0 - fx) + p(1, 0) * fx;
    let lower = p(0, 1) * (1.0 - fx) + p(1, 1) * fx;
    Some(upper * (1.0 - fy) + lower * fy)
}

/// A mapping from modules to pixels that was fitted to the edges between dark and light modules.
#[derive(Debug, Clone, Copy)]
pub struct Fitted {
    /// Modules to pixels.
    pub plane: Plane,
    /// How far the edges lie from it: root mean square, modules.
    pub off: f64,
    /// Edges that took part.
    pub edges: usize,
}

/// Rounds of fitting; it settles in two or three.
const ROUNDS: usize = 4;
/// Steps across an edge, from the middle of one module to the middle of the next.
const STEPS: u32 = 16;
/// An edge found farther off than this is another's, modules.
const FAR: f64 = 0.45;

/// Fits the mapping of a code of `size` modules to its edges, each found between pixels where the brightness
/// passes the mean of the two modules beside it. Starts from `rough`; `None` when too few edges are found.
pub fn fitted(
    picture: &GrayImage,
    size: usize,
    dark: &dyn Fn(usize, usize) -> bool,
    rough: Plane,
) -> Option<Fitted> {
    let mut plane = rough;
    let mut last = None;
    for _ in 0..ROUNDS {
        let edges = edges(picture, size, dark, &plane);
        if edges.len() < size * 3 {
            return last;
        }
        let found: Vec<Point> = edges.iter().map(|edge| edge.found).collect();
        let (pixels, modules) = (Plane::levelled(&found)?, Plane::levelled(&super::find::square(size))?);
        let back = pixels.inverse()?.then(&plane.inverse()?).then(&modules);
        let (sums, square) = sums(&edges, back, &pixels, &modules);
        plane = pixels.then(&Plane::of(sums.solve()?)).then(&modules.inverse()?).inverse()?;
        let count = u32::try_from(edges.len()).unwrap_or(u32::MAX);
        last = Some(Fitted { plane, off: (square / f64::from(count)).sqrt(), edges: edges.len() });
    }
    last
}

/// Where an edge was found, and which line of the code it is: `x = at` when `upright`, else `y = at`.
struct Edge {
    found: Point,
    at: f64,
    upright: bool,
    off: f64,
}

fn edges(picture: &GrayImage, size: usize, dark: &dyn Fn(usize, usize) -> bool, plane: &Plane) -> Vec<Edge> {
    let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(0));
    let mut found = Vec::new();
    for line in 0..size {
        // Also the outer edges: outside a code all is light.
        for next in 0..=size {
            for upright in [true, false] {
                let module = |along: usize| if upright { dark(along, line) } else { dark(line, along) };
                let before = next > 0 && module(next - 1);
                let after = next < size && module(next);
                if before == after {
                    continue;
                }
                let at = number(next);
                let point = |off: f64| {
                    let (along, across) = (at + off, number(line) + 0.5);
                    plane.at(if upright { [along, across] } else { [across, along] })
                };
                if let Some(off) = crossing(picture, &point, before) {
                    found.push(Edge { found: point(off), at, upright, off });
                }
            }
        }
    }
    found
}

/// How far from where it is looked for the brightness passes the mean of both sides, modules.
fn crossing(picture: &GrayImage, point: &dyn Fn(f64) -> Point, dark_first: bool) -> Option<f64> {
    let sign = if dark_first { 1.0 } else { -1.0 };
    let at = |step: u32| f64::from(step) / f64::from(STEPS) - 0.5;
    let values: Vec<f64> = (0..=STEPS)
        .map(|step| brightness(picture, point(at(step))).map(|b| b * sign))
        .collect::<Option<_>>()?;
    let (first, last) = (*values.first()?, *values.last()?);
    // Too little between the sides: shade or glare, not an edge.
    if last - first < 12.0 {
        return None;
    }
    let mean = f64::midpoint(first, last);
    let i = values.windows(2).position(|pair| pair[0] <= mean && pair[1] > mean)?;
    let share = (mean - values[i]) / (values[i + 1] - values[i]);
    let off = at(u32::try_from(i).ok()?) + share / f64::from(STEPS);
    (off.abs() < FAR).then_some(off)
}

/// The sums that give the mapping from pixels to modules, both levelled; and the squares of how far the edges are off now.
fn sums(edges: &[Edge], back: Plane, pixels: &Plane, modules: &Plane) -> (Sums, f64) {
    let mut sums = Sums::default();
    let mut square = 0.0;
    for Edge { found, at, upright, off } in edges {
        let [x, y] = pixels.at(*found);
        let at = modules.at([*at, *at])[usize::from(!*upright)];
        let scale = (back.0[6] * x + back.0[7] * y + back.0[8]) / back.0[8];
        // Those far off count less: dirt, glare, a bent corner.
        let weight = 1.0 / (scale * scale * (1.0 + (off / 0.15).powi(2)));
        let row = if *upright {
            [x, y, 1.0, 0.0, 0.0, 0.0, -at * x, -at * y]
        } else {
            [0.0, 0.0, 0.0, x, y, 1.0, -at * x, -at * y]
        };
        sums.add(row, at, weight);
        square += off * off;
    }
    (sums, square)
}

/// A camera that looks at a tag: its focal length in pixels and its middle.
#[derive(Debug, Clone, Copy)]
pub struct Camera {
    /// Focal length, pixels.
    pub focal: f64,
    /// The middle of the picture.
    pub middle: Point,
}

/// The length between two points of the picture on a plane that lies `proud` mm in front of the tag's, mm.
/// `plane` maps millimetres on the tag to pixels. `None` when the points do not lie before the camera.
pub fn width(plane: &Plane, camera: Camera, a: Point, b: Point, proud: f64) -> Option<f64> {
    let back = plane.inverse()?;
    let (pa, pb) = (back.at(a), back.at(b));
    let flat = (pa[0] - pb[0]).hypot(pa[1] - pb[1]);
    if proud == 0.0 {
        return flat.is_finite().then_some(flat);
    }
    let pose = Pose::of(plane, camera)?;
    let shrunk = pose.between(camera, a, b, proud)? / pose.between(camera, a, b, 0.0)?;
    let width = flat * shrunk;
    (width.is_finite() && shrunk > 0.0).then_some(width)
}

/// How far the tag's middle is from the camera, mm.
pub fn distance(plane: &Plane, camera: Camera) -> Option<f64> {
    Some(Pose::of(plane, camera)?.to[2])
}

/// Where the tag lies before the camera: its normal, towards the camera, and its origin, mm.
struct Pose {
    normal: [f64; 3],
    to: [f64; 3],
}

impl Pose {
    fn of(plane: &Plane, camera: Camera) -> Option<Self> {
        let m = &plane.0;
        let [cx, cy] = camera.middle;
        let column = |i: usize| {
            [(m[i] - cx * m[6 + i]) / camera.focal, (m[3 + i] - cy * m[6 + i]) / camera.focal, m[6 + i]]
        };
        let (one, two, to) = (column(0), column(1), column(2));
        let scale = f64::midpoint(length(one), length(two)) * to[2].signum();
        let by = |v: [f64; 3]| v.map(|x| x / scale);
        let (one, two, to) = (by(one), by(two), by(to));
        let normal = cross(one, two);
        let size = length(normal);
        if size < 1e-9 || !size.is_finite() {
            return None;
        }
        let side = -dot(normal, to).signum() / size;
        Some(Self { normal: normal.map(|x| x * side), to })
    }

    /// The length between where two rays meet the plane `proud` in front of the tag's.
    fn between(&self, camera: Camera, a: Point, b: Point, proud: f64) -> Option<f64> {
        let meet = |p: Point| {
            let ray =
                [(p[0] - camera.middle[0]) / camera.focal, (p[1] - camera.middle[1]) / camera.focal, 1.0];
            let along = (dot(self.normal, self.to) + proud) / dot(self.normal, ray);
            (along > 0.0 && along.is_finite()).then(|| ray.map(|x| x * along))
        };
        let (a, b) = (meet(a)?, meet(b)?);
        Some(length([a[0] - b[0], a[1] - b[1], a[2] - b[2]]))
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn length(a: [f64; 3]) -> f64 {
    dot(a, a).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-6
    }

    #[test]
    fn a_plane_goes_through_its_four_points_and_back() {
        let from = [[0.0, 0.0], [25.0, 0.0], [25.0, 25.0], [0.0, 25.0]];
        let to = [[100.0, 80.0], [310.0, 95.0], [290.0, 330.0], [90.0, 280.0]];
        let plane = Plane::from_points(from, to).expect("a plane");
        let back = plane.inverse().expect("a way back");
        for (from, to) in from.into_iter().zip(to) {
            let (there, here) = (plane.at(from), back.at(to));
            assert!(near(there[0], to[0]) && near(there[1], to[1]), "{there:?}");
            assert!(near(here[0], from[0]) && near(here[1], from[1]), "{here:?}");
        }
        assert_eq!(Plane::from_points([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0], [3.0, 3.0]], to), None);
    }

    #[test]
    fn a_cap_30_mm_proud_at_300_mm_looks_a_tenth_larger_and_is_told_so() {
        // Straight before the camera: 10 pixels a millimetre at 300 mm.
        let camera = Camera { focal: 3000.0, middle: [2000.0, 1500.0] };
        let plane = Plane([10.0, 0.0, 1850.0, 0.0, 10.0, 1350.0, 0.0, 0.0, 1.0]);
        assert!(near(distance(&plane, camera).expect("a distance"), 300.0));
        let (a, b) = ([2100.0, 1500.0], [2500.0, 1500.0]);
        assert!(near(width(&plane, camera, a, b, 0.0).expect("flat"), 40.0));
        assert!(near(width(&plane, camera, a, b, 30.0).expect("proud"), 36.0));
    }
}
