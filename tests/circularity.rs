//! What a rule rests on.
mod common;
use callup::engine::Budget;
use callup::engine::table::Control;
use callup::models::Group;
use callup::study::circularity::{self, Comparison, circularity};
use callup::world::Setting;
use callup::world::neutral::Side;
use common::{models, setting};

#[test]
fn look() {
    let m = models();
    let rules: Vec<(&str, Vec<(&str, &str)>, Vec<(&str, &str)>)> = vec![
        ("deeper", vec![("bait.runs", "7 ft")], vec![("bait.runs", "4 ft")]),
        ("rattle", vec![("bait.sound", "rattling")], vec![]),
        ("long", vec![("bait.length", "130 mm")], vec![("bait.length", "90 mm")]),
        ("mirror", vec![("bait.finish", "mirror")], vec![("bait.finish", "see-through")]),
        ("clear", vec![("water.secchi", "6 m")], vec![("water.secchi", "3 m")]),
        ("pause", vec![("tackle.pause", "0.7")], vec![("tackle.pause", "0.2")]),
        ("phase", vec![("fish.phase", "pre-spawn")], vec![("fish.phase", "spawn")]),
        ("pressure", vec![("fish.pressure", "unfished")], vec![("fish.pressure", "heavy")]),
        ("depth", vec![("fish.depth", "3 m")], vec![("fish.depth", "6 m")]),
        ("warm", vec![("water.temperature", "20 C")], vec![("water.temperature", "8 C")]),
    ];
    for (name, a, b) in rules {
        let conditions: Vec<Vec<(&str, &str)>> = [
            ("2.5 m", "3.5 m"),
            ("2.5 m", "4.5 m"),
            ("4 m", "3.5 m"),
            ("4 m", "4.5 m"),
            ("5 m", "4 m"),
            ("5 m", "5 m"),
        ]
        .iter()
        .map(|(s, d)| vec![("water.secchi", *s), ("fish.depth", *d)])
        .collect();
        let with = |over: &[(&'static str, &'static str)]| -> Vec<Setting> {
            conditions
                .iter()
                .map(|c| {
                    let mut all = c.clone();
                    all.retain(|x| over.iter().all(|o| o.0 != x.0));
                    all.extend(over.iter().copied());
                    setting(&all)
                })
                .collect()
        };
        let (a, b) = (with(&a), with(&b));
        let pairs: Vec<Comparison> = a
            .iter()
            .zip(&b)
            .map(|(a, b)| Comparison {
                a: Side { setting: a, bait: &a.baits[2] },
                b: Side { setting: b, bait: &b.baits[2] },
            })
            .collect();
        let t = std::time::Instant::now();
        let (draws, points) = circularity::BUDGET;
        let c = circularity(
            &m,
            &pairs,
            Budget { seed: 1, draws, points, fixed: false },
            0.1,
            &Control::default(),
        )
        .unwrap()
        .unwrap();
        println!("== {name} {:?} {:?} {:?}", c.total(), c.flag(), t.elapsed());
        println!(
            "  none {:?}\n  physics {:?}",
            c.explained.with_only(callup::models::Groups::NONE).per_100,
            c.explained.physics_alone()
        );
        for s in c.explained.shares {
            println!(
                "  {:10} {:8.3} +- {:6.3} share {:6.3} without {:.3}",
                s.group.name(),
                s.per_100,
                s.simulation_se,
                s.share,
                c.explained.without(s.group).per_100
            );
        }
        for k in c.carriers.iter().take(5) {
            println!("  {} {:?} lost {:?} swing {:.2}", k.name, k.grade, k.lost, k.swing);
        }
        println!("  guess {:?}", c.rests_on_guess().iter().map(|c| &c.name).collect::<Vec<_>>());
        let _ = Group::ALL;
    }
}
