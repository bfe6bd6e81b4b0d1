//! Of 100 passes: never noticed, stayed put, turned away, struck.
use super::{Words, frame, label, name, nothing_to_show, widest};
use crate::present::axes::{BODY_PX, BOTTOM_AXIS_PX, SMALL_PX, Scale, bottom_axis};
use crate::present::palette::{ACCENT, INK, PAPER, ink_on};
use crate::present::scene::{Anchor, Colour, Scene, Stroke, Text, Weight};
use crate::present::text_width::text_width;
use crate::present::words::number_per_100;

/// One bait: what became of 100 passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// The fish never noticed it.
    pub never_noticed: f64,
    /// The fish noticed it and stayed where it was.
    pub stayed_put: f64,
    /// The fish came and turned away.
    pub turned_away: f64,
    /// The fish struck.
    pub struck: f64,
}

impl Row {
    fn shares(&self) -> [f64; 4] {
        [self.never_noticed, self.stayed_put, self.turned_away, self.struck]
            .map(|v| if v.is_finite() { v.max(0.0) } else { 0.0 })
    }
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Losses {
    /// The words around it.
    pub words: Words,
    /// One row per bait.
    pub rows: Vec<Row>,
}

const ROW_PX: f64 = 52.0;
const KEY_PX: f64 = 44.0;
const STAGES: [&str; 4] = ["never noticed", "stayed put", "turned away", "struck"];

/// Shades from pale to dark, so that grey print keeps their order; the strike is the darkest.
fn shade(stage: usize) -> Colour {
    [ACCENT.towards(PAPER, 0.88), Colour(0xa9, 0xc4, 0xd0), Colour(0x5b, 0x8d, 0x9f), ACCENT][stage.min(3)]
}

/// Draws the picture.
pub fn losses(input: &Losses) -> Scene {
    let rows_px = ROW_PX * input.rows.len().max(2) as f64;
    let (mut scene, panel) = frame(&input.words, KEY_PX + rows_px + BOTTOM_AXIS_PX);
    if input.rows.is_empty() {
        nothing_to_show(&mut scene, &panel);
        return scene;
    }
    let says = |r: &Row| {
        let parts: Vec<String> =
            r.shares().iter().zip(STAGES).map(|(v, s)| format!("{} {s}", number_per_100(*v))).collect();
        format!("{}: {}", r.name, parts.join(", "))
    };
    scene.description =
        format!("Of 100 passes. {}", input.rows.iter().map(says).collect::<Vec<_>>().join("; "));
    let name_px = widest(input.rows.iter().map(|r| r.name.as_str()), BODY_PX, Weight::Regular, 250.0);
    let struck: Vec<String> =
        input.rows.iter().map(|r| format!("{} struck", number_per_100(r.struck))).collect();
    let struck_px = widest(struck.iter().map(String::as_str), BODY_PX, Weight::Bold, 170.0);
    let plot = panel.inset(name_px + 20.0, KEY_PX, struck_px + 12.0, BOTTOM_AXIS_PX);
    let scale = Scale::linear(0.0, 100.0, (plot.left, plot.right));
    bottom_axis(&mut scene, &plot, &scale, "of 100 passes near such a fish");
    key(&mut scene, plot.left, panel.top + 0.42 * KEY_PX);
    for (i, (row, struck)) in input.rows.iter().zip(&struck).enumerate() {
        let middle = plot.top + ROW_PX * (i as f64 + 0.5);
        name(&mut scene, (plot.left - 16.0, middle), &row.name, name_px, false, Anchor::End);
        draw_bar(&mut scene, &scale, row, middle);
        let said = label((plot.right + 12.0, middle), struck, BODY_PX, Weight::Bold, struck_px);
        scene.text(said.centred_on_line());
    }
    scene
}

fn draw_bar(scene: &mut Scene, scale: &Scale, row: &Row, middle: f64) {
    let (top, height) = (middle - 0.36 * ROW_PX, 0.72 * ROW_PX);
    let mut from = 0.0;
    for (stage, share) in row.shares().into_iter().enumerate() {
        let (left, right) = (scale.held(from), scale.held(from + share));
        from += share;
        if right - left < 0.05 {
            continue;
        }
        scene.outlined_rect(
            (left, top),
            (right - left, height),
            Some(shade(stage).into()),
            (right - left > 3.0).then(|| Stroke::solid(PAPER, 1.5)),
        );
        let text = number_per_100(share);
        let struck = stage + 1 == STAGES.len();
        if !struck && text_width(&text, BODY_PX, Weight::Regular) + 10.0 < right - left {
            let number = Text::new((0.5 * (left + right), middle), &text, BODY_PX, ink_on(shade(stage)));
            scene.text(number.anchored(Anchor::Middle).centred_on_line());
        }
    }
}

fn key(scene: &mut Scene, left: f64, y: f64) {
    let mut x = left;
    for (stage, text) in STAGES.into_iter().enumerate() {
        scene.outlined_rect(
            (x, y - 8.0),
            (16.0, 16.0),
            Some(shade(stage).into()),
            Some(Stroke::solid(ACCENT.towards(PAPER, 0.5), 1.0)),
        );
        let weight = if stage == 3 { Weight::Bold } else { Weight::Regular };
        let said = Text::new((x + 23.0, y), text, SMALL_PX, INK).bold_if(stage == 3).centred_on_line();
        scene.text(said);
        x += 23.0 + text_width(text, SMALL_PX, weight) + 24.0;
    }
}
