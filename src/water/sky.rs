//! How much light falls on the water, and how much of it comes straight from the sun.

use super::radians;
use crate::maths::{acos, exp, pow, sin};

/// Lower edge of each range of true sun elevation (degrees) with the coefficients of log10(lux) in powers of
/// elevation / 90.
const CLEAR_SKY: [(f64, [f64; 4]); 6] = [
    (20.0, [3.74, 3.97, -4.07, 1.47]),
    (5.0, [3.05, 13.28, -45.98, 64.33]),
    (-0.8, [2.88, 22.26, -207.64, 1034.30]),
    (-5.0, [2.88, 21.81, -258.11, -858.36]),
    (-12.0, [2.70, 12.17, -431.69, -1899.83]),
    (-18.0, [13.84, 262.72, 1447.42, 2797.93]),
];

/// Illuminance of the sun outside the atmosphere, lux (Darula, Kittler & Gueymard 2005, Solar Energy
/// 79:559-565, from memory; handbooks give 127 to 134 klx).
const EXTRATERRESTRIAL_LUX: f64 = 133_000.0;

/// Illuminance of a horizontal surface by sun and clear sky, in lux, for a true sun elevation in degrees.
///
/// `10^(l0 + l1 x + l2 x^2 + l3 x^3) + floor`, x = elevation / 90, six ranges, each closed below and open
/// above; the joins differ by up to 1 %. Below -18 degrees only `floor_lux` (starlight and airglow, about
/// 0.002 clear) is left; above 90 the value at 90. Good to some 5 % by day in clear air. Janiczek & DeYoung
/// (1987), US Naval Observatory Circular 171; coefficients as reprinted by Vallado (2022), Table 5-1.
///
/// ```
/// // AMS Glossary of Meteorology: civil twilight ends near 3.5 to 2 lux, with the sun at -6 degrees.
/// let lux = callup::water::sky::clear_sky_lux(-6.0, 0.0);
/// assert!((2.0..3.5).contains(&lux));
/// ```
pub fn clear_sky_lux(elevation_deg: f64, floor_lux: f64) -> f64 {
    let x = elevation_deg.min(90.0) / 90.0;
    CLEAR_SKY
        .iter()
        .find(|(from, _)| elevation_deg >= *from)
        .map_or(0.0, |(_, l)| pow(10.0, l[0] + x * (l[1] + x * (l[2] + x * l[3]))))
        + floor_lux
}

/// Share of the clear-sky light that a cloud cover of `cloud` (0 to 1) lets through: `1 - 0.75 N^3.4`.
///
/// Fitted to ten years of hourly sums at Hamburg with the sun up; taken over for twilight. A thick overcast
/// spreads widely about 0.25. Kasten & Czeplak (1980), Solar Energy 24:177-189.
///
/// ```
/// assert!((callup::water::sky::cloud_factor(0.5) - 0.9290).abs() < 1e-4);
/// ```
pub fn cloud_factor(cloud: f64) -> f64 {
    1.0 - 0.75 * pow(cloud.clamp(0.0, 1.0), 3.4)
}

/// Thickness of air the sun shines through, relative to the zenith; elevation in degrees, -2 to 90.
///
/// `1 / (sin h + 0.50572 (h + 6.07995)^-1.6364)`: Kasten & Young (1989), Applied Optics 28:4735-4738. (Stated
/// for the refracted elevation; the true one is used here, which matters below 2 degrees, where no beam is left.)
///
/// ```
/// // The paper's table (from memory): 5.59 at 10 degrees, 37.9 at the horizon.
/// assert!((callup::water::sky::air_mass(10.0) - 5.59).abs() < 0.01);
/// assert!((callup::water::sky::air_mass(0.0) - 37.92).abs() < 0.01);
/// ```
pub fn air_mass(elevation_deg: f64) -> f64 {
    let h = elevation_deg.clamp(-2.0, 90.0);
    1.0 / (sin(radians(h)) + 0.50572 * pow(h + 6.07995, -1.6364))
}

