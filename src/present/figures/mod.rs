//! The pictures, each a pure function from ready numbers and labels to a [`Scene`].
//!
//! Every picture says its finding in a bold caption at the top, labels its marks directly and ends in
//! a note on what varies and what does not. Numbers come in the reader's units, labels ready to print.
pub mod chart;
pub mod column;
pub mod contours;
pub mod light;
pub mod map;
pub mod panel;
pub mod rows;
pub mod shapes;

use super::axes::{BODY_PX, Panel, SMALL_PX};
use super::palette::{INK, MUTED};
use super::scene::{Anchor, Scene, Text, Weight};
use super::text_width::{fit, text_width, wrap};

/// Width of every canvas, px.
pub const WIDTH_PX: f64 = 960.0;
const MARGIN_PX: f64 = 34.0;
const CAPTION_PX: f64 = 23.0;
const LEADING: f64 = 1.32;
/// Lines that a caption and a note may take.
const MOST_LINES: usize = 4;

/// The words around a picture.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words {
    /// The finding, one sentence.
    pub caption: String,
    /// What varies, seed, and that it is a model and not a promise.
    pub note: String,
}

/// A canvas with caption and note in place and the panel between them, `body_px` high.
fn frame(words: &Words, body_px: f64) -> (Scene, Panel) {
    let room = WIDTH_PX - 2.0 * MARGIN_PX;
    let caption =
        wrap(&super::escape::terminal_text(&words.caption), CAPTION_PX, Weight::Bold, room, MOST_LINES);
    let note = wrap(&super::escape::terminal_text(&words.note), SMALL_PX, Weight::Regular, room, MOST_LINES);
    let caption_px = caption.len() as f64 * CAPTION_PX * LEADING;
    let note_px = note.len() as f64 * SMALL_PX * LEADING;
    let top = MARGIN_PX - 6.0 + caption_px + 14.0;
    let bottom = top + body_px;
    let mut scene = Scene::new(WIDTH_PX, bottom + 18.0 + note_px + MARGIN_PX - 14.0);
    scene.title = words.caption.clone();
    for (i, line) in caption.iter().enumerate() {
        let y = MARGIN_PX - 6.0 + CAPTION_PX * (0.85 + LEADING * i as f64);
        scene.text(Text::new((MARGIN_PX, y), line, CAPTION_PX, INK).bold());
    }
    for (i, line) in note.iter().enumerate() {
        let y = bottom + 18.0 + SMALL_PX * (0.85 + LEADING * i as f64);
        scene.text(Text::new((MARGIN_PX, y), line, SMALL_PX, MUTED));
    }
    (scene, Panel { left: MARGIN_PX, top, right: WIDTH_PX - MARGIN_PX, bottom })
}

/// What stands in a panel that has nothing in it.
fn nothing_to_show(scene: &mut Scene, panel: &Panel) {
    let middle = (0.5 * (panel.left + panel.right), 0.5 * (panel.top + panel.bottom));
    let text = Text::new(middle, "There is nothing to show here.", BODY_PX, MUTED);
    scene.text(text.anchored(Anchor::Middle));
}

/// The width of the widest of some labels, at most `most` px.
fn widest<'a>(labels: impl IntoIterator<Item = &'a str>, size: f64, weight: Weight, most: f64) -> f64 {
    labels.into_iter().map(|l| text_width(l, size, weight)).fold(0.0, f64::max).min(most)
}

/// Texts of a key set in lines, each behind a swatch: which it is, the text as far as it fits, px from the left.
fn in_lines<'a>(
    texts: impl IntoIterator<Item = &'a str>,
    room: f64,
    swatch_px: f64,
) -> Vec<Vec<(usize, String, f64)>> {
    let mut lines: Vec<Vec<(usize, String, f64)>> = Vec::new();
    let mut x = f64::INFINITY;
    for (k, text) in texts.into_iter().enumerate() {
        let text =
            fit(&super::escape::terminal_text(text), SMALL_PX, Weight::Regular, 0.5 * room - swatch_px);
        let width = swatch_px + text_width(&text, SMALL_PX, Weight::Regular) + 24.0;
        if x + width > room {
            lines.push(Vec::new());
            x = 0.0;
        }
        if let Some(line) = lines.last_mut() {
            line.push((k, text, x));
        }
        x += width;
    }
    lines
}

/// A label on one line, shortened to its room.
fn label(at: (f64, f64), text: &str, size: f64, weight: Weight, room: f64) -> Text {
    let text = fit(&super::escape::terminal_text(text), size, weight, room);
    Text::new(at, &text, size, INK).bold_if(weight == Weight::Bold)
}

/// The largest finite value, or `least` if that is larger.
fn largest(values: impl IntoIterator<Item = f64>, least: f64) -> f64 {
    values.into_iter().filter(|v| v.is_finite()).fold(least, f64::max)
}
