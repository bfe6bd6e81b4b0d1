//! Groups of assumptions made neutral, to find what the difference between two sides of a rule rests on.
//!
//! A side (a bait in its prepared scenario) is seen against a *reference*: the other side, or itself. A neutral group
//! 1. takes from the reference what it says about the side, so that the two sides no longer differ by it, and
//! 2. no longer answers to what other groups do: it keeps the value that it has in the reference's *typical pass*.
//!
//! The level stays near the reference's, so that a group which merely scales all odds is not mistaken for one that
//! makes the difference. With all groups neutral both sides are the same, bit for bit; with none neutral each is
//! what it is. By group:
//!
//! | group | taken from the reference | held at the typical pass |
//! |---|---|---|
//! | optics | water, light, finish, outline as seen, attention | range of sight in all directions and depths; difference in look; share of the trip in clear view |
//! | mechanics | running path, speed, depth and size of the fish, bottom, swimming | nothing: equal paths are equal climbs, so the swim bladder makes no difference |
//! | appetite | hunger with its temperature | share of fish willing to go the distance |
//! | phase | factor of the season | nothing |
//! | wariness | factors of fishing pressure | difference in look, seconds of clear view: hazard and its baseline stay, so that size and sound can still put a fish off |
//! | size | length against prey and fish, length as a meal | nothing |
//! | sound | near field, rattle, and how a rattle puts off | nothing |
//!
//! The typical pass has the reference's fish at its mean depth, its bait at the mean of its path, and half of the
//! half width to the side.

use super::clear_view::ClearView;
use super::look::LookTable;
use super::{BaitInWater, Offer, PlainSense, Prepared, RiseLimit, World};
use super::{readiness, ready, size_mismatch, sound_mismatch};
use crate::fish::{inspection, rising};
use crate::maths::{exp, hypot, ln};
use crate::models::{Assumed, Group, Groups};

/// One side of a comparison: a bait in its prepared scenario.
#[derive(Debug, Clone, Copy)]
pub struct Side<'a> {
    /// Where it is offered.
    pub prepared: &'a Prepared,
    /// What is offered.
    pub bait: &'a BaitInWater,
}

/// A side in one world.
#[derive(Debug, Clone)]
pub struct Shown<'a> {
    side: Side<'a>,
    assumed: &'a Assumed,
    world: World,
    offer: Offer,
    traits: Traits,
}

/// What a side brings by numbers alone.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Traits {
    /// Hunger, phase, pressure.
    readiness: [f64; 3],
    size_mismatch: f64,
    sound_mismatch: f64,
    near: PlainSense,
    rattle: Option<PlainSense>,
    length_m: f64,
    /// With the share of fish for which the bait is not too large.
    commit: f64,
    refusal_per_s: f64,
}

impl<'a> Shown<'a> {
    /// The side in the world of a draw.
    pub fn new(side: Side<'a>, assumed: &'a Assumed) -> Self {
        let Side { prepared, bait } = side;
        let world = World::new(prepared, assumed);
        let offer = world.offer(prepared, assumed, bait);
        let traits = Traits {
            readiness: readiness(prepared, assumed),
            size_mismatch: size_mismatch(prepared, assumed, bait),
            sound_mismatch: sound_mismatch(assumed, offer.rattle),
            near: offer.near,
            rattle: offer.rattle,
            length_m: bait.outline.length_m,
            commit: offer.commit,
            refusal_per_s: offer.refusal_per_s,
        };
        Self { side, assumed, world, offer, traits }
    }

    /// The world as it is.
    pub fn world(&self) -> &World {
        &self.world
    }

    /// The offer as it is.
    pub fn offer(&self) -> &Offer {
        &self.offer
    }

    /// Whether taking the path of another changes nothing.
    pub fn shares_path_with(&self, other: &Shown) -> bool {
        let (own, its) = (&self.world, &other.world);
        let fish = |w: &World| [w.bottom_m, w.fish_depth_m, w.depth_spread_m, w.half_width_m];
        fish(own) == fish(its)
            && self.offer.speed_m_s == other.offer.speed_m_s
            && own.pursuit == its.pursuit
            && self.offer.moving_share == other.offer.moving_share
            && self.side.bait.path == other.side.bait.path
    }

