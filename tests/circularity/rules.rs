use crate::common::{models, setting};
use callup::engine::Budget;
use callup::engine::table::Control;
use callup::present::answers::circularity::{line, sentence};
use callup::study::circularity::{self, Comparison, circularity};
use callup::world::Setting;
use callup::world::neutral::Side;

type Values = &'static [(&'static str, &'static str)];
const RULES: [(&str, Values, Values); 16] = [
    ("deeper", &[("bait.runs", "7 ft")], &[("bait.runs", "4 ft")]),
    ("rattle", &[("bait.sound", "rattling")], &[]),
    (
        "rattle mud",
        &[("bait.sound", "rattling"), ("water.secchi", "0.7 m"), ("fish.depth", "2 m")],
        &[("water.secchi", "0.7 m"), ("fish.depth", "2 m")],
    ),
    ("long", &[("bait.length", "130 mm")], &[("bait.length", "90 mm")]),
    (
        "long same depth",
        &[("bait.length", "130 mm"), ("bait.runs", "2 m")],
        &[("bait.length", "90 mm"), ("bait.runs", "2 m")],
    ),
    ("mirror", &[("bait.finish", "mirror")], &[("bait.finish", "see-through")]),
    (
        "match",
        &[("bait.runs", "2 m"), ("forage.length", "9 cm")],
        &[("bait.runs", "2 m"), ("forage.length", "3 cm")],
    ),
    (
        "match bait",
        &[
            ("bait.runs", "2 m"),
            ("bait.length", "60 mm"),
            ("forage.length", "6 cm"),
            ("fish.pressure", "heavy"),
            ("fish.depth", "3 m"),
        ],
        &[
            ("bait.runs", "2 m"),
            ("bait.length", "130 mm"),
            ("forage.length", "6 cm"),
            ("fish.pressure", "heavy"),
            ("fish.depth", "3 m"),
        ],
    ),
    ("clear", &[("water.secchi", "6 m")], &[("water.secchi", "3 m")]),
    ("pause", &[("tackle.pause", "0.7")], &[("tackle.pause", "0.2")]),
    ("phase", &[("fish.phase", "pre-spawn")], &[("fish.phase", "spawn")]),
    ("pressure", &[("fish.pressure", "unfished")], &[("fish.pressure", "heavy")]),
    ("depth", &[("fish.depth", "3 m")], &[("fish.depth", "6 m")]),
    ("warm", &[("water.temperature", "20 C")], &[("water.temperature", "8 C")]),
    (
        "silent calm clear pressured",
        &[("bait.sound", "silent"), ("fish.pressure", "heavy"), ("fish.depth", "2.5 m")],
        &[("bait.sound", "rattling"), ("fish.pressure", "heavy"), ("fish.depth", "2.5 m")],
    ),
    ("line", &[("tackle.diameter", "0.2 mm")], &[("tackle.diameter", "0.4 mm")]),
];

#[test]
fn look() {
    let m = models();
    for (name, a, b) in RULES {
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
        let with = |over: Values| -> Vec<Setting> {
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
        let (a, b) = (with(a), with(b));
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
        println!(
            "== {name} {:.2}+-{:.2} {:?} {:?}",
            c.total().per_100,
            c.total().simulation_se,
            c.flag(),
            t.elapsed()
        );
        println!("   {}\n   {}", line(&c), sentence(&c));
        let s: Vec<String> =
            c.explained.shares.iter().map(|s| format!("{} {:.2}", s.group.name(), s.share)).collect();
        println!("   {}  physics alone {:.2}", s.join(" "), c.explained.physics_alone().per_100);
        for k in c.carriers.iter().take(4) {
            println!("     {} {:?} lost {:?} swing {:.2}", k.name, k.grade, k.lost, k.swing);
        }
    }
}
