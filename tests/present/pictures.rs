//! Every picture: well-formed, within its canvas, readable, unmoved by hostile or empty input.
use super::samples;
use callup::present::axes::{Scale, log_ticks, spread, ticks};
use callup::present::figures::panel::{At, Layer, Panels, curves, panels};
use callup::present::figures::rows::{Rows, Shape, rows};
use callup::present::figures::{column, light, map};
use callup::present::scene::{Anchor, Mark, Scene, Text};
use callup::present::svg::to_svg;
use callup::present::text_width::text_width;
use proptest::prelude::*;

/// Nothing is set smaller than this on a canvas of 960 px.
const SMALLEST_TYPE_PX: f64 = 13.0;

/// One of every picture.
pub fn gallery() -> Vec<(&'static str, Scene)> {
    vec![
        ("dots", rows(&samples::dots(8))),
        ("dots-many", rows(&samples::dots(12))),
        ("stacked", rows(&samples::stacked())),
        ("column", column::column(&samples::column())),
        ("column-murky", column::column(&samples::murky_column())),
        ("column-many", column::column(&samples::crowded_column())),
        ("paths", panels(&samples::paths())),
        ("day", panels(&samples::day(1))),
        ("day-of-two", panels(&samples::day(2))),
        ("day-of-three", panels(&samples::day(3))),
        ("day-of-five", panels(&samples::day(5))),
        ("day-of-twelve", panels(&samples::day(12))),
        ("light", light::light(&samples::light())),
        ("signs", rows(&samples::signs())),
        ("curves", curves(&samples::curves())),
        ("leader-map", map::leader_map(&samples::leader_map())),
        ("difference-map", map::difference_map(&samples::difference_map())),
        ("bars", rows(&samples::bars())),
    ]
}

/// Names that somebody could put into a scenario file.
fn hostile_names() -> [String; 4] {
    [
        "</text><script>alert('x')</script>".into(),
        "\u{202e}\u{1b}[31m\"quoted\" & <b>bold</b>\u{0}\n".into(),
        "long word ".repeat(50),
        "W".repeat(500),
    ]
}

/// The same word in all places of rows.
fn rename_rows(x: &mut Rows, bad: &str) {
    let bad = || bad.to_owned();
    (x.words.caption, x.words.note) = (bad(), bad());
    x.key.iter_mut().for_each(|k| k.1 = bad());
    for side in &mut x.sides {
        (side.heading, side.title) = (bad(), bad());
        side.level = side.level.take().map(|l| (l.0, bad()));
        side.halves = side.halves.take().map(|_| [bad(), bad()]);
    }
    for group in &mut x.groups {
        group.heading = bad();
        for row in &mut group.rows {
            (row.name, row.below) = (bad(), bad());
            for cell in &mut row.cells {
                cell.said.iter_mut().for_each(|s| s.text = bad());
                for mark in &mut cell.marks {
                    if let Shape::Bar { said, .. } = &mut mark.shape {
                        *said = bad();
                    }
                }
            }
        }
    }
}

/// The same word in all places of panels.
fn rename_panels(x: &mut Panels, bad: &str) {
    (x.words.caption, x.words.note) = (bad.into(), bad.into());
    x.x.title = bad.into();
    for one in &mut x.panels {
        (one.y.title, one.aside) = (bad.into(), bad.into());
        for layer in &mut one.layers {
            match layer {
                Layer::Line { name: text, .. }
                | Layer::Dot { said: text, .. }
                | Layer::Upright { text, .. }
                | Layer::Level { text, .. }
                | Layer::Words { text, .. }
                | Layer::Block { text, .. } => *text = bad.into(),
                Layer::Area { .. } => {}
            }
        }
    }
    x.below.iter_mut().for_each(|r| rename_rows(r, bad));
}

