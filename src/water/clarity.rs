//! From a Secchi reading to attenuation in the bass's two cone bands.
//!
//! A Secchi disk tells one sum, (c + K) Z = Gamma; how it divides between the beam attenuation c and the diffuse
//! attenuation K depends on the tint, by Gamma_K = K Z. With both known, the amounts of absorbing and of
//! scattering matter in the tint's [`Recipe`] are scaled until the daylight eye, with which the disk was read,
//! finds those two numbers; then K and c follow for any other eye. Pure water is never scaled.
//!
//! K over a whole spectrum means: the share exp(-K Z) of the light that an eye can use is left at the Secchi
//! depth Z (for Gamma_K = 1.7 the 18 % of Poole & Atkins 1929). The plain mean of K over wavelengths would count
//! in full the violet and the deep red that are gone within the first metre: it would make the green band
//! of a stained lake fade a quarter faster, and leave no clear lake with a Secchi depth beyond some 11 m.
//! c is the mean over the light that is left at the Secchi depth, by which the disk is seen.

use super::spectrum::{
    PHOTOPIC, PURE_WATER_PER_M, Recipe, RecipeError, Spectrum, WAVELENGTHS, cone_sensitivity, mean, tabulate,
    weights,
};
use crate::maths::roots::bracketed;
use crate::maths::{exp, fast, ln, sqrt};

/// Kirk's coefficient of scattering, `G(mu0) = 0.425 mu0 - 0.19`: how strongly scattering lengthens the way down.
///
/// Kirk (1984), Limnol. Oceanogr. 29:350-356, doi:10.4319/lo.1984.29.2.0350 (from memory); mu0 0.6 to 1.
pub fn kirk_g(mu0: f64) -> f64 {
    0.425 * mu0 - 0.19
}

/// Diffuse attenuation from absorption a, scattering b (1/m) and the cosine mu0 of the light below the surface.
///
/// `K = sqrt(a^2 + G(mu0) a b) / mu0`, [`kirk_g`]; mean over the lit layer, fitted by Monte Carlo for
/// b/a up to 30.
///
/// ```
/// // Kirk (2003), Limnol. Oceanogr. 48:9-17, has another form for the same: (a + b (1 - 0.924)) / mu0.
/// let k = callup::water::clarity::kirk_k_per_m(0.2, 1.0, 0.86);
/// assert!((k - (0.2 + 1.0 * (1.0 - 0.924)) / 0.86).abs() < 0.003);
/// ```
pub fn kirk_k_per_m(a_per_m: f64, b_per_m: f64, mu0: f64) -> f64 {
    sqrt(a_per_m * a_per_m + kirk_g(mu0) * a_per_m * b_per_m) / mu0
}

/// How the sum that a Secchi disk tells divides into K and c.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecchiSplit {
    /// (c + K) Z: about 8.7 (Tyler 1968, Limnol. Oceanogr. 13:1-6, from memory; Preisendorfer 1986, Limnol.
    /// Oceanogr. 31:909-926, gives 8 to 9). Above twice `gamma_k`.
    pub gamma: f64,
    /// K Z: 1.7 in clear water (Poole & Atkins 1929), more where water is stained, less where it is cloudy.
    pub gamma_k: f64,
    /// Cosine of the light below the surface when the disk was read (about 0.86: broad daylight).
    pub mu0: f64,
}

impl SecchiSplit {
    /// Photopic K = Gamma_K / Z and c = (Gamma - Gamma_K) / Z, 1/m, for a Secchi depth in metres.
    pub fn attenuation_per_m(&self, secchi_m: f64) -> (f64, f64) {
        (self.gamma_k / secchi_m, (self.gamma - self.gamma_k) / secchi_m)
    }
}

/// The Secchi depth at which a lake is read whose turbidity is `ntu`: `exp(a + s ln NTU + residual)`, in metres.
///
/// `law` holds a and s, fitted by water colour to 2,279 visits of lakes in the United States (National Lakes
/// Assessment 2007 and 2012, public domain), 0.2 to 300 NTU; `residual` is how much clearer (above 0) this water is
/// than its turbidity says, standard deviation 0.43. Use in place of a Secchi reading, never beside one. NTU of 0
/// gives infinity, which the closure holds to what pure water allows.
///
/// ```
/// // Water of low colour at 1.4 NTU: the median of 417 visits is 2.70 m.
/// let z = callup::water::clarity::secchi_m_from_turbidity(1.4, [1.313, -0.715], 0.0);
/// assert!((z / 2.70 - 1.0).abs() < 0.10, "{z}");
/// ```
pub fn secchi_m_from_turbidity(ntu: f64, law: [f64; 2], residual: f64) -> f64 {
    if ntu <= 0.0 { f64::INFINITY } else { exp(law[0] + law[1] * ln(ntu) + residual) }
}

/// Attenuation in the two cone bands: green first, red second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bands {
    /// Diffuse attenuation K, 1/m of depth.
    pub k_per_m: [f64; 2],
    /// Beam attenuation c, 1/m along the line of sight.
    pub c_per_m: [f64; 2],
}

