//! The study over several waters.

use crate::common::{models, setting_of};
use callup::engine::Budget;
use callup::engine::Control;
use callup::models::Spread;
use callup::random::{Purpose, mix};
use callup::study::why::waters::{Measured, Unknown, Waters, over, steps};
use callup::study::why::{Kind, Study, WhyError};
use callup::world::Prepared;

/// 8 scrambles of 16 rows.
const SMALL: Budget = Budget { seed: 5, worlds: 128, passes: 64, fixed: false };
/// Two largemouth waters: nothing about smallmouth moves anything in them.
const TWO: [&str; 2] = ["main-lake-point", "first-light"];

fn waters(names: &[&str]) -> Vec<(String, Prepared)> {
    names.iter().map(|n| ((*n).to_owned(), setting_of(n, &[]))).collect()
}

fn found(names: &[&str]) -> Waters {
    over(&models(), &waters(names), SMALL, &Control::default()).expect("answer")
}

fn place(found: &Waters, kind: &Kind) -> usize {
    found.unknowns.iter().position(|u| u.kind == *kind).expect("there")
}

#[test]
fn every_drawn_assumption_stands_once_and_readiness_for_its_members() {
    let (models, found) = (models(), found(&TWO));
    let drawn = |d: &usize| {
        let p = &models.parameters[*d];
        p.spread != Spread::Fixed && p.product.is_none()
    };
    let single: Vec<usize> = (0..models.parameters.len()).filter(drawn).collect();
    assert_eq!(found.unknowns.len(), single.len() + 1);
    for d in single {
        let unknown = &found.unknowns[place(&found, &Kind::Parameter(d))];
        let name = &models.parameters[d].name;
        assert!(!name.starts_with("smallmouth.") || unknown.waters == 0, "{name}: {unknown:?}");
        assert!(unknown.waters > 0 || (unknown.share.mean == 0.0 && unknown.worth.mean == 0.0), "{name}");
    }
    assert_eq!(found.unknowns[place(&found, &Kind::Readiness)].waters, 2);
}

/// One water's shares are those of `why` at the same seed, to the bit; over two waters they are the mean.
#[test]
fn shares_are_those_of_the_study_of_one_water() {
    let (models, found) = (models(), found(&TWO));
    let alone: Vec<_> = waters(&TWO)
        .into_iter()
        .enumerate()
        .map(|(w, (_, setting))| {
            let budget = Budget { seed: mix(SMALL.seed, Purpose::Design, w as u64), ..SMALL };
            let study = Study::prepare(&models, &setting, budget).expect("prepared");
            study.run(None, &Control::default()).expect("answer")
        })
        .collect();
    let mut compared = 0;
    for unknown in &found.unknowns {
        let shares: Vec<f64> = alone
            .iter()
            .filter_map(|why| why.parameters.as_ref()?.iter().find(|i| i.kind == unknown.kind))
            .map(|i| i.odds.index.total.mean)
            .collect();
        // Studies of one water look at the groups that matter there only.
        if let [a, b] = shares[..] {
            compared += 1;
            assert!((unknown.share.mean - (a / 2.0 + b / 2.0)).abs() < 1e-15, "{unknown:?}: {a} {b}");
            assert_eq!((unknown.most, unknown.most_in), if b > a { (b, 1) } else { (a, 0) });
        }
    }
    assert!(compared > 10, "{compared}");
    for (water, why) in found.waters.iter().zip(&alone) {
        assert_eq!(water.leader, why.baits[why.leader]);
        assert!((water.evpi * water.strikes - why.evpi.mean).abs() < 1e-12);
    }
}

#[test]
fn what_narrows_or_betters_most_stands_first() {
    let found = found(&TWO);
    let told = |u: &Unknown| u.share.stands_out || u.worth.stands_out;
    let first_untold = found.unknowns.iter().position(|u| !told(u)).expect("some do nothing");
    assert!(first_untold > 5 && found.unknowns[first_untold..].iter().all(|u| !told(u)));
    let everything = found.waters.iter().map(|w| w.evpi).sum::<f64>() / TWO.len() as f64;
    let gives = |u: &Unknown| {
        let told = |m: Measured| if m.stands_out { m.mean } else { 0.0 };
        told(u.share) + told(u.worth) / everything
    };
    assert!(found.unknowns.windows(2).all(|p| gives(&p[0]) >= gives(&p[1])));
}

#[test]
fn a_stop_keeps_whole_waters_only() {
    let (models, all) = (models(), waters(&TWO));
    let control = Control::default();
    control.stop();
    assert!(matches!(over(&models, &all, SMALL, &control), Err(WhyError::Stopped)));
    let control = Control::default();
    let half = steps(&models, SMALL, 1);
    let stopped = std::thread::scope(|s| {
        s.spawn(|| {
            while control.done() < half {
                std::thread::yield_now();
            }
            control.stop();
        });
        over(&models, &all, SMALL, &control).expect("one water is whole")
    });
    // The second may have been whole before the stop was heard.
    assert!(!stopped.waters.is_empty() && stopped.asked == 2);
    let whole = over(&models, &all[..stopped.waters.len()], SMALL, &Control::default()).expect("answer");
    assert_eq!((&stopped.unknowns, &stopped.waters), (&whole.unknowns, &whole.waters));
}
