//! Encounters per second, on one core and on all, and the time to an answer.
//!
//! `cargo bench` runs it; the number to read is the throughput in encounters (elements) per second.

use callup::engine::Control;
use callup::engine::block::{FishColumns, run};
use callup::engine::encounter::encounter;
use callup::engine::{Budget, Passes, Strikes};
use callup::models::{Assumed, Models, Worlds};
use callup::scenario::{self, Catalogue, library};
use callup::world::{Prepared, World};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;

fn example() -> (Models, Prepared) {
    let models = Models::embedded().expect("embedded models");
    let text = library::get(library::DEFAULT).expect("embedded scenario");
    let checked = scenario::load(text, "example", &[], &Catalogue::of(&models)).expect("sound scenario");
    let prepared = Prepared::new(&checked.scenario, &models).expect("setting");
    (models, prepared)
}

fn throughput(c: &mut Criterion) {
    let (models, prepared) = example();
    let draws = Worlds::drawn(&models, 1, 16).expect("complete").draws;
    let worlds: Vec<(Assumed, World)> = draws
        .iter()
        .map(|d| {
            let a = Assumed::of(&models, d).expect("complete");
            let w = World::new(&prepared, &a);
            (a, w)
        })
        .collect();
    let passes = Passes::of_world(1, 0, 512);
    let offers: Vec<Vec<_>> = worlds
        .iter()
        .map(|(a, w)| prepared.baits.iter().map(|b| w.offer(&prepared, a, b)).collect())
        .collect();
    let encounters = (worlds.len() * prepared.baits.len() * passes.len()) as u64;

    let mut group = c.benchmark_group("encounter");
    group.throughput(Throughput::Elements(encounters));
    // The whole chain for every bait: the fish's columns once per world, then each bait's encounters.
    group.bench_function("block, one core", |bench| {
        bench.iter(|| {
            for ((_, world), offers) in worlds.iter().zip(&offers) {
                let fish = FishColumns::new(world, &passes);
                for offer in offers {
                    black_box(run(world, offer, &fish));
                }
            }
        });
    });
    group.bench_function("scalar, one core", |bench| {
        bench.iter(|| {
            for ((_, world), offers) in worlds.iter().zip(&offers) {
                for offer in offers {
                    for i in 0..passes.len() {
                        black_box(encounter(world, offer, &passes.get(i)));
                    }
                }
            }
        });
    });
    group.finish();

    let mut group = c.benchmark_group("set-up");
    group.bench_function("one world", |bench| bench.iter(|| black_box(World::new(&prepared, &worlds[0].0))));
    group.bench_function("one bait in one world", |bench| {
        let (a, w) = &worlds[0];
        bench.iter(|| black_box(w.offer(&prepared, a, &prepared.baits[0])));
    });
    group.finish();

    let mut group = c.benchmark_group("answer");
    group.sample_size(10);
    let budget = Budget::default();
    group.throughput(Throughput::Elements((budget.worlds * budget.passes * prepared.baits.len()) as u64));
    group.bench_function("strike table of the example, all cores", |bench| {
        let control = Control::default();
        bench.iter(|| black_box(Strikes::of(&models, std::slice::from_ref(&prepared), budget, &control)));
    });
    group.finish();
}

criterion_group!(benches, throughput);
criterion_main!(benches);
