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
    ("70 mm, standard lip, silent, see-through", 0.017067579776, 0.186216602975),
    ("90 mm, standard lip, silent, see-through", 0.063411410748, 0.398579641468),
    ("90 mm, standard lip, silent, half-flash", 0.188525006805, 0.714167413629),
    ("90 mm, standard lip, rattling, mirror", 0.397547962959, 1.078405355787),
    ("110 mm, standard lip, silent, pearl", 0.523715287201, 1.342719010904),
    ("110 mm, standard lip, rattling, half-flash", 0.480632893769, 1.361649713647),
    ("90 mm, deep lip, silent, see-through", 0.370666395405, 0.852353943912),
    ("110 mm, deep lip, silent, half-flash", 1.710374875763, 2.432369447431),
    ("110 mm, deep lip, rattling, mirror", 1.974879886389, 2.815775762269),
    ("130 mm, deep lip, silent, half-flash", 2.570454029468, 3.333274319635),
    ("130 mm, deep lip, rattling, chartreuse", 2.459570763475, 3.391462640560),
    ("150 mm, deep lip, silent, pearl", 3.578180591859, 4.164327236301),
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
