//! `callup selfcheck`.

use super::ask::ask;
use crate::cli::Stop;
use crate::cli::args::Shared;
use crate::cli::session::Session;
use crate::present::wording::selfcheck::summary;
use crate::study::selfcheck::Selfcheck;

/// Runs it; a check that fails is a failure of the program.
pub(in crate::cli) fn run(shared: &Shared) -> Result<(), Stop> {
    let session = Session::for_study(shared, None, &Selfcheck)?;
    let checks = ask(shared, &session, &Selfcheck, None)?;
    if checks.hold() { Ok(()) } else { Err(Stop::Failure(summary(&checks))) }
}
