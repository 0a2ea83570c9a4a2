//! Which looks have a picture, and the drawing of them all.
//! Never a look of its own.
//! Invariant: every stage that was seen has a picture, and so has what is on the logs at the end.

use crate::chance::Chance;
use crate::drawing::drawn_photo;
use crate::exif::with_exif;
use crate::seasons::{Deed, Step};
use std::collections::BTreeMap;

/// How many pictures of each stage, spread over the years.
const SHARES: [(&str, usize); 11] = [
    ("nothing", 2),
    ("pin", 6),
    ("button", 5),
    ("cupped", 6),
    ("opening", 5),
    ("flat", 2),
    ("upturned", 2),
    ("knob", 1),
    ("short_spines", 2),
    ("long_spines", 3),
    ("yellowing", 1),
];

/// Gives some looks the seeds of their pictures, one each; the last looks of all have one too.
pub fn choose(steps: &mut [Step]) {
    let mut chance = Chance::named(46, "pictures");
    for (stage, wanted) in SHARES {
        let of_stage: Vec<usize> = (0..steps.len())
            .filter(|n| matches!(steps.get(*n), Some(Step { deed: Deed::Look { seen, .. }, .. }) if *seen == stage))
            .collect();
        for k in 1..=wanted.min(of_stage.len()) {
            // Evenly through the years, the newest among them.
            let at = (of_stage.len() * k / wanted).max(1) - 1;
            if let Some(n) = of_stage.get(at) {
                picture(steps.get_mut(*n), &mut chance);
            }
        }
    }
    let last_day = steps.last().map(|step| step.at.date_naive());
    for step in steps.iter_mut().filter(|step| Some(step.at.date_naive()) == last_day) {
        if matches!(&step.deed, Deed::Look { seen, pictures, .. } if *seen != "nothing" && pictures.is_empty())
        {
            picture(Some(step), &mut chance);
        }
    }
}

fn picture(step: Option<&mut Step>, chance: &mut Chance) {
    if let Some(Step { deed: Deed::Look { pictures, .. }, .. }) = step {
        pictures.push(chance.bits());
    }
}

/// Draws all pictures, on as many threads as the machine has cores; by seed.
pub fn draw(steps: &[Step]) -> BTreeMap<u64, Vec<u8>> {
    let wanted: Vec<(u64, &str, String)> = steps
        .iter()
        .flat_map(|step| match &step.deed {
            Deed::Look { seen, pictures, .. } => pictures
                .iter()
                .map(|seed| (*seed, *seen, step.at.format("%Y:%m:%d %H:%M:%S").to_string()))
                .collect(),
            _ => Vec::new(),
        })
        .collect();
    let threads = std::thread::available_parallelism().map_or(1, |cores| cores.get());
    let share = wanted.len().div_ceil(threads).max(1);
    std::thread::scope(|scope| {
        let working: Vec<_> = wanted
            .chunks(share)
            .map(|part| scope.spawn(move || part.iter().map(one).collect::<Vec<_>>()))
            .collect();
        working.into_iter().filter_map(|thread| thread.join().ok()).flatten().collect()
    })
}

fn one((seed, stage, taken): &(u64, &str, String)) -> (u64, Vec<u8>) {
    (*seed, with_exif(&drawn_photo(stage, *seed), taken, 1))
}
