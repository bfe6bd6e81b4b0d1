//! Pictures as files, and the letters they are set in.
use super::pictures::gallery;
use callup::cli::draw::{DrawError, save, write_whole};
use callup::present::scene::Weight;
use callup::present::text_width::{measured_characters, text_width};
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};
use std::path::Path;

type Outcome = Result<(), Box<dyn std::error::Error>>;

/// Writes every picture with made-up numbers into target/demo, to be looked at:
/// `cargo test --test all present:: -- --ignored demo`.
#[test]
#[ignore = "writes files to be looked at"]
fn demo() -> Outcome {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/demo");
    std::fs::create_dir_all(&folder)?;
    for (name, scene) in gallery() {
        save(&scene, &folder.join(format!("{name}.png")))?;
        save(&scene, &folder.join(format!("{name}.svg")))?;
    }
    Ok(())
}

/// Both hold whole font units; sums in floating point are off by far less.
const UNIT_TOLERANCE: f64 = 0.01;

#[test]
fn widths_match_the_font() -> Outcome {
    for (weight, bytes) in [(Weight::Regular, dejavu::sans::regular()), (Weight::Bold, dejavu::sans::bold())]
    {
        let font = FontRef::new(bytes)?;
        let (letters, place) = (font.charmap(), LocationRef::default());
        let units = f64::from(font.metrics(Size::unscaled(), place).units_per_em);
        let widths = font.glyph_metrics(Size::unscaled(), place);
        let mut n = 0;
        for c in measured_characters() {
            let glyph = letters.map(c).ok_or_else(|| format!("the font has no {c:?}"))?;
            let expected = f64::from(widths.advance_width(glyph).ok_or("no width")?);
            let got = text_width(&c.to_string(), units, weight);
            assert!((got - expected).abs() < UNIT_TOLERANCE, "{c:?} {weight:?}: {got} instead of {expected}");
            n += 1;
        }
        assert!(n > 200);
    }
    Ok(())
}

#[test]
fn a_png_is_twice_the_canvas_and_not_blank() -> Outcome {
    let folder = tempfile::tempdir()?;
    let (_, scene) = gallery().swap_remove(0);
    let path = folder.path().join("picture.PNG");
    save(&scene, &path)?;
    let bytes = std::fs::read(&path)?;
    assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n");
    let size = |at: usize| u32::from_be_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]);
    assert_eq!(f64::from(size(16)), 2.0 * scene.width);
    assert_eq!(f64::from(size(20)), (2.0 * scene.height).round());
    // A blank canvas of this size packs into a few kB.
    assert!(bytes.len() > 50_000, "{} bytes", bytes.len());
    assert_eq!(std::fs::read_dir(folder.path())?.count(), 1, "a temporary file was left behind");
    Ok(())
}

#[test]
fn files_are_written_whole_or_not_at_all() -> Outcome {
    let folder = tempfile::tempdir()?;
    let (_, scene) = gallery().swap_remove(1);
    for name in ["missing/picture.svg", "missing/picture.png"] {
        let path = folder.path().join(name);
        let error = save(&scene, &path).err().ok_or("it should have failed")?;
        assert!(error.to_string().contains(&path.display().to_string()), "{error}");
    }
    let odd = folder.path().join("picture.bmp");
    assert!(matches!(save(&scene, &odd), Err(DrawError::Kind { .. })));
    // A file that is there already stays as it was if its place cannot be taken.
    let taken = folder.path().join("taken.svg");
    std::fs::create_dir(&taken)?;
    assert!(write_whole(&taken, b"x").is_err());
    assert_eq!(std::fs::read_dir(folder.path())?.count(), 1, "a temporary file was left behind");
    let file = folder.path().join("file.txt");
    write_whole(&file, b"first")?;
    write_whole(&file, b"second")?;
    assert_eq!(std::fs::read(&file)?, b"second");
    Ok(())
}

#[test]
fn hostile_and_huge_pictures_can_be_drawn() -> Outcome {
    let folder = tempfile::tempdir()?;
    for (name, scene) in super::pictures::hostile().into_iter().step_by(3) {
        save(&scene, &folder.path().join(format!("{name}.png")))?;
    }
    Ok(())
}
