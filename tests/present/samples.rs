//! Made-up but plausible inputs for every picture: nothing here is an answer of the simulator.
use callup::present::figures::column::{Bait, Column, Fish, Range, Sun, Tint};
use callup::present::figures::map::{Contours, DifferenceMap, LeaderMap, Side};
use callup::present::figures::panel::{self, At, Curves, Layer, One, Panels, Run};
use callup::present::figures::rows::{self, Cell, Group, Mark, Row, Rows, Said, Shape};
use callup::present::figures::{Words, light::Light};
use callup::present::palette::{ACCENT, FAINT, INK, PAPER, SERIES, series};
use callup::present::scene::{Dash, Stroke};

pub const BAITS: [&str; 12] = [
    "110 mm, deep lip, silent, see-through",
    "110 mm, standard lip, silent, half-flash",
    "90 mm, deep lip, silent, pearl",
    "90 mm, standard lip, silent, see-through",
    "110 mm, standard lip, loud, mirror",
    "90 mm, standard lip, loud, mirror",
    "75 mm, standard lip, silent, see-through",
    "110 mm, deep lip, loud, chartreuse",
    "75 mm, shallow lip, silent, pearl",
    "90 mm, deep lip, loud, perch",
    "75 mm, standard lip, loud, chartreuse",
    "60 mm, shallow lip, silent, mirror",
];

fn words(caption: &str) -> Words {
    Words {
        caption: caption.into(),
        note: "Ranges hold 9 in 10 of 256 plausible worlds: what nobody knows about fish. The luck of the \
               simulation is below 0.1. Seed 7. A model, not a promise."
            .into(),
    }
}

fn axis(title: &str) -> rows::Side {
    rows::Side { title: title.into(), ..rows::Side::default() }
}

fn row(name: &str, marks: Vec<Mark>, said: &[(&str, bool)]) -> Row {
    let said = said.iter().map(|(text, bold)| Said::new((*text).to_owned(), *bold, !bold)).collect();
    Row { name: name.into(), cells: vec![Cell { marks, said }], ..Row::default() }
}

/// Worlds as dots, in two groups.
pub fn dots(n: usize) -> Rows {
    let one = |i: usize| {
        let median = 11.0 * (-0.28 * i as f64).exp();
        let quantile = |k: usize| {
            let p: f64 = (k as f64 + 0.5) / 20.0;
            median * ((p / (1.0 - p)).ln() * 0.33).exp()
        };
        let heap = Shape::Heap { dots: (0..20).map(quantile).collect(), median };
        let said = format!("{median:.1} ({:.1}–{:.0})", quantile(0), quantile(19));
        Row {
            bold: i < 3,
            ..row(BAITS[i % 12], vec![Mark::new(heap, if i < 3 { ACCENT } else { FAINT })], &[(&said, i < 3)])
        }
    };
    let group = |heading: &str, bracket: bool| Group {
        heading: heading.into(),
        bracket,
        rows: (0..n).filter(|i| (*i < 3) == bracket).map(one).collect(),
    };
    Rows {
        words: words(
            "Three baits could each be the best: about 11 strikes in 100 passes; the small loud ones fall behind.",
        ),
        sides: vec![axis("strikes in 100 passes; each dot is one plausible world in 20")],
        groups: vec![group("Could be best", true), group("Behind", false)],
        row_px: 58.0,
        ..Rows::default()
    }
}