    /// This side on the running path of another, with that one's fish.
    fn on_path_of(&self, other: &Shown) -> (World, Offer) {
        let mut world = self.world.clone();
        world.bottom_m = other.world.bottom_m;
        world.fish_depth_m = other.world.fish_depth_m;
        world.depth_spread_m = other.world.depth_spread_m;
        world.half_width_m = other.world.half_width_m;
        world.pursuit = other.world.pursuit;
        let bait = BaitInWater { path: other.side.bait.path.clone(), ..self.side.bait.clone() };
        let own = world.offer(self.side.prepared, self.assumed, &bait);
        let offer = Offer {
            path: other.offer.path.clone(),
            speed_m_s: other.offer.speed_m_s,
            moving_share: other.offer.moving_share,
            ..own
        };
        (world, offer)
    }
}

/// A pass is not typical closer than that, m.
const NEAREST_M: f64 = 1e-3;

/// What the reference makes of its typical pass.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Typical {
    closest_m: f64,
    /// Range of sight.
    seen_from_m: f64,
    /// Difference in look.
    unlike: f64,
    /// Clear view in its light.
    view_m: f64,
    /// Time that a metre of the closest distance takes, s/m; `None` where the fish cannot catch the bait.
    seconds_per_m: Option<f64>,
    /// Share of passes at which the fish attends.
    attention: f64,
}

impl Typical {
    fn of(shown: &Shown) -> Self {
        let Shown { world, offer, .. } = shown;
        let path = offer.path.values();
        let bait_m = path.iter().sum::<f64>() / path.len().max(1) as f64;
        let fish_m = world.fish_depth_m.min(world.bottom_m);
        let rise_m = fish_m - bait_m;
        let closest_m = hypot(rise_m, 0.5 * world.half_width_m).max(NEAREST_M);
        let sine = rise_m / closest_m;
        let band = world.clearest;
        let light = exp(world.ln_light[band] - world.k_per_m[band] * bait_m);
        Self {
            closest_m,
            seen_from_m: world.seen_from_m(offer, sine, fish_m, bait_m),
            unlike: offer.look.at(sine, bait_m)[4],
            view_m: offer.clear_view.at(closest_m) * inspection::light_share(light, world.detail_light_lux),
            seconds_per_m: seconds_per_m(world),
            attention: offer.attention,
        }
    }
}

/// For a fish of usual pace.
fn seconds_per_m(world: &World) -> Option<f64> {
    world.pursuit.chase(1.0).map(|c| c.detour / c.speed_m_s)
}

/// A side against its reference, optics and mechanics already as wished; the rest follows by
/// [`Ground::neutralise`], as often as needed.
#[derive(Debug, Clone)]
pub struct Ground {
    /// The world; which fish pass does not change any more.
    pub world: World,
    /// The offer.
    pub offer: Offer,
    own: Traits,
    reference: Traits,
    typical: Typical,
    reach: Reach,
    /// What neutral wariness replaces.
    detail_light_lux: f64,
    look_weight: f64,
    clear_view: ClearView,
}

/// How far fish go: what the median willing distance is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reach {
    by_bladder: bool,
    at_ten_cm_m: f64,
    power: f64,
    spread: f64,
}

/// Groups that act by numbers alone.
const QUICK: [Group; 5] = [Group::Appetite, Group::Phase, Group::Wariness, Group::Size, Group::Sound];

impl Ground {
    /// `shown` against `reference`, with optics and mechanics neutral or not.
    pub fn new(shown: &Shown, reference: &Shown, neutral: Groups) -> Self {
        let typical = Typical::of(reference);
        let (mut world, mut offer) = if neutral.has(Group::Mechanics) {
            shown.on_path_of(reference)
        } else {
            (shown.world.clone(), shown.offer.clone())
        };
        if neutral.has(Group::Optics) {
            without_optics(&mut world, &mut offer, &typical);
        }
        let a = shown.assumed;
        Self {
            own: shown.traits,
            reference: reference.traits,
            typical,
            reach: Reach {
                by_bladder: matches!(offer.rise, RiseLimit::Bladder { .. }),
                at_ten_cm_m: a.willing_distance_m,
                power: a.bigger_meal_power,
                spread: a.willing_fish_to_fish,
            },
            detail_light_lux: world.detail_light_lux,
            look_weight: offer.look_weight,
            clear_view: offer.clear_view.clone(),
            world,
            offer,
        }
    }