/// Every picture with hostile words in all places.
pub fn hostile() -> Vec<(String, Scene)> {
    let mut out = Vec::new();
    for (k, bad) in hostile_names().into_iter().enumerate() {
        let mut add = |name: &str, scene: Scene| out.push((format!("{name}-{k}"), scene));
        for (name, mut x) in [
            ("dots", samples::dots(5)),
            ("stacked", samples::stacked()),
            ("signs", samples::signs()),
            ("bars", samples::bars()),
        ] {
            rename_rows(&mut x, &bad);
            add(name, rows(&x));
        }
        for mut x in [samples::column(), samples::crowded_column()] {
            x.unit = bad.clone();
            x.baits.iter_mut().for_each(|b| b.name = bad.clone());
            add("column", column::column(&x));
        }
        for (name, mut x) in [("paths", samples::paths()), ("day", samples::day(3))] {
            rename_panels(&mut x, &bad);
            add(name, panels(&x));
        }
        let mut x = samples::light();
        x.unit = bad.clone();
        add("light", light::light(&x));
        let mut x = samples::curves();
        (x.x_title, x.y_title) = (bad.clone(), bad.clone());
        x.lines.iter_mut().for_each(|l| l.0 = bad.clone());
        x.markers = vec![(15.0, bad.clone())];
        add("curves", curves(&x));
        let mut x = samples::leader_map();
        x.names.iter_mut().for_each(|n| *n = bad.clone());
        (x.x.title, x.y.title, x.here) = (bad.clone(), bad.clone(), Some(((11.0, 15.0), bad.clone())));
        add("leader-map", map::leader_map(&x));
        let mut x = samples::difference_map();
        (x.above, x.below) = (bad.clone(), bad.clone());
        x.levels.iter_mut().for_each(|l| l.1 = bad.clone());
        add("difference-map", map::difference_map(&x));
    }
    out
}

/// A small judge of well-formed XML: tags nest, attributes are quoted, `&` starts an entity, and no
/// element or attribute but those a picture needs.
fn check_svg(svg: &str) -> Result<usize, String> {
    const ELEMENTS: [&str; 8] = ["svg", "title", "desc", "rect", "circle", "polyline", "polygon", "text"];
    let mut open: Vec<String> = Vec::new();
    let mut count = 0;
    let mut rest = svg;
    while let Some(start) = rest.find('<') {
        let between = &rest[..start];
        if between.contains('>') {
            return Err(format!("stray > in {between:?}"));
        }
        for after in between.split('&').skip(1) {
            let known = ["amp;", "lt;", "gt;", "quot;", "#39;"].iter().any(|e| after.starts_with(e));
            known.then_some(()).ok_or_else(|| format!("bare & in {between:?}"))?;
        }
        let end = rest[start..].find('>').ok_or("unclosed tag")? + start;
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            let top = open.pop().ok_or("too many closing tags")?;
            (top == name).then_some(()).ok_or_else(|| format!("</{name}> closes <{top}>"))?;
            continue;
        }
        let (tag, alone) = tag.strip_suffix('/').map_or((tag, false), |t| (t, true));
        let name = tag.split_whitespace().next().unwrap_or("").to_owned();
        ELEMENTS.contains(&name.as_str()).then_some(()).ok_or_else(|| format!("element {name:?}"))?;
        let mut attributes = tag[name.len()..].trim();
        while !attributes.is_empty() {
            let (key, value) = attributes.split_once("=\"").ok_or_else(|| format!("attribute in {tag:?}"))?;
            let plain =
                key.trim().bytes().all(|b| b.is_ascii_lowercase() || b == b'-' || key.trim() == "viewBox");
            let harmless = !key.trim().starts_with("on") && key.trim() != "href";
            (plain && harmless).then_some(()).ok_or_else(|| format!("attribute {key:?}"))?;
            let (value, more) = value.split_once('"').ok_or("unclosed attribute")?;
            (!value.contains('<') && !value.contains("NaN") && !value.contains("inf"))
                .then_some(())
                .ok_or_else(|| format!("value {value:?}"))?;
            attributes = more.trim();
        }
        count += 1;
        if !alone {
            open.push(name);
        }
    }
    open.is_empty().then_some(count).ok_or_else(|| format!("left open: {open:?}"))
}

/// Left, top, right, bottom of a text's letters.
fn extent(t: &Text) -> [f64; 4] {
    let width = text_width(&t.text, t.size, t.weight);
    let (before, after) = match t.anchor {
        Anchor::Start => (0.0, width),
        Anchor::Middle => (0.5 * width, 0.5 * width),
        Anchor::End => (width, 0.0),
    };
    let (rise, fall) = (0.75 * t.size, 0.1 * t.size);
    if t.turned {
        [t.at.0 - rise, t.at.1 - after, t.at.0 + fall, t.at.1 + before]
    } else {
        [t.at.0 - before, t.at.1 - rise, t.at.0 + after, t.at.1 + fall]
    }
}

