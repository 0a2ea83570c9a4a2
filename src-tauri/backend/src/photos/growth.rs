//! How fast caps grow, from their widths over days; and the width of one cap in a photo, with its error.
//! Never when to pick: that is the rounds' to say.
//! Invariant: nothing is said about growth from photos less than half a day apart.

use super::find::MODULES;
use super::plane::{Camera, Plane, Point, distance, width};

/// A module of a printed tag's code, mm: the code is 30 mm wide.
pub const MODULE_MM: f64 = 1.2;
/// The printed code's width, mm.
pub const CODE_MM: f64 = 30.0;
/// A cap that nobody has said anything about stands out from the tag by up to this, mm. Our own choice: a
/// full-grown shiitake cap on its stem at the side of a log.
pub const PROUD_MAX_MM: f64 = 40.0;
/// Focal length of a phone's main camera as on film 36 mm wide when the photo does not say it, mm; and how far
/// it may be off, as a share. Our own choice: main cameras are 23 to 29 mm.
const FOCAL_35MM: (f64, f64) = (26.0, 0.12);
/// The least half a day between two photos that growth is read from, minutes.
const APART_MIN: i64 = 720;
/// A flush's caps are measured within this many days; common practice: pins to full size in 3 to 10 days,
/// cold weather up to three weeks.
const FLUSH_DAYS: i64 = 21;

/// The width of a cap, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Width {
    /// The best guess.
    pub mm: f64,
    /// It may be as little as this.
    pub low: f64,
    /// Or as much.
    pub high: f64,
}

/// What a width is measured by.
#[derive(Debug, Clone, Copy)]
pub struct Ruler {
    /// Modules of the code to pixels.
    pub plane: Plane,
    /// How far the code's edges are off, modules.
    pub off: f64,
    /// Edges it was fitted to.
    pub edges: usize,
    /// The picture's size, pixels.
    pub size: [f64; 2],
    /// Focal length, mm, as on film 36 mm wide; `None`: the photo does not say.
    pub focal_35mm: Option<u32>,
}

impl Ruler {
    /// Millimetres on the tag to pixels.
    fn millimetres(&self) -> Plane {
        let m = self.plane.0;
        Plane([
            m[0] / MODULE_MM,
            m[1] / MODULE_MM,
            m[2],
            m[3] / MODULE_MM,
            m[4] / MODULE_MM,
            m[5],
            m[6] / MODULE_MM,
            m[7] / MODULE_MM,
            m[8],
        ])
    }

    fn camera(&self, share: f64) -> Camera {
        let film = self.focal_35mm.map_or(FOCAL_35MM.0, f64::from) * (1.0 + share);
        // The focal length as on film is by the diagonal: 43.27 mm of it.
        Camera { focal: film / 43.27 * self.size[0].hypot(self.size[1]), middle: self.size.map(|s| s / 2.0) }
    }

    /// How far the tag is from the camera, mm.
    pub fn distance(&self) -> Option<f64> {
        distance(&self.millimetres(), self.camera(0.0))
    }

    /// The width between two points that were set within `tap` pixels, of a cap that stands `proud` mm before the
    /// tag; not said: anything from none to [`PROUD_MAX_MM`]. `None` when the points can't lie on that plane.
    ///
    /// The error adds up what the taps, the code's own edges, the unknown distance to the bark and the unknown
    /// focal length leave open.
    pub fn width(&self, a: Point, b: Point, tap: f64, proud: Option<f64>) -> Option<Width> {
        let plane = self.millimetres();
        let at = |proud: f64, share: f64| width(&plane, self.camera(share), a, b, proud);
        let flat = at(0.0, 0.0)?;
        let (near, far) = match proud {
            Some(proud) => (proud, proud),
            None => (0.0, PROUD_MAX_MM),
        };
        let doubt = if self.focal_35mm.is_some() { 0.03 } else { FOCAL_35MM.1 };
        let mut ends = Vec::new();
        for proud in [near, far] {
            ends.extend([at(proud, doubt)?, at(proud, -doubt)?]);
        }
        let mm = at(proud.unwrap_or(PROUD_MAX_MM / 2.0), 0.0)?;
        // One pixel at the cap, mm, along and across.
        let back = plane.inverse()?;
        let pixel = |[x, y]: Point| {
            let (p, q, r) = (back.at([x, y]), back.at([x + 1.0, y]), back.at([x, y + 1.0]));
            (p[0] - q[0]).hypot(p[1] - q[1]).max((p[0] - r[0]).hypot(p[1] - r[1]))
        };
        let taps = (pixel(a).powi(2) + pixel(b).powi(2)).sqrt() * tap;
        let code = self.scale_error(a, b) * flat;
        let error = taps.hypot(code);
        let low = ends.iter().copied().fold(mm, f64::min) - error;
        let high = ends.iter().copied().fold(mm, f64::max) + error;
        Some(Width { mm, low: low.max(0.0), high })
    }

    /// How far the scale at two points may be off, as a share: the edges' scatter, carried as far as the points
    /// lie from the code. Twice the standard error, and half a hundredth for paper and printer.
    fn scale_error(&self, a: Point, b: Point) -> f64 {
        let n = f64::from(u32::try_from(MODULES).unwrap_or(25));
        let edges = f64::from(u32::try_from(self.edges.max(1)).unwrap_or(u32::MAX));
        let away = self.plane.inverse().map_or(n, |back| {
            let (a, b) = (back.at(a), back.at(b));
            let middle = [f64::midpoint(a[0], b[0]) - n / 2.0, f64::midpoint(a[1], b[1]) - n / 2.0];
            middle[0].hypot(middle[1])
        });
        let corner = self.off / edges.sqrt();
        0.005 + 2.0 * corner / n * (2.0 + 4.0 * away / n)
    }
}

