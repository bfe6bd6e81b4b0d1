//! Pinned numbers: the default scenario with a fixed seed gives the same strikes from version to version.
//!
//! A change that moves them is a change of the program's answers. Make it on purpose, put the new numbers here and
//! say so in CHANGELOG.md under "values changed".

mod moved;

use crate::common::{models, setting};
use callup::engine::Control;
use callup::engine::{Budget, Strikes};
use callup::study::odds::odds;

/// The program computes the same bits on every platform (plain arithmetic and libm): the room is for the twelve
/// decimals written here, and far below anything that is shown.
const PINNED: f64 = 1e-9;

const RUN: Budget = Budget { seed: 1, worlds: 32, passes: 64, fixed: false };

/// Strikes per 100 passes: median over plausible worlds, and mean.
const STRIKES: [(&str, f64, f64); 12] = [
    ("70 mm, standard lip, silent, see-through", 0.000000000000, 0.022781389590),
    ("90 mm, standard lip, silent, see-through", 0.000000000000, 0.068310327214),
    ("90 mm, standard lip, silent, half-flash", 0.038855391071, 0.188875265285),
    ("90 mm, standard lip, rattling, mirror", 0.287359716561, 0.530747998300),
    ("110 mm, standard lip, silent, pearl", 0.637222500516, 0.603970507839),
    ("110 mm, standard lip, rattling, half-flash", 0.406877370723, 0.707202536463),
    ("90 mm, deep lip, silent, see-through", 0.181186588284, 0.340661681328),
    ("110 mm, deep lip, silent, half-flash", 1.368093210136, 1.605653058840),
    ("110 mm, deep lip, rattling, mirror", 1.766590721016, 2.364689464939),
    ("130 mm, deep lip, silent, half-flash", 2.092142699405, 2.600288839465),
    ("130 mm, deep lip, rattling, chartreuse", 2.317856826152, 3.160432671106),
    ("150 mm, deep lip, silent, pearl", 2.926990856628, 3.450840704529),
];

#[test]
fn strikes_of_the_default_scenario_are_pinned() {
    let (models, setting) = (models(), setting(&[]));
    let table = Strikes::of(&models, std::slice::from_ref(&setting), RUN, &Control::default());
    let answer = odds(&models, &setting, &table.expect("table"), 0, RUN.seed);
    let got: Vec<(&str, f64, f64)> =
        answer.baits.iter().map(|b| (b.name.as_str(), b.strikes.point, b.losses.struck)).collect();
    let now: String = got
        .iter()
        .map(|(name, median, mean)| format!("    (\"{name}\", {median:.12}, {mean:.12}),\n"))
        .collect();
    let same = got.len() == STRIKES.len()
        && got.iter().zip(STRIKES).all(|(g, pinned)| {
            g.0 == pinned.0 && (g.1 - pinned.1).abs() <= PINNED && (g.2 - pinned.2).abs() <= PINNED
        });
    assert!(same, "values changed; they are now\n{now}");
}
