//! Made-up but plausible inputs for every picture: nothing here is an answer of the simulator.
use callup::present::figures::{
    Words,
    column::{Bait, Column, Fish, Range, Sun, Tint},
    light::Light,
    lines::{At, Lines, Series},
    losses::{self, Losses},
    map::{Contours, DifferenceMap, LeaderMap, Side},
    odds::{self, Odds},
    paths::{Path, Paths},
    seen::{self, Seen},
};

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

pub fn odds(n: usize) -> Odds {
    let row = |i: usize| {
        let median = 11.0 * (-0.28 * i as f64).exp();
        let quantile = |k: usize| {
            let p: f64 = (k as f64 + 0.5) / 20.0;
            median * ((p / (1.0 - p)).ln() * 0.33).exp()
        };
        odds::Row {
            name: BAITS[i % 12].into(),
            dots: (0..20).map(quantile).collect(),
            median,
            low: quantile(0),
            high: quantile(19),
            could_be_best: i < 3,
        }
    };
    Odds {
        words: words(
            "Three baits could each be the best: about 11 strikes in 100 passes; the small loud ones fall behind.",
        ),
        rows: (0..n).map(row).collect(),
    }
}

pub fn losses() -> Losses {
    let row = |i: usize| {
        let (a, b) = (22.0 + 5.0 * i as f64, 41.0 + i as f64);
        let struck = 11.0 * (-0.45 * i as f64).exp();
        losses::Row {
            name: BAITS[i].into(),
            never_noticed: a,
            stayed_put: b,
            turned_away: 100.0 - a - b - struck,
            struck,
        }
    };
    Losses {
        words: words(
            "Most passes are lost because the fish stays put; only the small baits lose more to not being noticed.",
        ),
        rows: (0..6).map(row).collect(),
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

pub fn paths() -> Paths {
    let deep = [9.4, 6.0, 8.8, 5.6, 6.3, 5.7, 4.9, 9.9, 2.1, 8.5, 4.6, 1.7];
    Paths {
        words: words("Only the deep-lipped baits come within 7 ft of a fish at 15 ft on this line and cast."),
        unit: "ft".into(),
        paths: (0..12).map(|i| Path { name: BAITS[i].into(), points: path(deep[i], 88.0) }).collect(),
        fish_depth: Some(15.0),
        bottom: Some(39.0),
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

pub fn seen() -> Seen {
    let row =
        |(name, up, level, down): (&str, f64, f64, f64)| seen::Row { name: name.into(), up, level, down };
    let rows = [
        ("mirror", 21.5, 17.2, 10.1),
        ("half-flash", 18.8, 14.9, 9.0),
        ("pearl", 19.9, 15.8, 12.2),
        ("chartreuse", 18.1, 15.1, 11.7),
        ("perch", 16.4, 11.0, 6.3),
        ("see-through", 10.2, 7.5, 4.4),
    ];
    Seen {
        words: words(
            "Looking up, every finish is a dark shape: they differ by less than looking level or down.",
        ),
        unit: "ft".into(),
        rows: rows.map(row).into(),
    }
}

pub fn lines() -> Lines {
    let series = |i: usize| {
        let at = |k: i32| {
            let x = 2.0 + 28.0 * f64::from(k) / 30.0;
            let middle = (14.0 - 1.3 * i as f64) * (-((x - 9.0 - 2.0 * i as f64) / 11.0).powi(2)).exp();
            At { x, middle, low: 0.45 * middle, high: 1.8 * middle }
        };
        Series { name: BAITS[i].into(), points: (0..=30).map(at).collect(), muted: i == 3 }
    };
    Lines {
        words: words("Below 20 ft the deep-lipped bait pulls ahead; above, the choice hardly matters."),
        x_title: "depth of the fish (ft)".into(),
        y_title: "strikes in 100 passes".into(),
        x_logarithmic: false,
        series: (0..4).map(series).collect(),
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

pub fn crowded_column() -> Column {
    let mut c = column();
    let deep = [9.4, 6.0, 8.8, 5.6, 6.3, 5.7, 4.9, 9.9];
    c.baits = (0..8).map(|i| Bait { name: BAITS[i].into(), path: path(deep[i], 88.0), seen: None }).collect();
    c
}