fn texts(scene: &Scene) -> impl Iterator<Item = &Text> {
    scene.marks().iter().filter_map(|m| if let Mark::Text(t) = m { Some(t) } else { None })
}

fn assert_sound(name: &str, scene: &Scene) {
    let svg = to_svg(scene);
    match check_svg(&svg) {
        Ok(elements) => assert_eq!(
            elements,
            scene.marks().len() + 4 - usize::from(scene.description.is_empty()),
            "{name}"
        ),
        Err(fault) => panic!("{name}: {fault}"),
    }
    assert!(
        !svg.contains("<script") && !svg.chars().any(|c| ('\u{202a}'..='\u{202e}').contains(&c)),
        "{name}"
    );
    for t in texts(scene) {
        assert!(t.size >= SMALLEST_TYPE_PX, "{name}: {} px for {:?}", t.size, t.text);
        let [left, top, right, bottom] = extent(t);
        let inside = left >= 0.0 && top >= 0.0 && right <= scene.width && bottom <= scene.height;
        assert!(inside, "{name}: {:?} reaches {left:.0}..{right:.0}, {top:.0}..{bottom:.0}", t.text);
    }
}

#[test]
fn the_judge_of_svg_can_say_no() {
    for bad in
        ["<svg>", "<svg></text>", "<svg>&x</svg>", "<script></script>", "<svg onload=\"x\"/>", "<svg a=b/>"]
    {
        assert!(check_svg(bad).is_err(), "{bad}");
    }
}

#[test]
fn every_picture_is_sound_and_says_what_it_shows() {
    for (name, scene) in gallery() {
        assert_sound(name, &scene);
        assert!(!scene.title.is_empty() && scene.description.len() > 40, "{name}: {:?}", scene.description);
    }
}

#[test]
fn no_two_texts_touch() {
    for (name, scene) in gallery() {
        let boxes: Vec<_> = texts(&scene).map(|t| (extent(t), &t.text)).collect();
        for (i, (a, text)) in boxes.iter().enumerate() {
            for (b, other) in &boxes[..i] {
                let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
                assert!(apart, "{name}: {text:?} lies on {other:?}");
            }
        }
    }
}

#[test]
fn hostile_words_neither_break_nor_overflow_a_picture() {
    for (name, scene) in hostile() {
        assert_sound(&name, &scene);
    }
}

#[test]
fn nothing_at_all_gives_a_picture_that_says_so() {
    let empty = [
        rows(&Default::default()),
        panels(&Default::default()),
        curves(&Default::default()),
        column::column(&Default::default()),
        light::light(&Default::default()),
        map::leader_map(&Default::default()),
        map::difference_map(&Default::default()),
    ];
    for (k, scene) in empty.iter().enumerate() {
        assert_sound(&format!("empty {k}"), scene);
        assert!(texts(scene).any(|t| t.text.contains("nothing to show")), "picture {k}");
    }
}

/// Every number in every sample replaced by `v`.
fn degenerate(v: f64) -> Vec<Scene> {
    let all_rows = [samples::dots(4), samples::stacked(), samples::signs(), samples::bars()].map(|mut x| {
        level_rows(&mut x, v);
        rows(&x)
    });
    let all_panels = [samples::paths(), samples::day(3)].map(|mut x| {
        level_panels(&mut x, v);
        panels(&x)
    });
    let mut c = samples::column();
    (c.secchi, c.bottom) = (Some(v), Some(v));
    c.light.iter_mut().for_each(|p| *p = (v, v));
    c.fish = Some(column::Fish { depth: v, spread: v, reeled: Some(v) });
    c.sun = Some(column::Sun { elevation_deg: v, refracted_deg: v });
    for b in &mut c.baits {
        b.path.iter_mut().for_each(|p| *p = (v, v));
        b.seen = Some(column::Range { up: v, level: v, down: v });
    }
    let mut g = samples::light();
    (g.sunrise, g.sunset, g.fish_depth) = (Some(v), Some(v), Some(v));
    g.hours.iter_mut().for_each(|h| *h = v);
    g.depths.iter_mut().for_each(|d| *d = v);
    g.log10_lux.iter_mut().flatten().for_each(|d| *d = v);
    let mut n = samples::curves();
    n.markers = vec![(v, "here".into())];
    for (_, points) in &mut n.lines {
        points.iter_mut().for_each(|q| *q = At { x: v, middle: v, low: v, high: v });
    }
    let mut logarithmic = n.clone();
    logarithmic.x_logarithmic = true;
    let mut m = samples::leader_map();
    m.x.values.iter_mut().for_each(|x| *x = v);
    m.y.values.iter_mut().for_each(|x| *x = v);
    m.here = Some(((v, v), "here".into()));
    m.contours.iter_mut().for_each(|k| k.values.iter_mut().for_each(|x| *x = v));
    let mut d = samples::difference_map();
    d.values.iter_mut().for_each(|x| *x = v);
    d.levels = vec![(v, "level".into())];
    let others = [
        column::column(&c),
        light::light(&g),
        curves(&n),
        curves(&logarithmic),
        map::leader_map(&m),
        map::difference_map(&d),
    ];
    all_rows.into_iter().chain(all_panels).chain(others).collect()
}

