//! World draws: one plausible value for everything nobody knows.

use super::assumed::Assumed;
use super::files::{Models, ModelsError};
use super::parameter::Spread;
use crate::random::{Purpose, ScrambledSobol, key};

/// One value for each parameter, in the order of [`Models::parameters`].
#[derive(Debug, Clone, PartialEq)]
pub struct Draw {
    /// The values.
    pub values: Vec<f64>,
}

impl Draw {
    /// Every assumption at its default.
    pub fn defaults(models: &Models) -> Self {
        Self { values: models.parameters.iter().map(|p| p.fixed()).collect() }
    }
}

/// A set of world draws: a few independent scrambles of one Sobol sequence, one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Worlds {
    /// The draws; draw `i` belongs to scramble `i / per_scramble`.
    pub draws: Vec<Draw>,
    /// Their values under their names.
    pub assumed: Vec<Assumed>,
    /// Number of the passes that each world meets.
    pub luck: Vec<usize>,
    /// Draws in each scramble.
    pub per_scramble: usize,
}

/// Independent scrambles among the world draws, enough for a standard error with 7 degrees of freedom.
pub const WORLD_SCRAMBLES: usize = 8;

impl Worlds {
    /// These draws, each with passes of its own number.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter.
    pub fn of(models: &Models, draws: Vec<Draw>, per_scramble: usize) -> Result<Self, ModelsError> {
        let assumed = draws.iter().map(|d| Assumed::of(models, d)).collect::<Result<_, _>>()?;
        Ok(Self { assumed, luck: (0..draws.len()).collect(), draws, per_scramble })
    }

    /// `count` plausible worlds; rounded up so that each scramble holds a power of two of points.
    ///
    /// # Errors
    /// As [`Worlds::of`].
    pub fn drawn(models: &Models, seed: u64, count: usize) -> Result<Self, ModelsError> {
        let per_scramble = count.div_ceil(WORLD_SCRAMBLES).max(1).next_power_of_two();
        let names: Vec<u64> = models.parameters.iter().map(|p| key(&p.name)).collect();
        let draws = (0..WORLD_SCRAMBLES)
            .flat_map(|scramble| {
                let points = ScrambledSobol::new(seed, Purpose::Worlds, scramble as u64);
                let names = &names;
                (0..per_scramble).map(move |i| draw_at(models, |d| points.normal_named(i as u32, names[d])))
            })
            .collect();
        Self::of(models, draws, per_scramble)
    }

    /// The one world in which every assumption is at its default.
    ///
    /// # Errors
    /// As [`Worlds::of`].
    pub fn fixed(models: &Models) -> Result<Self, ModelsError> {
        Self::of(models, vec![Draw::defaults(models)], 1)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.draws.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.draws.is_empty()
    }
}

/// The draw whose parameter number `d` has the independent standard normal score `score(d)`; members of a
/// product are then drawn against each other.
pub fn draw_at(models: &Models, score: impl Fn(usize) -> f64) -> Draw {
    let z = scores_at(models, score);
    Draw { values: models.parameters.iter().zip(&z).map(|(p, &z)| p.from_normal(z)).collect() }
}

/// The standard normal score of every parameter in that draw: 0 for what is never drawn, the members of a product
/// drawn against each other.
pub fn scores_at(models: &Models, score: impl Fn(usize) -> f64) -> Vec<f64> {
    let mut z: Vec<f64> = models
        .parameters
        .iter()
        .enumerate()
        .map(|(d, p)| if p.spread == Spread::Fixed { 0.0 } else { score(d) })
        .collect();
    for product in &models.products {
        oppose(models, &product.name, product.correlation, &mut z);
    }
    z
}

/// Gives the scores of one product's members the correlation `rho` (negative), leaving each standard normal.
///
/// The core members get equal pairwise correlation: with x' = a x - b mean(x), solving var = 1 and cov = rho
/// for n members. An alternative member gets correlation rho with each core member's mean direction.
fn oppose(models: &Models, product: &str, rho: f64, z: &mut [f64]) {
    let members: Vec<usize> =
        (0..z.len()).filter(|&i| models.parameters[i].product.as_deref() == Some(product)).collect();
    let sign = |i: usize| if models.parameters[i].lowers { -1.0 } else { 1.0 };
    let core: Vec<usize> = members.iter().copied().filter(|&i| !models.parameters[i].alternative).collect();
    let n = core.len() as f64;
    if core.len() < 2 {
        return;
    }
    let rho = rho.clamp(-1.0 / (n - 1.0), 0.0);
    // Scale of the part across the members, and of their mean: eigenvalues 1 - rho and 1 + (n - 1) rho.
    let (across, along) = ((1.0 - rho).sqrt(), (1.0 + (n - 1.0) * rho).max(0.0).sqrt());
    let mean = core.iter().map(|&i| sign(i) * z[i]).sum::<f64>() / n;
    for &i in &core {
        z[i] = sign(i) * (across * (sign(i) * z[i] - mean) + along * mean);
    }
    let direction = mean * n.sqrt();
    for i in members.into_iter().filter(|&i| models.parameters[i].alternative) {
        z[i] = sign(i) * (rho * direction + (1.0 - rho * rho).sqrt() * sign(i) * z[i]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn correlation(a: &[f64], b: &[f64]) -> f64 {
        let n = a.len() as f64;
        let (ma, mb) = (a.iter().sum::<f64>() / n, b.iter().sum::<f64>() / n);
        let cov: f64 = a.iter().zip(b).map(|(x, y)| (x - ma) * (y - mb)).sum();
        let va: f64 = a.iter().map(|x| (x - ma) * (x - ma)).sum();
        let vb: f64 = b.iter().map(|y| (y - mb) * (y - mb)).sum();
        cov / (va * vb).sqrt()
    }

    #[test]
    fn draws_keep_their_margins_and_products_are_opposed() {
        let models = Models::embedded().expect("embedded");
        let worlds = Worlds::drawn(&models, 1, 4096).expect("complete");
        assert_eq!(worlds.draws.len(), 4096);
        let column = |name: &str| -> Vec<f64> {
            let i = models.index(name).expect("known");
            worlds.draws.iter().map(|d| d.values[i]).collect()
        };
        let attention = column("appetite.attention");
        let below = attention.iter().filter(|&&v| v < 0.8).count() as f64 / 4096.0;
        // 5 % point, binomial error 0.0034.
        assert!((below - 0.05).abs() < 0.012, "{below}");
        let with = |name: &str| correlation(&attention, &column(name));
        assert!((with("appetite.ready") + 0.4).abs() < 0.08, "{}", with("appetite.ready"));
        assert!((with("appetite.temperature_power") - 0.4).abs() < 0.08);
        assert!(with("sight.half_light").abs() < 0.06);
        assert!(with("largemouth.phase.prespawn") < -0.05);
    }

    #[test]
    fn draws_repeat_and_the_fixed_world_is_the_defaults() {
        let models = Models::embedded().expect("embedded");
        assert_eq!(
            Worlds::drawn(&models, 0, 32).expect("complete"),
            Worlds::drawn(&models, 0, 32).expect("complete")
        );
        assert_ne!(
            Worlds::drawn(&models, 0, 32).expect("complete"),
            Worlds::drawn(&models, 1, 32).expect("complete")
        );
        let fixed = Worlds::fixed(&models).expect("complete");
        let i = models.index("sight.contrast_threshold").expect("known");
        assert_eq!(fixed.draws[0].values[i], 0.02);
    }
}
