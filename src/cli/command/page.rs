//! `callup page`.
//!
//! The page is built apart from the program, from the same sources, by `src/web/build.sh`; `build.rs` makes it part
//! of the program where it has been built. Only the scenario that it begins with is put in here.

use crate::cli::args::{Page, Shared};
use crate::cli::session::Session;
use crate::cli::{Stop, draw, output};
use crate::scenario::Catalogue;
use crate::scenario::diagnostic::printable;
use crate::scenario::library;
use crate::scenario::write::to_toml;
use crate::units::UnitSystem;
use serde_json::json;
use std::path::Path;

/// The page, empty where it was not built.
const PAGE: &str = include_str!(concat!(env!("OUT_DIR"), "/page.html"));
/// Where the page keeps what it begins with.
const MARK: (&str, &str) = ("<script type=\"application/json\" id=\"begin\">", "</script>");

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Page) -> Result<(), Stop> {
    if !shared.model.is_empty() {
        return Err(Stop::Input(
            "error: the page carries the embedded assumptions only\n  help: leave --model out, or use `callup odds` \
             and `callup sweep` with it\n"
                .into(),
        ));
    }
    output::may_replace(&args.output, MARK.0, "a live page of callup")?;
    let page = match &args.from {
        Some(path) => read(path)?,
        None if PAGE.is_empty() => {
            return Err(Stop::Failure(
                "this program was built without the live page; build it with `bash src/web/build.sh`, then build the \
                 program again, or give a built page with --from target/page/page.html"
                    .into(),
            ));
        }
        None => PAGE.to_owned(),
    };
    let begin = begin(shared, args.scenario.as_deref())?;
    let finished = with_begin(&page, &begin).ok_or_else(|| {
        let from = args.from.as_deref().unwrap_or(Path::new("--from")).display().to_string();
        Stop::Input(format!("error: {from} is no live page\n  help: give one built with src/web/build.sh\n"))
    })?;
    draw::write_whole(&args.output, finished.as_bytes()).map_err(|e| Stop::Failure(e.to_string()))?;
    output::complain(&printable(&format!(
        "wrote {}; open it in a browser, it needs no network\n",
        args.output.display()
    )));
    Ok(())
}

fn read(path: &Path) -> Result<String, Stop> {
    std::fs::read_to_string(path).map_err(|e| {
        Stop::Input(format!(
            "error: cannot read {}: {e}\n  help: build the page with `bash src/web/build.sh`\n",
            path.display()
        ))
    })
}

/// What the page begins with: an embedded scenario by its name with the values put in place, or another as text; and
/// the units.
fn begin(shared: &Shared, scenario: Option<&str>) -> Result<String, Stop> {
    let session = Session::open(shared, scenario)?;
    let embedded = match scenario {
        None => Some(library::DEFAULT),
        // A file on disk of that name would have been opened as itself.
        Some(name) => {
            Some(name.trim_end_matches(".toml")).filter(|n| session.file == format!("scenarios/{n}.toml"))
        }
    };
    // What changes every bait does not go with baits chosen one by one.
    let plain = session.overrides.iter().all(|(path, _)| !path.starts_with("bait.") && path != "box.use");
    let water = embedded.filter(|_| plain);
    let source = water.is_none().then(|| to_toml(&session.scenario, &Catalogue::of(&session.models)));
    let units = if session.units == UnitSystem::Us { "us" } else { "metric" };
    let set = if water.is_some() { session.overrides.as_slice() } else { &[] };
    let given = scenario.is_some() || !set.is_empty();
    let value = json!({
        "source": source,
        "file": session.file,
        "water": water.filter(|_| given),
        "set": set,
        "units": units,
    });
    // No text of a file may end the element that it stands in.
    Ok(value.to_string().replace('<', "\\u003c"))
}

fn with_begin(page: &str, begin: &str) -> Option<String> {
    let (before, rest) = page.split_once(MARK.0)?;
    let (_, after) = rest.split_once(MARK.1)?;
    Some([before, MARK.0, begin, MARK.1, after].concat())
}
