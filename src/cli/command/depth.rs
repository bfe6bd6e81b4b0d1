//! `callup depth`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::{Depth as Args, Shared};
use crate::cli::session::Session;
use crate::study::depth::Depth;
use crate::units::{Dimension, parse};

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let study = Depth { wanted_m: args.to.as_deref().map(wanted).transpose()? };
    let session = Session::for_study(shared, args.scenario.as_deref(), &study)?;
    ask(shared, &session, &study, args.plot.as_deref()).map(drop)
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
