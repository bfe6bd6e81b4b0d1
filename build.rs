//! Makes the live page part of the program where it has been built, and hands the assumptions to the library.
//!
//! `bash src/web/build.sh` leaves the page in `target/page/page.html`; the next `cargo build` finds it there, and
//! `callup page` writes it. Without it the build is whole but for that command, which then says what to run. The
//! folder is made here, because cargo would build anew each time while a path it is to watch is missing.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

/// The files of assumptions that the library embeds.
const MODELS: [&str; 10] = [
    "fish",
    "largemouth",
    "smallmouth",
    "season",
    "water",
    "baits",
    "lines",
    "finishes",
    "forage",
    "practice",
];

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed=build.rs");
    let Some(out) = env::var_os("OUT_DIR").map(PathBuf::from) else { return Ok(()) };
    models(&out)?;
    let kept = out.join("page.html");
    let page = match folder(&out) {
        Some(folder) => {
            println!("cargo:rerun-if-changed={}", folder.display());
            folder.join("page.html")
        }
        None => PathBuf::new(),
    };
    if page.is_file() { fs::copy(page, kept).map(|_| ()) } else { fs::write(kept, "") }
}

/// The folder `page` in cargo's target folder, four steps above the one for this build's own output.
fn folder(out: &Path) -> Option<PathBuf> {
    let folder = out.ancestors().nth(4)?.join("page");
    fs::create_dir_all(&folder).ok().map(|()| folder)
}

/// Copies the assumptions; for the page alone without comments and without sources, which it does not show.
fn models(out: &Path) -> io::Result<()> {
    println!("cargo:rerun-if-changed=models");
    let page_alone = env::var_os("CARGO_FEATURE_WEB").is_some() && env::var_os("CARGO_FEATURE_CLI").is_none();
    fs::create_dir_all(out.join("models"))?;
    for name in MODELS {
        let file = format!("models/{name}.toml");
        let text = fs::read_to_string(&file)?;
        fs::write(out.join(&file), if page_alone { bare(&text) } else { text })?;
    }
    Ok(())
}

fn bare(text: &str) -> String {
    let kept = text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    kept.map(
        |line| if line.starts_with("source = \"") { "source = \"-\"\n".into() } else { format!("{line}\n") },
    )
    .collect()
}