/// Share of the light that comes from the sky and the clouds and not straight from the sun, 0.3 to 1.
///
/// High sun: `D = 0.3 + 0.7 N^2` (Kasten & Czeplak 1980, from memory). A low sun has no such beam: it cannot
/// bring more than `E_0 sin h exp(-tau m(h))` through the air, m the [`air_mass`] and tau the vertical
/// extinction `air_extinction` of light in cloudless air (about 0.3), and none from below the horizon.
/// Without that limit the light under the surface would rise as the sun sets, since a grazing beam is all
/// reflected and the sky's light is not.
pub fn diffuse_share(cloud: f64, elevation_deg: f64, air_extinction: f64) -> f64 {
    if elevation_deg <= 0.0 {
        return 1.0;
    }
    let n = cloud.clamp(0.0, 1.0);
    let beam_lux = EXTRATERRESTRIAL_LUX
        * sin(radians(elevation_deg.min(90.0)))
        * exp(-air_extinction * air_mass(elevation_deg));
    let beam = (beam_lux / clear_sky_lux(elevation_deg, 0.0)).min(0.7);
    1.0 - beam * (1.0 - n * n)
}

/// Lower edge of each range of the moon's elevation (degrees) with the coefficients of log10(lux) in powers of
/// elevation / 90, for a full moon at its mean distance.
const MOON: [(f64, [f64; 4]); 3] = [
    (20.0, [-1.95, 4.06, -4.24, 1.56]),
    (5.0, [-2.58, 12.58, -42.58, 59.06]),
    (-0.8, [-2.79, 24.27, -252.95, 1321.29]),
];

/// Illuminance of a horizontal surface by the moon under a clear sky, in lux: `lit` the lit share of its disc (0 to 1),
/// `elevation_deg` its true elevation; 0 under the horizon.
///
/// `10^(l0 + l1 x + l2 x^2 + l3 x^3 - 0.00868 f - 2.2e-9 f^4)`, x = elevation / 90, f the phase angle in degrees,
/// `lit = (1 + cos f)/2`. Janiczek & DeYoung (1987), US Naval Observatory Circular 171 (coefficients as in a public
/// program). A full moon lights the ground with 0.05 to 0.3 lux (Kyba et al. 2017, Astron. Geophys. 58:1.31, from
/// memory).
///
/// ```
/// use callup::water::sky::moon_lux;
/// assert!((0.25..0.32).contains(&moon_lux(1.0, 90.0)) && moon_lux(1.0, -5.0) == 0.0);
/// // A half moon gives about a tenth of a full one (0.091 by Krisciunas & Schaefer 1991, PASP 103:1033, another fit).
/// assert!((0.08..0.13).contains(&(moon_lux(0.5, 40.0) / moon_lux(1.0, 40.0))));
/// ```
pub fn moon_lux(lit: f64, elevation_deg: f64) -> f64 {
    if lit <= 0.0 {
        return 0.0;
    }
    let x = elevation_deg.min(90.0) / 90.0;
    let phase_deg = acos((2.0 * lit.min(1.0) - 1.0).clamp(-1.0, 1.0)).to_degrees();
    let faded = -8.68e-3 * phase_deg - 2.2e-9 * pow(phase_deg, 4.0);
    MOON.iter()
        .find(|(from, _)| elevation_deg >= *from)
        .map_or(0.0, |(_, l)| pow(10.0, l[0] + x * (l[1] + x * (l[2] + x * l[3])) + faded))
}

/// Light on the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Above {
    /// Illuminance of the horizontal surface.
    pub lux: f64,
    /// Share of it that is diffuse, 0 to 1.
    pub diffuse_share: f64,
}

/// What the sky is like, apart from where the sun stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sky {
    /// Cloud cover, 0 to 1.
    pub cloud: f64,
    /// What the clouds let through, relative to the mean for their cover (1 on average; a dark storm 0.4).
    pub cloud_spread: f64,
    /// Illuminance on a night without cloud: stars, airglow and the moon.
    pub floor_lux: f64,
    /// Extinction of light by cloudless air, straight up.
    pub air_extinction: f64,
}

impl Sky {
    /// Illuminance on the water and its diffuse share for a true sun elevation in degrees.
    ///
    /// `cloud_spread` acts in proportion to the light that the clouds take away, so it has no effect under
    /// a clear sky and cannot brighten it beyond clear.
    pub fn above(&self, elevation_deg: f64) -> Above {
        let factor = cloud_factor(self.cloud);
        // Full effect at overcast (factor 0.25), none at clear (1).
        let weight = (1.0 - factor) / 0.75;
        let spread = (factor * pow(self.cloud_spread.max(0.0), weight)).min(1.0);
        Above {
            lux: clear_sky_lux(elevation_deg, self.floor_lux) * spread,
            diffuse_share: diffuse_share(self.cloud, elevation_deg, self.air_extinction),
        }
    }
}
