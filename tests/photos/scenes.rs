//! Codes read, and caps measured, in rendered scenes whose truth is known.
//! Never a photograph. Invariant: the outside reader gets the very same files in the same run.

use super::{LOG, cases, has, said, side_by_side};
use shadeyard_backend::photos::growth::Ruler;
use shadeyard_backend::photos::{find, rules};
use shadeyard_backend::tags::rules::code_text;
use shadeyard_demo::{Cap, Chance, Scene};
use std::collections::{BTreeMap, HashSet};
use std::fmt::Write as _;

const WIDTHS: [f64; 6] = [60.0, 80.0, 100.0, 150.0, 250.0, 400.0];
const TILTS: [f64; 5] = [0.0, 15.0, 30.0, 40.0, 45.0];
const QUALITY: u8 = 60;

/// The `n`-th scene: every width, measured straight before the camera, with every tilt in turn; turned any way; two in
/// five at dusk (15–40 % of a bright day's light, grain of 4–10 levels), the others by day (60–105 %, 1–4 levels);
/// blurred by 0–0.4 modules.
fn scene(n: usize) -> Scene {
    let mut chance = Chance::named(5, &format!("scene {n}"));
    let light = if chance.happens(0.4) { chance.between(0.15, 0.4) } else { chance.between(0.6, 1.05) };
    Scene {
        code_px: WIDTHS[n % WIDTHS.len()],
        tilt: [TILTS[n / WIDTHS.len() % TILTS.len()], chance.between(0.0, 360.0)],
        roll: chance.between(0.0, 360.0),
        off: [chance.between(-0.12, 0.12), chance.between(-0.1, 0.1)],
        blur: chance.between(0.0, 0.4),
        light,
        noise: if light < 0.5 { chance.between(4.0, 10.0) } else { chance.between(1.0, 4.0) },
        seed: n as u64 + 1,
        ..Scene::of(LOG)
    }
}

/// Which of these files the outside reader finds the code in.
fn read_outside(files: &[String]) -> HashSet<String> {
    let mut found = HashSet::new();
    for some in files.chunks(100) {
        let mut words = vec!["-q", "--xml"];
        words.extend(some.iter().map(String::as_str));
        let text = said("zbarimg", &words);
        for source in text.split("<source href='").skip(1) {
            let (name, rest) = source.split_once('\'').unwrap_or_default();
            if rest.contains(&code_text(LOG)) {
                found.insert(name.to_owned());
            }
        }
    }
    found
}

#[test]
fn codes_are_read_as_well_as_by_the_outside_reader() {
    let n = cases(60, 1200);
    let folder = tempfile::tempdir().unwrap();
    let file = |i: usize| folder.path().join(format!("{i}.jpg")).to_string_lossy().into_owned();
    let ours = side_by_side(n, |i| {
        let jpeg = scene(i).jpeg(QUALITY);
        std::fs::write(file(i), &jpeg).unwrap();
        let grey = rules::brightness(&jpeg).unwrap();
        find::codes(&grey).iter().any(|code| code.text == code_text(LOG))
    });
    let files: Vec<String> = (0..n).map(file).collect();
    if !has("zbarimg") {
        return;
    }
    let outside = read_outside(&files);
    let theirs: Vec<bool> = files.iter().map(|file| outside.contains(file)).collect();
    table(n, &ours, &theirs);
    let rate = |which: &dyn Fn(&Scene) -> bool| {
        let chosen: Vec<bool> = (0..n).filter(|i| which(&scene(*i))).map(|i| ours[i]).collect();
        chosen.iter().filter(|read| **read).count() as f64 / chosen.len().max(1) as f64
    };
    let good = rate(&|s| s.code_px >= 150.0 && s.tilt[0] <= 30.0);
    let (difference, half) = paired(&ours, &theirs);
    println!(
        "at 150 px and 30 degrees or better: {:.1} %; paired difference {difference:+.1} points, 95 % from {:+.1} to {:+.1}",
        100.0 * good,
        difference - half,
        difference + half
    );
    assert!(good >= 0.95, "{good}");
    assert!(difference - half > -2.0, "{difference} ± {half}");
}

