//! Many scenarios worked out together, with the same worlds and passes in each.

use super::sweep::Cube;
use crate::engine::Control;
use crate::engine::{Budget, Strikes};
use crate::models::{Assumed, Models};
use crate::world::{PrepareError, Prepared};

/// More numbers (conditions times baits times worlds) than this would not fit the memory an answer may take (about
/// 150 bytes each while they are gathered).
pub const MOST_NUMBERS: usize = 2_000_000;

/// Strikes per 100 passes of every bait in every setting, one cell per setting, and the worlds they were worked out
/// in. All settings share one box. A stopped computation rests on fewer worlds.
///
/// # Errors
/// [`PrepareError::Models`] where the models lack a parameter.
pub fn strikes(
    models: &Models,
    settings: &[Prepared],
    budget: Budget,
    control: &Control,
) -> Result<(Cube, Vec<Assumed>), PrepareError> {
    let table = Strikes::of(models, settings, budget, control)?;
    let cells = (0..settings.len()).map(|c| Some(table.per_100(c).into_iter().collect()));
    let cube = Cube {
        axes: Vec::new(),
        baits: settings.first().map_or(Vec::new(), |s| s.baits.iter().map(|b| b.name.clone()).collect()),
        draws: table.draws(),
        per_scramble: table.per_scramble,
        cells: cells.collect(),
    };
    Ok((cube, table.worlds))
}
