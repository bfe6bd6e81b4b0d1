//! All that the trials ask of the model: thin functions on a prepared scenario, a world and what is assumed in it.

use super::setup::Setup;
use super::{Output, Row};
use crate::bait::drag::CylinderDrag;
use crate::engine::Passes;
use crate::engine::block::{FishColumns, run};
use crate::maths::roots::bracketed;
use crate::maths::{cos, exp, ln, quadrature::gauss_hermite_normal, sin, sqrt};
use crate::models::{Assumed, Models};
use crate::random::{Purpose, ScrambledSobol, mix};
use crate::study::alike::{OwnChance, own_chances};
use crate::study::pace::{casts_per_hour, passes_in};
use crate::water::medium;
use crate::world::look::Outline;
use crate::world::{BaitInWater, Prepared, World};
use std::f64::consts::PI;

/// Lengths of fish at which a stock is asked: Gauss-Hermite nodes of a normal distribution.
const STOCK_NODES: usize = 9;
/// Fish that are followed in a world, and half of the casts at each: with fewer, luck passes for a difference between fish.
const FISH: usize = 128;
const CASTS: usize = 128;
/// No light at all, for a logarithm.
const DARK_LUX: f64 = 1e-30;
/// Random places of fish and target in an arena.
const PLACES: u32 = 512;

/// One row in one world.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// The prepared scenario of the row.
    pub prepared: &'a Prepared,
    /// What is assumed in this world.
    pub assumed: &'a Assumed,
    /// The models, for the names of looks.
    pub models: &'a Models,
    /// The passes of this world, the same in every row.
    pub passes: &'a Passes,
    /// Seed and number of the world.
    pub luck: (u64, usize),
}

impl Ask<'_> {
    /// What the model says in this world, in the unit of the row's output.
    pub fn answer(&self, row: &Row) -> f64 {
        let setup = &row.setup;
        match row.output {
            Output::Secchi => self.world().secchi_m,
            Output::Attenuation => self.world().water.k_per_m,
            Output::SightRange => self.sight_range_m(setup),
            Output::SeenInArena => self.seen_in_arena(setup),
            Output::Strikes => 100.0 * self.strikes(),
            Output::LengthCaught => length_caught(&self.stock(setup)),
            Output::LargeCaught => 100.0 * large_caught(&self.stock(setup), setup.number("large_from")),
            Output::NeverCaught => never_caught(&self.chances_by_fish(), setup.number("captures")),
            Output::CatchPerHour => self.catch_per_hour(),
            Output::Hooked => self.assumed.hooked,
            Output::TowedDepth => self.towed_depth_m(setup),
        }
    }

    fn world(&self) -> World {
        World::new(self.prepared, self.assumed)
    }

    /// How far a median fish sees the target at its own level, m, in the light given at its eye.
    fn sight_range_m(&self, setup: &Setup) -> f64 {
        let mut world = self.world();
        // The light was measured where the fish was: nothing of it is lost on the way down.
        world.ln_light = [ln(setup.number("light_lux").max(DARK_LUX)); 2];
        let (target, assumed) = self.target(setup);
        let offer = world.offer(self.prepared, &assumed, &target);
        world.visual_range_m(&offer.look.at(0.0, self.prepared.fish_depth_m), 0.0, 0.0)
    }

    /// Share of random places of a fish and a target in a square arena at which the fish, with an eye of its own, sees
    /// the target.
    fn seen_in_arena(&self, setup: &Setup) -> f64 {
        let range_m = self.sight_range_m(setup);
        share_within(self.luck, setup.number("arena"), range_m, self.assumed.sight_fish_to_fish)
    }

    /// The target as something offered, and what is assumed with its look among the finishes.
    fn target(&self, setup: &Setup) -> (BaitInWater, Assumed) {
        let mut assumed = self.assumed.clone();
        let name = setup.target.as_deref().unwrap_or_default();
        let prey = self.models.forages.iter().position(|f| f.name == name);
        let finish = match prey.and_then(|i| assumed.forages.get(i).copied()) {
            Some(look) => {
                assumed.finishes.push(look);
                assumed.finishes.len() - 1
            }
            None => self.models.finishes.iter().position(|f| f == name).unwrap_or(usize::MAX),
        };
        let mut target = bait(self.prepared).clone();
        target.finish = finish;
        // Prey has its own proportions, a finish those of the bait.
        let (length_m, shape) = (setup.number("target_length"), target.outline);
        let scale = length_m / shape.length_m;
        let (tall, wide) = match prey.map(|i| &self.models.forages[i]) {
            Some(prey) => (prey.height_share * length_m, prey.width_share * length_m),
            None => (scale * shape.height_m, scale * shape.width_m),
        };
        target.outline = Outline {
            length_m,
            height_m: setup.given("target_height").unwrap_or(tall),
            width_m: setup.given("target_width").unwrap_or(wide),
            curvature_m2: scale * scale * shape.curvature_m2,
            ..shape
        };
        (target, assumed)
    }

    /// Chance of a strike in a pass.
    fn strikes(&self) -> f64 {
        strikes_in(self.prepared, self.assumed, self.passes)
    }

    /// Length, share and chance of a strike of the fish of a stock whose lengths are normal.
    fn stock(&self, setup: &Setup) -> Vec<Caught> {
        let (mean, spread) = (setup.number("stock_mean"), setup.number("stock_spread"));
        gauss_hermite_normal(STOCK_NODES)
            .into_iter()
            .map(|(z, share)| (mean + spread * z, share))
            .filter(|(length_m, _)| *length_m > 0.0)
            .map(|(length_m, share)| {
                let prepared = Prepared { fish_length_m: length_m, ..self.prepared.clone() };
                Caught { length_m, share, chance: strikes_in(&prepared, self.assumed, self.passes) }
            })
            .collect()
    }

    /// Mean chance per pass of each of many fish that keep what is their own from pass to pass.
    fn chances_by_fish(&self) -> Vec<f64> {
        let seed = mix(self.luck.0, Purpose::Resample, self.luck.1 as u64);
        let own = own_chances(self.prepared, bait(self.prepared), self.assumed, (FISH, CASTS), seed);
        own.iter().map(OwnChance::mean).collect()
    }

    /// Fish caught in an hour by one rod: of the fish in the water, those within reach of the bait count.
    fn catch_per_hour(&self) -> f64 {
        let cast_m = bait(self.prepared).path.cast_m();
        let passes = passes_in(self.prepared, cast_m, self.assumed).unwrap_or(0.0);
        casts_per_hour(self.prepared, cast_m) * passes * self.strikes() * self.assumed.hooked
    }

    /// Depth of the end of a long heavy line that is towed straight at its critical angle, m.
    fn towed_depth_m(&self, setup: &Setup) -> f64 {
        let t = self.prepared.temperature_c;
        let (density, viscosity) = (medium::density_kg_m3(t), medium::kinematic_viscosity_m2_s(t));
        let (diameter_m, speed) = (setup.number("line_diameter"), setup.number("tow_speed"));
        let line = crate::bait::Line { diameter_m, density_kg_m3: setup.number("line_density") };
        let drag = CylinderDrag::Reynolds { multiplier: self.assumed.line_drag_multiplier };
        let (weight, pressure) =
            (line.submerged_weight_n_m(density), 0.5 * density * diameter_m * speed * speed);
        let across = |phi: f64| {
            let s = sin(phi);
            weight * cos(phi) - pressure * drag.coefficient(speed * s * diameter_m / viscosity) * s * s
        };
        bracketed(1e-6, 0.5 * PI, 1e-9, across).map_or(0.0, |phi| setup.number("line_out") * sin(phi))
    }
}

