//! `callup why`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::{Shared, Why as Args};
use crate::cli::session::Session;
use crate::study::why::WhyOf;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Args) -> Result<(), Stop> {
    let study = WhyOf { baits: args.baits.clone().try_into().ok() };
    let session = Session::for_study(shared, args.scenario.as_deref(), &study)?;
    ask(shared, &session, &study, args.plot.as_deref()).map(drop)
}
