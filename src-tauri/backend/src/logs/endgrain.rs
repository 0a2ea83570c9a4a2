//! The end-grain picture: the disc on a log's cut end, drawn from its own record as a small list of shapes.
//! Never a colour: a shape's class names what it is. Never an entry: a log's rings come in, worked out before.
//! Invariant: the same grain gives the same shapes; what is not known is drawn open, never as nothing.

use super::rules::State;
use crate::measure::Rough;
use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use std::f64::consts::TAU;
use std::fmt::Write as _;

/// The picture's side, and its middle.
const MIDDLE: f64 = 50.0;
/// Most rings drawn: a log of more years has them closer than an eye can part.
const RINGS_MAX: i64 = 12;
/// Most flushes and soaks drawn, the newest.
const MARKS_MAX: usize = 48;

/// What a log's rings say of its record: the column `log_state.rings`.
#[derive(Debug, Clone, Default, PartialEq, Deserialize)]
pub struct Rings {
    /// Each flush: its first day, grams (none: no picking was weighed), pickings not weighed.
    #[serde(rename = "f", default)]
    pub flushes: Vec<(NaiveDate, Option<i64>, i64)>,
    /// The days of soaks.
    #[serde(rename = "s", default)]
    pub soaks: Vec<NaiveDate>,
}

/// What a picture is drawn from. It becomes shapes when it goes out to a screen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(into = "Drawn")]
pub struct Grain {
    /// The log's id: it gives the wood its own irregular edge.
    pub id: String,
    /// The label on the log.
    pub tag: String,
    /// Diameters, mm; none: not measured.
    pub d_mm: Vec<i64>,
    /// When it was laid.
    pub laid: Option<Rough>,
    /// Its state on the day.
    pub state: State,
    /// The rings as they are kept.
    pub rings: Option<String>,
    /// The day the picture is of.
    pub today: NaiveDate,
    /// Whether the yard lies south of the equator.
    pub southern: bool,
    /// Whether its words say inches, ounces and pounds.
    pub us: bool,
}

/// One shape of the picture, on a square of 100 × 100.
#[derive(Debug, Clone, PartialEq, Serialize, ts_rs::TS)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Shape {
    /// A path.
    Path {
        /// What it is.
        class: String,
        /// SVG path data.
        d: String,
    },
    /// A circle.
    Circle {
        /// What it is.
        class: String,
        /// Its middle.
        cx: f64,
        /// Its middle.
        cy: f64,
        /// Its radius.
        r: f64,
    },
}

/// A picture as it goes out: its shapes from the back to the front, and the same in words.
#[derive(Debug, Clone, PartialEq, Serialize, ts_rs::TS)]
pub struct Drawn {
    /// From the back to the front.
    pub shapes: Vec<Shape>,
    /// What the picture shows, for who cannot see it and for what is printed.
    pub words: String,
}

impl From<Grain> for Drawn {
    fn from(grain: Grain) -> Self {
        draw(&grain)
    }
}

/// Draws a log.
pub fn draw(grain: &Grain) -> Drawn {
    let rings = grain.read();
    let radius = radius(&grain.d_mm);
    let seed = seed(&grain.id);
    let mut shapes = Vec::new();
    let open = if grain.d_mm.is_empty() { " grain-unmeasured" } else { "" };
    let class = format!("grain-bark grain-{}{open}", grain.state.word());
    shapes.push(Shape::Path { class, d: wobbly(radius, seed, 0.03) });
    shapes.push(path("grain-wood", wobbly(radius * 0.86, seed + 1.0, 0.02)));
    let years = grain.years();
    let shown = years.unwrap_or(0).min(RINGS_MAX);
    for ring in 1..=shown {
        let r = radius * 0.86 * ring as f64 / (shown + 1) as f64;
        shapes.push(circle("grain-ring", MIDDLE - 0.5, MIDDLE + 0.5, r));
    }
    shapes.extend(wedges(&rings, radius * 0.84));
    shapes.push(circle("grain-pith", MIDDLE - 1.0, MIDDLE + 1.0, 1.8));
    shapes.extend(newest(&rings.soaks).map(|day| nick(*day, radius)));
    shapes.extend(outline(grain.state.word(), radius));
    Drawn { shapes, words: words(grain, &rings, years) }
}

