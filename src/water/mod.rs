//! Light above and in the water, and the water itself.
//!
//! From the top down: where the [`sun`] stands, how bright the [`sky`] is, what gets through the
//! [`surface`], what the water's [`spectrum`] absorbs and scatters, what a Secchi reading then says about
//! attenuation in the bass's two cone bands ([`clarity`]), what a fish sees behind a bait ([`radiance`])
//! and what is left of a [`contrast`] at range. [`medium`] holds density and viscosity.
//!
//! Nothing here knows a bait or a fish. Parameters of nature that are not part of a published formula
//! come in as arguments.

pub mod clarity;
pub mod contrast;
pub mod medium;
pub mod radiance;
pub mod sky;
pub mod spectrum;
pub mod sun;
pub mod surface;

/// Degrees to radians.
#[inline]
pub(crate) fn radians(degrees: f64) -> f64 {
    degrees * (std::f64::consts::PI / 180.0)
}