/// Bars in pieces with numbers inside.
pub fn stacked() -> Rows {
    let stages = ["never noticed", "stayed put", "turned away", "struck"];
    let shade = |k: usize| ACCENT.towards(PAPER, 0.9 - 0.3 * k as f64);
    let bar = |from, to, px, said: String, k| Mark::new(Shape::Bar { from, to, px, said }, shade(k));
    let one = |i: usize| {
        let struck = 11.0 * (-0.45 * i as f64).exp();
        let ends = [0.0, 22.0 + 5.0 * i as f64, 63.0 + 6.0 * i as f64, 100.0 - struck, 100.0];
        let piece = |k: usize| bar(ends[k], ends[k + 1], 37.0, format!("{:.0}", ends[k + 1] - ends[k]), k);
        row(BAITS[i], (0..4).map(piece).collect(), &[(&format!("{struck:.1} struck"), true)])
    };
    let key = |(k, stage): (usize, &str)| (vec![bar(0.0, 1.0, 16.0, String::new(), k)], stage.to_owned());
    Rows {
        words: words(
            "Most passes are lost because the fish stays put; only the small baits lose more to not being noticed.",
        ),
        key: stages.into_iter().enumerate().map(key).collect(),
        sides: vec![rows::Side { ends: Some((0.0, 100.0)), ..axis("of 100 passes near such a fish") }],
        groups: vec![Group::plain((0..6).map(one))],
        row_px: 52.0,
        ..Rows::default()
    }
}

fn path(deep: f64, reach: f64) -> Vec<(f64, f64)> {
    (0..=80)
        .map(|k| {
            let x = f64::from(k) / 80.0;
            let dive = 1.0 - (-4.2 * x).exp();
            let rise = (1.0 - ((x - 0.78) / 0.22).max(0.0).powi(2)).max(0.0);
            (reach * x, deep * dive * rise)
        })
        .collect()
}

pub fn column() -> Column {
    let seen = |up, level, down| Some(Range { up, level, down });
    let bait = |i: usize, deep, seen| Bait { name: BAITS[i].into(), path: path(deep, 88.0), seen };
    Column {
        words: words(
            "The fish sees the mirror-sided bait from farthest, but the deep one halves the way up to it.",
        ),
        unit: "ft".into(),
        tint: Tint::Clear,
        light: (0..=60).map(|k| (f64::from(k), (-0.135 * f64::from(k)).exp())).collect(),
        sun: Some(Sun { elevation_deg: 34.0, refracted_deg: 51.7 }),
        fish: Some(Fish { depth: 15.0, spread: 1.6, reeled: None }),
        baits: vec![
            bait(0, 9.4, seen(15.8, 12.6, 7.4)),
            bait(4, 6.1, seen(21.5, 17.2, 10.1)),
            bait(6, 3.8, seen(10.2, 7.5, 4.4)),
        ],
        secchi: Some(11.2),
        bottom: Some(24.0),
    }
}

pub fn murky_column() -> Column {
    let mut c = column();
    c.words.caption =
        "In clay water the fish sees next to nothing: only a bait that passes within two feet is noticed."
            .into();
    c.tint = Tint::Clay;
    c.light = (0..=60).map(|k| (f64::from(k), (-0.9 * f64::from(k)).exp())).collect();
    c.secchi = Some(1.6);
    c.bottom = Some(60.0);
    c.sun = None;
    for (b, r) in c.baits.iter_mut().zip([1.9, 2.4, 1.1]) {
        b.seen = Some(Range { up: 1.2 * r, level: r, down: 0.7 * r });
    }
    c
}

/// Lines counted downwards, tied to their lowest points, with levels.
pub fn paths() -> Panels {
    let deep = [9.4, 6.0, 8.8, 5.6, 6.3, 5.7, 4.9, 9.9, 2.1, 8.5, 4.6, 1.7];
    let mut layers: Vec<Layer> = deep
        .iter()
        .enumerate()
        .map(|(i, deep)| {
            let (colour, dash) = series(i);
            let stroke = Stroke::solid(colour, 3.0).dashed(dash);
            Layer::Line { points: path(*deep, 88.0), stroke, name: BAITS[i].into(), tied_low: true }
        })
        .collect();
    let stroke = Stroke::solid(INK, 2.0).dashed(Dash::Dashed);
    layers.push(Layer::Level { at: 15.0, text: "fish at 15 ft".into(), stroke, below: false });
    layers.push(Layer::Words { at: (88.0, 16.5), text: "bottom at 39 ft, below this picture".into() });
    let y = panel::Side { downward: true, ends: (Some(0.0), Some(17.0)), ..panel::Side::new("depth (ft)") };
    Panels {
        words: words("Only the deep-lipped baits come within 7 ft of a fish at 15 ft on this line and cast."),
        tells: "Twelve baits run down to between 1.7 and 9.9 ft.".into(),
        x: panel::Side::new("line reeled in (ft)"),
        panels: vec![One { y, height: 430.0, head: 10.0, layers, aside: String::new() }],
        below: None,
    }
}