/// The picture as a whole SVG text, for paper.
pub fn svg(drawn: &Drawn) -> String {
    let mut text = String::from(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"grain\" viewBox=\"0 0 100 100\" role=\"img\">\n",
    );
    let _ = writeln!(text, "<title>{}</title>", escaped(&drawn.words));
    for shape in &drawn.shapes {
        let _ = match shape {
            Shape::Path { class, d } => writeln!(text, "<path class=\"{class}\" d=\"{d}\"/>"),
            Shape::Circle { class, cx, cy, r } => {
                writeln!(text, "<circle class=\"{class}\" cx=\"{cx}\" cy=\"{cy}\" r=\"{r}\"/>")
            }
        };
    }
    text + "</svg>\n"
}

impl Grain {
    /// Rings that cannot be read are none: they are worked out anew with the next act on the log.
    fn read(&self) -> Rings {
        self.rings.as_deref().and_then(|text| serde_json::from_str(text).ok()).unwrap_or_default()
    }

    /// Whole years since it was laid, from the latest day a rough date can mean.
    fn years(&self) -> Option<i64> {
        let (_, last) = self.laid.as_ref()?.span(self.southern)?;
        let years = i64::from(self.today.year()) - i64::from(last.year());
        let not_yet = (self.today.month(), self.today.day()) < (last.month(), last.day());
        Some((years - i64::from(not_yet)).max(0))
    }
}

/// 60 mm and less draw small, 250 mm and more nearly fill the square.
fn radius(d_mm: &[i64]) -> f64 {
    if d_mm.is_empty() {
        return 33.0;
    }
    let mean = d_mm.iter().sum::<i64>() as f64 / d_mm.len() as f64;
    28.0 + (mean.clamp(60.0, 250.0) - 60.0) / 190.0 * 15.0
}

/// The place of a day in the round of the year, January at the top, clockwise.
fn angle(day: NaiveDate) -> f64 {
    (f64::from(day.ordinal()) - 1.0) / 366.0 * TAU - TAU / 4.0
}

fn newest<T>(all: &[T]) -> impl Iterator<Item = &T> {
    all.get(all.len().saturating_sub(MARKS_MAX)..).unwrap_or_default().iter()
}

/// A flush is a wedge from the bark inwards at its time of the year, as long as its weight: the square
/// root, so that a great flush does not hide the small ones. Long ones lie below short ones.
fn wedges(rings: &Rings, radius: f64) -> Vec<Shape> {
    let mut flushes: Vec<_> = newest(&rings.flushes).collect();
    flushes.sort_by_key(|(_, grams, _)| std::cmp::Reverse(grams.unwrap_or(0)));
    flushes.into_iter().map(|(day, grams, _)| wedge(angle(*day), *grams, radius)).collect()
}

fn wedge(at: f64, grams: Option<i64>, radius: f64) -> Shape {
    /// Grams of a flush that reaches the pith.
    const WHOLE_G: f64 = 1500.0;
    const HALF_WIDTH: f64 = 0.09;
    let share = grams.map_or(0.3, |g| (0.22 + 0.78 * (g.max(0) as f64 / WHOLE_G).sqrt()).min(1.0));
    let class = if grams.is_none() { "grain-wedge grain-unweighed" } else { "grain-wedge" };
    let points = [(radius * (1.0 - share), at), (radius, at - HALF_WIDTH), (radius, at + HALF_WIDTH)];
    Shape::Path { class: class.to_owned(), d: closed(&points) }
}

/// A soak is a nick cut into the bark at its time of the year.
fn nick(day: NaiveDate, radius: f64) -> Shape {
    let at = angle(day);
    path("grain-nick", closed(&[(radius * 0.85, at), (radius * 1.03, at - 0.07), (radius * 1.03, at + 0.07)]))
}

