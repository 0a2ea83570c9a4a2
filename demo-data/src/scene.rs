//! Photos of a tag on bark as a pinhole camera sees them, with all that is true of them known.
//! Never a photograph; never more than one tag's plane and one round cap.
//! Invariant: the same scene gives the same picture, and its truth is exact.

use crate::chance::Chance;
use image::{GrayImage, Luma, RgbImage};
use shadeyard_backend::tags::rules::{MODULE, TAG, code, code_at, code_text};

/// A cap: its middle from the tag's middle, mm on the tag's plane; its width; how far its rim stands out, mm.
#[derive(Debug, Clone, Copy)]
pub struct Cap {
    /// Its middle.
    pub at: [f64; 2],
    /// Its width, mm.
    pub width: f64,
    /// How far its rim stands before the tag, mm.
    pub proud: f64,
}

/// What the camera looks at, and how.
#[derive(Debug, Clone)]
pub struct Scene {
    /// The log's id, which the tag's code says.
    pub log: String,
    /// The picture's size, pixels.
    pub size: [u32; 2],
    /// Focal length as on film 36 mm wide, mm.
    pub focal_35mm: f64,
    /// The code's width in the middle of the picture, were it seen straight, pixels.
    pub code_px: f64,
    /// How far the tag's plane leans away, degrees, and about which axis, degrees.
    pub tilt: [f64; 2],
    /// How the picture is turned, degrees.
    pub roll: f64,
    /// Where the tag's middle lies from the picture's middle, shares of the picture.
    pub off: [f64; 2],
    /// Standard deviation of the blur, modules of the code.
    pub blur: f64,
    /// Light: 1 is a bright day, 0.2 dusk.
    pub light: f64,
    /// Standard deviation of the noise, of 255.
    pub noise: f64,
    /// A cap beside the tag.
    pub cap: Option<Cap>,
    /// Another picture of the same things.
    pub seed: u64,
}

impl Scene {
    /// A tag straight before the camera on a bright day, its code 200 pixels wide.
    pub fn of(log: &str) -> Self {
        Self {
            log: log.to_owned(),
            size: [1000, 750],
            focal_35mm: 26.0,
            code_px: 200.0,
            tilt: [0.0, 0.0],
            roll: 0.0,
            off: [0.0, 0.0],
            blur: 0.1,
            light: 1.0,
            noise: 2.0,
            cap: None,
            seed: 1,
        }
    }

    /// The picture as it would come out of a camera, before it is packed.
    pub fn picture(&self) -> RgbImage {
        let view = View::of(self);
        let [width, height] = self.size;
        let modules = code(&code_text(&self.log)).unwrap_or_default();
        let mut grey = GrayImage::from_fn(width, height, |x, y| {
            let part = [0.25, 0.75];
            let sum: f64 = part
                .iter()
                .flat_map(|dy| part.iter().map(move |dx| (dx, dy)))
                .map(|(dx, dy)| view.shade([f64::from(x) + dx, f64::from(y) + dy], &modules, self))
                .sum();
            Luma([(sum / 4.0 * 255.0 * self.light).clamp(0.0, 255.0) as u8])
        });
        let blur = self.blur * self.code_px / 25.0;
        if blur > 0.15 {
            grey = image::imageops::blur(&grey, blur as f32);
        }
        let mut chance = Chance::new(self.seed);
        RgbImage::from_fn(width, height, |x, y| {
            let normal = (0..4).map(|_| chance.unit()).sum::<f64>() - 2.0;
            let shade = f64::from(grey.get_pixel(x, y).0[0]) + normal * 1.73 * self.noise;
            image::Rgb([shade, shade * 0.93, shade * 0.84].map(|c| c.clamp(0.0, 255.0) as u8))
        })
    }

    /// The picture as JPEG of this quality.
    pub fn jpeg(&self, quality: u8) -> Vec<u8> {
        let mut out = Vec::new();
        let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, quality);
        // Into memory nothing can go wrong.
        let _done = self.picture().write_with_encoder(encoder);
        out
    }

    /// Where the two sides of the cap lie in the picture, along its widest line across the picture, pixels.
    pub fn cap_sides(&self) -> Option<[[f64; 2]; 2]> {
        let cap = self.cap?;
        let view = View::of(self);
        let side = |s: f64| view.pixel([cap.at[0] + s * cap.width / 2.0, cap.at[1], cap.proud]);
        Some([side(-1.0), side(1.0)])
    }

    /// How far the tag's middle is from the camera, mm.
    pub fn distance(&self) -> f64 {
        View::of(self).distance
    }
}

/// The camera and the tag's plane before it.
struct View {
    focal: f64,
    middle: [f64; 2],
    distance: f64,
    origin: [f64; 3],
    across: [f64; 3],
    down: [f64; 3],
    /// Away from the camera.
    normal: [f64; 3],
}

