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
    ("70 mm, standard lip, silent, see-through", 0.042975034732, 0.148322892665),
    ("90 mm, standard lip, silent, see-through", 0.151627518192, 0.314637995640),
    ("90 mm, standard lip, silent, half-flash", 0.449681646975, 0.669319242799),
    ("90 mm, standard lip, rattling, mirror", 0.529406072276, 1.058029273690),
    ("110 mm, standard lip, silent, pearl", 0.954062308416, 1.329444091555),
    ("110 mm, standard lip, rattling, half-flash", 0.886699608817, 1.276630601964),
    ("90 mm, deep lip, silent, see-through", 0.563369038271, 0.798704397681),
    ("110 mm, deep lip, silent, half-flash", 2.190253640918, 2.585849768788),
    ("110 mm, deep lip, rattling, mirror", 2.304799208623, 2.908813833018),
    ("130 mm, deep lip, silent, half-flash", 3.224919790353, 3.564803216517),
    ("130 mm, deep lip, rattling, chartreuse", 3.373392561050, 3.447786517363),
    ("150 mm, deep lip, silent, pearl", 4.204195764008, 4.363030204357),
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
