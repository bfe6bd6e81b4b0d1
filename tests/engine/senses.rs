//! No sense reaches beyond its range, a bait at rest is silent, and what heat, cold, mud and size leave.

use super::{encounters, means_of};
use crate::common::{defaults, drawn, setting, setting_of};
use callup::engine::Passes;
use callup::fish::noticing;
use callup::maths::quadrature::{gauss_legendre, integrate};
use callup::models::Assumed;
use callup::world::{Prepared, World};

const SEED: u64 = 13;
const POINTS: usize = 256;

fn worlds() -> Vec<Assumed> {
    std::iter::once(defaults()).chain(drawn(SEED, 16)).collect()
}

/// Gauss-Legendre in 200 panels of a smooth function is better than that.
const QUADRATURE: f64 = 1e-10;

/// The hazard over a pass is the integral of a bell over the time within range: a straight line past the fish, cut
/// where the bait is farther away than the sense reaches.
#[test]
fn the_hazard_of_a_pass_is_the_integral_over_the_time_within_range() {
    let rule = gauss_legendre(12);
    for (rate, width, range, closest, speed) in [
        (1.5, 1.3, 2.1, 0.4, 0.4),
        (3.0, 0.25, 0.4, 0.39, 0.8),
        (0.2, 2.0, 6.0, 5.9, 0.1),
        (1.0, 1.0, 3.0, 0.0, 1.0),
    ] {
        let half_s = f64::sqrt(range * range - closest * closest) / speed;
        let step = half_s / 100.0;
        let bell =
            |t: f64| rate * (-(closest * closest + speed * speed * t * t) / (2.0 * width * width)).exp();
        let exact: f64 =
            (-100..100).map(|i| integrate(&rule, step * f64::from(i), step * f64::from(i + 1), bell)).sum();
        let got = noticing::pass_hazard(rate, width, range, closest, speed);
        assert!((got - exact).abs() < QUADRATURE * exact.max(1.0), "{got} {exact}");
        assert_eq!(noticing::pass_hazard(rate, width, closest, closest, speed), 0.0);
    }
}

/// Of what is noticed by sight alone nothing lies beyond that fish's own visual range, and little pauses do not
/// change that: without the end four fifths of all noticing happened out of sight.
#[test]
fn nothing_is_noticed_by_eye_beyond_the_range_of_that_eye() {
    for pause in ["0", "0.5", "0.95"] {
        let setting = setting(&[("tackle.pause", pause)]);
        let passes = Passes::of_world(SEED, 0, POINTS);
        let mut within = 0;
        for a in worlds() {
            let a = Assumed { near_notice_rate: 0.0, hearing_notice_rate: 0.0, ..a };
            let world = World::new(&setting, &a);
            for bait in setting.baits.iter() {
                let offer = world.offer(&setting, &a, bait);
                let stages = encounters(&world, &offer, &passes);
                for (i, s) in stages.iter().enumerate() {
                    let p = passes.get(i);
                    let (bait_m, fish_m) = (
                        offer.path.at(p.along),
                        (world.fish_depth_m + world.depth_spread_m * p.hang)
                            .clamp(0.05, world.bottom_m - 0.05),
                    );
                    let (up, side) = (fish_m - bait_m, world.half_width_m * p.side);
                    let closest = up.hypot(side).max(1e-3);
                    let seen = world.seen_from_m(&offer, up / closest, fish_m, bait_m)
                        * (world.eye_spread * p.eye).exp();
                    // The range itself is rounded.
                    if closest > seen * (1.0 + 1e-9) {
                        assert_eq!(s.noticed, 0.0, "{}: {closest} m away, seen from {seen} m", bait.name);
                    } else if s.noticed > 0.0 {
                        within += 1;
                    }
                }
            }
        }
        assert!(within > 500, "{within}");
    }
}

/// A twitch moves water and shakes a rattle, a pause does neither: over a metre of retrieve a bait makes as many
/// twitches however long it rests between them.
#[test]
fn in_the_dark_resting_makes_a_bait_neither_louder_nor_easier_to_feel() {
    let noticed = |pause: &str, a: &Assumed| -> Vec<f64> {
        let night = setting(&[("when.time", "01:00"), ("fish.depth", "1.5 m"), ("tackle.pause", pause)]);
        let world = World::new(&night, a);
        let passes = Passes::of_world(SEED, 0, POINTS);
        night.baits.iter().map(|b| means_of(&world, &world.offer(&night, a, b), &passes).mean(0)).collect()
    };
    for a in worlds() {
        let a = Assumed { sight_notice_rate: 0.0, ..a };
        let (moving, resting) = (noticed("0", &a), noticed("0.95", &a));
        assert!(moving.iter().any(|&p| p > 0.0));
        for (m, r) in moving.iter().zip(&resting) {
            assert!((m - r).abs() < 1e-9, "{m} {r}");
        }
    }
}

