//! Pinned numbers: the default scenario with a fixed seed gives the same strikes from version to version.
//!
//! A change that moves them is a change of the program's answers. Make it on purpose, put the new numbers here and
//! say so in CHANGELOG.md under "values changed".

mod common;

use callup::engine::table::Control;
use callup::engine::{Budget, StrikeTable};
use callup::study::odds::odds;
use common::{models, setting};

/// The program computes the same bits on every platform (plain arithmetic and libm): the room is for the twelve
/// decimals written here, and far below anything that is shown.
const PINNED: f64 = 1e-9;

const RUN: Budget = Budget { seed: 1, draws: 32, points: 64, fixed: false };

/// Strikes per 100 passes: median over plausible worlds, and mean.
const STRIKES: [(&str, f64, f64); 12] = [
    ("70 mm, standard lip, silent, see-through", 0.026361458781, 0.191152278331),
    ("90 mm, standard lip, silent, see-through", 0.094019968031, 0.394882928418),
    ("90 mm, standard lip, silent, half-flash", 0.269897604067, 0.696058510233),
    ("90 mm, standard lip, rattling, mirror", 0.292493323791, 1.043626486106),
    ("110 mm, standard lip, silent, pearl", 0.609451257489, 1.271275957462),
    ("110 mm, standard lip, rattling, half-flash", 0.503714627693, 1.303149941962),
    ("90 mm, deep lip, silent, see-through", 0.372206476169, 0.827645106880),
    ("110 mm, deep lip, silent, half-flash", 1.796883780894, 2.324686304859),
    ("110 mm, deep lip, rattling, mirror", 2.019253521439, 2.724536022700),
    ("130 mm, deep lip, silent, half-flash", 2.483134587171, 3.175975562567),
    ("130 mm, deep lip, rattling, chartreuse", 2.448252491839, 3.275485356572),
    ("150 mm, deep lip, silent, pearl", 3.368561867475, 4.006741268067),
];

#[test]
fn strikes_of_the_default_scenario_are_pinned() {
    let (models, setting) = (models(), setting(&[]));
    let table = StrikeTable::fill(&models, std::slice::from_ref(&setting), RUN, &Control::default());
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