/// Where a reading asked for more than this water can give.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Limits {
    /// K asked for was below that of water without absorbing matter; there is none, and c alone is met as far as
    /// it can be.
    pub clearer_than_water: bool,
    /// No amounts of matter give both K and c; the nearest found are used.
    pub not_met: bool,
    /// In some band K came out above [`MOST_K_TO_C`] times c and was held there.
    pub k_held_below_c: bool,
}

impl Limits {
    /// Whether anything was held.
    pub fn any(&self) -> bool {
        self.clearer_than_water || self.not_met || self.k_held_below_c
    }
}

/// Largest K/c of a band. Deep in any water K stays below c (Preisendorfer's asymptotic light field); Kirk's
/// formula, made for scattering water near the surface, exceeds it where almost everything is absorbed and
/// light comes in aslant. Held a little below 1 so that a contrast overhead still fades.
pub const MOST_K_TO_C: f64 = 0.95;

/// Secchi depths are held to this range, m: from liquid mud to beyond the clearest sea read (80 m, from memory).
pub const SECCHI_RANGE_M: (f64, f64) = (0.01, 100.0);

/// A water that agrees with a Secchi reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// Photopic K reached, 1/m; the one asked for unless [`Water::limits`] says otherwise.
    pub k_per_m: f64,
    /// Photopic c reached, 1/m.
    pub c_per_m: f64,
    /// Photopic mean of the scattering b, 1/m.
    pub b_per_m: f64,
    /// Scale of the recipe's absorbing matter.
    pub absorbing: f64,
    /// Scale of its scattering matter.
    pub scattering: f64,
    /// What the bass's cones see of it.
    pub bands: Bands,
    /// What had to be held.
    pub limits: Limits,
}

/// Relative agreement of K and c with what was asked for, at which the search stops.
const MET: f64 = 1e-10;
/// Steps of the search; from its start it takes about five.
const MOST_STEPS: usize = 60;
/// Longest step in the logarithm of an amount.
const LONGEST_STEP: f64 = 2.0;
/// An amount this small (in logarithm) changes nothing any more.
const NOTHING: f64 = -25.0;

/// A tint with its spectra worked out once, ready to be scaled to any Secchi depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Tint {
    absorption: Spectrum,
    scattering: Spectrum,
    photopic: Spectrum,
    cones: [Spectrum; 2],
}

/// What an eye finds over the Secchi depth, with derivatives by the logarithms of the two amounts.
struct Found {
    k: f64,
    c: f64,
    k_slope: [f64; 2],
    c_slope: [f64; 2],
}

impl Tint {
    /// Prepares a recipe for an animal whose cones peak at the two wavelengths in nm (green, red).
    pub fn prepare(recipe: &Recipe, cone_peaks_nm: [f64; 2]) -> Result<Self, RecipeError> {
        recipe.check()?;
        Ok(Self {
            absorption: recipe.absorption_per_m(),
            scattering: recipe.scattering_per_m(),
            photopic: weights(&PHOTOPIC),
            cones: cone_peaks_nm.map(|peak| weights(&tabulate(|nm| cone_sensitivity(peak, nm)))),
        })
    }

    /// The water of this tint in which a Secchi disk vanishes at `secchi_m` (held to [`SECCHI_RANGE_M`]).
    ///
    /// Newton's method on the logarithms of the two amounts, from the solution for water of one colour. The
    /// bands' K and c are likewise those over the Secchi depth; deeper down the light that is left fades
    /// a little more slowly, nearer the surface faster.
    pub fn at_secchi(&self, secchi_m: f64, split: SecchiSplit) -> Water {
        let z = secchi_m.clamp(SECCHI_RANGE_M.0, SECCHI_RANGE_M.1);
        let (k_goal, c_goal) = split.attenuation_per_m(z);
        let mut limits = Limits::default();
        let mut log = self.one_colour(k_goal, c_goal, split.mu0);
        let mut met = false;
        for _ in 0..MOST_STEPS {
            let found = self.found(&self.photopic, log.map(fast::exp), split.mu0, z);
            let (rk, rc) = (ln(found.k / k_goal), ln(found.c / c_goal));
            met = rk.abs() < MET && rc.abs() < MET;
            if met || log[0] < NOTHING {
                break;
            }
            let [ka, kb] = found.k_slope.map(|s| s / found.k);
            let [ca, cb] = found.c_slope.map(|s| s / found.c);
            let determinant = ka * cb - kb * ca;
            let step = [(rk * cb - rc * kb) / determinant, (rc * ka - rk * ca) / determinant];
            // Where nothing depends on an amount any more, the step is not a number: go down.
            let held = |step: f64| {
                if step.is_nan() { LONGEST_STEP } else { step.clamp(-LONGEST_STEP, LONGEST_STEP) }
            };
            log = [log[0] - held(step[0]), log[1] - held(step[1])];
        }
        let mut amounts = log.map(fast::exp);
        if !met {
            limits.clearer_than_water =
                self.found(&self.photopic, [0.0, amounts[1]], split.mu0, z).k >= k_goal;
            limits.not_met = !limits.clearer_than_water;
        }
        if limits.clearer_than_water {
            amounts = [0.0, self.scattering_alone(c_goal, split.mu0, z)];
        }
        self.water(amounts, split.mu0, z, limits)
    }

