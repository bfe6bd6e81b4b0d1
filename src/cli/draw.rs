//! Pictures as files: SVG by the project's own writer, PNG at double size with letters by `plotters`.
//!
//! SVG is written by [`crate::present::svg`] and not by `plotters`, which has neither dashes nor
//! titles nor text anchors that a browser could set anew in its own font.
use super::raster::{Image, circle, stroke_shapes};
use crate::present::scene::{Anchor, Colour, Fill, Mark, Point, Scene, Stroke, Text, Weight};
use crate::present::svg::{HALO_EM, to_svg};
use plotters::backend::RGBPixel;
use plotters::prelude::{BitMapBackend, DrawingBackend, RGBColor, TextStyle};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontStyle, FontTransform, IntoFont, register_font};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

/// Pixels of a PNG per px of the canvas.
const PNG_SCALE: f64 = 2.0;
/// No PNG gets more pixels than this; larger pictures are drawn at a smaller scale (about 180 MB).
const MOST_PIXELS: f64 = 6e7;
const FAMILY: &str = "callup-sans";
/// `plotters` takes a type size from the top of the tallest to the foot of the deepest letter; this is
/// that height over the type size in DejaVu Sans (ascent 1901, descent 483, of 2048 units).
const LINE_EM: f64 = 2384.0 / 2048.0;

/// Why a picture could not be written.
#[derive(Debug, thiserror::Error)]
pub enum DrawError {
    /// The file system said no.
    #[error("cannot write {}: {source}; check that the folder exists and may be written to", path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The drawing library said no.
    #[error("cannot draw {}: {reason}; an SVG file needs no drawing library, try a name ending in .svg", path.display())]
    Draw {
        /// The file.
        path: PathBuf,
        /// What the library said.
        reason: String,
    },
    /// Neither .svg nor .png.
    #[error("cannot tell what kind of picture {} should be; give a name ending in .svg or .png", path.display())]
    Kind {
        /// The file.
        path: PathBuf,
    },
}

/// Writes the picture as the kind that the name's ending asks for, `.svg` or `.png`.
pub fn save(scene: &Scene, path: &Path) -> Result<(), DrawError> {
    let ending = path.extension().map(|e| e.to_ascii_lowercase());
    match ending.as_deref().and_then(std::ffi::OsStr::to_str) {
        Some("svg") => save_svg(scene, path),
        Some("png") => save_png(scene, path),
        _ => Err(DrawError::Kind { path: path.into() }),
    }
}

/// Writes the picture as SVG.
pub fn save_svg(scene: &Scene, path: &Path) -> Result<(), DrawError> {
    write_whole(path, to_svg(scene).as_bytes())
}

/// Writes the picture as PNG at double size.
pub fn save_png(scene: &Scene, path: &Path) -> Result<(), DrawError> {
    let failed = |reason: String| DrawError::Draw { path: path.into(), reason };
    let image = rasterise(scene).map_err(failed)?;
    let size = (image.width as u32, image.height as u32);
    replace_by(path, "png", |temporary| {
        let mut file = BitMapBackend::new(temporary, size);
        file.blit_bitmap((0, 0), size, &image.bytes).map_err(|e| failed(e.to_string()))?;
        file.present().map_err(|e| failed(e.to_string()))
    })
}

/// Writes a file whole or not at all: into a new file beside it, which then takes its name.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), DrawError> {
    let failed = |source| DrawError::Write { path: path.into(), source };
    replace_by(path, "tmp", |temporary| std::fs::write(temporary, bytes).map_err(failed))
}

fn replace_by(
    path: &Path,
    ending: &str,
    write: impl FnOnce(&Path) -> Result<(), DrawError>,
) -> Result<(), DrawError> {
    static COUNTER: AtomicU32 = AtomicU32::new(0);
    let count = COUNTER.fetch_add(1, Ordering::Relaxed);
    let stem = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{stem}.{}-{count}.{ending}", std::process::id()));
    let done = write(&temporary).and_then(|()| {
        std::fs::rename(&temporary, path).map_err(|source| DrawError::Write { path: path.into(), source })
    });
    if done.is_err() {
        // Nothing to add if it was never there.
        let _ = std::fs::remove_file(&temporary);
    }
    done
}

