#[test]
fn scratch() {
    use callup::engine::{Budget, table::Control};
    use callup::models::Models;
    use callup::scenario::{Catalogue, library};
    use callup::study::rules::*;
    let models = Models::embedded().unwrap();
    let text = std::fs::read_to_string("models/rules.toml").unwrap();
    let rules = match file::read(&text, "models/rules.toml", &Catalogue::of(&models)) {
        Ok(r) => r,
        Err(f) => {
            for f in f {
                println!("{}", f.render_plain(&text));
            }
            panic!();
        }
    };
    let t = std::time::Instant::now();
    let ground = plan::Ground {
        source: library::get(library::DEFAULT).unwrap(),
        file: "x",
        overrides: &[],
        rule_file: "models/rules.toml",
    };
    let plan = match plan::Plan::new(rules, &ground, &models) {
        Ok(p) => p,
        Err(f) => {
            for f in f {
                println!("{}", f.render_plain(&text));
            }
            panic!();
        }
    };
    println!("plan {:?} settings {}", t.elapsed(), plan.settings.len());
    let budget = Budget {
        seed: 1,
        draws: std::env::var("DR").map_or(128, |v| v.parse().unwrap()),
        points: std::env::var("PT").map_or(64, |v| v.parse().unwrap()),
        fixed: false,
    };
    let t = std::time::Instant::now();
    for a in answer::answers(&plan, &models, budget, &Control::default()).unwrap() {
        let r = &a.reading;
        println!(
            "{:28} {:?}\n    eff {:.2} ({:.2}..{:.2}) se {:.2} holds {:.2} above {:.2} below {:.2} cond {:.2} steps {:?} levels {:.1?}",
            a.rule.id,
            r.verdict,
            r.effect.point,
            r.effect.low,
            r.effect.high,
            r.effect.simulation_se,
            r.holds_share,
            r.matters_share,
            r.against_share,
            r.conditions_share,
            r.steps_share,
            r.levels
        );
        println!("    flip {:.2} there {:.2} {:?}", a.flip.share, a.flip.effect_there, a.flip.found);
        let c = &a.rests_on;
        println!(
            "    {:?} total {:.2} restated {:?} guesses {:?} carrying {:?} matters {:.2?}",
            c.flag(),
            c.total().per_100,
            c.restated().map(|c| &c.name),
            c.rests_on_guess().iter().map(|c| &c.name).collect::<Vec<_>>(),
            c.carrying(),
            a.flip.matters
        );
    }
    println!("{:?}", t.elapsed());
}
