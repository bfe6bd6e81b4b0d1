//! `callup depth`.

use super::{plot, show};
use crate::cli::Stop;
use crate::cli::args::{Depth, Shared};
use crate::cli::session::Session;
use crate::present::answers::depth as answer;
use crate::study::depth::{depths, options};
use crate::units::{Dimension, parse};

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Depth) -> Result<(), Stop> {
    let wanted_m = args.to.as_deref().map(wanted).transpose()?;
    let session = Session::open(shared, args.scenario.as_deref())?;
    let bad = |e: crate::world::SettingError| Stop::Input(format!("error: {e}\n"));
    let answered = depths(&session.scenario, &session.models).map_err(bad)?;
    let all = match wanted_m {
        Some(depth_m) => (0..session.scenario.baits.len())
            .map(|bait| options(&session.scenario, &session.models, bait, depth_m))
            .collect::<Result<Vec<_>, _>>()
            .map_err(bad)?,
        None => Vec::new(),
    };
    let wanted = wanted_m.map(|depth_m| (depth_m, all.as_slice()));
    let asked = session.asked();
    show(
        shared,
        || answer::json(&asked, &answered, wanted),
        || answer::csv(&answered),
        || answer::text(&asked, &answered, wanted),
    )?;
    match &args.plot {
        Some(folder) => plot(folder, &answer::pictures(&asked, &answered)),
        None => Ok(()),
    }
}

fn wanted(text: &str) -> Result<f64, Stop> {
    let bad = |what: String, help: String| Stop::Input(format!("error: --to: {what}\n  help: {help}\n"));
    let depth_m = parse(text, Dimension::Length).map_err(|e| bad(e.what(), e.help()))?;
    if depth_m > 0.0 && depth_m <= 30.0 {
        return Ok(depth_m);
    }
    Err(bad(
        format!("no bait of this kind runs to {}", crate::scenario::diagnostic::visible(text)),
        "give a depth between 0 and 30 m, as in --to \"3 m\"".into(),
    ))
}
