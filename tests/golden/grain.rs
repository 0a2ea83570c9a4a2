//! Golden pictures: what a log's record is drawn as, held against files that an eye has looked at.
//! Never a register: records are written out here.
//! Invariant: a changed picture fails, and is only taken over with `GOLDEN=write`.

use chrono::NaiveDate;
use shadeyard_backend::logs::endgrain::{Drawn, Grain, draw, svg};
use shadeyard_backend::logs::rules::State;
use shadeyard_backend::measure::Rough;
use std::path::Path;

fn grain(state: State, laid: Option<&str>, d_mm: &[i64], rings: Option<&str>) -> Grain {
    Grain {
        id: "0192f0c1-0000-7000-8000-000000000001".to_owned(),
        tag: "37".to_owned(),
        d_mm: d_mm.to_vec(),
        laid: laid.map(|text| Rough::parse(text).expect("a rough date")),
        state,
        rings: rings.map(str::to_owned),
        today: NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day"),
        southern: false,
        us: false,
    }
}

/// Three seasons: five flushes, one of them not weighed, and three soaks.
const RINGS: &str = r#"{"f":[["2024-10-02",180,0],["2025-05-11",640,0],["2025-10-20",null,1],["2026-05-03",910,1],
    ["2026-09-14",420,0]],"s":["2025-05-02","2026-04-24","2026-09-05"]}"#;

#[test]
fn pictures_are_as_they_were_looked_at() {
    let fruiting = grain(State::Fruiting, Some("2023-04-10"), &[150, 138], Some(RINGS));
    for (name, grain) in [
        ("waiting", grain(State::Waiting, None, &[140, 132], None)),
        ("spawn-run", grain(State::SpawnRun, Some("2026-04-11"), &[108], None)),
        ("may-fruit-unmeasured", grain(State::MayFruit, Some("XXXX"), &[], None)),
        ("pins", grain(State::Pins, Some("2024"), &[118, 112], Some(RINGS))),
        ("fruiting", fruiting),
        ("resting", grain(State::Resting, Some("2022-21"), &[240, 234], Some(RINGS))),
        ("spent", grain(State::Spent, Some("2021-03-20"), &[112, 110], Some(RINGS))),
        ("lost", grain(State::Lost, Some("2025-03-20"), &[76], None)),
        ("discarded", grain(State::Discarded, Some("2025-03-20"), &[203], None)),
    ] {
        held(name, &svg(&draw(&grain)));
    }
}

fn held(name: &str, text: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("golden/{name}.svg"));
    if std::env::var_os("GOLDEN").is_some_and(|how| how == "write") {
        std::fs::write(&file, text).expect("the picture is kept");
    }
    let before = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(before == text, "{name}.svg is drawn otherwise; look at it, then GOLDEN=write:\n{text}");
}

#[test]
fn the_words_say_what_the_picture_shows() {
    let words = |grain: &Grain| draw(grain).words;
    assert_eq!(
        words(&grain(State::Fruiting, Some("2023-04-10"), &[150, 138], Some(RINGS))),
        "End grain of log 37: 14 cm thick, laid 3 years ago, 5 flushes of at least 2150 g, the last in September 2026, \
         3 soaks, caps out."
    );
    assert_eq!(
        words(&grain(State::Waiting, None, &[], None)),
        "End grain of log 37: thickness not measured, not laid yet, waiting to be laid."
    );
    assert_eq!(
        words(&grain(State::MayFruit, Some("XXXX"), &[90], Some("no rings"))),
        "End grain of log 37: 9 cm thick, laid at an unknown time, may fruit."
    );
}

#[test]
fn the_words_are_in_the_units_that_are_set() {
    let us =
        |rings| Grain { us: true, ..grain(State::Fruiting, Some("2023-04-10"), &[150, 138], Some(rings)) };
    let words = draw(&us(RINGS)).words;
    assert!(words.contains("5.7 in thick") && words.contains("5 flushes of at least 4.7 lb"), "{words}");
    let light = draw(&us(r#"{"f":[["2026-05-03",300,0]],"s":[]}"#)).words;
    assert!(light.contains("1 flush of 10.6 oz"), "{light}");
}

#[test]
fn every_state_is_told_by_its_shape_alone() {
    let bare = |state: &State| -> Vec<String> {
        let drawn: Drawn = draw(&grain(*state, Some("2024-03-20"), &[120], None));
        let shapes = drawn.shapes.iter().map(|shape| format!("{shape:?}"));
        // The class of the bark repeats the state; without it the shapes still differ.
        shapes.map(|shape| shape.replace(&format!(" grain-{}", state.word()), "")).collect()
    };
    let all: std::collections::BTreeSet<Vec<String>> = State::ALL.iter().map(bare).collect();
    assert_eq!(all.len(), State::ALL.len());
}

#[test]
fn one_ring_a_year_and_a_ring_is_whole() {
    let rings = |laid: &str| {
        let drawn = draw(&grain(State::MayFruit, Some(laid), &[120], None));
        drawn.shapes.iter().filter(|shape| format!("{shape:?}").contains("grain-ring")).count()
    };
    assert_eq!((rings("2026-01-01"), rings("2025-11-25"), rings("2025-11-26")), (0, 1, 0));
    assert_eq!((rings("2021-03-20"), rings("1990"), rings("XXXX")), (5, 12, 0));
}