/// The bladder sets how far a fish rises, not how fast: with the bait at the same places a faster one changes what is
/// seen and how long it takes, but not who may come (worlds in which the bladder sets the limit).
#[test]
fn the_swim_bladder_knows_no_hurry() {
    let came = |speed: &str, a: &Assumed| -> Vec<f64> {
        let setting =
            setting(&[("tackle.speed", speed), ("water.temperature", "25 C"), ("bait.runs", "2 m")]);
        let world = World::new(&setting, a);
        let passes = Passes::of_world(SEED, 0, POINTS);
        let offer = world.offer(&setting, a, &setting.baits[0]);
        // The same places: one path for both.
        encounters(&world, &callup::world::Offer { path: path(), ..offer }, &passes)
            .iter()
            .map(|s| s.came)
            .collect()
    };
    for a in worlds() {
        let a = Assumed { by_bladder: 1.0, approach: 0.3, ..a };
        assert_eq!(came("0.5 m/s", &a), came("1.5 m/s", &a));
        let willing = Assumed { by_bladder: 0.0, ..a };
        let (slow, fast) = (came("0.5 m/s", &willing), came("1.5 m/s", &willing));
        assert!(slow.iter().zip(&fast).all(|(s, f)| s >= f) && slow != fast, "hurry is dear to the willing");
    }
}

fn path() -> callup::maths::interpolate::Table {
    callup::maths::interpolate::Table::from_values(0.0, 1.0, vec![2.0, 2.0])
}

fn ready_at(celsius: &str, species: &str, a: &Assumed) -> f64 {
    let setting =
        setting(&[("water.temperature", celsius), ("fish.species", species), ("fish.phase", "summer")]);
    World::new(&setting, a).ready
}

/// Rice et al. 1983: largemouth feed no more at 37 C; Shuter & Post 1990 and Whitledge et al. 2003: smallmouth at 36
/// and 37 C. In the cold a floor stands under the curve, which is not to be trusted there (Breck 2014).
#[test]
fn heat_ends_feeding_and_cold_does_not() {
    for a in worlds() {
        for species in ["largemouth", "smallmouth"] {
            assert_eq!(ready_at("40 C", species, &a), 0.0, "{species}");
            assert!(ready_at("34 C", species, &a) > 0.0);
            assert!(ready_at("2 C", species, &a) > 0.0);
        }
        assert!(ready_at("27 C", "largemouth", &a) > ready_at("34 C", "largemouth", &a));
    }
}

/// Beamish 1970 (abstract): the fastest speed that largemouth sustain rises from 10 to 30 C and falls from 30 to 34.
#[test]
fn swimming_rises_to_thirty_degrees_and_falls_beyond() {
    let speed = |celsius: &str, a: &Assumed| {
        World::new(&setting(&[("water.temperature", celsius)]), a).pursuit.approach_m_s
    };
    for a in worlds() {
        assert!(speed("10 C", &a) < speed("20 C", &a) && speed("20 C", &a) < speed("30 C", &a));
        assert!(speed("34 C", &a) < speed("30 C", &a));
    }
}

/// Diets of bass end at about half of their length (Gaeta et al. 2018, abstract): a bait as long as the fish is left,
/// a small fish leaves what a large one takes, and a small bait is too large for none.
#[test]
fn small_fish_leave_large_baits() {
    let strikes = |bait: &str, fish: &str, a: &Assumed| {
        let setting = setting(&[
            ("box.use", "90 mm, standard lip, silent"),
            ("bait.length", bait),
            ("bait.runs", "1.5 m"),
            ("fish.depth", "1.5 m"),
            ("fish.length", fish),
        ]);
        let world = World::new(&setting, a);
        let passes = Passes::of_world(SEED, 0, POINTS);
        means_of(&world, &world.offer(&setting, a, &setting.baits[0]), &passes).mean(2)
    };
    let a = defaults();
    assert!(strikes("190 mm", "20 cm", &a) < 1e-6 * strikes("60 mm", "20 cm", &a));
    assert!(strikes("390 mm", "40 cm", &a) < 1e-6 * strikes("110 mm", "40 cm", &a));
    let kept = |fish: &str| strikes("130 mm", fish, &a) / strikes("60 mm", fish, &a);
    assert!(kept("25 cm") < 0.5 * kept("50 cm"), "{} {}", kept("25 cm"), kept("50 cm"));
}

