//! Pictures as files: SVG by the project's own writer, PNG at double size through `plotters`.
//!
//! SVG is written by [`crate::present::svg`] and not by `plotters`, which has neither dashes nor
//! titles. For PNG `plotters` encodes the pixels; shapes are filled by `raster`, because
//! `plotters` rounds corners to whole pixels, and letters come straight from the font, because
//! `plotters` drops the space that belongs to the left of each letter, which leaves gaps in words.
use super::raster::{Image, Mask, circle, stroke_shapes};
use crate::present::scene::{Anchor, Fill, Mark, Point, Scene, Stroke, Text, Weight};
use crate::present::svg::{HALO_EM, to_svg};
use ab_glyph::{Font, FontRef, PxScale, ScaleFont, point};
use plotters::prelude::{BitMapBackend, DrawingBackend};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

/// Pixels of a PNG per px of the canvas.
const PNG_SCALE: f64 = 2.0;
/// No PNG gets more pixels than this; larger pictures are drawn at a smaller scale (about 180 MB).
const MOST_PIXELS: f64 = 6e7;
/// The font library measures type from the top of the tallest to the foot of the deepest letter; this
/// is that height over the type size in DejaVu Sans (ascent 1901, descent 483, of 2048 units).
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

/// The built-in regular and bold fonts, read once.
fn fonts() -> Result<&'static [FontRef<'static>; 2], String> {
    static FONTS: OnceLock<Option<[FontRef<'static>; 2]>> = OnceLock::new();
    let read = || {
        let [regular, bold] = [dejavu::sans::regular(), dejavu::sans::bold()].map(FontRef::try_from_slice);
        Some([regular.ok()?, bold.ok()?])
    };
    FONTS.get_or_init(read).as_ref().ok_or_else(|| "the built-in font could not be read".into())
}

/// The scene as pixels.
fn rasterise(scene: &Scene) -> Result<Image, String> {
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
    let letters = letters(text, scale)?;
    if let Some(halo) = text.halo {
        image.stamp(&letters.grown(0.5 * HALO_EM * text.size * scale), halo);
    }
    image.stamp(&letters, text.colour);
    Ok(())
}

/// The cover of the pixels under a text's letters.
fn letters(text: &Text, scale: f64) -> Result<Mask, String> {
    let [regular, bold] = fonts()?;
    let font = if text.weight == Weight::Bold { bold } else { regular };
    let size = PxScale::from((text.size * LINE_EM * scale) as f32);
    let scaled = font.as_scaled(size);
    let mut pens = Vec::new();
    let mut pen = 0.0;
    let mut before = None;
    for id in text.text.chars().map(|c| font.glyph_id(c)) {
        pen += before.map_or(0.0, |b| scaled.kern(b, id));
        pens.push((id, pen));
        pen += scaled.h_advance(id);
        before = Some(id);
    }
    let shift = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -0.5 * f64::from(pen),
        Anchor::End => -f64::from(pen),
    };
    let at = (text.at.0 * scale, text.at.1 * scale);
    // A turned text runs upwards from `at`: it is set level from the origin, then turned.
    let start = if text.turned { (shift, 0.0) } else { (at.0 + shift, at.1) };
    let mut samples = Vec::new();
    for (id, pen) in pens {
        let place = point(start.0 as f32 + pen, start.1 as f32);
        let Some(outline) = font.outline_glyph(id.with_scale_and_position(size, place)) else { continue };
        let corner = outline.px_bounds().min;
        outline.draw(|x, y, cover| {
            let (x, y) = (corner.x as i64 + i64::from(x), corner.y as i64 + i64::from(y));
            let (x, y) =
                if text.turned { (at.0.round() as i64 + y, at.1.round() as i64 - x) } else { (x, y) };
            samples.push((x, y, f64::from(cover)));
        });
    }
    Ok(Mask::new(&samples))
}
