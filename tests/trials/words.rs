//! The words, from numbers made up.

use super::*;
use callup::statistics::estimate::Estimate;
use callup::study::trials::answer::{Answered, Score};
use callup::study::trials::reading::{Word, most_reach, read as reading, word_of};
use callup::study::trials::{Claim, Pattern};

fn model(low: f64, point: f64, high: f64) -> Estimate {
    Estimate { point, simulation_se: 0.0, low, high }
}

#[test]
fn each_word_of_a_number() {
    // Measured 1 throughout.
    for (low, middle, high, word) in [
        (0.5, 1.2, 2.0, Word::Agrees),
        (0.5, 1.0 / 1.49, 1.1, Word::Agrees),
        // Within nine worlds in ten, but more than 1.5 times off; or more than twice.
        (0.5, 1.6, 2.0, Word::Near),
        (0.1, 4.0, 9.0, Word::Near),
        // Within twice, but outside of the worlds.
        (1.1, 1.2, 1.3, Word::Near),
        (1.1, 2.1, 3.0, Word::Misses),
        (0.1, 0.45, 0.9, Word::Misses),
        (0.0, 0.0, 0.0, Word::Misses),
        (f64::NAN, f64::NAN, f64::NAN, Word::Misses),
    ] {
        assert_eq!(word_of(1.0, &model(low, middle, high)), word, "{low} {middle} {high}");
    }
}

#[test]
fn the_word_of_several_numbers_is_what_more_than_half_reach() {
    use Word::{Agrees, Misses, Near};
    assert_eq!(most_reach(&[]), None);
    assert_eq!(most_reach(&[Agrees, Misses]), Some(Misses), "of two the worse one speaks");
    assert_eq!(most_reach(&[Agrees, Agrees, Misses]), Some(Agrees));
    assert_eq!(most_reach(&[Agrees, Near, Misses]), Some(Near));
    assert_eq!(most_reach(&[Agrees, Near, Misses, Misses]), Some(Misses));
}

/// The good trial with worlds made up: `worlds[row]`.
fn answered(rows: [&[f64]; 2], patterns: bool) -> Answered {
    let mut trial = read(GOOD).expect("sound");
    if !patterns {
        trial.patterns.clear();
    }
    Answered::new(trial, &rows.map(<[f64]>::to_vec), rows[0].len())
}

#[test]
fn a_trial_of_numbers_a_pattern_beside_them_and_what_does_not_count() {
    let right: [&[f64]; 2] = [&[0.6, 0.7, 0.8], &[0.25, 0.3, 0.35]];
    let a = answered(right, true);
    assert_eq!((a.reading.word, a.reading.patterns[0].holds), (Word::Agrees, true));
    assert!((a.reading.mean_ratio.expect("ratios") - 1.0).abs() < 1e-12);
    // The numbers as good as before, the pattern not.
    let flat: [&[f64]; 2] = [&[0.4, 0.5, 0.8], &[0.25, 0.44, 0.8]];
    assert_eq!(answered(flat, false).reading.word, Word::Agrees);
    assert_eq!(answered(flat, true).reading.word, Word::Misses);
    // Ratios 2 and 1/2: their mean is 1, and neither is right.
    let both: [&[f64]; 2] = [&[1.4], &[0.15]];
    let b = answered(both, false);
    assert!((b.reading.mean_ratio.expect("ratios") - 1.0).abs() < 1e-12);
    assert_eq!(b.reading.word, Word::Near);
    assert!((b.reading.worst_ratio.expect("ratios").ln().abs() - 2f64.ln()).abs() < 1e-12);
    let nothing: [&[f64]; 2] = [&[0.7], &[0.0]];
    let n = answered(nothing, false);
    assert_eq!(
        (n.reading.word, n.reading.mean_ratio, n.reading.worst_ratio),
        (Word::Misses, None, Some(0.0))
    );
    let mut trial = read(GOOD).expect("sound");
    trial.rows[1].scored = false;
    trial.patterns.clear();
    let a = Answered::new(trial, &[vec![0.7], vec![0.0]], 1);
    assert_eq!((a.reading.word, a.reading.rows[1].word), (Word::Agrees, Some(Word::Misses)), "not scored");
}

/// One number that misses keeps a trial from agreeing, however many others do.
#[test]
fn one_miss_among_many_keeps_a_trial_from_agreeing() {
    let mut trial = read(embedded("lakes-turbidity")).expect("sound");
    trial.rows.truncate(5);
    let mut worlds: Vec<Vec<f64>> =
        trial.rows.iter().map(|r| vec![r.measured.expect("measured").value]).collect();
    assert_eq!(Answered::new(trial.clone(), &worlds, 1).reading.word, Word::Agrees);
    worlds[0][0] *= 3.0;
    assert_eq!(Answered::new(trial, &worlds, 1).reading.word, Word::Near);
}

#[test]
fn patterns_hold_in_eight_worlds_of_ten_or_fail() {
    let mut trial = read(GOOD).expect("sound");
    trial.rows.iter_mut().for_each(|r| r.measured = None);
    let of = |claim, factor, worlds: &[Vec<f64>]| {
        let pattern = Pattern { says: "so".into(), rows: vec![0, 1], claim, factor };
        reading(&trial.rows, &[pattern], worlds, 5)
    };
    // Second over first: 2 in as many worlds of ten as said, else 1.
    let worlds = |n: usize| vec![vec![1.0; 10], (0..10).map(|i| if i < n { 2.0 } else { 1.0 }).collect()];
    assert_eq!(of(Claim::Rises, 1.5, &worlds(8)).word, Word::PatternHolds);
    let seven = of(Claim::Rises, 1.5, &worlds(7));
    assert_eq!((seven.word, seven.patterns[0].holds_share), (Word::PatternFails, 0.7));
    assert_eq!(of(Claim::Falls, 1.5, &worlds(8)).word, Word::PatternFails);
    assert_eq!(of(Claim::Same, 1.5, &worlds(2)).word, Word::PatternHolds);
    assert_eq!(of(Claim::Same, 1.5, &worlds(3)).word, Word::PatternFails);
    assert_eq!(of(Claim::Same, 1.5, &[vec![0.0; 4], vec![0.0; 4]]).word, Word::PatternHolds);
    assert_eq!(of(Claim::Rises, 1.5, &[vec![0.0; 4], vec![0.0; 4]]).word, Word::PatternFails);
}

#[test]
fn the_score_counts_what_counts() {
    let good = answered([&[0.7], &[0.3]], false);
    let mut used = good.clone();
    used.trial.used = callup::study::trials::Used::Form;
    used.independent = false;
    let missed = answered([&[7.0], &[3.0]], false);
    let mut unscored = read(GOOD).expect("sound");
    unscored.patterns.clear();
    unscored.rows.iter_mut().for_each(|r| r.scored = false);
    let unscored = Answered::new(unscored, &[vec![9.0], vec![9.0]], 1);
    let score = Score::of(&[good, used, missed, unscored]);
    assert_eq!((score.trials, score.agree, score.miss, score.scored), (4, 2, 1, 3));
    assert_eq!((score.independent, score.independent_kept), (2, 1));
    let said = callup::present::wording::trials::headline(&score);
    assert!(
        said.starts_with("4 trials: 2 agree, 0 near, 1 misses, 0 patterns hold, 0 fail; 3 scored;"),
        "{said}"
    );
    assert!(said.ends_with("of the 2 that set nothing in the model, 1 misses or fails."), "{said}");
}