/// The mean of the paired differences, points, and half of its 95 % interval.
fn paired(ours: &[bool], theirs: &[bool]) -> (f64, f64) {
    let n = ours.len() as f64;
    let differences: Vec<f64> =
        ours.iter().zip(theirs).map(|(a, b)| f64::from(u8::from(*a)) - f64::from(u8::from(*b))).collect();
    let mean = differences.iter().sum::<f64>() / n;
    let variance = differences.iter().map(|d| (d - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    (100.0 * mean, 100.0 * 1.96 * (variance / n).sqrt())
}

fn table(n: usize, ours: &[bool], theirs: &[bool]) {
    let mut cells: BTreeMap<(usize, usize), [usize; 3]> = BTreeMap::new();
    for i in 0..n {
        let cell = cells.entry((i % WIDTHS.len(), i / WIDTHS.len() % TILTS.len())).or_default();
        cell[0] += 1;
        cell[1] += usize::from(ours[i]);
        cell[2] += usize::from(theirs[i]);
    }
    let mut text = format!("codes read of {n} scenes, per cent: ours / zbar\n{:>8}", "px");
    TILTS.iter().for_each(|tilt| _ = write!(text, "{tilt:>12}°"));
    for (w, width) in WIDTHS.iter().enumerate() {
        _ = write!(text, "\n{width:>8}");
        for t in 0..TILTS.len() {
            let [all, mine, zbar] = cells.get(&(w, t)).copied().unwrap_or_default();
            let share = |of: usize| 100.0 * of as f64 / all.max(1) as f64;
            _ = write!(text, "{:>7.0} /{:>4.0}", share(mine), share(zbar));
        }
    }
    println!("{text}");
    let all = |read: &[bool]| 100.0 * read.iter().filter(|r| **r).count() as f64 / n as f64;
    println!("in all: {:.1} / {:.1}", all(ours), all(theirs));
}

/// A scene with a cap beside the tag.
fn with_cap(n: usize, proud: f64) -> Scene {
    let mut chance = Chance::named(6, &format!("cap {n}"));
    let side = if chance.happens(0.5) { -1.0 } else { 1.0 };
    Scene {
        size: [1600, 1200],
        code_px: [150.0, 200.0, 300.0][n % 3],
        tilt: [chance.between(0.0, 40.0), chance.between(0.0, 360.0)],
        roll: chance.between(-25.0, 25.0),
        off: [chance.between(-0.06, 0.06), 0.08 * side],
        blur: chance.between(0.0, 0.25),
        light: chance.between(0.4, 1.0),
        noise: chance.between(1.0, 4.0),
        cap: Some(Cap {
            at: [chance.between(-25.0, 35.0), -52.0 * side],
            width: chance.between(10.0, 60.0),
            proud,
        }),
        seed: n as u64 + 1,
        ..Scene::of(LOG)
    }
}

/// The cap's width as it is measured, with points set one pixel off, and its truth, mm.
fn measured(scene: &Scene, proud: Option<f64>) -> Option<(shadeyard_backend::photos::growth::Width, f64)> {
    let grey = rules::brightness(&scene.jpeg(90)).unwrap();
    let code = find::codes(&grey).into_iter().find(|code| code.text == code_text(LOG))?;
    let fitted = code.fitted?;
    let ruler = Ruler {
        plane: fitted.plane,
        off: fitted.off,
        edges: fitted.edges,
        size: scene.size.map(f64::from),
        focal_35mm: Some(26),
    };
    let [a, b] = scene.cap_sides()?;
    // A careful finger: a pixel to one side or the other.
    let mut chance = Chance::new(scene.seed);
    let mut near = |p: [f64; 2]| p.map(|x| x + chance.between(-1.0, 1.0));
    let (a, b) = (near(a), near(b));
    Some((ruler.width(a, b, 1.0, proud)?, scene.cap?.width))
}

#[test]
fn a_cap_in_the_tags_plane_is_measured_within_a_few_hundredths() {
    let n = cases(12, 300);
    let mut errors = Vec::new();
    let (mut inside, mut unread) = (0, 0);
    for i in 0..n {
        let Some((found, truth)) = measured(&with_cap(i, 0.0), Some(0.0)) else {
            unread += 1;
            continue;
        };
        errors.push((found.mm - truth).abs() / truth);
        inside += usize::from(found.low <= truth && truth <= found.high);
    }
    errors.sort_by(f64::total_cmp);
    let at = |share: f64| 100.0 * errors[((errors.len() - 1) as f64 * share) as usize];
    println!(
        "caps in the tag's plane, {} measured, {unread} without a clear tag: median error {:.2} %, 95 % within {:.2} %, truth inside the range {:.0} %",
        errors.len(),
        at(0.5),
        at(0.95),
        100.0 * inside as f64 / errors.len() as f64
    );
    assert!(errors.len() * 10 >= n * 9, "{} of {n}", errors.len());
    assert!(at(0.5) <= 3.0 && at(0.95) <= 6.0);
}

#[test]
fn a_cap_that_stands_out_is_too_wide_unless_it_is_said_and_its_range_holds_the_truth() {
    let n = cases(8, 150);
    let (mut flat, mut told, mut inside, mut all) = (Vec::new(), Vec::new(), 0, 0);
    for i in 0..n {
        let scene = with_cap(i, 30.0);
        let (Some((plain, truth)), Some((known, _)), Some((open, _))) =
            (measured(&scene, Some(0.0)), measured(&scene, Some(30.0)), measured(&scene, None))
        else {
            continue;
        };
        all += 1;
        flat.push((plain.mm / truth - 1.0) * scene.distance());
        told.push((known.mm / truth - 1.0).abs());
        inside += usize::from(open.low <= truth && truth <= open.high);
    }
    let mean = |all: &[f64]| all.iter().sum::<f64>() / all.len() as f64;
    told.sort_by(f64::total_cmp);
    let worst = told[(told.len() - 1) * 95 / 100];
    println!(
        "caps 30 mm proud, {all} measured: unsaid they look {:.1} % wider at 300 mm; said, 95 % within {:.2} %; not said, the range holds the truth in {:.0} %",
        mean(&flat) / 3.0,
        100.0 * worst,
        100.0 * inside as f64 / all as f64
    );
    assert!(mean(&flat) / 300.0 > 0.05, "standing out is seen");
    assert!(worst <= 0.06, "{told:?}");
    assert!(inside * 20 >= all * 19, "{inside} of {all}");
}
