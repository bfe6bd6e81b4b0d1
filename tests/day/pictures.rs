//! The pictures of a day and of a packed box: within their canvas, texts apart, unmoved by hostile input.

use callup::present::figures::{Words, day, lines, pack};
use callup::present::scene::{Anchor, Mark, Scene, Text, Weight};
use callup::present::svg::to_svg;
use callup::present::text_width::text_width;

fn words(text: &str) -> Words {
    Words { caption: text.into(), note: text.into() }
}

/// A day of `pieces` stretches with four baits.
fn day_of(pieces: usize, name: &str) -> day::Day {
    let hours: Vec<f64> = (0..29).map(|i| 6.25 + 0.5 * f64::from(i)).collect();
    let sun = |h: f64| 63.0 * (1.0 - ((h - 13.2) / 7.0) * ((h - 13.2) / 7.0));
    let series = (0..4).map(|k| lines::Series {
        name: format!("{name} {k}"),
        muted: false,
        points: hours
            .iter()
            .map(|&x| lines::At { x, middle: 2.0 + f64::from(k), low: 1.0, high: 9.0 + f64::from(k) })
            .collect(),
    });
    let at = |i: usize| 6.0 + 14.5 * i as f64 / pieces as f64;
    day::Day {
        words: words(name),
        ends: (6.0, 20.5),
        sun: hours.iter().map(|&h| (h, sun(h))).collect(),
        surface_lux: hours.iter().map(|&h| (h, 10.0 + 900.0 * sun(h).max(0.0))).collect(),
        fish_lux: hours.iter().map(|&h| (h, 0.1 + 70.0 * sun(h).max(0.0))).collect(),
        sunrise: Some(6.7),
        sunset: Some(19.8),
        series: series.collect(),
        strip: (0..pieces)
            .map(|i| day::Piece {
                from: at(i),
                to: at(i + 1),
                series: Some(i % 5).filter(|k| *k < 4),
                name: format!("{name} {i}"),
            })
            .collect(),
        changes: (1..pieces)
            .map(|i| day::Change {
                at: at(i),
                range: Some((at(i) - 1.0, at(i) + 1.0)),
                told: i % 2 == 0,
                label: "07:30".into(),
            })
            .collect(),
    }
}

fn pack_of(sizes: usize, name: &str) -> pack::Pack {
    pack::Pack {
        words: words(name),
        sizes: (1..=sizes)
            .map(|i| pack::Size {
                mean: 5.0 - 2.0 / i as f64,
                low: 1.0,
                high: 9.0,
                greedy: 4.9 - 2.0 / i as f64,
                adds: "+<0.1".into(),
            })
            .collect(),
        carry: 2,
        whole: 5.0,
        baits: (0..9)
            .map(|i| pack::Bait {
                name: format!("{name} {i}"),
                share: 1.0 - 0.1 * f64::from(i),
                label: "96 %".into(),
                carried: i < 3,
            })
            .collect(),
    }
}

fn extent(t: &Text) -> [f64; 4] {
    let width = text_width(&t.text, t.size, t.weight);
    let before = match t.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5 * width,
        Anchor::End => width,
    };
    let (x, y) = t.at;
    let (up, down) = (0.76 * t.size, 0.24 * t.size);
    if t.turned {
        [x - up, y - width + before, x + down, y + before]
    } else {
        [x - before, y - up, x - before + width, y + down]
    }
}

#[track_caller]
fn sound(scene: &Scene) {
    let svg = to_svg(scene);
    assert!(svg.starts_with("<svg") && svg.ends_with("</svg>\n") || svg.contains("</svg>"), "{svg}");
    assert!(!svg.contains("<script") && !svg.contains("NaN") && !svg.contains("inf"));
    for mark in scene.marks() {
        let Mark::Text(t) = mark else { continue };
        let [left, top, right, bottom] = extent(t);
        let inside = left >= 0.0 && top >= 0.0 && right <= scene.width && bottom <= scene.height;
        assert!(inside, "{:?} reaches {left:.0}..{right:.0}, {top:.0}..{bottom:.0}", t.text);
        assert!(t.size >= 13.0 && (t.weight == Weight::Bold || t.weight == Weight::Regular));
    }
}

fn texts_apart(scene: &Scene) {
    let texts: Vec<&Text> =
        scene.marks().iter().filter_map(|m| if let Mark::Text(t) = m { Some(t) } else { None }).collect();
    for (i, a) in texts.iter().enumerate() {
        for b in &texts[..i] {
            let (x, y) = (extent(a), extent(b));
            let apart = x[2] <= y[0] || y[2] <= x[0] || x[3] <= y[1] || y[3] <= x[1];
            assert!(apart, "{:?} touches {:?}", a.text, b.text);
        }
    }
}

const NAME: &str = "130 mm, deep lip, rattling, chartreuse";

#[test]
fn texts_stay_inside_and_apart() {
    for pieces in [1, 2, 3, 5, 12] {
        let scene = day::day(&day_of(pieces, NAME));
        sound(&scene);
        texts_apart(&scene);
        assert!(scene.description.len() > 40);
    }
    for sizes in [1, 2, 6, 8] {
        let scene = pack::pack(&pack_of(sizes, NAME));
        sound(&scene);
        texts_apart(&scene);
        assert!(scene.description.len() > 40);
    }
}

#[test]
fn hostile_names_and_numbers() {
    for bad in
        ["</text><script>alert('x')</script>", "\u{202e}\u{1b}[31m\"q\" & <b>\u{0}\n", &"W".repeat(500), ""]
    {
        sound(&day::day(&day_of(3, bad)));
        sound(&pack::pack(&pack_of(4, bad)));
    }
    sound(&day::day(&day::Day::default()));
    sound(&pack::pack(&pack::Pack::default()));
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e300, 1e300, 0.0] {
        let mut x = day_of(3, NAME);
        x.sun[3].1 = bad;
        x.surface_lux[4].1 = bad;
        x.fish_lux[5] = (bad, bad);
        x.series[1].points[6] = lines::At { x: 9.0, middle: bad, low: bad, high: bad };
        x.strip[1].to = bad;
        x.changes[0].at = bad;
        x.changes[1].range = Some((bad, bad));
        x.sunrise = Some(bad);
        sound(&day::day(&x));
        x.ends.1 = bad;
        sound(&day::day(&x));
        let mut x = pack_of(3, NAME);
        (x.sizes[1].mean, x.sizes[0].high, x.sizes[2].greedy, x.whole) = (bad, bad, bad, bad);
        x.baits[2].share = bad;
        sound(&pack::pack(&x));
    }
}
