//! The picture of a packed box.

use super::{order, percent, sentences, small};
use crate::present::answers::Asked;
use crate::present::figures::{self, Words, pack as figure};
use crate::present::scene::Scene;
use crate::study::pack::Pack;

/// Baits shown.
const SHOWN: usize = 9;

/// What each further bait adds, and how often each bait is in the best set.
pub fn pictures(asked: &Asked, pack: &Pack) -> Vec<(&'static str, Scene)> {
    let carried = |b: usize| pack.members.iter().any(|m| m.bait == b);
    let mut shown = order(pack);
    shown.sort_by(|&a, &b| carried(b).cmp(&carried(a)).then(pack.inclusion[b].total_cmp(&pack.inclusion[a])));
    let input = figure::Pack {
        words: words(asked, pack),
        sizes: pack
            .sizes
            .iter()
            .filter(|s| s.best.baits.len() == s.size)
            .map(|s| figure::Size {
                mean: s.best.mean,
                low: if asked.budget.fixed { f64::NAN } else { s.best.strikes.low },
                high: if asked.budget.fixed { f64::NAN } else { s.best.strikes.high },
                greedy: s.greedy.mean,
                adds: format!("+{}", small(s.mean_adds).replace("under ", "<")),
            })
            .collect(),
        carry: pack.members.len(),
        whole: pack.chosen().map_or(f64::NAN, |s| s.best.mean + pack.mean_whole_box_adds),
        baits: shown
            .into_iter()
            .take(SHOWN)
            .map(|b| figure::Bait {
                name: pack.baits[b].clone(),
                share: pack.inclusion[b],
                label: percent(pack.inclusion[b]),
                carried: carried(b),
            })
            .collect(),
    };
    vec![("pack", figures::pack::pack(&input))]
}

fn words(asked: &Asked, pack: &Pack) -> Words {
    let caption = match pack.sizes.iter().find(|s| s.best.baits.len() == pack.members.len()) {
        Some(size) if size.size > 1 => format!(
            "{} baits draw {} in 100 more than {}; all {} would add {}.",
            sentences::capital(&spelt(pack.members.len())),
            small(size.mean_adds),
            spelt(size.size - 1),
            pack.baits.len(),
            small(pack.mean_whole_box_adds)
        ),
        _ => format!(
            "One bait does: all {} would add {} in 100.",
            pack.baits.len(),
            small(pack.mean_whole_box_adds)
        ),
    };
    let ranges = if asked.budget.fixed { "" } else { " Bars: nine in ten plausible worlds." };
    let titles: Vec<&str> = pack.sources.iter().map(|s| s.0.as_str()).collect();
    Words {
        caption,
        note: format!(
            "{}. Means over {} conditions, the best carried bait thrown in each.{ranges} {} A model, not a promise.",
            titles.join("; ").trim_end_matches('.'),
            pack.conditions.len(),
            asked.run_line()
        ),
    }
}

fn spelt(n: usize) -> String {
    const WORDS: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    WORDS.get(n).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}
