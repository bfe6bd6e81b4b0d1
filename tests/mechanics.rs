//! Bait and line against closed forms, published figures and an independent implementation.
//!
//! The tables in `tests/reference` were computed in another language; each names its formula's source.
//! Tables of the retrieve model check the program, not nature: they use the same equations.

use callup::bait::cast::Cast;
use callup::bait::drag::{CylinderDrag, plate_normal_force, sucker_brauer};
use callup::bait::pivot::{Pivot, Trim};
use callup::bait::reach::{Change, Reach, reach};
use callup::bait::{Body, BodyCoefficients, Detail, Finish, Line, Path, Pull, Refusal, Retrieve};
use callup::bait::{line, sound, tow};
use std::collections::HashMap;

/// The tables hold six significant digits: half a unit of the last, and a rounding on top.
const SIX_DIGITS: f64 = 6e-6;
/// Another implementation cuts the line into 12 pieces in a way of first order and misses the continuous
/// equations by so much with a line that is nearly weightless in water. Its tables show that each input
/// moves the depth as it should; the `_continuous` tables hold the numbers.
const CUTTING: f64 = 1.6e-2;
/// The same with PVDF, whose weight it turns the line by after the drag of each piece (27 m: 1.3626 m,
/// continuous 1.3481 m; worst at 45 m from a high rod tip).
const CUTTING_HEAVY: f64 = 4.6e-2;
/// The same below 0.5 m/s or with a floating bait, where weights rule over drag.
const CUTTING_AT_A_CRAWL: f64 = 0.11;

struct Row(HashMap<String, String>);

impl Row {
    fn text(&self, key: &str) -> &str {
        self.0.get(key).unwrap_or_else(|| panic!("no column {key}"))
    }
    fn num(&self, key: &str) -> f64 {
        self.text(key).parse().unwrap_or_else(|e| panic!("{key} = {}: {e}", self.text(key)))
    }
}

fn table(name: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("table");
    let rows: Vec<Row> = reader.deserialize().map(|r| Row(r.expect("row"))).collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

fn close(what: &str, got: f64, expected: f64, relative: f64) {
    let room = relative * expected.abs() + 1e-12;
    assert!((got - expected).abs() <= room, "{what}: {got}, expected {expected} within {room:e}");
}

// What the tables were computed with.
const WATER: f64 = 998.2;
const VISCOSITY: f64 = 1.004e-6;
const FRICTION: f64 = 0.005;
const COEFFICIENTS: BodyCoefficients = BodyCoefficients { body_drag: 0.30, treble_drag_area_m2: 3e-5 };

fn body(name: &str) -> Body {
    let (length_m, height_m, width_m, mass_kg, trebles, lip_area_m2, lip_incidence_deg) = match name {
        "medium_std_lip" => (0.09, 0.017, 0.012, 0.010, 2, 1.9e-4, 56.0),
        "large_std_lip" => (0.12, 0.021, 0.014, 0.018, 3, 3.3e-4, 56.0),
        "large_deep_lip" => (0.12, 0.021, 0.014, 0.018, 3, 6.4e-4, 49.0),
        other => panic!("no bait {other}"),
    };
    Body { length_m, height_m, width_m, mass_kg, trebles, lip_area_m2, lip_incidence_deg, buoyancy_n: 0.0 }
}

fn pull(name: &str) -> Pull {
    body(name).pull(&COEFFICIENTS)
}

fn thread(material: &str, diameter_mm: f64) -> Line {
    let density_kg_m3 = match material {
        "mono" => 1140.0,
        "fluoro" => 1780.0,
        "braid" => 970.0,
        other => panic!("no line {other}"),
    };
    Line { diameter_m: diameter_mm * 1e-3, density_kg_m3 }
}

fn retrieve(cast_m: f64, speed_m_s: f64, rod_tip_m: f64) -> Retrieve {
    Retrieve {
        cast_m,
        rod_tip_m,
        speed_m_s,
        water_density_kg_m3: WATER,
        viscosity_m2_s: VISCOSITY,
        friction: FRICTION,
        drag_multiplier: 1.0,
    }
}

fn path(bait: &str, line: &Line, r: &Retrieve) -> Path {
    Path::solve(r, &pull(bait), line, Detail::default()).expect("a usual retrieve")
}

const BAITS: [&str; 3] = ["medium_std_lip", "large_std_lip", "large_deep_lip"];

mod calibration_is_kept;
mod depth_in_practice;
mod drag_and_line;
mod flight_and_sound;
mod pivoting_line;
mod properties;
mod running_depth;
mod towed;
