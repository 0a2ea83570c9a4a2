//! Shapes of a picture, given as SVG path data, written as a PDF page draws them: in black and greys.
//! Never the picture itself: paths with the names of what they are come in.
//! Invariant: what cannot be read is left out, and the rest is drawn.

use std::f64::consts::{FRAC_PI_2, TAU};
use std::fmt::Write as _;

type Point = (f64, f64);

/// A path of a picture, on a square of 100 × 100.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What it is: the words of its class.
    pub class: String,
    /// SVG path data: `M`, `L`, `Q`, `A` (of circles) and `Z`, all absolute.
    pub d: String,
}

impl Drawing {
    /// A circle as a path.
    pub fn circle(class: &str, (x, y): Point, r: f64) -> Self {
        let (left, right) = (x - r, x + r);
        let d = format!("M{left} {y}A{r} {r} 0 0 1 {right} {y}A{r} {r} 0 0 1 {left} {y}Z");
        Self { class: class.to_owned(), d }
    }
}

/// How a kind of shape looks on paper: the grey it is filled with, the grey and width of its line, dashed or not.
struct Ink {
    fill: Option<f64>,
    line: Option<(f64, f64)>,
    dashed: bool,
}

fn ink(class: &str) -> Ink {
    let is = |word: &str| class.split(' ').any(|w| w == word);
    let (fill, line) = match class.split(' ').next().unwrap_or_default() {
        "grain-bark" => (Some(if is("grain-waiting") { 0.95 } else { 0.45 }), Some((0.0, 2.0))),
        "grain-wood" => (Some(0.95), None),
        "grain-ring" => (None, Some((0.6, 1.2))),
        "grain-wedge" if is("grain-unweighed") => (None, Some((0.2, 0.8))),
        "grain-wedge" => (Some(0.3), Some((0.2, 0.6))),
        "grain-cap" => (Some(1.0), Some((0.0, 1.6))),
        "grain-nick" => (Some(1.0), Some((0.3, 0.8))),
        "grain-pith" | "grain-drop" => (Some(0.2), None),
        "grain-crack" => (None, Some((0.0, 3.0))),
        _ => (None, Some((0.0, 1.6))),
    };
    Ink { fill, line, dashed: is("grain-unweighed") || is("grain-unmeasured") }
}

/// The picture, its square's upper left corner at this place on the page and its side so many points long.
pub fn drawn(shapes: &[Drawing], (x, y): Point, side: f64) -> String {
    let scale = side / 100.0;
    let mut out = format!("q {scale:.4} 0 0 -{scale:.4} {x:.2} {y:.2} cm 1 J 1 j\n");
    for shape in shapes {
        let ink = ink(&shape.class);
        let path = path(&shape.d);
        if path.is_empty() || (ink.fill.is_none() && ink.line.is_none()) {
            continue;
        }
        if let Some(grey) = ink.fill {
            let _ = write!(out, "{grey} g ");
        }
        if let Some((grey, width)) = ink.line {
            let dash = if ink.dashed { "[3 3]" } else { "[]" };
            let _ = write!(out, "{grey} G {width} w {dash} 0 d ");
        }
        let paint = match (ink.fill.is_some(), ink.line.is_some()) {
            (true, true) => "B",
            (true, false) => "f",
            _ => "S",
        };
        let _ = writeln!(out, "{path}{paint}");
    }
    out.push_str("Q\n");
    out
}

/// Path data as PDF operators.
fn path(d: &str) -> String {
    let (mut out, mut at) = (String::new(), (0.0, 0.0));
    for (letter, n) in steps(d) {
        match (letter, n.as_slice()) {
            ('M', [x, y]) => {
                let _ = write!(out, "{x:.2} {y:.2} m ");
                at = (*x, *y);
            }
            ('L', [x, y]) => {
                let _ = write!(out, "{x:.2} {y:.2} l ");
                at = (*x, *y);
            }
            ('Q', [cx, cy, x, y]) => {
                // A quadratic curve is a cubic one whose handles reach two thirds of the way.
                let third = |from: f64, to: f64| from + 2.0 / 3.0 * (to - from);
                curve(
                    &mut out,
                    (third(at.0, *cx), third(at.1, *cy)),
                    (third(*x, *cx), third(*y, *cy)),
                    (*x, *y),
                );
                at = (*x, *y);
            }
            ('A', [r, _, _, large, sweep, x, y]) => {
                arc(&mut out, at, (*x, *y), *r, (*large > 0.5, *sweep > 0.5));
                at = (*x, *y);
            }
            ('Z', []) => out.push_str("h "),
            _ => {}
        }
    }
    out
}

/// Each letter with the numbers after it.
fn steps(d: &str) -> Vec<(char, Vec<f64>)> {
    let mut steps = Vec::new();
    let mut rest = d;
    while let Some(letter) = rest.chars().next() {
        rest = &rest[letter.len_utf8()..];
        let end = rest.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(rest.len());
        let numbers = rest[..end].split([' ', ',']).filter(|n| !n.is_empty());
        let numbers: Option<Vec<f64>> = numbers.map(|n| n.parse().ok()).collect();
        if let Some(numbers) = numbers {
            steps.push((letter, numbers));
        }
        rest = &rest[end..];
    }
    steps
}

