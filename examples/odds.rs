//! Strikes in 100 passes for every bait of a built-in scenario: `cargo run --release --example odds -- first-light`.

use callup::{Budget, Catalogue, Control, Models, Prepared, Strikes, library, load, odds};
use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    let name = std::env::args().nth(1).unwrap_or_else(|| library::DEFAULT.to_owned());
    let text = library::get(&name).ok_or("no such scenario; `callup odds --list` shows all")?;
    let models = Models::embedded()?;
    // Half the clarity of the file, as `--set` does it on the command line.
    let overrides = [("water.secchi".to_owned(), "2 m".to_owned())];
    let checked = load(text, &name, &overrides, &Catalogue::of(&models))
        .map_err(|faults| faults.iter().map(|f| f.render_plain(text)).collect::<String>())?;
    let prepared = Prepared::new(&checked.scenario, &models)?;

    let budget = Budget { worlds: 64, passes: 128, ..Budget::default() };
    let table = Strikes::of(&models, std::slice::from_ref(&prepared), budget, &Control::default())?;
    let odds = odds(&models, &prepared, &table, 0, budget.seed);
    for bait in odds.order.iter().map(|&b| &odds.baits[b]) {
        let s = bait.strikes;
        println!("{:5.1} ({:.1} to {:.1})  {}", s.point, s.low, s.high, bait.name);
    }
    Ok(())
}