/// McMahon & Holanov 1995, J. Fish Biol. 46:759-767 (abstract): largemouth caught fish in a tank in over 95 % of
/// trials at 0.003 lux and in 62 % at 0.0002 lux. A fish that sees nothing beyond its snout there does no such thing.
#[test]
fn bass_see_in_the_light_in_which_they_were_seen_to_feed() {
    let (mut sees, mut total) = (0, 0);
    for a in worlds() {
        let seen = |lux: f64| {
            let setting = setting(&[("water.secchi", "4 m"), ("sky.cloud", "1")]);
            let mut world = World::new(&setting, &a);
            world.ln_light = world.k_per_m.map(|k| lux.ln() + k);
            // A fish of 11 cm, half flash: the baits' likest to the minnows of that tank.
            let offer = world.offer(&setting, &a, &setting.baits[5]);
            [-0.5, 0.0, 0.5].iter().map(|&s| world.seen_from_m(&offer, s, 1.0, 1.0)).fold(0.0, f64::max)
        };
        sees += usize::from(seen(0.003) > 0.2);
        assert!(seen(0.003) >= seen(2e-4) && seen(1.0) > seen(0.003) && seen(1e-9) < 1e-3);
        total += 1;
    }
    assert!(10 * sees >= 9 * total, "{sees} of {total} worlds see at 0.003 lux");
}

/// Moonlight acts through `sky.moon` and only by night.
#[test]
fn the_moon_lights_the_night_and_nothing_else() {
    let lux = |time: &str, moon: &str| {
        let setting = setting(&[("when.time", time), ("sky.moon", moon), ("sky.cloud", "0")]);
        World::new(&setting, &defaults()).surface_lux
    };
    assert!((0.05..0.3).contains(&(lux("01:00", "1") - lux("01:00", "0"))), "{}", lux("01:00", "1"));
    assert!(lux("01:00", "0.5") < 0.2 * lux("01:00", "1"));
    assert!((lux("12:00", "1") / lux("12:00", "0") - 1.0).abs() < 1e-4);
}

/// Attention fades where nothing is seen, smoothly and never to nothing.
#[test]
fn in_mud_fish_attend_less() {
    for a in worlds() {
        let attention = |secchi: &str| {
            let setting = setting(&[("water.secchi", secchi), ("water.tint", "clay"), ("fish.depth", "1 m")]);
            World::new(&setting, &a).offer(&setting, &a, &setting.baits[0]).attention
        };
        let (mud, murky, clear) = (attention("0.05 m"), attention("0.5 m"), attention("4 m"));
        assert!(mud < murky && murky < clear, "{mud} {murky} {clear}");
        assert!(mud >= a.blind_attention * a.attention && clear > 0.9 * a.attention);
    }
}

