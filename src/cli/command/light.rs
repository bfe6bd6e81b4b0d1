//! `callup light`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::{Light, Shared};
use crate::cli::session::Session;
use crate::study::light::LightOf;

/// Runs it.
pub(in crate::cli) fn run(shared: &Shared, args: &Light) -> Result<(), Stop> {
    let session = Session::for_study(shared, args.scenario.as_deref(), &LightOf)?;
    ask(shared, &session, &LightOf, args.plot.as_deref()).map(drop)
}