/// Panels over one day with so many pieces of a plan, rows below: everything that a panel can hold.
pub fn day(pieces: usize) -> Panels {
    let hours = || (0..=32).map(|k| 6.0 + 0.4 * f64::from(k));
    let curve = |of: fn(f64) -> f64| hours().map(|h| (h, of(h))).collect::<Vec<_>>();
    let lux = |h: f64| 10f64.powf(1.0 + 3.5 * ((h - 6.0) / 12.8 * std::f64::consts::PI).sin().abs());
    let sun = Stroke::solid(SERIES[1], 2.0).dashed(Dash::Dashed);
    let light = vec![
        Layer::Area { points: curve(|h| 4000.0 - 600.0 * (h - 12.0).abs()), fill: SERIES[1].into() },
        Layer::Words { at: (12.0, 300.0), text: "sun 62° high".into() },
        Layer::Upright { at: 6.8, text: "sunrise 06:48".into(), stroke: sun },
        Layer::Line {
            points: curve(lux),
            stroke: Stroke::solid(INK, 2.6),
            name: "light on the water".into(),
            tied_low: false,
        },
    ];
    let band = |h: f64, i: usize| {
        let middle = 5.0 + (h + i as f64).cos();
        At { x: h, middle, low: middle - 1.0, high: middle + 1.0 }
    };
    let lines: Vec<(String, Vec<At>)> =
        (0..4).map(|i| (BAITS[i].to_owned(), hours().map(|h| band(h, i)).collect())).collect();
    let mut odds = panel::lines_with_bands(&lines);
    let from = |i: usize| 6.0 + 12.8 * i as f64 / pieces as f64;
    let block = |i: usize| Layer::Block {
        corners: [(from(i), 0.0), (from(i + 1), 0.65)],
        fill: series(i % 5).0,
        text: BAITS[i % 12].into(),
    };
    let mut plan: Vec<Layer> = (0..pieces).map(block).collect();
    for at in (1..pieces).map(from) {
        odds.push(Layer::marker(at, "change 09:20?".into()));
        plan.push(Layer::line(vec![(at - 1.0, 0.8), (at + 1.0, 0.8)], Stroke::solid(INK, 5.0)));
        let rim = Stroke::solid(INK, 2.0);
        let said = String::new();
        plan.push(Layer::Dot { at: (at, 0.8), radius: 4.0, fill: PAPER, rim, said, bold: false });
    }
    let sizes = (1..6).map(f64::from).map(|n| Layer::Dot {
        at: (6.0 + 2.0 * n, 2.0 + n),
        radius: 5.0,
        fill: ACCENT,
        rim: Stroke::solid(PAPER, 1.5),
        said: format!("+{n:.1}"),
        bold: n == 3.0,
    });
    let ratios = panel::Side { run: Run::Ratios, ..panel::Side::new("light (lux)") };
    let from_zero = || panel::Side { ends: (Some(0.0), None), ..panel::Side::new("strikes in 100 passes") };
    let stripe = panel::Side { ends: (Some(0.0), Some(1.0)), downward: true, ..panel::Side::default() };
    let one = |y, height, head, layers| One { y, height, head, layers, aside: String::new() };
    Panels {
        words: words("Deep bait from 6 to 9, shallow bait after: 5 of 100 passes end in a strike."),
        tells: "Plan: the deep bait from 6 to 9 o'clock, the shallow one from 9 to 19.".into(),
        x: panel::Side { ends: (Some(6.0), Some(18.8)), run: Run::Hours, ..panel::Side::new("local time") },
        panels: vec![
            one(ratios, 190.0, 26.0, light),
            one(from_zero(), 200.0, 36.0, odds),
            one(from_zero(), 200.0, 20.0, sizes.collect()),
            One { aside: "plan with one rod".into(), ..one(stripe, 52.0, 14.0, plan) },
        ],
        below: Some(signs()),
    }
}

