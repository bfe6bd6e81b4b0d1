//! The assumption files of `models/`: every number about nature, with its range, grade and source.
//!
//! [`parameter`] says what one assumption is, [`entries`] what else a file holds, [`files`] reads the TOML,
//! [`experiments`] says what would settle an assumption,
//! [`draw`] turns scrambled Sobol points into world draws, [`assumed`] gives the drawn values their names.
//! Code elsewhere holds formulas only.

pub mod assumed;
pub mod draw;
pub mod entries;
pub mod experiments;
pub mod files;
pub mod groups;
pub mod parameter;

pub use assumed::Assumed;
pub use draw::{Draw, Worlds};
pub use entries::{Calendar, ForageModel, LineMaterial, Shape, TintModel};
pub use experiments::{Experiment, Experiments};
pub use files::{Models, ModelsError};
pub use groups::Groups;
pub use parameter::{Grade, Group, Parameter, Spread};
