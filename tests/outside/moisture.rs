//! Moisture against extension sheets and a sample disc worked by hand.
//! Never weather: `station` has that.
//! Invariant: each check names its source.

use shadeyard_backend::moisture::rules::{
    Band, band, below_pct, dry_mass, loss_line, to_dry_basis, to_wet_basis, weight_at, wet_basis,
};

fn near(found: f64, wanted: f64, by: f64) {
    assert!((found - wanted).abs() <= by, "{found} for {wanted}");
}

/// Source: University of Kentucky FOR-83: re-weigh sample logs, and water at more than 10 % below the first weight.
/// Its own example says that a log of 35 lb is watered at 29 lb. That is a loss of 17.1 %: the 10 % line of 35 lb is
/// 31.5 lb, and so the app draws it there.
#[test]
fn the_ten_per_cent_line_of_35_lb_is_31_and_a_half_and_not_29() {
    near(loss_line(35.0), 31.5, 1e-9);
    near(below_pct(3500, 2900), 17.142_857, 1e-6);
    const LB_G: f64 = 453.592_37;
    near(loss_line(35.0 * LB_G), 31.5 * LB_G, 1e-6);
}

/// Source: the formula MCdb = 100·wb / (100 − wb), and the other way.
#[test]
fn wet_and_dry_basis_turn_into_each_other() {
    for (wet, dry) in [(23.0, 29.870_13), (35.0, 53.846_154), (50.0, 100.0)] {
        near(to_dry_basis(wet), dry, 1e-5);
        near(to_wet_basis(dry), wet, 1e-5);
    }
}

/// Source: University of Kentucky FOR-82: spawn dies below 23 %, 35 % and more is ideal; FOR-83: 30–35 %.
#[test]
fn bands_are_those_of_the_extension_sheets() {
    assert_eq!(band(22.99), Band::Dies);
    assert_eq!(band(23.0), Band::Low);
    assert_eq!(band(30.0), Band::Fair);
    assert_eq!(band(35.0), Band::Ideal);
}

/// Source: by hand, in the manner of ISO 13061-1 (dried at 103 ± 2 °C to constant weight; from memory). A disc of
/// 480 g dries to 268.8 g: 211.2 / 480 = 44.0 %. A log of 20.0 kg from that wood holds 20.0 · 0.56 = 11.2 kg dry wood;
/// it is at 35 % at 11.2 / 0.65 = 17.23 kg and at 23 % at 11.2 / 0.77 = 14.545 kg.
#[test]
fn a_sample_disc_tells_what_the_log_may_weigh() {
    let pct = wet_basis(480.0, 268.8);
    near(pct, 44.0, 1e-9);
    let dry = dry_mass(20_000.0, pct);
    near(dry, 11_200.0, 1e-6);
    near(weight_at(dry, 35.0), 17_230.77, 0.01);
    near(weight_at(dry, 23.0), 14_545.45, 0.01);
    near(wet_basis(14_545.45, dry), 23.0, 1e-4);
}