/// The same number in all places of rows.
fn level_rows(x: &mut Rows, v: f64) {
    for side in &mut x.sides {
        side.band = side.band.map(|_| (-v, v));
        side.level = side.level.take().map(|l| (v, l.1));
    }
    for mark in
        x.groups.iter_mut().flat_map(|g| &mut g.rows).flat_map(|r| &mut r.cells).flat_map(|c| &mut c.marks)
    {
        match &mut mark.shape {
            Shape::Bar { from: a, to: b, .. }
            | Shape::Line { low: a, high: b, .. }
            | Shape::Whisker { low: a, high: b } => (*a, *b) = (v, v),
            Shape::Dot { at, .. } | Shape::Tick { at, .. } | Shape::Triangle { at, .. } => *at = v,
            Shape::Heap { dots, median } => {
                *median = v;
                dots.iter_mut().for_each(|d| *d = v);
            }
        }
    }
}

/// The same number in all places of panels.
fn level_panels(x: &mut Panels, v: f64) {
    x.x.ends = (Some(v), Some(v));
    for one in &mut x.panels {
        one.y.ends = (None, Some(v));
        for layer in &mut one.layers {
            match layer {
                Layer::Line { points, .. } | Layer::Area { points, .. } => {
                    points.iter_mut().for_each(|p| *p = (v, v));
                }
                Layer::Dot { at, .. } | Layer::Words { at, .. } => *at = (v, v),
                Layer::Upright { at, .. } | Layer::Level { at, .. } => *at = v,
                Layer::Block { corners, .. } => *corners = [(v, v); 2],
            }
        }
    }
    x.below.iter_mut().for_each(|r| level_rows(r, v));
}

#[test]
fn degenerate_numbers_give_sound_pictures() {
    for v in [0.0, -3.0, 1e-12, 7.0, 1e12, 1e300, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        for (k, scene) in degenerate(v).iter().enumerate() {
            assert_sound(&format!("picture {k} of {v}"), scene);
        }
    }
}

#[test]
fn single_numbers_gone_wrong_are_left_out() {
    for v in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e300, 1e300, 0.0] {
        let mut x = samples::day(3);
        for layer in x.panels.iter_mut().flat_map(|p| &mut p.layers) {
            match layer {
                Layer::Line { points, .. } | Layer::Area { points, .. } => {
                    let middle = points.len() / 2;
                    points[middle] = (points[middle].0, v);
                }
                Layer::Block { corners, .. } => corners[1].0 = v,
                _ => {}
            }
        }
        assert_sound(&format!("day with {v}"), &panels(&x));
        x.x.ends.1 = Some(v);
        assert_sound(&format!("day until {v}"), &panels(&x));
    }
}

