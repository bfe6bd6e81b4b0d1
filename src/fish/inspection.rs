//! Looking a bait over on the way to it: how well detail shows, and the chance of not refusing.

use crate::maths::exp;
use crate::maths::quadrature::integrate;

/// How well detail shows at distance `r`: `exp(-c r) / (1 + (r/r_a)^2)`, 1 at the eye. Light comes in apart.
///
/// `c_per_m` is the beam attenuation, `detail_range_m` the distance at which detail spans the smallest visible
/// angle.
pub fn clearness(r_m: f64, c_per_m: f64, detail_range_m: f64) -> f64 {
    let s = r_m / detail_range_m;
    exp(-c_per_m * r_m) / (1.0 + s * s)
}

/// Share of detail left in the light `light_lux`: `E/(E + E_detail)`, `half_lux` the light at which half is left.
pub fn light_share(light_lux: f64, half_lux: f64) -> f64 {
    if light_lux <= 0.0 { 0.0 } else { light_lux / (light_lux + half_lux) }
}

/// Length of clear view from `near_point_m` out to `from_m`: the integral of [`clearness`] over distance, m, by
/// the given Gauss-Legendre rule; 0 where the trip starts inside the near point.
pub fn clear_view(
    rule: &[(f64, f64)],
    from_m: f64,
    near_point_m: f64,
    c_per_m: f64,
    detail_range_m: f64,
) -> f64 {
    if from_m <= near_point_m {
        return 0.0;
    }
    integrate(rule, near_point_m, from_m, |r| clearness(r, c_per_m, detail_range_m))
}

/// Weight of a difference in length from the prey: `a (ln(L/L_prey))^2 / (2 s^2)`.
pub fn size_mismatch(weight: f64, length_m: f64, prey_m: f64, width: f64) -> f64 {
    let ratio = crate::maths::ln(length_m / prey_m);
    weight * ratio * ratio / (2.0 * width * width)
}

/// Chance of not refusing under a constant hazard for a time: `exp(-hazard time)`.
pub fn unrefused(hazard_per_s: f64, time_s: f64) -> f64 {
    exp(-hazard_per_s * time_s)
}