impl View {
    fn of(scene: &Scene) -> Self {
        let [width, height] = scene.size.map(f64::from);
        let focal = scene.focal_35mm / 43.27 * width.hypot(height);
        let distance = focal * 25.0 * f64::from(MODULE) / scene.code_px;
        let [tilt, axis] = scene.tilt.map(f64::to_radians);
        let roll = scene.roll.to_radians();
        // Rodrigues: about an axis in the picture's plane, then about the line of sight.
        let k = [axis.cos(), axis.sin(), 0.0];
        let lean = |v: [f64; 3]| {
            let dot = k[0] * v[0] + k[1] * v[1] + k[2] * v[2];
            let cross = [k[1] * v[2] - k[2] * v[1], k[2] * v[0] - k[0] * v[2], k[0] * v[1] - k[1] * v[0]];
            [0, 1, 2].map(|i| v[i] * tilt.cos() + cross[i] * tilt.sin() + k[i] * dot * (1.0 - tilt.cos()))
        };
        let turn = |v: [f64; 3]| {
            [v[0] * roll.cos() - v[1] * roll.sin(), v[0] * roll.sin() + v[1] * roll.cos(), v[2]]
        };
        let both = |v| lean(turn(v));
        let origin =
            [scene.off[0] * width / focal * distance, scene.off[1] * height / focal * distance, distance];
        Self {
            focal,
            middle: [width / 2.0, height / 2.0],
            distance,
            origin,
            across: both([1.0, 0.0, 0.0]),
            down: both([0.0, 1.0, 0.0]),
            normal: both([0.0, 0.0, 1.0]),
        }
    }

    /// The pixel of a point on the tag's plane, `proud` in front of it, mm.
    fn pixel(&self, [u, v, proud]: [f64; 3]) -> [f64; 2] {
        let p = [0, 1, 2]
            .map(|i| self.origin[i] + self.across[i] * u + self.down[i] * v - self.normal[i] * proud);
        [self.focal * p[0] / p[2] + self.middle[0], self.focal * p[1] / p[2] + self.middle[1]]
    }

    /// Where a ray through a pixel meets the plane `proud` before the tag's, mm from the tag's middle.
    fn meet(&self, pixel: [f64; 2], proud: f64) -> Option<[f64; 2]> {
        let ray = [(pixel[0] - self.middle[0]) / self.focal, (pixel[1] - self.middle[1]) / self.focal, 1.0];
        let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let along = (dot(self.normal, self.origin) - proud) / dot(self.normal, ray);
        if along <= 0.0 {
            return None;
        }
        let p = [0, 1, 2].map(|i| ray[i] * along - self.origin[i] + self.normal[i] * proud);
        Some([dot(p, self.across), dot(p, self.down)])
    }

    fn shade(&self, pixel: [f64; 2], modules: &[Vec<bool>], scene: &Scene) -> f64 {
        if let Some(cap) = scene.cap
            && let Some([u, v]) = self.meet(pixel, cap.proud)
        {
            let far = (u - cap.at[0]).hypot(v - cap.at[1]);
            if far < cap.width / 2.0 {
                return 0.72 - 0.2 * far / cap.width;
            }
        }
        self.meet(pixel, 0.0).map_or(0.1, |at| on_the_plane(at, modules, scene.seed))
    }
}

/// The tag, with its code's middle at the plane's middle; bark around it.
fn on_the_plane([u, v]: [f64; 2], modules: &[Vec<bool>], seed: u64) -> f64 {
    let module = f64::from(MODULE);
    let side = module * modules.len() as f64;
    let [left, low] = code_at(modules.len()).map(f64::from);
    let [width, height] = TAG.map(f64::from);
    // On the tag, from its upper left corner.
    let (x, y) = (u + left + side / 2.0, v + height - low - side / 2.0);
    if !(0.0..width).contains(&x) || !(0.0..height).contains(&y) {
        return bark([u, v], seed);
    }
    let (column, row) = ((u + side / 2.0) / module, (v + side / 2.0) / module);
    if column >= 0.0 && row >= 0.0 {
        let dark = modules.get(row as usize).and_then(|line| line.get(column as usize));
        if let Some(dark) = dark {
            return if *dark { 0.1 } else { 0.9 };
        }
    }
    // The letters, as three bars.
    let beside = x - (left + side + 8.0);
    if (10.0..30.0).contains(&y) && (0.0..36.0).contains(&beside) && beside % 12.0 < 5.0 { 0.12 } else { 0.9 }
}

/// Furrowed and speckled, between dark and middling.
fn bark([u, v]: [f64; 2], seed: u64) -> f64 {
    let furrow = (u * 0.35 + 1.5 * (v * 0.06 + seed as f64).sin()).sin() * 0.08;
    furrow
        + 0.3
        + 0.25 * (speck(u * 0.5, v * 0.12, seed) - 0.5)
        + 0.12 * (speck(u * 2.0, v * 1.4, seed + 1) - 0.5)
}

/// Smooth noise on a grid.
fn speck(x: f64, y: f64, seed: u64) -> f64 {
    let at = |dx: f64, dy: f64| {
        let (i, j) = ((x.floor() + dx) as i64 as u64, (y.floor() + dy) as i64 as u64);
        Chance::new(seed ^ i.wrapping_mul(0x9e37_79b9) ^ j.wrapping_mul(0x85eb_ca6b_1234)).unit()
    };
    let (fx, fy) = (x - x.floor(), y - y.floor());
    let upper = at(0.0, 0.0) * (1.0 - fx) + at(1.0, 0.0) * fx;
    let lower = at(0.0, 1.0) * (1.0 - fx) + at(1.0, 1.0) * fx;
    upper * (1.0 - fy) + lower * fy
}
