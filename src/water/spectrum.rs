//! What water absorbs and scatters, wavelength by wavelength, and what two eyes make of it.
//!
//! Everything is tabulated at [`WAVELENGTHS`] values from 400 to 700 nm in steps of 10 nm.

use crate::maths::{exp, pow};

/// Number of tabulated wavelengths: 400, 410, ... 700 nm.
pub const WAVELENGTHS: usize = 31;

/// A quantity at every tabulated wavelength.
pub type Spectrum = [f64; WAVELENGTHS];

/// Absorption of pure water, 1/m.
///
/// Pope & Fry (1997), Applied Optics 36:8710-8723, doi:10.1364/AO.36.008710 (their table at 22 C, in 1/m); the
/// numbers stand in `models/pure_water.in`.
pub const PURE_WATER_PER_M: Spectrum = include!("../../models/pure_water.in");

/// Sensitivity of the human eye in daylight, V(lambda), CIE 1924 (from memory, compared with public copies).
#[rustfmt::skip]
pub const PHOTOPIC: Spectrum = [
    0.000396, 0.00121, 0.0040, 0.0116, 0.023, 0.038, 0.060, 0.09098, 0.13902, 0.20802,
    0.323, 0.503, 0.710, 0.862, 0.954, 0.99495, 0.995, 0.952, 0.870, 0.757,
    0.631, 0.503, 0.381, 0.265, 0.175, 0.107, 0.061, 0.032, 0.017, 0.00821,
    0.004102,
];

/// The `i`-th tabulated wavelength in nm.
pub fn wavelength_nm(i: usize) -> f64 {
    400.0 + 10.0 * i as f64
}

/// Tabulates a function of the wavelength in nm.
pub fn tabulate(mut f: impl FnMut(f64) -> f64) -> Spectrum {
    std::array::from_fn(|i| f(wavelength_nm(i)))
}

/// Weights proportional to `sensitivity` that sum to 1, for means over the tabulated wavelengths.
///
/// The light is taken to be of equal energy at every wavelength.
pub fn weights(sensitivity: &Spectrum) -> Spectrum {
    let sum: f64 = sensitivity.iter().sum();
    sensitivity.map(|s| s / sum)
}

/// Mean of a spectrum under [`weights`].
#[inline]
pub fn mean(weights: &Spectrum, values: &Spectrum) -> f64 {
    weights.iter().zip(values).map(|(w, v)| w * v).sum()
}

/// Relative sensitivity of a cone with an A1 pigment that peaks at `peak_nm`, alpha band only.
///
/// `1 / (e^(69.7(a-x)) + e^(28(0.922-x)) + e^(-14.9(1.104-x)) + 0.674)`, x = peak / wavelength,
/// `a = 0.8795 + 0.0459 e^(-(peak-300)^2/11940)`. Govardovskii et al. (2000), Visual Neuroscience 17:509-528,
/// doi:10.1017/S0952523800174036 (from memory). Peaks 330 to 700 nm; the small band in the blue is left out.
///
/// ```
/// // At its peak a template is 1, to the fit's tenth of a percent.
/// assert!((callup::water::spectrum::cone_sensitivity(535.0, 535.0) - 1.0).abs() < 1e-3);
/// ```
pub fn cone_sensitivity(peak_nm: f64, wavelength_nm: f64) -> f64 {
    let x = peak_nm / wavelength_nm;
    let d = peak_nm - 300.0;
    let a = 0.8795 + 0.0459 * exp(-d * d / 11_940.0);
    1.0 / (exp(69.7 * (a - x)) + exp(28.0 * (0.922 - x)) + exp(-14.9 * (1.104 - x)) + 0.674)
}

/// Shape of phytoplankton absorption, 1 at 440 nm: chlorophyll's blue and red bands and the carotenoids.
///
/// Three Gaussians (440, 490 and 675 nm); schematic, no source. Only its coarse shape matters here: much
/// blue, some red, little green.
pub fn phytoplankton_shape(wavelength_nm: f64) -> f64 {
    let bell = |centre: f64, width: f64| {
        let t = (wavelength_nm - centre) / width;
        exp(-0.5 * t * t)
    };
    // The carotenoid band's foot at 440 nm: 0.4 exp(-(50/28)^2 / 2); the red band's is nil.
    (bell(440.0, 30.0) + 0.4 * bell(490.0, 28.0) + 0.45 * bell(675.0, 13.0))
        / (1.0 + 0.4 * exp(-0.5 * (2500.0 / 784.0)))
}

