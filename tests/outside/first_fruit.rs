//! How long logs wait for their first fruit: Kaplan and Meier's sums, and the published windows.
//! Never the yard's own figures.
//! Invariant: a window without own records is the published one to the day.

use shadeyard_backend::batches::rules::{FRESH_DAYS, FRESH_TOTEM_DAYS};
use shadeyard_backend::logs::rules::Method;
use shadeyard_backend::logs::rules::first_fruit::{Alike, Wait, published, quantile, survival, window};
use shadeyard_backend::measure::Rough;
use shadeyard_backend::strains::rules::{Fruiting, Mushroom, StrainClass, fruiting_of};

/// Source: `reference/freireich_6mp_gehan.dat`: weeks in remission under 6-mercaptopurine, and whether they
/// ended then (Freireich et al. 1963, Blood 21:699). The columns are group, weeks, ended; group 2 is that of the drug.
fn freireich() -> Vec<Wait> {
    let text = include_str!("reference/freireich_6mp_gehan.dat");
    let rows = text.lines().filter_map(|line| {
        let [group, weeks, event]: [i64; 3] = columns(line)?;
        (group == 2).then_some(Wait { months: weeks as f64, fruited: event == 1 })
    });
    rows.collect()
}

fn columns(line: &str) -> Option<[i64; 3]> {
    let all: Vec<i64> = line.split_whitespace().filter_map(|n| n.parse().ok()).collect();
    all.try_into().ok()
}

/// Source: the published estimate: 6/7, 96/119, 64/85, 176/255, 32/51, 64/119, 160/357 at 6, 7, 10, 13, 16,
/// 22 and 23 weeks; median 23.
#[test]
fn kaplan_and_meiers_sums_are_those_of_the_remissions() {
    let waits = freireich();
    assert_eq!(waits.len(), 21);
    let expected = [
        (6.0, 6.0 / 7.0),
        (7.0, 96.0 / 119.0),
        (10.0, 64.0 / 85.0),
        (13.0, 176.0 / 255.0),
        (16.0, 32.0 / 51.0),
        (22.0, 64.0 / 119.0),
        (23.0, 160.0 / 357.0),
    ];
    let found = survival(&waits);
    assert_eq!(found.len(), expected.len());
    for ((weeks, left), (at, share)) in found.into_iter().zip(expected) {
        assert!((weeks - at).abs() < 1e-12 && (left - share).abs() < 1e-12, "{weeks}: {left}");
    }
    assert_eq!(quantile(&waits, 0.5), Some(23.0));
    assert_eq!(quantile(&waits, 0.9), None, "not so many have ended");
}

fn log(mushroom: Mushroom, class: Option<StrainClass>, method: Method) -> Alike {
    Alike { mushroom, class, method: Some(method), spawn: None }
}

/// Source: University of Kentucky FOR-85 and University of Maryland RES-11: 6–18 months. Common practice: cold
/// strains 9 at least, Hericium up to 18 months and often 2 years on drilled logs.
#[test]
fn the_window_is_the_published_one() {
    use Mushroom::{Americanum, Erinaceus, Shiitake};
    assert_eq!(published(&log(Shiitake, None, Method::Drilled)), (6, 18));
    assert_eq!(published(&log(Shiitake, Some(StrainClass::Wide), Method::Drilled)), (6, 18));
    assert_eq!(published(&log(Shiitake, Some(StrainClass::Cold), Method::Drilled)), (9, 18));
    assert_eq!(published(&log(Erinaceus, None, Method::Totem)), (6, 18));
    assert_eq!(published(&log(Americanum, None, Method::Drilled)), (6, 24));
    let laid = Rough::parse("2025-03").expect("a month");
    let found = window(&log(Shiitake, None, Method::Drilled), &laid, &[], false).expect("a window");
    // The first day of March and six months; the last and eighteen; and Ohio State F-0042's 24.
    assert_eq!((found.from.to_string(), found.to.to_string()), ("2025-09-01".into(), "2026-09-30".into()));
    assert_eq!(found.late.to_string(), "2027-03-31");
}

/// Source: common practice: cold 4–21 °C, wide-range 13–25, warm 10–29.
#[test]
fn each_class_fruits_in_the_range_growers_give() {
    let dc = |from_dc, to_dc| Fruiting { from_dc, to_dc };
    assert_eq!(fruiting_of(StrainClass::Cold), dc(40, 210));
    assert_eq!(fruiting_of(StrainClass::Wide), dc(130, 250));
    assert_eq!(fruiting_of(StrainClass::Warm), dc(100, 290));
}

/// Source: common practice: about a month from felling; extension forest farming: Hericium totems within three.
#[test]
fn wood_may_wait_as_long_as_growers_say() {
    assert_eq!((FRESH_DAYS, FRESH_TOTEM_DAYS), (30, 91));
}