/// A log's state as a shape around the disc; each state has one of its own.
fn outline(state: &str, radius: f64) -> Vec<Shape> {
    let edge = radius + 4.0;
    let around = |n: usize| (0..n).map(move |i| TAU * (i as f64 + 0.5) / n as f64);
    match state {
        // Cut, not laid: the corners of a stack.
        "waiting" => vec![path("grain-outline", corners(edge))],
        // Threads growing out.
        "spawn_run" => around(16).map(|a| path("grain-outline", ray(radius + 1.5, edge + 1.5, a))).collect(),
        "soaking" => vec![path("grain-outline", wave(edge, 16))],
        "soaked" => around(8).map(|a| droplet(edge + 1.0, a)).collect(),
        "pins" => around(9).map(|a| at("grain-cap", edge - 2.0, a, 2.6)).collect(),
        "fruiting" => around(6).map(|a| at("grain-cap", radius, a, 6.0)).collect(),
        // A half ring below.
        "resting" => vec![path("grain-outline", arc(edge, 0.0, TAU / 2.0))],
        "spent" => around(3).map(|a| path("grain-crack", ray(0.0, radius, a))).collect(),
        "lost" => around(7).map(|a| path("grain-crack", ray(radius * 0.45, radius, a))).collect(),
        "discarded" => [TAU / 8.0, TAU * 3.0 / 8.0]
            .map(|a| path("grain-crack", ray(edge, edge, a) + &ray(-edge, edge, a)))
            .to_vec(),
        // Gone from the yard: the ring is open to the right, with an arrow.
        "given" | "sold" | "lent" | "stolen" => {
            // What tells them apart stands at the arrow's tail: a hand open, a coin, a way back, a cross.
            let tail = match state {
                "given" => "M62 44L68 50L62 56",
                "sold" => "M62 46L68 46L68 54L62 54Z",
                "lent" => "M78 62L70 56L78 50",
                _ => "M62 44L70 56M70 44L62 56",
            };
            vec![path(
                "grain-outline",
                arc(edge, TAU / 12.0, TAU * 11.0 / 12.0) + "M86 44L94 50L86 56M70 50L94 50" + tail,
            )]
        }
        _ => vec![circle("grain-outline", MIDDLE, MIDDLE, edge)],
    }
}

fn words(grain: &Grain, rings: &Rings, years: Option<i64>) -> String {
    let mut text = format!("End grain of log {}: ", grain.tag);
    if grain.d_mm.is_empty() {
        text.push_str("thickness not measured");
    } else {
        let mean = grain.d_mm.iter().sum::<i64>() as f64 / grain.d_mm.len() as f64;
        let _ = match grain.us {
            true => write!(text, "{:.1} in thick", mean / 25.4),
            false => write!(text, "{:.0} cm thick", mean / 10.0),
        };
    }
    text.push_str(match (&grain.laid, years) {
        (None, _) => ", not laid yet",
        (Some(_), None) => ", laid at an unknown time",
        (Some(_), Some(0)) => ", laid less than a year ago",
        (Some(_), Some(_)) => ", laid ",
    });
    if let Some(years) = years.filter(|years| *years > 0) {
        let _ = write!(text, "{} ago", counted(years as usize, "year", "years"));
    }
    if let Some(last) = rings.flushes.last() {
        let grams: i64 = rings.flushes.iter().filter_map(|(_, grams, _)| *grams).sum();
        let open = rings.flushes.iter().any(|(_, _, unweighed)| *unweighed > 0);
        let _ = write!(text, ", {}", counted(rings.flushes.len(), "flush", "flushes"));
        let _ = match (grams, open) {
            (0, _) => write!(text, " not weighed"),
            (_, true) => write!(text, " of at least {}", weight(grams, grain.us)),
            (_, false) => write!(text, " of {}", weight(grams, grain.us)),
        };
        let _ = write!(text, ", the last in {}", last.0.format("%B %Y"));
    }
    if !rings.soaks.is_empty() {
        let _ = write!(text, ", {}", counted(rings.soaks.len(), "soak", "soaks"));
    }
    let _ = write!(text, ", {}.", state_words(grain.state.word()));
    text
}

/// A weight as the screens say it: grams, or ounces below a pound and pounds from there on.
fn weight(grams: i64, us: bool) -> String {
    const OUNCE: f64 = 28.349_523_125;
    let ounces = grams as f64 / OUNCE;
    match us {
        false => format!("{grams} g"),
        true if ounces < 16.0 => format!("{} oz", tenth(ounces)),
        true => format!("{:.1} lb", ounces / 16.0),
    }
}

/// A state as the screens say it.
fn state_words(state: &str) -> String {
    match state {
        "waiting" => "waiting to be laid".to_owned(),
        "pins" => "pins out".to_owned(),
        "fruiting" => "caps out".to_owned(),
        other => other.replace('_', " "),
    }
}

fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

fn path(class: &str, d: String) -> Shape {
    Shape::Path { class: class.to_owned(), d }
}

fn circle(class: &str, cx: f64, cy: f64, r: f64) -> Shape {
    Shape::Circle { class: class.to_owned(), cx: tenth(cx), cy: tenth(cy), r: tenth(r) }
}

fn at(class: &str, r: f64, angle: f64, size: f64) -> Shape {
    circle(class, MIDDLE + r * angle.cos(), MIDDLE + r * angle.sin(), size)
}

fn tenth(x: f64) -> f64 {
    // No minus before a nought: the same picture is the same text.
    (x * 10.0).round() / 10.0 + 0.0
}

/// A point by its distance from the middle and its angle.
fn point(r: f64, angle: f64) -> String {
    format!("{} {}", tenth(MIDDLE + r * angle.cos()), tenth(MIDDLE + r * angle.sin()))
}

fn closed(points: &[(f64, f64)]) -> String {
    let points: Vec<String> = points.iter().map(|(r, angle)| point(*r, *angle)).collect();
    format!("M{}Z", points.join("L"))
}

fn ray(from: f64, to: f64, angle: f64) -> String {
    format!("M{}L{}", point(from, angle), point(to, angle))
}

fn arc(r: f64, from: f64, to: f64) -> String {
    let large = i32::from(to - from > TAU / 2.0);
    let r_text = tenth(r);
    format!("M{}A{r_text} {r_text} 0 {large} 1 {}", point(r, from), point(r, to))
}

fn corners(r: f64) -> String {
    let (near, far, leg) = (tenth(MIDDLE - r), tenth(MIDDLE + r), 9.0);
    let (in_near, in_far) = (tenth(near + leg), tenth(far - leg));
    format!(
        "M{near} {in_near}L{near} {near}L{in_near} {near}M{in_far} {near}L{far} {near}L{far} {in_near}\
         M{far} {in_far}L{far} {far}L{in_far} {far}M{in_near} {far}L{near} {far}L{near} {in_far}"
    )
}

fn wave(r: f64, waves: usize) -> String {
    let points: Vec<(f64, f64)> = (0..waves * 2)
        .map(|i| (r + if i % 2 == 0 { 1.8 } else { -1.8 }, TAU * i as f64 / (waves * 2) as f64))
        .collect();
    closed(&points)
}

fn droplet(r: f64, angle: f64) -> Shape {
    path("grain-drop", closed(&[(r - 3.0, angle), (r + 2.0, angle - 0.05), (r + 2.0, angle + 0.05)]))
}

/// A closed circle as a hand draws it. `amount`: the share of the radius it strays by.
fn wobbly(r: f64, seed: f64, amount: f64) -> String {
    const N: usize = 8;
    let points: Vec<(f64, f64)> = (0..N)
        .map(|i| {
            let stray = r * (1.0 + (chance(seed * 31.0 + i as f64) - 0.5) * 2.0 * amount) * 1.04;
            let angle = TAU * i as f64 / N as f64;
            (MIDDLE + stray * angle.cos(), MIDDLE + stray * angle.sin())
        })
        .collect();
    let on = |i: usize| points.get(i % N).copied().unwrap_or((MIDDLE, MIDDLE));
    let between = |i: usize| {
        let ((ax, ay), (bx, by)) = (on(i), on(i + 1));
        format!("{} {}", tenth((ax + bx) / 2.0), tenth((ay + by) / 2.0))
    };
    let mut d = format!("M{}", between(0));
    for i in 0..N {
        let (x, y) = on(i + 1);
        let _ = write!(d, "Q{} {} {}", tenth(x), tenth(y), between(i + 1));
    }
    d + "Z"
}

fn seed(id: &str) -> f64 {
    f64::from(id.bytes().fold(7_u32, |sum, byte| (sum * 33 + u32::from(byte)) % 9973))
}

/// Always the same for the same seed, between 0 and 1: from whole numbers only, as a sine differs in its last
/// digits from one machine to the next.
fn chance(seed: f64) -> f64 {
    let mut x = (seed as u64).wrapping_add(0x9E37_79B9_7F4A_7C15);
    x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    ((x ^ (x >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
