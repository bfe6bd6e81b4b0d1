//! The stated error of the simulation is the error it makes: repeated with other seeds, answers scatter by it.

use super::{fill, mean_over_baits};
use crate::common::{models, setting, setting_of};
use callup::engine::{Budget, Strikes};
use callup::study::odds::odds;
use callup::study::over_worlds;
use callup::world::Prepared;
use ndarray::Axis;
use statrs::distribution::{ContinuousCDF, FisherSnedecor};

const SEEDS: u64 = 20;
/// A run with 8 scrambles of worlds has 7 degrees of freedom in its stated variance.
const DF_OF_WORLDS: f64 = 7.0;
/// A world with 4 scrambles of passes has 3.
const DF_OF_PASSES: f64 = 3.0;
/// Chance that one of these comparisons fails a right program at other seeds.
const FALSE_ALARM: f64 = 1e-4;

/// Quantile of Fisher's F.
fn f_quantile(p: f64, d1: f64, d2: f64) -> f64 {
    FisherSnedecor::new(d1, d2).expect("degrees of freedom").inverse_cdf(p)
}

#[test]
fn quantiles_of_f_are_those_of_the_handbooks() {
    // Tables of F: 95 % of F(19, 140) from scipy 1.17.1 f.ppf would do; the classic F(10, 20) is 2.348.
    assert!((f_quantile(0.95, 10.0, 20.0) - 2.348).abs() < 5e-4);
    assert!((f_quantile(0.95, 1.0, 10.0) - 4.965).abs() < 5e-4);
}

fn variance(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (values.len() - 1) as f64
}

/// Holds the scatter of estimates over seeds against their stated errors, by a two-sided F test.
#[track_caller]
fn honest(what: &str, estimates: &[f64], stated_se: &[f64], df_each: f64) {
    let stated = stated_se.iter().map(|s| s * s).sum::<f64>() / stated_se.len() as f64;
    let ratio = variance(estimates) / stated;
    let n = estimates.len() as f64;
    let bound = |p| f_quantile(p, n - 1.0, n * df_each);
    let (low, high) = (bound(0.5 * FALSE_ALARM), bound(1.0 - 0.5 * FALSE_ALARM));
    assert!((low..=high).contains(&ratio), "{what}: scatter over stated variance {ratio}, {low} to {high}");
}

fn scenarios() -> Vec<(&'static str, Prepared)> {
    vec![
        ("clear", setting(&[])),
        ("stained", setting_of("stained-lowland", &[])),
        ("sunny", setting_of("bright-midday", &[])),
    ]
}

#[test]
fn medians_over_worlds_scatter_as_stated() {
    for (name, setting) in scenarios() {
        let tables: Vec<Strikes> = (0..SEEDS)
            .map(|seed| {
                fill(std::slice::from_ref(&setting), Budget { seed, worlds: 256, passes: 64, fixed: false })
            })
            .collect();
        let of = |what: &str, values: &dyn Fn(&Strikes) -> Vec<f64>| {
            let all: Vec<_> = tables.iter().map(|t| over_worlds(&values(t), t.per_scramble)).collect();
            let (points, errors): (Vec<f64>, Vec<f64>) =
                all.iter().map(|e| (e.point, e.simulation_se)).unzip();
            honest(&format!("{name}, {what}"), &points, &errors, DF_OF_WORLDS);
        };
        of("mean over baits", &mean_over_baits);
        // One that is in sight in most worlds, and the deepest.
        for bait in [setting.baits.len() / 2 + 1, setting.baits.len() - 1] {
            of("one bait", &|t| t.struck().index_axis(Axis(0), 0).index_axis(Axis(0), bait).to_vec());
        }
    }
}

#[test]
fn one_world_scatters_as_stated() {
    for (name, setting) in scenarios() {
        let tables: Vec<Strikes> = (0..SEEDS)
            .map(|seed| {
                fill(std::slice::from_ref(&setting), Budget { seed, worlds: 1, passes: 256, fixed: true })
            })
            .collect();
        for bait in [setting.baits.len() / 2 + 1, setting.baits.len() - 1] {
            let of = |t: &Strikes| (t.struck()[(0, bait, 0)], t.variance()[(0, bait, 0)].sqrt());
            let (points, errors): (Vec<f64>, Vec<f64>) = tables.iter().map(of).unzip();
            honest(&format!("{name}, one world, bait {bait}"), &points, &errors, DF_OF_PASSES);
        }
    }
}

/// One world has no spread over worlds, yet its passes are a simulation: the answer says so.
#[test]
fn the_fixed_world_states_the_luck_of_its_passes() {
    let setting = setting(&[]);
    let models = models();
    let of = |points: usize| {
        let table =
            fill(std::slice::from_ref(&setting), Budget { seed: 1, worlds: 1, passes: points, fixed: true });
        let answer = odds(&models, &setting, &table, 0, 1);
        for (b, bait) in answer.baits.iter().enumerate() {
            let stated = bait.strikes.simulation_se;
            assert!((stated - 100.0 * table.variance()[(0, b, 0)].sqrt()).abs() < 1e-12, "{stated}");
            assert!((bait.strikes.low, bait.strikes.high) == (bait.strikes.point, bait.strikes.point));
        }
        answer.baits.iter().map(|b| b.strikes.simulation_se).sum::<f64>()
    };
    let few = of(64);
    assert!(few > 0.0 && of(4096) < few);
}

/// Four times the points at least halve the error of a world: random points would halve it, scrambled Sobol points
/// do better where the stages are smooth. The room is for estimating errors from 4 scrambles, averaged here over
/// 256 worlds and all baits.
const ROOM: f64 = 1.1;

#[test]
fn four_times_the_points_at_least_halve_the_error_of_a_world() {
    for (name, setting) in scenarios() {
        let error = |points| {
            let table = fill(std::slice::from_ref(&setting), Budget { passes: points, ..Budget::default() });
            table.variance().mean().expect("worlds").sqrt()
        };
        let errors = [64, 256, 1024].map(error);
        for pair in errors.windows(2) {
            assert!(pair[1] < 0.5 * ROOM * pair[0], "{name}: {errors:?}");
        }
        assert!(errors[2] > 0.0);
    }
}