    /// Logarithms of the amounts, were the spectra flat: `(1-G) a^2 + G c a - (mu0 K)^2 = 0`, b = c - a.
    fn one_colour(&self, k_goal: f64, c_goal: f64, mu0: f64) -> [f64; 2] {
        let g = kirk_g(mu0);
        let goal = mu0 * k_goal;
        let a =
            (sqrt(g * g * c_goal * c_goal + 4.0 * (1.0 - g) * goal * goal) - g * c_goal) / (2.0 * (1.0 - g));
        let matter = (a - mean(&self.photopic, &PURE_WATER_PER_M)).max(0.05 * a);
        [
            ln(matter / mean(&self.photopic, &self.absorption)),
            ln((c_goal - a).max(0.05 * c_goal) / mean(&self.photopic, &self.scattering)),
        ]
    }

    /// The scattering matter that alone, in pure water, brings c to `c_goal`; 0 where water alone exceeds it.
    fn scattering_alone(&self, c_goal: f64, mu0: f64, z: f64) -> f64 {
        let c = |amount: f64| self.found(&self.photopic, [0.0, amount], mu0, z).c - c_goal;
        let most = c_goal / mean(&self.photopic, &self.scattering);
        // Scattering at least doubles over the widest spectrum, hence the room above.
        bracketed(0.0, 4.0 * most, 1e-9 * most, c).unwrap_or(0.0)
    }

    fn water(&self, amounts: [f64; 2], mu0: f64, z: f64, mut limits: Limits) -> Water {
        let eye = self.found(&self.photopic, amounts, mu0, z);
        let cones = [0, 1].map(|i| self.found(&self.cones[i], amounts, mu0, z));
        let c_per_m = [cones[0].c, cones[1].c];
        let k_per_m = [0, 1].map(|i| cones[i].k.min(MOST_K_TO_C * cones[i].c));
        limits.k_held_below_c = (0..2).any(|i| k_per_m[i] < cones[i].k);
        Water {
            k_per_m: eye.k,
            c_per_m: eye.c,
            b_per_m: amounts[1] * mean(&self.photopic, &self.scattering),
            absorbing: amounts[0],
            scattering: amounts[1],
            bands: Bands { k_per_m, c_per_m },
            limits,
        }
    }

    /// K and c for an eye over `z` metres: `K = -ln(sum e)/z`, `c = sum e (a + b) / sum e`, with
    /// `e = eye exp(-K_kirk z)` at each wavelength.
    fn found(&self, eye: &Spectrum, [absorbing, scattering]: [f64; 2], mu0: f64, z: f64) -> Found {
        let g = kirk_g(mu0);
        // Arrays first, sums after: the first loop is one the compiler turns into vector code.
        let (mut e, mut c, mut a_part, mut b_part) =
            ([0.0; WAVELENGTHS], [0.0; WAVELENGTHS], [0.0; WAVELENGTHS], [0.0; WAVELENGTHS]);
        let (mut ka, mut kb) = ([0.0; WAVELENGTHS], [0.0; WAVELENGTHS]);
        for i in 0..WAVELENGTHS {
            a_part[i] = absorbing * self.absorption[i];
            b_part[i] = scattering * self.scattering[i];
            let (a, b) = (PURE_WATER_PER_M[i] + a_part[i], b_part[i]);
            let root = sqrt(a * a + g * a * b);
            let per_root = 1.0 / (2.0 * root * mu0);
            e[i] = eye[i] * fast::exp(-root / mu0 * z);
            c[i] = a + b;
            ka[i] = a_part[i] * (2.0 * a + g * b) * per_root;
            kb[i] = b * g * a * per_root;
        }
        let mut sums = [0.0; 8];
        for i in 0..WAVELENGTHS {
            let ec = e[i] * c[i];
            let terms = [
                e[i],
                ec,
                e[i] * ka[i],
                e[i] * kb[i],
                e[i] * a_part[i],
                e[i] * b_part[i],
                ec * ka[i],
                ec * kb[i],
            ];
            for (sum, term) in sums.iter_mut().zip(terms) {
                *sum += term;
            }
        }
        let light = sums[0];
        let [_, c, ka, kb, a, b, cka, ckb] = sums.map(|s| s / light);
        Found {
            k: -ln(light) / z,
            c,
            k_slope: [ka, kb],
            // The amounts change c itself and, by the colour of the light that is left, its mean.
            c_slope: [a - z * (cka - c * ka), b - z * (ckb - c * kb)],
        }
    }
}