/// What is in the water of a lake of some tint, beside the water.
///
/// The amounts set the *shape* of the spectrum and the balance between the substances; a Secchi reading then
/// scales them, see [`super::clarity`]. Absorption and scattering in 1/m at the stated wavelength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recipe {
    /// Absorption by coloured dissolved matter at 440 nm.
    pub dissolved_440_per_m: f64,
    /// Its slope S per nm: `exp(-S (wavelength - 440))`, 0.006 to 0.03.
    pub dissolved_slope_per_nm: f64,
    /// Chlorophyll, mg/m3.
    pub chlorophyll_mg_m3: f64,
    /// Absorption by mineral and dead particles at 440 nm.
    pub particle_440_per_m: f64,
    /// Its slope per nm.
    pub particle_slope_per_nm: f64,
    /// Scattering by particles at 550 nm.
    pub scattering_550_per_m: f64,
    /// Scattering falls with wavelength to this power: `(550 / wavelength)^n`.
    pub scattering_exponent: f64,
}

/// Why a recipe cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RecipeError {
    /// A value is negative or not a number.
    #[error("{name} is {value}: give a number of at least 0")]
    Negative {
        /// Which value.
        name: &'static str,
        /// What it was.
        value: f64,
    },
    /// There is nothing that absorbs or nothing that scatters, so that a Secchi depth cannot scale it.
    #[error("the recipe has no {0} matter: give some, however little, so that a Secchi depth can scale it")]
    Missing(&'static str),
}

impl Recipe {
    /// Absorption by everything but the water itself, 1/m at each wavelength.
    ///
    /// Dissolved matter and particles fall exponentially with wavelength (Bricaud, Morel & Prieur 1981,
    /// Limnol. Oceanogr. 26:43-53, from memory); phytoplankton `0.0403 chl^0.668` at 440 nm (Prieur &
    /// Sathyendranath 1981, Limnol. Oceanogr. 26:671-689, from memory) times [`phytoplankton_shape`].
    pub fn absorption_per_m(&self) -> Spectrum {
        let algae = 0.0403 * pow(self.chlorophyll_mg_m3, 0.668);
        tabulate(|nm| {
            self.dissolved_440_per_m * exp(-self.dissolved_slope_per_nm * (nm - 440.0))
                + self.particle_440_per_m * exp(-self.particle_slope_per_nm * (nm - 440.0))
                + algae * phytoplankton_shape(nm)
        })
    }

    /// Scattering by particles, 1/m at each wavelength: `b(550) (550 / wavelength)^n`. That of the water itself
    /// (below 0.006) is left out.
    pub fn scattering_per_m(&self) -> Spectrum {
        tabulate(|nm| self.scattering_550_per_m * pow(550.0 / nm, self.scattering_exponent))
    }

    /// Checks that every amount is a number of at least 0 and that something absorbs and something scatters.
    pub fn check(&self) -> Result<(), RecipeError> {
        let values = [
            ("dissolved_440_per_m", self.dissolved_440_per_m),
            ("dissolved_slope_per_nm", self.dissolved_slope_per_nm),
            ("chlorophyll_mg_m3", self.chlorophyll_mg_m3),
            ("particle_440_per_m", self.particle_440_per_m),
            ("particle_slope_per_nm", self.particle_slope_per_nm),
            ("scattering_550_per_m", self.scattering_550_per_m),
            ("scattering_exponent", self.scattering_exponent),
        ];
        for (name, value) in values {
            if !(value >= 0.0 && value.is_finite()) {
                return Err(RecipeError::Negative { name, value });
            }
        }
        if self.dissolved_440_per_m + self.chlorophyll_mg_m3 + self.particle_440_per_m <= 0.0 {
            return Err(RecipeError::Missing("absorbing"));
        }
        if self.scattering_550_per_m <= 0.0 {
            return Err(RecipeError::Missing("scattering"));
        }
        Ok(())
    }
}