/// Sets the places in an arena apart from the luck of passes.
const APART: u64 = 0x6f77_6e00_0000_0000;

fn bait(prepared: &Prepared) -> &BaitInWater {
    &prepared.baits[0]
}

fn strikes_in(prepared: &Prepared, assumed: &Assumed, passes: &Passes) -> f64 {
    let world = World::new(prepared, assumed);
    let offer = world.offer(prepared, assumed, bait(prepared));
    run(&world, &offer, &FishColumns::new(&world, passes)).mean(2)
}

/// Fish of one length in a stock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caught {
    /// Length, m.
    pub length_m: f64,
    /// Share of the stock.
    pub share: f64,
    /// Chance of a strike in a pass.
    pub chance: f64,
}

/// Mean length of the fish that strike, m.
pub fn length_caught(stock: &[Caught]) -> f64 {
    let struck: f64 = stock.iter().map(|f| f.share * f.chance).sum();
    stock.iter().map(|f| f.share * f.chance * f.length_m).sum::<f64>() / struck
}

/// Chance that a pass by a random fish of the stock ends in a strike of one at least `from_m` long.
pub fn large_caught(stock: &[Caught], from_m: f64) -> f64 {
    stock.iter().filter(|f| f.length_m >= from_m).map(|f| f.share * f.chance).sum()
}

/// Share of fish that are never caught while the mean fish is caught `captures` times: mean of
/// `exp(-captures p_i / mean p)`, captures of one fish being rare and independent events.
pub fn never_caught(chances: &[f64], captures: f64) -> f64 {
    let n = chances.len() as f64;
    let mean = chances.iter().sum::<f64>() / n;
    if mean <= 0.0 {
        return 1.0;
    }
    chances.iter().map(|p| exp(-captures * p / mean)).sum::<f64>() / n
}

/// Share of pairs of random places in a square with sides of `arena_m` that lie within an eye's range, `range_m` times
/// a lognormal factor with standard deviation `eye_spread` of its logarithm.
pub fn share_within((seed, world): (u64, usize), arena_m: f64, range_m: f64, eye_spread: f64) -> f64 {
    let points = ScrambledSobol::new(seed ^ APART, Purpose::Encounters, world as u64).jointly(5);
    let within = (0..PLACES).filter(|&i| {
        let side = |a: usize, b: usize| arena_m * (points.at(i, a) - points.at(i, b));
        let (x, y) = (side(0, 1), side(2, 3));
        sqrt(x * x + y * y) <= range_m * exp(eye_spread * points.normal(i, 4))
    });
    within.count() as f64 / f64::from(PLACES)
}