    /// The groups among appetite, phase, wariness, size and sound that can make a difference here at all.
    pub fn touched(&self) -> Groups {
        let (own, reference) = (&self.own, &self.reference);
        let differs = |g: Group| match g {
            Group::Appetite => !self.reach.by_bladder || own.readiness[0] != reference.readiness[0],
            Group::Phase => own.readiness[1] != reference.readiness[1],
            Group::Wariness => true,
            Group::Size => {
                (own.length_m, own.size_mismatch, own.commit)
                    != (reference.length_m, reference.size_mismatch, reference.commit)
            }
            Group::Sound => {
                (own.near, own.rattle, own.sound_mismatch)
                    != (reference.near, reference.rattle, reference.sound_mismatch)
            }
            Group::Optics | Group::Mechanics => false,
        };
        QUICK.into_iter().filter(|g| differs(*g)).collect()
    }

    /// Makes appetite, phase, wariness, size and sound neutral, each or not.
    pub fn neutralise(&mut self, neutral: Groups) {
        let of = |g: Group| if neutral.has(g) { self.reference } else { self.own };
        let share = [Group::Appetite, Group::Phase, Group::Wariness];
        let readiness = [0, 1, 2].map(|i| of(share[i]).readiness[i]);
        let offer = &mut self.offer;
        offer.ready = ready(readiness);
        offer.near = of(Group::Sound).near;
        offer.rattle = of(Group::Sound).rattle;
        offer.mismatch = 1.0 + of(Group::Size).size_mismatch + of(Group::Sound).sound_mismatch;
        offer.commit = of(Group::Size).commit;
        if !self.reach.by_bladder {
            let reach = self.reach;
            let length_m = of(Group::Size).length_m;
            let median_m = rising::willing_median(reach.at_ten_cm_m, length_m, reach.power);
            offer.rise = RiseLimit::Willing { median_m, spread: reach.spread };
            if let (true, Some(chase)) = (neutral.has(Group::Appetite), self.world.pursuit.chase(1.0)) {
                let distance_m = self.typical.closest_m * chase.detour;
                offer.ready *= rising::willing_share(distance_m, chase.dearness, median_m, reach.spread);
                offer.rise = NO_LIMIT;
            }
        }
        if neutral.has(Group::Wariness) {
            // The kernel multiplies by its own seconds per metre: the reference's stand in their place.
            let own = seconds_per_m(&self.world);
            let time = self.typical.seconds_per_m.zip(own).map_or(1.0, |(r, own)| r / own);
            offer.refusal_per_s = self.reference.refusal_per_s * time;
            offer.mismatch += self.look_weight * self.typical.unlike;
            offer.look_weight = 0.0;
            offer.clear_view = ClearView::of_length(self.typical.view_m);
            // The view is counted in its light already.
            self.world.detail_light_lux = 0.0;
        } else {
            offer.refusal_per_s = self.own.refusal_per_s;
            offer.look_weight = self.look_weight;
            offer.clear_view = self.clear_view.clone();
            self.world.detail_light_lux = self.detail_light_lux;
        }
    }
}

/// A rise that every fish makes: the swim bladder would stop half of them at a million times the pressure.
const NO_LIMIT: RiseLimit = RiseLimit::Bladder { half: 1e6, scale: 1.0 };
/// Attenuation of contrast that makes the contrast limit any wished range, per metre.
const EVEN_PER_M: f64 = 0.1;
/// ln of how many times brighter than half light it is where light does not matter.
const LN_BRIGHT: f64 = 60.0;
/// ln of a small-target strength that never limits, and of one that is never seen.
const LN_ANY: f64 = 18.0;
const LN_NONE: f64 = -300.0;

/// Gives the offer one range of sight from everywhere, one look, and a view that is the same share of every trip.
fn without_optics(world: &mut World, offer: &mut Offer, typical: &Typical) {
    world.k_per_m = [0.0; 2];
    world.c_per_m = [EVEN_PER_M; 2];
    world.clearest = 0;
    world.ln_light = [ln(world.half_light_lux) + LN_BRIGHT; 2];
    world.detail_light_lux = 0.0;
    offer.attention = typical.attention;
    // The contrast limit is (node - ln threshold - ln dimness)/k, and it is bright.
    let limit = ln(world.contrast_threshold) + EVEN_PER_M * typical.seen_from_m;
    offer.look = LookTable::even([LN_ANY, LN_ANY, limit, limit, typical.unlike, LN_NONE, LN_NONE, 0.0]);
    offer.clear_view = ClearView::share_of_trip(typical.view_m / typical.closest_m);
}
