//! Makes the live page part of the program where it has been built.
//!
//! `bash src/web/build.sh` leaves the page in `target/page/page.html`; the next `cargo build` finds it there, and
//! `callup page` writes it. Without it the build is whole but for that command, which then says what to run. The
//! folder is made here, because cargo would build anew each time while a path it is to watch is missing.

use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed=build.rs");
    let Some(out) = env::var_os("OUT_DIR").map(PathBuf::from) else { return Ok(()) };
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
