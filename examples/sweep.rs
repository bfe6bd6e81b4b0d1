//! How the odds go with clarity, as a table: `cargo run --release --example sweep > clarity.csv`.

use callup::sweep::{Request, Sweep, reading};
use callup::{Axis, Budget, Catalogue, Control, Models, Wish, library, paths};
use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    let models = Models::embedded()?;
    let settings = paths(&Catalogue::of(&models));
    let clarity = Axis::parse("water.secchi=1m..6m", Wish { steps: 6, logarithmic: false }, &settings)?;
    let request = Request {
        source: library::get(library::DEFAULT).ok_or("no default scenario")?,
        file: library::DEFAULT,
        overrides: &[],
        models: &models,
        axes: vec![clarity.clone()],
        baits: &[],
        budget: Budget { worlds: 64, passes: 64, ..Budget::default() },
    };
    let sweep = Sweep::prepare(request)?;
    let mut cube = sweep.cube();
    sweep.run(&mut cube, &Control::default())?;

    let mut out = csv::Writer::from_writer(std::io::stdout());
    out.write_record(["secchi", "bait", "median", "low", "high"])?;
    for cell in 0..clarity.len() {
        let Some(read) = reading::read(&cube, cell) else { continue };
        for (bait, s) in cube.baits.iter().zip(&read.strikes) {
            let numbers = [s.point, s.low, s.high].map(|x| format!("{x:.2}"));
            let row = [clarity.override_at(cell).1, bait.clone()];
            out.write_record(row.iter().chain(&numbers))?;
        }
    }
    out.flush()?;
    Ok(())
}