/// One cap measured once.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The cap's number in its flush.
    pub cap: i64,
    /// When, local time, minutes since 1970.
    pub minute: i64,
    /// Width, tenths of mm.
    pub width: i64,
    /// As little as.
    pub low: i64,
    /// As much as.
    pub high: i64,
}

/// How a flush's caps grow.
#[derive(Debug, Clone, PartialEq, serde::Serialize, ts_rs::TS)]
pub struct Growth {
    /// Tenths of mm a day, the mean of the caps that were measured more than once.
    pub tenths_a_day: i64,
    /// It may be as little as this.
    pub low: i64,
    /// Or as much.
    pub high: i64,
    /// Caps that it was read from.
    pub caps: i64,
    /// Hours between the first and the last photo.
    pub hours: i64,
    /// The widest cap when last measured, tenths of mm.
    pub widest_tenths: i64,
    /// When that was, local time, `YYYY-MM-DDThh:mm`.
    pub last: String,
}

/// The growth of the newest flush; `all` are the log's measures since its last picking, in any order. `None`
/// when no cap was measured twice half a day apart.
pub fn growth(all: &[Measured]) -> Option<Growth> {
    let newest = all.iter().map(|m| m.minute).max()?;
    let flush: Vec<&Measured> = all.iter().filter(|m| newest - m.minute <= FLUSH_DAYS * 1440).collect();
    let mut caps: Vec<i64> = flush.iter().map(|m| m.cap).collect();
    caps.sort_unstable();
    caps.dedup();
    let lines: Vec<Line> = caps.iter().filter_map(|cap| Line::of(&flush, *cap)).collect();
    let count = f64::from(u32::try_from(lines.len()).ok().filter(|n| *n > 0)?);
    let mean = lines.iter().map(|l| l.slope).sum::<f64>() / count;
    // The caps' errors are mostly one: they hang on the same tag.
    let error = lines.iter().map(|l| l.error).sum::<f64>() / count;
    let last = flush.iter().filter(|m| newest - m.minute < APART_MIN);
    let widest = last.map(|m| m.width).max().unwrap_or(0);
    let first = lines.iter().map(|l| l.first).min().unwrap_or(newest);
    Some(Growth {
        tenths_a_day: whole(mean),
        low: whole(mean - error),
        high: whole(mean + error),
        caps: i64::try_from(lines.len()).unwrap_or(i64::MAX),
        hours: (newest - first) / 60,
        widest_tenths: widest,
        last: chrono::DateTime::from_timestamp(newest * 60, 0)
            .map(|t| t.format("%Y-%m-%dT%H:%M").to_string())
            .unwrap_or_default(),
    })
}

/// The straight line through one cap's widths.
struct Line {
    /// Tenths of mm a day.
    slope: f64,
    error: f64,
    first: i64,
}

impl Line {
    fn of(flush: &[&Measured], cap: i64) -> Option<Self> {
        let points: Vec<&&Measured> = flush.iter().filter(|m| m.cap == cap).collect();
        let first = points.iter().map(|m| m.minute).min()?;
        let last = points.iter().map(|m| m.minute).max()?;
        if last - first < APART_MIN {
            return None;
        }
        let days = |m: &Measured| real(m.minute - first) / 1440.0;
        let n = real(i64::try_from(points.len()).ok()?);
        let day = points.iter().map(|m| days(m)).sum::<f64>() / n;
        let square: f64 = points.iter().map(|m| (days(m) - day).powi(2)).sum();
        let slope = points.iter().map(|m| (days(m) - day) * real(m.width)).sum::<f64>() / square;
        // Each width's half range, as if they were independent.
        let variance: f64 =
            points.iter().map(|m| ((days(m) - day) * real(m.high - m.low) / 2.0).powi(2)).sum();
        Some(Self { slope, error: variance.sqrt() / square, first })
    }
}

fn real(n: i64) -> f64 {
    f64::from(i32::try_from(n).unwrap_or(i32::MAX))
}

/// To the nearest whole.
#[allow(clippy::cast_possible_truncation, reason = "bounded to what a cap can be")]
pub fn whole(x: f64) -> i64 {
    x.round().clamp(-1e9, 1e9) as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cap(cap: i64, hour: i64, width: i64) -> Measured {
        Measured { cap, minute: 29_000_000 + hour * 60, width, low: width - 10, high: width + 10 }
    }

    #[test]
    fn caps_measured_two_days_apart_give_millimetres_a_day() {
        let grown =
            growth(&[cap(1, 0, 200), cap(2, 0, 150), cap(1, 48, 300), cap(2, 48, 230)]).expect("growth");
        assert_eq!((grown.tenths_a_day, grown.caps, grown.hours, grown.widest_tenths), (45, 2, 48, 300));
        assert!(grown.low < 45 && grown.high > 45, "{grown:?}");
    }

    #[test]
    fn one_photo_or_two_of_one_evening_give_no_growth() {
        assert_eq!(growth(&[]), None);
        assert_eq!(growth(&[cap(1, 0, 200)]), None);
        assert_eq!(growth(&[cap(1, 0, 200), cap(1, 2, 230)]), None);
        assert_eq!(growth(&[cap(1, 0, 200), cap(2, 48, 230)]), None, "another cap");
    }

    #[test]
    fn an_older_flush_does_not_take_part() {
        let grown = growth(&[cap(1, 0, 700), cap(1, 24 * 60, 100), cap(1, 24 * 61, 150)]).expect("growth");
        assert_eq!(grown.tenths_a_day, 50);
    }
}
