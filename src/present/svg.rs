//! A scene as a self-contained SVG file.
use super::escape::escape_xml;
use super::scene::{Anchor, Fill, Mark, Point, Scene, Stroke, Text, Weight};
use std::fmt::Write;

/// Families to try, the one that the layout was measured with first, one of like widths next.
pub const FONT_FAMILY: &str = "DejaVu Sans, Verdana, sans-serif";

/// Width of the rim behind text, over type size.
pub const HALO_EM: f64 = 0.28;

/// The scene as an SVG 1.1 document, with its meaning in `<title>` and `<desc>` for screen readers.
/// It scales with its frame (`viewBox`), fetches nothing and runs nothing.
pub fn to_svg(scene: &Scene) -> String {
    let mut out = String::with_capacity(512 + 120 * scene.marks().len());
    let (w, h) = (number(scene.width), number(scene.height));
    // Writing to a String cannot fail, hence the results that are let go.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" height=\"{h}\" \
         role=\"img\" font-family=\"{FONT_FAMILY}\">"
    );
    let _ = writeln!(out, "<title>{}</title>", escape_xml(&scene.title));
    if !scene.description.is_empty() {
        let _ = writeln!(out, "<desc>{}</desc>", escape_xml(&scene.description));
    }
    let _ = writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>", scene.background.hex());
    for mark in scene.marks() {
        write_mark(&mut out, mark);
    }
    out.push_str("</svg>\n");
    out
}

/// A length with at most two decimals, trailing zeros dropped.
fn number(x: f64) -> String {
    let mut s = format!("{x:.2}");
    if s.contains('.') {
        s.truncate(s.trim_end_matches('0').trim_end_matches('.').len());
    }
    if s == "-0" { "0".into() } else { s }
}

fn points_text(points: &[Point]) -> String {
    let mut out = String::with_capacity(12 * points.len());
    for (i, p) in points.iter().enumerate() {
        let gap = if i == 0 { "" } else { " " };
        let _ = write!(out, "{gap}{},{}", number(p.0), number(p.1));
    }
    out
}

fn fill_text(fill: Option<Fill>) -> String {
    match fill {
        None => " fill=\"none\"".into(),
        Some(f) if f.opacity >= 1.0 => format!(" fill=\"{}\"", f.colour.hex()),
        Some(f) => format!(" fill=\"{}\" fill-opacity=\"{}\"", f.colour.hex(), number(f.opacity.max(0.0))),
    }
}

fn stroke_text(stroke: Option<Stroke>) -> String {
    let Some(s) = stroke else { return String::new() };
    let mut out = format!(" stroke=\"{}\" stroke-width=\"{}\"", s.colour.hex(), number(s.width));
    let pattern = s.dash.pattern(s.width);
    if !pattern.is_empty() {
        let lengths: Vec<String> = pattern.into_iter().map(number).collect();
        let _ = write!(out, " stroke-dasharray=\"{}\"", lengths.join(" "));
    }
    out
}

fn write_mark(out: &mut String, mark: &Mark) {
    let _ = match mark {
        Mark::Polyline { points, stroke } => writeln!(
            out,
            "<polyline points=\"{}\" fill=\"none\" stroke-linejoin=\"round\"{}/>",
            points_text(points),
            stroke_text(Some(*stroke))
        ),
        Mark::Polygon { points, fill, stroke } => writeln!(
            out,
            "<polygon points=\"{}\" stroke-linejoin=\"round\"{}{}/>",
            points_text(points),
            fill_text(*fill),
            stroke_text(*stroke)
        ),
        Mark::Rect { at, size, fill, stroke } => writeln!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}{}/>",
            number(at.0),
            number(at.1),
            number(size.0),
            number(size.1),
            fill_text(*fill),
            stroke_text(*stroke)
        ),
        Mark::Circle { at, radius, fill, stroke } => writeln!(
            out,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}{}/>",
            number(at.0),
            number(at.1),
            number(*radius),
            fill_text(*fill),
            stroke_text(*stroke)
        ),
        Mark::Text(text) => write_text(out, text),
    };
}

fn write_text(out: &mut String, t: &Text) -> std::fmt::Result {
    let (x, y) = (number(t.at.0), number(t.at.1));
    write!(out, "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" fill=\"{}\"", number(t.size), t.colour.hex())?;
    if t.weight == Weight::Bold {
        out.push_str(" font-weight=\"bold\"");
    }
    match t.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if t.turned {
        write!(out, " transform=\"rotate(-90 {x} {y})\"")?;
    }
    if let Some(halo) = t.halo {
        write!(
            out,
            " paint-order=\"stroke\" stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"",
            halo.hex(),
            number(HALO_EM * t.size)
        )?;
    }
    writeln!(out, ">{}</text>", escape_xml(&t.text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::scene::Colour;

    #[test]
    fn numbers_are_short() {
        assert_eq!(number(10.0), "10");
        assert_eq!(number(100.0), "100");
        assert_eq!(number(1.5), "1.5");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(1.0 / 3.0), "0.33");
    }

    #[test]
    fn hostile_text_stays_text() {
        let mut scene = Scene::new(100.0, 100.0);
        scene.title = "</title><script>alert(1)</script>".into();
        scene.text(Text::new((1.0, 1.0), "\"/><script>x</script>\u{202e}", 12.0, Colour(0, 0, 0)));
        let svg = to_svg(&scene);
        assert!(!svg.contains("<script"));
        assert!(!svg.contains('\u{202e}'));
    }
}
