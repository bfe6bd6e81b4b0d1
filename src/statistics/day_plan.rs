//! Hour by hour: what to use, when change costs something.

use super::Error;
use ndarray::{Array2, ArrayView2};

/// The best sequence of alternatives over the hours.
#[derive(Debug, Clone, PartialEq)]
pub struct DayPlan {
    /// Column used in every hour.
    pub choices: Vec<usize>,
    /// Sum of the rates less the cost of all changes.
    pub value: f64,
    /// Number of changes.
    pub changes: usize,
}

/// Values closer than this share of their size count as equal; then fewer changes win.
const TIE: f64 = 1e-12;

/// The plan with the largest sum of rates less `change_cost` a change; the first choice is free.
///
/// Dynamic programming backwards from dark (Bellman 1957, Dynamic Programming, from memory):
/// `V_h(b) = max_b' [g_{h,b'} - c 1(b' != b) + V_{h+1}(b')]`. Of equal plans the one with the fewest
/// changes, then the lower column. `rates` is hours by alternatives, in the unit of the cost.
pub fn best_plan(rates: ArrayView2<'_, f64>, change_cost: f64) -> Result<DayPlan, Error> {
    Error::at_least("hours", rates.nrows(), 1)?;
    Error::at_least("alternatives", rates.ncols(), 1)?;
    Error::all_finite("rates", rates.iter())?;
    if !(change_cost.is_finite() && change_cost >= 0.0) {
        let what = "cost of a change";
        return Err(Error::OutOfRange { what, value: change_cost, range: "of 0 or above" });
    }
    Ok(solve(rates, change_cost))
}

/// Value and number of changes from an hour to dark.
type ToGo = (f64, usize);

fn better(a: ToGo, b: ToGo) -> bool {
    let tie = TIE * a.0.abs().max(b.0.abs());
    a.0 > b.0 + tie || ((a.0 - b.0).abs() <= tie && a.1 < b.1)
}

fn solve(rates: ArrayView2<'_, f64>, cost: f64) -> DayPlan {
    let (hours, k) = rates.dim();
    let mut next_choice = Array2::<usize>::zeros((hours, k));
    // to_go[b]: from the hour after, holding b when it begins.
    let mut to_go: Vec<ToGo> = vec![(0.0, 0); k];
    let worth = |hour: usize, held: usize, used: usize, after: &[ToGo]| -> ToGo {
        let change = usize::from(used != held);
        let (value, changes) = after[used];
        (rates[(hour, used)] - cost * change as f64 + value, changes + change)
    };
    let pick = |hour: usize, held: usize, after: &[ToGo]| {
        (0..k).fold((held, worth(hour, held, held, after)), |best, used| {
            let candidate = worth(hour, held, used, after);
            if better(candidate, best.1) { (used, candidate) } else { best }
        })
    };
    for hour in (1..hours).rev() {
        let picked: Vec<(usize, ToGo)> = (0..k).map(|held| pick(hour, held, &to_go)).collect();
        for (held, &(used, _)) in picked.iter().enumerate() {
            next_choice[(hour, held)] = used;
        }
        to_go = picked.into_iter().map(|p| p.1).collect();
    }
    // The first choice costs nothing: as if it had been held already.
    let (mut held, (value, changes)) = (0..k)
        .map(|b| (b, worth(0, b, b, &to_go)))
        .reduce(|best, next| if better(next.1, best.1) { next } else { best })
        .unwrap_or((0, (0.0, 0)));
    let mut choices = vec![held];
    for hour in 1..hours {
        held = next_choice[(hour, held)];
        choices.push(held);
    }
    DayPlan { choices, value, changes }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refusals() {
        let r = ndarray::array![[1.0, 2.0]];
        assert!(best_plan(r.view(), -1.0).is_err());
        assert!(best_plan(Array2::zeros((2, 0)).view(), 0.0).is_err());
        assert_eq!(best_plan(r.view(), 0.5).unwrap().choices, [1]);
    }
}