pub fn light() -> Light {
    let hours: Vec<f64> = (0..=64).map(|k| 5.0 + f64::from(k) * 0.25).collect();
    let depths: Vec<f64> = (0..=40).map(f64::from).collect();
    let surface = |h: f64| {
        let e = (std::f64::consts::PI * (h - 6.8) / 13.0).sin();
        if (6.8..=19.8).contains(&h) { 2.6 + 2.2 * e.max(0.0).powf(0.35) } else { (2.6 + 14.0 * e).max(-3.0) }
    };
    let row = |h: &f64| depths.iter().map(|d| surface(*h) - 0.059 * d).collect();
    let log10_lux = hours.iter().map(row).collect();
    Light {
        words: words(
            "At 15 ft the light stays above 1000 lux from 8 to 19 o'clock: dark enough to matter only at the ends of the day.",
        ),
        unit: "ft".into(),
        hours,
        depths: depths.clone(),
        log10_lux,
        sunrise: Some(6.8),
        sunset: Some(19.8),
        fish_depth: Some(15.0),
    }
}

/// Signs on a line, lanes with ticks and a range on either side of zero.
pub fn signs() -> Rows {
    let signs = |[up, level, down]: [f64; 3]| {
        vec![
            Mark::new(Shape::Triangle { at: up, half: 8.0, up: true }, SERIES[1]),
            Mark::new(Shape::Dot { at: level, radius: 7.0 }, SERIES[2]),
            Mark::new(Shape::Triangle { at: down, half: 8.0, up: false }, SERIES[0]),
        ]
    };
    let one = |(name, up, level, down): (&str, f64, f64, f64)| {
        let mut marks = signs([up, level, down]);
        marks.push(
            Mark::new(Shape::Line { low: down, high: up, px: 4.0, dash: Dash::Dashed }, FAINT).lower(8.0),
        );
        marks.push(Mark::new(Shape::Tick { at: level, half: 6.0 }, INK).lower(-11.0));
        row(name, marks, &[("before", false), ("after", true)])
    };
    let finishes = [
        ("mirror", 21.5, 17.2, -10.1),
        ("half-flash", 18.8, 14.9, -9.0),
        ("pearl", 19.9, 15.8, 12.2),
        ("see-through", 10.2, 7.5, 4.4),
    ];
    let looks = ["looking up", "level", "looking down"];
    Rows {
        words: words(
            "Looking up, every finish is a dark shape: they differ by less than looking level or down.",
        ),
        key: signs([0.5; 3]).into_iter().zip(looks).map(|(m, l)| (vec![m], l.to_owned())).collect(),
        sides: vec![rows::Side {
            band: Some((-1.0, 1.0)),
            halves: Some(["against it".into(), "for it".into()]),
            ..axis("seen from (ft)")
        }],
        groups: vec![Group::plain(finishes.map(one))],
        row_px: 48.0,
        ..Rows::default()
    }
}

/// Lines with bands; the fourth has none.
pub fn curves() -> Curves {
    let line = |i: usize| {
        let at = |k: i32| {
            let x = 2.0 + 28.0 * f64::from(k) / 30.0;
            let middle = (14.0 - 1.3 * i as f64) * (-((x - 9.0 - 2.0 * i as f64) / 11.0).powi(2)).exp();
            let (low, high) = if i == 3 { (f64::NAN, f64::NAN) } else { (0.45 * middle, 1.8 * middle) };
            At { x, middle, low, high }
        };
        (BAITS[i].to_owned(), (0..=30).map(at).collect())
    };
    Curves {
        words: words("Below 20 ft the deep-lipped bait pulls ahead; above, the choice hardly matters."),
        x_title: "depth of the fish (ft)".into(),
        y_title: "strikes in 100 passes".into(),
        x_logarithmic: false,
        lines: (0..4).map(line).collect(),
        markers: vec![(15.0, "this water".into())],
    }
}

fn sides() -> (Side, Side) {
    let x = Side {
        title: "Secchi depth (ft)".into(),
        values: (0..40).map(|k| 1.0 + 0.5 * f64::from(k)).collect(),
        ..Side::default()
    };
    let y = Side {
        title: "depth of the fish (ft)".into(),
        values: (0..30).map(|k| 2.0 + f64::from(k)).collect(),
        downward: true,
        ..Side::default()
    };
    (x, y)
}