fn curve(out: &mut String, a: Point, b: Point, to: Point) {
    let _ = write!(out, "{:.2} {:.2} {:.2} {:.2} {:.2} {:.2} c ", a.0, a.1, b.0, b.1, to.0, to.1);
}

/// An arc of a circle from here to there: its middle as SVG 2 works it out (appendix B.2.4), in quarters.
fn arc(out: &mut String, from: Point, to: Point, r: f64, (large, sweep): (bool, bool)) {
    let (dx, dy) = ((from.0 - to.0) / 2.0, (from.1 - to.1) / 2.0);
    let half2 = dx * dx + dy * dy;
    if half2 < 1e-12 {
        return;
    }
    let r = r.max(half2.sqrt());
    let away = (r * r / half2 - 1.0).max(0.0).sqrt() * if large == sweep { -1.0 } else { 1.0 };
    let middle = (f64::midpoint(from.0, to.0) + away * dy, f64::midpoint(from.1, to.1) - away * dx);
    let angle = |p: Point| (p.1 - middle.1).atan2(p.0 - middle.0);
    let first = angle(from);
    let mut turn = angle(to) - first;
    if sweep && turn < 0.0 {
        turn += TAU;
    } else if !sweep && turn > 0.0 {
        turn -= TAU;
    }
    let parts = (turn.abs() / FRAC_PI_2 - 1e-9).ceil().max(1.0);
    let step = turn / parts;
    let reach = 4.0 / 3.0 * (step / 4.0).tan() * r;
    for part in 0..parts as usize {
        let (a, b) = (first + step * part as f64, first + step * (part + 1) as f64);
        let on = |t: f64| (middle.0 + r * t.cos(), middle.1 + r * t.sin());
        let (begin, end) = (on(a), on(b));
        let handle = |p: Point, t: f64, way: f64| (p.0 - way * reach * t.sin(), p.1 + way * reach * t.cos());
        curve(out, handle(begin, a, 1.0), handle(end, b, -1.0), end);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The points that a path goes through, the handles of its curves left out.
    fn ends(path: &str) -> Vec<Point> {
        let mut ends = Vec::new();
        let mut numbers: Vec<f64> = Vec::new();
        for word in path.split_whitespace() {
            match word.parse() {
                Ok(n) => numbers.push(n),
                Err(_) => {
                    if let [.., x, y] = numbers.as_slice() {
                        ends.push((*x, *y));
                    }
                    numbers.clear();
                }
            }
        }
        ends
    }

    #[test]
    fn a_circle_goes_round_its_middle_and_closes() {
        let circle = path(&Drawing::circle("grain-pith", (50.0, 40.0), 10.0).d);
        let points = ends(&circle);
        assert!(circle.ends_with("h ") && points.len() == 5, "{circle}");
        for (x, y) in &points {
            assert!(((x - 50.0).hypot(y - 40.0) - 10.0).abs() < 0.02, "{x} {y}");
        }
        let low = points.iter().map(|p| p.1).fold(f64::MAX, f64::min);
        let high = points.iter().map(|p| p.1).fold(f64::MIN, f64::max);
        assert!((low - 30.0).abs() < 0.02 && (high - 50.0).abs() < 0.02, "both halves: {points:?}");
    }

    #[test]
    fn an_arc_takes_the_side_it_is_told_to() {
        // From right to left around (0, 0): with the clock it goes below, in a plane that counts downwards.
        let below = ends(&path("M10 0A10 10 0 0 1 -10 0"));
        assert!(below.iter().any(|p| p.1 > 9.9) && below.iter().all(|p| p.1 > -0.1), "{below:?}");
        let above = ends(&path("M10 0A10 10 0 0 0 -10 0"));
        assert!(above.iter().any(|p| p.1 < -9.9) && above.iter().all(|p| p.1 < 0.1), "{above:?}");
        let long = ends(&path("M10 0A10 10 0 1 1 0 -10"));
        assert_eq!(long.len(), 4, "three quarters: {long:?}");
        assert_eq!(ends(&path("M1 1A5 5 0 0 1 1 1")).len(), 1, "from here to here is no way");
    }

    #[test]
    fn what_cannot_be_read_is_left_out_and_the_rest_is_drawn() {
        assert_eq!(path("M1 2Lx 3L4 5Z"), "1.00 2.00 m 4.00 5.00 l h ");
        assert_eq!(path("M0 0Q3 0 3 3"), "0.00 0.00 m 2.00 0.00 3.00 1.00 3.00 3.00 c ");
        let one = Drawing { class: "grain-wedge grain-unweighed".into(), d: "M1 2L3 4Z".into() };
        let out = drawn(&[one], (10.0, 700.0), 50.0);
        assert!(out.starts_with("q 0.5000 0 0 -0.5000 10.00 700.00 cm") && out.ends_with("Q\n"), "{out}");
        assert!(out.contains("[3 3] 0 d 1.00 2.00 m 3.00 4.00 l h S"), "dashed and open: {out}");
    }
}