/// Strikes by fine steps of every numeric key of the scenario, over its whole range where that can be: no jump.
#[test]
fn there_are_no_cliffs_along_any_condition() {
    /// A jump is at least so large a share of the most strikes along the key, and so many times its neighbours.
    const LEAST_JUMP: f64 = 0.03;
    const STANDS_OUT: f64 = 3.0;
    let a = defaults();
    let cases: [(&str, &str, f64, f64); 24] = [
        ("sky.cloud", "", 0.0, 1.0),
        ("sky.wind", "m/s", 0.0, 20.0),
        ("water.secchi", "m", 0.1, 20.0),
        ("water.turbidity", "NTU", 0.3, 200.0),
        ("water.temperature", "C", 0.5, 39.5),
        ("fish.length", "cm", 15.0, 70.0),
        ("fish.depth", "m", 0.3, 11.5),
        ("fish.depth_spread", "m", 0.0, 3.0),
        ("forage.length", "cm", 2.0, 35.0),
        ("tackle.diameter", "mm", 0.1, 0.8),
        ("tackle.cast", "m", 5.0, 100.0),
        ("tackle.speed", "m/s", 0.05, 5.0),
        ("tackle.pause", "", 0.0, 0.95),
        ("bait.length", "mm", 21.0, 390.0),
        ("bait.runs", "m", 0.1, 11.0),
        ("sky.moon", "", 0.0, 1.0),
        ("water.bottom", "m", 4.0, 60.0),
        ("tackle.strength", "lb", 2.0, 60.0),
        ("tackle.launch", "m/s", 8.0, 60.0),
        ("tackle.rod_tip", "m", 0.0, 4.0),
        ("bait.height", "mm", 5.0, 60.0),
        ("bait.width", "mm", 4.0, 50.0),
        ("bait.mass", "g", 5.0, 60.0),
        ("bait.lip_angle", "deg", 20.0, 85.0),
    ];
    for (key, unit, from, to) in cases {
        let log = from > 0.0 && to / from > 20.0 && unit != "C";
        let steps = 96;
        let values: Vec<f64> = (0..=steps)
            .map(|i| {
                let x = f64::from(i) / f64::from(steps);
                let at = if log { from * (to / from).powf(x) } else { from + (to - from) * x };
                let text = if unit.is_empty() { format!("{at:.5}") } else { format!("{at:.5} {unit}") };
                let mut set: Vec<(&str, &str)> = vec![
                    ("box.use", "90 mm, deep lip, rattling"),
                    ("fish.phase", "summer"),
                    ("fish.depth", "3 m"),
                ];
                if key == "sky.moon" {
                    set.push(("when.time", "01:00"));
                }
                set.retain(|(k, _)| *k != key);
                set.push((key, &text));
                let setting = setting_of("main-lake-point", &set);
                let world = World::new(&setting, &a);
                let passes = Passes::of_world(SEED, 0, 1024);
                100.0 * means_of(&world, &world.offer(&setting, &a, &setting.baits[0]), &passes).mean(2)
            })
            .collect();
        let most = values.iter().copied().fold(0.0, f64::max);
        assert!(values.iter().all(|v| v.is_finite()), "{key}");
        assert!(most > 0.0, "{key}: nothing strikes anywhere");
        // A step that stands out from its neighbours and from the whole is a jump.
        let steps: Vec<f64> = values.windows(2).map(|w| (w[1] - w[0]).abs()).collect();
        for i in 1..steps.len() - 1 {
            let around = steps[i - 1].max(steps[i + 1]);
            let jumps = steps[i] > LEAST_JUMP * most && steps[i] > STANDS_OUT * around;
            assert!(!jumps, "{key}: a jump of {} after step {i} of {values:?}", steps[i]);
        }
    }
}

/// Corners of what a scenario may say: every stage stays a chance.
#[test]
fn at_every_corner_the_stages_are_chances() {
    let corners: [&[(&str, &str)]; 12] = [
        &[("water.secchi", "0.1 m")],
        &[("water.secchi", "30 m")],
        &[("when.time", "01:00"), ("sky.cloud", "1")],
        &[("when.time", "13:00"), ("sky.cloud", "0")],
        &[("fish.depth", "0.5 m")],
        &[("fish.depth", "30 m"), ("water.bottom", "40 m")],
        &[("water.temperature", "1 C")],
        &[("water.temperature", "35 C")],
        &[("tackle.speed", "0.05 m/s"), ("tackle.pause", "0.95")],
        &[("tackle.speed", "5 m/s"), ("tackle.pause", "0")],
        &[("bait.length", "20 mm"), ("bait.runs", "1 m")],
        &[("bait.length", "400 mm"), ("bait.runs", "1 m")],
    ];
    for corner in corners {
        let mut set = corner.to_vec();
        if corner.iter().any(|(k, _)| *k == "bait.length") {
            set.push(("box.use", "90 mm, standard lip, silent"));
        }
        let setting: Prepared = setting(&set);
        let passes = Passes::of_world(SEED, 0, POINTS);
        for a in worlds() {
            let world = World::new(&setting, &a);
            for bait in setting.baits.iter() {
                let m = means_of(&world, &world.offer(&setting, &a, bait), &passes);
                let [noticed, came, struck] = [0, 1, 2].map(|s| m.mean(s));
                assert!(
                    (0.0..=1.0).contains(&noticed)
                        && came <= noticed + 1e-12
                        && struck <= came + 1e-12
                        && struck >= 0.0,
                    "{corner:?} {}: {noticed} {came} {struck}",
                    bait.name
                );
            }
        }
    }
}