/// Makes the fonts known to `plotters`, once.
fn fonts() -> Result<(), String> {
    static DONE: OnceLock<bool> = OnceLock::new();
    let register = || {
        register_font(FAMILY, FontStyle::Normal, dejavu::sans::regular()).is_ok()
            && register_font(FAMILY, FontStyle::Bold, dejavu::sans::bold()).is_ok()
    };
    if *DONE.get_or_init(register) { Ok(()) } else { Err("the built-in font could not be read".into()) }
}

/// The scene as pixels.
fn rasterise(scene: &Scene) -> Result<Image, String> {
    fonts()?;
    let scale = PNG_SCALE.min((MOST_PIXELS / (scene.width * scene.height)).sqrt());
    let pixels = |x: f64| (x * scale).round().max(1.0) as usize;
    let mut image = Image::new(pixels(scene.width), pixels(scene.height), scene.background);
    for mark in scene.marks() {
        draw_mark(&mut image, mark, scale)?;
    }
    Ok(image)
}

fn draw_mark(image: &mut Image, mark: &Mark, scale: f64) -> Result<(), String> {
    match mark {
        Mark::Polyline { points, stroke } => outline(image, points, false, Some(*stroke), scale),
        Mark::Polygon { points, fill, stroke } => shape(image, points, *fill, *stroke, scale),
        Mark::Rect { at: (x, y), size: (w, h), fill, stroke } => {
            let corners = [(*x, *y), (x + w, *y), (x + w, y + h), (*x, y + h)];
            shape(image, &corners, *fill, *stroke, scale);
        }
        Mark::Circle { at, radius, fill, stroke } => {
            shape(image, &circle(*at, *radius), *fill, *stroke, scale);
        }
        Mark::Text(text) => return draw_text(image, text, scale),
    }
    Ok(())
}

fn shape(image: &mut Image, points: &[Point], fill: Option<Fill>, stroke: Option<Stroke>, scale: f64) {
    if let Some(fill) = fill {
        let scaled = points.iter().map(|p| (p.0 * scale, p.1 * scale)).collect();
        image.fill(&[scaled], fill.colour, fill.opacity);
    }
    outline(image, points, true, stroke, scale);
}

fn outline(image: &mut Image, points: &[Point], closed: bool, stroke: Option<Stroke>, scale: f64) {
    if let Some(stroke) = stroke {
        image.fill(&stroke_shapes(points, closed, &stroke, scale), stroke.colour, 1.0);
    }
}

fn draw_text(image: &mut Image, text: &Text, scale: f64) -> Result<(), String> {
    let at = (text.at.0 * scale, text.at.1 * scale);
    if let Some(halo) = text.halo {
        let rim = 0.5 * HALO_EM * text.size * scale;
        for ring in [0.5 * rim, rim] {
            for place in circle(at, ring).into_iter().step_by(3) {
                write_letters(image, text, place, halo, scale)?;
            }
        }
    }
    write_letters(image, text, at, text.colour, scale)
}

fn write_letters(
    image: &mut Image,
    text: &Text,
    at: Point,
    colour: Colour,
    scale: f64,
) -> Result<(), String> {
    let line = text.size * LINE_EM * scale;
    let weight = if text.weight == Weight::Bold { FontStyle::Bold } else { FontStyle::Normal };
    let turn = if text.turned { FontTransform::Rotate270 } else { FontTransform::None };
    let font = (FAMILY, line).into_font().style(weight).transform(turn);
    let h_pos = match text.anchor {
        Anchor::Start => HPos::Left,
        Anchor::Middle => HPos::Center,
        Anchor::End => HPos::Right,
    };
    let colour = RGBColor(colour.0, colour.1, colour.2).to_backend_color();
    let style = TextStyle { font, color: colour, pos: Pos::new(h_pos, VPos::Top) };
    // The library sets the baseline half a line below the point it is given.
    let (x, y) = if text.turned { (at.0 - 0.5 * line, at.1) } else { (at.0, at.1 - 0.5 * line) };
    let size = (image.width as u32, image.height as u32);
    let mut canvas: BitMapBackend<'_, RGBPixel> =
        BitMapBackend::with_buffer_and_format(&mut image.bytes, size).map_err(|e| e.to_string())?;
    canvas.draw_text(&text.text, &style, (x.round() as i32, y.round() as i32)).map_err(|e| e.to_string())
}
