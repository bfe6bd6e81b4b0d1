//! What a flank does with the light that falls on it.

/// Shares of the incident light: scattered, mirrored, let through. What is left is absorbed.
///
/// Two bands, the cones of the black basses: green (peak 535 nm) and red (614 nm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Diffuse reflectance in the green and the red band, 0-1.
    pub diffuse: [f64; 2],
    /// Mirror reflectance, both bands, 0-1.
    pub specular: f64,
    /// Share let through, both bands, 0-1.
    pub transmittance: f64,
}

impl Finish {
    /// Diffuse + specular + transmitted light by band; at most 1 for anything that exists.
    pub fn sum(&self) -> [f64; 2] {
        self.diffuse.map(|d| d + self.specular + self.transmittance)
    }

    /// The nearest possible finish: negative shares become 0, and where a band sums above 1 all shares
    /// shrink by the same factor (the larger sum of the two bands).
    ///
    /// ```
    /// use callup::bait::Finish;
    /// let drawn = Finish { diffuse: [0.9, 0.4], specular: 0.5, transmittance: 0.1 };
    /// let possible = drawn.scaled_to_one();
    /// assert!((possible.sum()[0] - 1.0).abs() < 1e-12);
    /// assert!((possible.specular - 0.5 / 1.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn scaled_to_one(self) -> Self {
        let kept = Self {
            diffuse: self.diffuse.map(|d| d.max(0.0)),
            specular: self.specular.max(0.0),
            transmittance: self.transmittance.max(0.0),
        };
        let [green, red] = kept.sum();
        let factor = 1.0 / green.max(red).max(1.0);
        Self {
            diffuse: kept.diffuse.map(|d| d * factor),
            specular: kept.specular * factor,
            transmittance: kept.transmittance * factor,
        }
    }
}
