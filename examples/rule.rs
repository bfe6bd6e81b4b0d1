//! A rule of one's own put to the model: `cargo run --release --example rule`.

use callup::rules::{answer::answers, file, plan};
use callup::{Budget, Catalogue, Control, Models, library};
use std::error::Error;

const RULE: &str = r#"
[[rule]]
id = "deeper-in-the-cold"
says = "In cold water a bait at 8 ft draws more than one at 5 ft"
bait = "110 mm, standard lip, silent"
side_a = { name = "a bait at 8 ft", bait.runs = "8 ft" }
side_b = { name = "the same bait at 5 ft", bait.runs = "5 ft" }
conditions = ["water.temperature=4C..10C", "water.secchi=1.5m..6m", "fish.depth=4m..8m"]
points = 16
literature = "untested"
source = "an example"
"#;

fn main() -> Result<(), Box<dyn Error>> {
    let models = Models::embedded()?;
    let said =
        |faults: Vec<callup::Diagnostic>| faults.iter().map(|f| f.render_plain(RULE)).collect::<String>();
    let rules = file::read(RULE, "my rule", &Catalogue::of(&models)).map_err(said)?;
    let ground = plan::Ground {
        source: library::get(library::DEFAULT).ok_or("no default scenario")?,
        file: library::DEFAULT,
        overrides: &[],
        rule_file: "my rule",
    };
    let plan = plan::Plan::new(rules, &ground, &models).map_err(said)?;
    let budget = Budget { worlds: 64, passes: 64, ..Budget::default() };
    for answer in answers(&plan, &models, budget, false, &Control::default())? {
        let more = answer.reading.effect;
        println!("{}: {:?}", answer.rule.says, answer.reading.verdict);
        println!("{:.1} more strikes in 100 passes ({:.1} to {:.1})", more.point, more.low, more.high);
    }
    Ok(())
}