pub fn leader_map() -> LeaderMap {
    let (x, y) = sides();
    let mut cells = Vec::new();
    let mut values = Vec::new();
    for d in &y.values {
        for s in &x.values {
            let scores =
                [0.9 * d - 0.2 * s, 9.0 + 0.1 * s, 12.0 - 0.5 * d + 0.35 * s, 7.5 + (s - 3.0) * -1.2];
            let best = (0..4).max_by(|a, b| scores[*a].total_cmp(&scores[*b])).unwrap();
            let second = (0..4).filter(|k| *k != best).map(|k| scores[k]).fold(f64::MIN, f64::max);
            cells.push((scores[best] - second > 0.8 && *d < 29.0).then_some(best));
            values.push(14.0 * (-(d - 8.0).max(0.0) / 12.0).exp() * (1.0 - (-s / 6.0).exp()));
        }
    }
    LeaderMap {
        words: words("The deep bait leads where fish hang below 14 ft; between the areas nobody can tell."),
        x,
        y,
        names: [BAITS[0], BAITS[1], BAITS[3], BAITS[5]].map(String::from).into(),
        cells,
        contours: Some(Contours {
            values,
            levels: vec![(2.0, "2 in 100".into()), (5.0, "5 in 100".into()), (10.0, "10 in 100".into())],
        }),
        here: Some(((11.2, 15.0), "your water".into())),
    }
}

pub fn difference_map() -> DifferenceMap {
    let (x, y) = sides();
    let values: Vec<f64> = y
        .values
        .iter()
        .flat_map(|d| x.values.iter().map(move |s| 0.35 * (d - 14.0) + 0.45 * (s - 10.0)))
        .collect();
    DifferenceMap {
        words: words(
            "See-through beats mirror in clear water and over deep fish; the rule flips at about 9 ft of visibility.",
        ),
        x,
        y,
        untold: values.iter().map(|v: &f64| v.abs() < 0.8).collect(),
        values,
        above: "see-through ahead".into(),
        below: "mirror ahead".into(),
        levels: vec![
            (2.0, "2 more".into()),
            (5.0, "5 more".into()),
            (-2.0, "2 fewer".into()),
            (-5.0, "5 fewer".into()),
        ],
        here: Some(((11.2, 15.0), "your water".into())),
    }
}

/// Bars with ranges on two axes side by side.
pub fn bars() -> Rows {
    let names = [
        "willing rise distance",
        "wariness after heavy fishing",
        "hunger at this temperature",
        "burst speed",
        "attention",
        "least contrast seen",
        "spread of depth multiplier",
        "hearing threshold",
    ];
    let one = |(i, name): (usize, &str)| {
        let value = 46.0 * (-0.5 * i as f64).exp();
        let said = (i < 6).then(|| format!("{value:.0} %"));
        let bar = |k: usize| Cell::bar(value, (0.75 * value, 1.25 * value + 1.0), said.clone(), SERIES[k]);
        Row { name: name.into(), below: "guess".into(), cells: vec![bar(1), bar(2)], ..Row::default() }
    };
    let side =
        |heading: &str, level| rows::Side { heading: heading.into(), level, ..axis("% of the spread") };
    Rows {
        words: words("How far a fish is willing to rise drives nearly half of what is not known."),
        one_scale: true,
        sides: vec![
            side("odds of the leader", Some((3.0, "luck of the passes".into()))),
            side("difference to the next, which has a long name of its own", None),
        ],
        groups: vec![Group::plain(names.into_iter().enumerate().map(one))],
        ..Rows::default()
    }
}

pub fn crowded_column() -> Column {
    let mut c = column();
    let deep = [9.4, 6.0, 8.8, 5.6, 6.3, 5.7, 4.9, 9.9];
    c.baits = (0..8).map(|i| Bait { name: BAITS[i].into(), path: path(deep[i], 88.0), seen: None }).collect();
    c
}
