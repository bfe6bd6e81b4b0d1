//! Pictures as files: SVG by the project's own writer, PNG drawn from the same SVG at double size.
use crate::present::scene::Scene;
use crate::present::svg::to_svg;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::fontdb::{Database, Source};
use resvg::usvg::{Options, Tree};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Arc, OnceLock};

/// Pixels of a PNG per px of the canvas.
const PNG_SCALE: f64 = 2.0;
/// No PNG gets more pixels than this; larger pictures are drawn at a smaller scale (240 MB, twice that while packed).
const MOST_PIXELS: f64 = 6e7;

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

/// Writes the picture as the kind that the name's ending asks for, `.svg` or `.png` (at double size).
pub fn save(scene: &Scene, path: &Path) -> Result<(), DrawError> {
    let ending = path.extension().map(|e| e.to_ascii_lowercase());
    let bytes = match ending.as_deref().and_then(std::ffi::OsStr::to_str) {
        Some("svg") => to_svg(scene).into_bytes(),
        Some("png") => draw(scene).map_err(|reason| DrawError::Draw { path: path.into(), reason })?,
        _ => return Err(DrawError::Kind { path: path.into() }),
    };
    write_whole(path, &bytes)
}

/// Writes a file whole or not at all: into a new file beside it, which then takes its name.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), DrawError> {
    static COUNTER: AtomicU32 = AtomicU32::new(0);
    let count = COUNTER.fetch_add(1, Ordering::Relaxed);
    let stem = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{stem}.{}-{count}.tmp", std::process::id()));
    let done = std::fs::write(&temporary, bytes).and_then(|()| std::fs::rename(&temporary, path));
    if done.is_err() {
        // Nothing to add if it was never there.
        let _ = std::fs::remove_file(&temporary);
    }
    done.map_err(|source| DrawError::Write { path: path.into(), source })
}

/// The built-in regular and bold fonts: the same letters on every machine.
fn fonts() -> Arc<Database> {
    static FONTS: OnceLock<Arc<Database>> = OnceLock::new();
    let read = || {
        let mut fonts = Database::new();
        for font in [dejavu::sans::regular(), dejavu::sans::bold()] {
            fonts.load_font_source(Source::Binary(Arc::new(font)));
        }
        Arc::new(fonts)
    };
    FONTS.get_or_init(read).clone()
}

/// The scene as a PNG.
fn draw(scene: &Scene) -> Result<Vec<u8>, String> {
    let options = Options { fontdb: fonts(), ..Options::default() };
    let tree = Tree::from_str(&to_svg(scene), &options).map_err(|e| e.to_string())?;
    let scale = PNG_SCALE.min((MOST_PIXELS / (scene.width * scene.height)).sqrt());
    let pixels = |px: f64| (px * scale).round().max(1.0) as u32;
    let mut image = Pixmap::new(pixels(scene.width), pixels(scene.height)).ok_or("a picture of no size")?;
    // The last row and column may lie half beyond the canvas.
    let ground = scene.background;
    image.fill(Color::from_rgba8(ground.0, ground.1, ground.2, 255));
    resvg::render(&tree, Transform::from_scale(scale as f32, scale as f32), &mut image.as_mut());
    image.encode_png().map_err(|e| e.to_string())
}
