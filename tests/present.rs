//! Tables, words and pictures.
#[path = "present/samples.rs"]
mod samples;

use callup::present::figures::{bars, column, light, lines, losses, map, odds, paths, seen};
use callup::present::scene::Scene;

/// One of every picture.
fn gallery() -> Vec<(&'static str, Scene)> {
    vec![
        ("odds", odds::odds(&samples::odds(8))),
        ("losses", losses::losses(&samples::losses())),
        ("column", column::column(&samples::column())),
        ("column-murky", column::column(&samples::murky_column())),
        ("paths", paths::paths(&samples::paths())),
        ("light", light::light(&samples::light())),
        ("seen", seen::seen(&samples::seen())),
        ("lines", lines::lines(&samples::lines())),
        ("leader-map", map::leader_map(&samples::leader_map())),
        ("difference-map", map::difference_map(&samples::difference_map())),
        ("bars", bars::bars(&samples::bars())),
    ]
}

/// Writes every picture with made-up numbers into target/demo, to be looked at:
/// `cargo test --test present -- --ignored demo`.
#[cfg(feature = "cli")]
#[test]
#[ignore = "writes files to be looked at"]
fn demo() -> Result<(), Box<dyn std::error::Error>> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("target/demo");
    std::fs::create_dir_all(&folder)?;
    for (name, scene) in gallery() {
        callup::cli::draw::save(&scene, &folder.join(format!("{name}.png")))?;
        callup::cli::draw::save(&scene, &folder.join(format!("{name}.svg")))?;
    }
    Ok(())
}
