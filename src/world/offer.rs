//! A bait offered in one world: all that the encounter needs, worked out beforehand.

use super::look::LookTable;
use crate::maths::interpolate::Table;

/// Which mechanism limits how far a fish goes in this world.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RiseLimit {
    /// The swim bladder: half of the fish stop at this drop of pressure, with this sharpness.
    Bladder {
        /// Drop of pressure at which half stop.
        half: f64,
        /// Sharpness.
        scale: f64,
    },
    /// Willingness: median distance and spread of its logarithm among fish.
    Willing {
        /// Median distance, m.
        median_m: f64,
        /// Standard deviation of the logarithm.
        spread: f64,
    },
}

/// A sense with a range that does not depend on the view: near field or hearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlainSense {
    /// Range, m.
    pub range_m: f64,
    /// Hazard of noticing at no distance while the bait moves, per second.
    pub rate_per_s: f64,
}

/// A bait in one world.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// True running depth by fraction of the retrieve, m.
    pub path: Table,
    /// Mean speed through the water, pauses included, m/s.
    pub speed_m_s: f64,
    /// Share of the time in which it moves: at rest it is silent and sends no flow.
    pub moving_share: f64,
    /// How the bait looks by elevation and depth.
    pub look: LookTable,
    /// Sight: hazard of noticing at no distance, per second.
    pub sight_rate_per_s: f64,
    /// Near field (lateral line and ear).
    pub near: PlainSense,
    /// Hearing of a rattle; `None` for a silent bait.
    pub rattle: Option<PlainSense>,
    /// Share of fish that attend at all.
    pub attention: f64,
    /// Share of fish that are ready to feed.
    pub ready: f64,
    /// What limits the trip.
    pub rise: RiseLimit,
    /// Refusal hazard per second of clear view in good light, for a fish of median wariness and a bait just like
    /// the prey.
    pub refusal_per_s: f64,
    /// Weight of the difference in look.
    pub look_weight: f64,
    /// Mismatch that does not depend on the view: 1 (baseline) + size + sound.
    pub mismatch: f64,
    /// Distance at which detail spans the smallest visible angle, m.
    pub detail_range_m: f64,
    /// Length of clear view by distance.
    pub clear_view: super::clear_view::ClearView,
    /// Share of fish that strike in the end: for which the bait is not too large, and that do not break off.
    pub commit: f64,
}
