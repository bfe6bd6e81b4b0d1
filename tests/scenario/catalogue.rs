//! A catalogue for tests, with round numbers near those of the model files.

use callup::scenario::catalogue::{Catalogue, LineMaterial, Shape};
use callup::scenario::{Bait, Checked, Diagnostic, Lip, Severity, Sound, load};

pub fn catalogue() -> Catalogue {
    let shape = Shape {
        height_at_100mm_m: 0.0168,
        width_at_100mm_m: 0.0132,
        girth_power: 0.8,
        standard_lip_area_share: 0.0235,
        standard_lip_incidence_deg: 56.0,
        deep_lip_area_share: 0.0445,
        deep_lip_incidence_deg: 49.0,
        three_trebles_from_m: 0.105,
        neutral_in_kg_m3: 999.0,
    };
    let mut baits = Vec::new();
    for millimetres in [70.0, 90.0, 110.0, 130.0, 150.0] {
        for lip in [Lip::Standard, Lip::Deep] {
            for sound in [Sound::Silent, Sound::Rattling] {
                let length_m = millimetres / 1000.0;
                let form = shape.form(length_m, lip);
                baits.push(Bait {
                    name: format!("{millimetres} mm, {} lip, {}", lip.label(), sound.label()),
                    length_m,
                    lip,
                    sound,
                    finish: "pearl".to_string(),
                    trebles: form.trebles,
                    height_m: form.height_m,
                    width_m: form.width_m,
                    mass_kg: shape.mass_kg(length_m, form.height_m, form.width_m, 0.0),
                    lip_area_m2: form.lip_area_m2,
                    lip_incidence_deg: form.lip_incidence_deg,
                    buoyancy_n: 0.0,
                    runs_m: None,
                });
            }
        }
    }
    let words = |words: &str| words.split(' ').map(str::to_string).collect::<Vec<_>>();
    let line = |name: &str, strength_pa, density_kg_m3| LineMaterial {
        name: name.to_string(),
        strength_pa,
        density_kg_m3,
    };
    Catalogue {
        baits,
        finishes: words("mirror half-flash see-through pearl chartreuse bone perch bluegill craw dark"),
        forages: [("shad", 0.09), ("perch", 0.09), ("bluegill", 0.07), ("minnow", 0.07), ("crayfish", 0.06)]
            .map(|(kind, length)| (kind.to_string(), length))
            .to_vec(),
        lines: vec![
            line("nylon", 7.2e8, 1140.0),
            line("fluorocarbon", 6.8e8, 1780.0),
            line("braid", 1.5e9, 970.0),
        ],
        shape,
        too_warm_c: [37.0, 37.0],
    }
}

/// A file without fault, with nothing in it that needs a warning.
pub const GOOD: &str = r#"title = "Test water"
[place]
latitude = 36.4
longitude = -93.9
zone = "America/Chicago"
[when]
date = "2026-04-14"
time = "07:30"
[sky]
cloud = 0.9
wind = "3 m/s"
rain = "none"
[water]
secchi = "3.4 m"
tint = "clear"
temperature = "13 C"
bottom = "12 m"
[fish]
species = "largemouth"
length = "40 cm"
depth = "15 ft"
depth_spread = "0.5 m"
phase = "from temperature"
pressure = "light"
[forage]
kind = "shad"
length = "9 cm"
[tackle]
line = "fluorocarbon"
diameter = "0.28 mm"
cast = "27 m"
speed = "0.8 m/s"
pause = 0.5
rod_tip = "0.3 m"
[box]
use = ["90 mm, standard lip, silent", "110 mm, deep lip, rattling, mirror"]
"#;

/// The good file with one piece of text replaced; the piece must be there exactly once.
pub fn good_with(old: &str, new: &str) -> String {
    assert_eq!(GOOD.matches(old).count(), 1, "`{old}` must be in the file once");
    GOOD.replace(old, new)
}

pub fn check(source: &str) -> Result<Checked, Vec<Diagnostic>> {
    load(source, "lake.toml", &[], &catalogue())
}

pub fn checked(source: &str) -> Checked {
    check(source).unwrap_or_else(|faults| panic!("{}", render(&faults, source)))
}

/// The faults of a file that must have some.
pub fn faults(source: &str) -> Vec<Diagnostic> {
    match check(source) {
        Ok(_) => panic!("accepted, but should have been refused:\n{source}"),
        Err(faults) => faults,
    }
}

/// The errors only, without warnings.
pub fn errors(source: &str) -> Vec<Diagnostic> {
    faults(source).into_iter().filter(|fault| fault.severity == Severity::Error).collect()
}

pub fn render(faults: &[Diagnostic], source: &str) -> String {
    faults.iter().map(|fault| fault.render_plain(source)).collect::<Vec<_>>().join("\n")
}

pub fn set(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|(path, value)| (path.to_string(), value.to_string())).collect()
}
