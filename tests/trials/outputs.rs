//! What the trials ask of the model, against closed forms.

use super::*;
use callup::engine::Passes;
use callup::models::Assumed;
use callup::study::trials::outputs::{Ask, Caught, large_caught, length_caught, never_caught, share_within};

/// What the model says of each row, every assumption at its default.
fn at_defaults(text: &str, change: impl Fn(&mut Assumed)) -> Vec<f64> {
    let models = models();
    let plan = planned(text).expect("sound");
    let mut assumed = Assumed::defaults(&models).expect("whole");
    change(&mut assumed);
    let passes = Passes::of_world(1, 0, 512);
    let ask = |(row, setting)| {
        Ask { prepared: setting, assumed: &assumed, models: &models, passes: &passes, luck: (1, 0) }
            .answer(row)
    };
    plan.trial.rows.iter().zip(&plan.settings).map(ask).collect()
}

/// K = Gamma_K / Z, the one relation between a Secchi depth and K.
#[test]
fn attenuation_is_the_secchi_quotient() {
    let models = models();
    let algae = models.tints.iter().position(|t| t.name == "algae-green").expect("a tint");
    let gamma = Assumed::defaults(&models).expect("whole").gamma_k[algae];
    let k = at_defaults(embedded("secchi-light"), |a| a.secchi_error = 1.0);
    for (k, z) in k.iter().zip([0.25, 0.5, 1.0]) {
        assert!((k * z / gamma - 1.0).abs() < 1e-6, "{k} at {z}");
    }
}

#[test]
fn the_hooked_share_is_the_assumed_one() {
    assert_eq!(at_defaults(embedded("hooked-share"), |a| a.hooked = 0.37), [0.37, 0.37]);
}

/// The chance that two random places of a unit square are within r of each other is pi r^2 - 8/3 r^3 + r^4/2 for
/// r up to 1 (Philip 2007, from memory; checked at r = 0.3: 0.21484 by direct integration). 512 points: a standard
/// error of at most 0.022 were they random.
#[test]
fn places_in_an_arena_are_as_far_apart_as_in_a_square() {
    for r in [0.1, 0.3, 0.6, 0.9] {
        let exact = std::f64::consts::PI * r * r - 8.0 / 3.0 * r * r * r + 0.5 * r * r * r * r;
        let mean = (0..16).map(|w| share_within((1, w), 2.0, 2.0 * r, 0.0)).sum::<f64>() / 16.0;
        assert!((mean - exact).abs() < 0.012, "{r}: {mean} {exact}");
    }
    assert_eq!(share_within((1, 0), 1.0, 1.5, 0.0), 1.0);
    assert_eq!(share_within((1, 0), 1.0, 0.0, 0.35), 0.0);
}

/// Chances that vary as a gamma distribution of shape a: the mean of exp(-c x) is (1 + c/a)^-a; alike fish: exp(-c).
#[test]
fn the_share_never_caught_has_its_closed_forms() {
    assert!((never_caught(&[0.02; 50], 4.0) - (-4.0_f64).exp()).abs() < 1e-12);
    assert!((never_caught(&[0.0, 0.1], 1.0) - 0.5 * (1.0 + (-2.0_f64).exp())).abs() < 1e-12);
    // Shape 1 by its quantiles: 1/(1 + 4) = 0.2.
    let exponential: Vec<f64> = (0..10_000).map(|i| -(1.0 - (f64::from(i) + 0.5) / 1e4).ln()).collect();
    assert!((never_caught(&exponential, 4.0) - 0.2).abs() < 2e-3);
    assert_eq!(never_caught(&[0.0; 4], 4.0), 1.0);
}

#[test]
fn the_stock_is_weighed_by_share_and_chance() {
    let fish = |length_m, share, chance| Caught { length_m, share, chance };
    let stock = [fish(0.2, 0.5, 0.1), fish(0.4, 0.5, 0.3)];
    assert!((length_caught(&stock) - 0.35).abs() < 1e-12);
    assert!((large_caught(&stock, 0.305) - 0.15).abs() < 1e-12);
}

/// The critical angle of Pode 1951 (closed form of the crate) with the drag coefficient that holds at that angle.
#[test]
fn the_towed_line_lies_at_its_critical_angle() {
    use callup::bait::drag::sucker_brauer;
    use callup::water::medium;
    let depth = at_defaults(embedded("lead-line"), |_| ())[0];
    let length = 30.0 * 0.3048;
    let (rho, nu) = (medium::density_kg_m3(18.0), medium::kinematic_viscosity_m2_s(18.0));
    let speed = 2.0 * 1609.344 / 3600.0;
    let line = callup::bait::Line { diameter_m: 0.8e-3, density_kg_m3: 3700.0 };
    let multiplier = Assumed::defaults(&models()).expect("whole").line_drag_multiplier;
    let cd = multiplier * sucker_brauer(speed * (depth / length) * 0.8e-3 / nu);
    let q = line.submerged_weight_n_m(rho) / (0.5 * rho * cd * 0.8e-3 * speed * speed);
    let exact = length * callup::bait::tow::critical_angle_rad(q).sin();
    assert!((depth / exact - 1.0).abs() < 1e-3, "{depth} {exact}");
}

/// Twice the fish, twice the catch; less light at the eye, a shorter range; none in the dark.
#[test]
fn outputs_move_as_they_must() {
    let catch = at_defaults(embedded("catch-per-hour"), |a| a.reachable = 0.2);
    let more = at_defaults(embedded("catch-per-hour"), |a| a.reachable = 0.4);
    assert!(catch[0] > 0.0 && (more[0] / catch[0] - 2.0).abs() < 1e-9);
    assert!((catch[1] / catch[0] - 618.0 / 124.0).abs() < 1e-9);
    let range = at_defaults(embedded("pumpkinseed-light"), |_| ());
    assert!(range.windows(2).all(|w| w[0] < w[1]), "{range:?}");
    let dark = GOOD.replace("light_lux = 1000", "light_lux = 0");
    assert!(at_defaults(&dark, |_| ()).iter().all(|r| *r < 1e-3));
}
