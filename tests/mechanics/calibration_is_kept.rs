//! Calibration is kept: the lips were fitted to the middle of these ranges, so that this guards them against a slip and
//! proves nothing about nature.

use super::*;

/// Depths anglers report for a long cast on 0.28 mm line: common practice, no source.
#[test]
fn depths_are_those_of_common_practice() {
    let r = retrieve(27.0, 0.8, 0.3);
    for (name, low, high) in
        [("medium_std_lip", 1.2, 1.5), ("large_std_lip", 1.5, 2.1), ("large_deep_lip", 2.7, 3.3)]
    {
        let z = path(name, &thread("fluoro", 0.28), &r).max_depth_m();
        assert!((low..=high).contains(&z), "{name} runs {z} m");
    }
    // A long cast on thinner line takes the deep one to 3.4-3.8 m (common practice, no source).
    let z = path("large_deep_lip", &thread("fluoro", 0.25), &retrieve(35.0, 0.8, 0.3)).max_depth_m();
    assert!((3.4..=3.8).contains(&z), "deep lip, long cast {z} m");
}