#[test]
fn short_and_ragged_inputs_are_harmless() {
    let mut m = samples::leader_map();
    m.cells.truncate(7);
    assert_sound("short map", &map::leader_map(&m));
    let mut m = samples::leader_map();
    m.cells.iter_mut().for_each(|c| *c = Some(99));
    assert_sound("unknown leaders", &map::leader_map(&m));
    let one = |title: &str| map::Side { title: title.into(), values: vec![3.0], ..Default::default() };
    let d = map::DifferenceMap { x: one("x"), y: one("y"), values: vec![1.0], ..samples::difference_map() };
    assert_sound("one cell", &map::difference_map(&d));
    let mut g = samples::light();
    g.log10_lux.truncate(3);
    g.log10_lux[0].truncate(1);
    assert_sound("ragged light", &light::light(&g));
    assert_sound("200 rows", &rows(&samples::dots(200)));
    let mut p = samples::paths();
    p.panels[0].layers.truncate(2);
    if let Layer::Line { points, .. } = &mut p.panels[0].layers[0] {
        points.clear();
    }
    assert_sound("a path without points", &panels(&p));
}

proptest! {
    #[test]
    fn ticks_are_round_rising_and_inside(lo in -1e6f64..1e6, span in 1e-6f64..1e7, target in 1usize..12) {
        let hi = lo + span;
        let t = ticks(lo, hi, target);
        prop_assert!(t.windows(2).all(|p| p[1] > p[0]));
        let slack = 1e-6 * span;
        prop_assert!(t.iter().all(|v| *v >= lo - slack && *v <= hi + slack));
        // Steps of 1, 2, 5 are at most a factor 1.6 from the one wished for, and the ends cost a tick.
        prop_assert!(t.len() <= 2 * target + 2, "{} ticks for {target}", t.len());
        prop_assert!(t.len() as f64 >= 0.5 * target as f64 - 1.0, "{} ticks for {target}", t.len());
        if t.len() > 1 {
            let step = (t[t.len() - 1] - t[0]) / (t.len() - 1) as f64;
            let lead = step / 10f64.powf(step.log10().floor());
            prop_assert!([1.0, 2.0, 5.0, 10.0].iter().any(|r| (lead - r).abs() < 1e-3), "step {step}");
        }
    }

    #[test]
    fn log_ticks_are_inside(lo in 1e-9f64..1e6, decades in 0.1f64..12.0) {
        let hi = lo * 10f64.powf(decades);
        let t = log_ticks(lo, hi, 6);
        prop_assert!(t.windows(2).all(|p| p[1] > p[0]));
        prop_assert!(t.iter().all(|v| *v >= lo * 0.999_999 && *v <= hi * 1.000_001));
        prop_assert!(t.len() <= 10);
    }

    #[test]
    fn scales_keep_order_and_ends(from in -1e3f64..1e3, span in 1e-3f64..1e3, share in 0.0f64..1.0) {
        let s = Scale::linear(from, from + span, (100.0, 500.0));
        prop_assert!((s.at(from) - 100.0).abs() < 1e-6 && (s.at(from + span) - 500.0).abs() < 1e-6);
        prop_assert!((s.at(from + share * span) - (100.0 + 400.0 * share)).abs() < 1e-6);
        prop_assert_eq!(s.held(from - span), 100.0);
    }

    /// Spreading is a least-squares problem: no other allowed arrangement is nearer to the wish.
    #[test]
    fn spread_labels_are_apart_and_nearest(
        mut wanted in prop::collection::vec(0.0f64..300.0, 1..9),
        rival in prop::collection::vec(0.0f64..1.0, 9),
    ) {
        wanted.sort_by(f64::total_cmp);
        let (gap, lo, hi) = (20.0, 10.0, 290.0);
        let places = spread(&wanted, gap, lo, hi);
        prop_assert!(places.windows(2).all(|p| p[1] - p[0] >= gap - 1e-9));
        prop_assert!(places.iter().all(|p| *p >= lo - 1e-9 && *p <= hi + 1e-9));
        let miss = |q: &[f64]| -> f64 { q.iter().zip(&wanted).map(|(a, b)| (a - b) * (a - b)).sum() };
        let mut shares = rival[..wanted.len()].to_vec();
        shares.sort_by(f64::total_cmp);
        let room = hi - lo - gap * (wanted.len() - 1) as f64;
        let other: Vec<f64> = shares.iter().enumerate().map(|(i, s)| lo + room * s + gap * i as f64).collect();
        // Also a rival close by: half-way between the answer and the other one.
        let near: Vec<f64> = places.iter().zip(&other).map(|(a, b)| a + 0.01 * (b - a)).collect();
        prop_assert!(miss(&places) <= miss(&other) + 1e-9);
        prop_assert!(miss(&places) <= miss(&near) + 1e-9);
    }
}
