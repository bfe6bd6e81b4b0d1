//! Scenario files: from TOML as people write it to a [`Scenario`] that is possible.
//!
//! [`load`] reads a file, lays overrides over it and checks it against the [`Catalogue`]. Every fault is
//! found in one go and comes back as a [`Diagnostic`] with its place and a remedy. Quantities stand in
//! quotes with their unit, as in `depth = "15 ft"`; the key list is one table, which also serves the
//! overrides and the sweeps ([`paths`]).
//!
//! The road through this module: text -> `document` (a tree with places) -> `overrides` -> `reader` (tables
//! against the keys of the `schema`) -> `check` (what takes several keys) -> [`Scenario`] -> `write`.

pub mod catalogue;
mod check;
pub mod day;
pub mod diagnostic;
pub(crate) mod document;
pub mod library;
mod overrides;
pub mod phase;
pub(crate) mod reader;
pub(crate) mod schema;
mod syntax;
mod types;
pub mod write;

pub use catalogue::Catalogue;
pub use diagnostic::{Diagnostic, Severity};
pub use schema::{Setting, SettingKind, paths};
pub use types::{
    Bait, Cast, Clarity, Fish, Forage, Hour, Lip, Phase, PhaseChoice, Place, Pressure, Rain, Scenario, Sky,
    Sound, Species, Tackle, Tint, Water, When,
};

/// A scenario that can be used, and what may nevertheless be wrong with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// The scenario.
    pub scenario: Scenario,
    /// Doubts about it, in the order of the file.
    pub warnings: Vec<Diagnostic>,
}

/// Reads a scenario from the text of a file called `file`, with overrides laid over it.
///
/// An override is a path and a value, as in `("water.secchi", "2 m")`; [`paths`] lists them all. The last
/// override of a path counts. Setting one of two rivals (Secchi depth and turbidity, line diameter and
/// strength, zone and UTC offset) takes the file's other away; `box.use` replaces the whole box;
/// `bait.PROPERTY` changes every bait, and baits that become the same count once.
///
/// # Errors
/// Every fault found, with the warnings among them, in the order of the file and then of the overrides.
pub fn load(
    source: &str,
    file: &str,
    overrides: &[(String, String)],
    catalogue: &Catalogue,
) -> Result<Checked, Vec<Diagnostic>> {
    check::load(source, file, overrides, catalogue)
}
