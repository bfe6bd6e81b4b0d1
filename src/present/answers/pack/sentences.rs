//! What a packed box holds, in sentences.

use super::small;
use crate::present::answers::Asked;
use crate::present::answers::sweep::labels::Side;
use crate::present::words;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::pack::Pack;

/// What the box is packed for.
pub(super) fn over_what(pack: &Pack, sides: &[Side], usual: bool) -> String {
    let count = words::count(pack.conditions.len(), "condition", "conditions");
    let titles = match pack.sources.as_slice() {
        [_] => String::new(),
        several => {
            let one = |(title, share): &(String, f64)| format!("{title} ({})", super::percent(*share));
            format!(" over {}", several.iter().map(one).collect::<Vec<_>>().join("; "))
        }
    };
    let spread: Vec<String> = sides
        .iter()
        .map(|s| match &s.words {
            Some(words) => format!("{}: {}", s.name, words.join(", ")),
            None => {
                format!("{} from {} to {}", s.name, s.said_step(0), s.said_step(s.len().saturating_sub(1)))
            }
        })
        .collect();
    let spread = match (spread.as_slice(), usual) {
        ([], _) => String::new(),
        (all, true) => format!("; spread, for none was asked for: {}", all.join("; ")),
        (all, false) => format!("; spread: {}", all.join("; ")),
    };
    format!("Packed for {count}{titles}{spread}.")
}

/// The finding: what to carry, what it draws, what one fewer loses.
pub fn headline(pack: &Pack) -> String {
    let Some(chosen) = pack.chosen() else { return "The box is empty.".into() };
    let names: Vec<&str> = chosen.best.baits.iter().map(|&b| pack.baits[b].as_str()).collect();
    let e = &chosen.best.strikes;
    let mut said = format!(
        "Carry {}. {} passes end in a strike, the best of them thrown in every condition.",
        names.join("; "),
        capital(&words::range_per_100(e.point, e.low, e.high))
    );
    let unused = pack.carry.saturating_sub(names.len());
    if unused > 0 {
        said.push_str(&format!(
            " {} would add nothing: no other bait is the best in any of these conditions.",
            if unused == 1 { "One more".to_owned() } else { format!("{unused} more") }
        ));
    }
    if let Some(fewer) = fewer(pack) {
        said.push_str(&fewer);
    }
    said
}

fn fewer(pack: &Pack) -> Option<String> {
    let chosen = pack.chosen()?;
    let baits = chosen.best.baits.len();
    let size = pack.sizes.iter().find(|s| s.size == baits)?;
    let before = pack.sizes.iter().find(|s| s.size + 1 == baits)?;
    let matters = if size.mean_adds < SMALLEST_DIFFERENCE { ", less than matters" } else { "" };
    let whole = if baits == pack.baits.len() {
        String::new()
    } else {
        format!("; all {} would add {}", pack.baits.len(), small(pack.mean_whole_box_adds))
    };
    Some(format!(
        " With {} only it is {} in 100 fewer in the mean{matters}{whole}.",
        words::count(before.best.baits.len(), "bait", "baits"),
        small(size.mean_adds)
    ))
}

/// How stable the set is, and whether the greedy way finds it.
pub(super) fn more(asked: &Asked, pack: &Pack) -> Vec<String> {
    let mut all = Vec::new();
    let Some(chosen) = pack.chosen() else { return all };
    if !asked.budget.fixed && pack.baits.len() > pack.carry {
        let near = words::worlds(pack.nearly_best);
        let swaps =
            pack.members.iter().filter_map(|m| m.substitute).filter(|s| s.1 < SMALLEST_DIFFERENCE).count();
        let verdict = if pack.stays_best >= 0.5 {
            "the choice is stable"
        } else if pack.nearly_best >= 0.9 {
            "which set is the very best cannot be told, and hardly matters"
        } else {
            "which set is the best cannot be told: it turns on what nobody knows about fish"
        };
        let swapped = match (swaps, pack.members.len()) {
            (0, 1) => "It cannot be swapped",
            (_, 1) => "It can be swapped",
            (0, _) => "None of its baits can be swapped",
            (n, of) if n == of => "Each of its baits can be swapped",
            _ => "Some of its baits can be swapped",
        };
        all.push(format!(
            "Of sets of up to {} it is the very best in {}, and within 1 in 100 of the best in {near}: {verdict}. \
             {swapped} for one left behind at a loss of less than 1 in 100 in the mean.",
            pack.carry,
            words::worlds(pack.stays_best),
        ));
    }
    let less = chosen.best.mean - chosen.greedy.mean;
    all.push(if less <= 1e-9 {
        "Adding the most useful bait one at a time finds a set as good.".into()
    } else {
        format!(
            "Adding the most useful bait one at a time finds another set, which draws {} in 100 fewer.",
            small(less)
        )
    });
    if !chosen.best.proven {
        all.push("The search was cut short: a better set may exist.".into());
    }
    all
}

/// What the tables do not say by themselves.
pub(super) fn notes(asked: &Asked, pack: &Pack) -> Vec<String> {
    let mut notes = vec![
        "A set is worth the mean over conditions of what its best bait draws, thrown knowing the condition but not which \
         of the plausible worlds is the true one. Loss without: mean strikes in 100 passes lost if only that bait stays \
         at home. Where thrown: from the 10 % to the 90 % point of the conditions in which it is the one to throw. All \
         differences are means; odds are the middle and nine in ten of the worlds."
            .to_owned(),
    ];
    if asked.budget.fixed {
        notes.push(asked.run_line());
        return notes;
    }
    let r = &pack.regret;
    notes.push(format!(
        "Knowing beforehand which of the worlds is the true one would change the set and add {} in 100 in the mean ({} to \
         {} in nine of ten worlds): that is what nobody knows about fish costs.",
        small(pack.mean_regret),
        small(r.low),
        small(r.high)
    ));
    if let Some(chosen) = pack.chosen() {
        let sample = if pack.axes.is_empty() {
            String::new()
        } else {
            format!(" and the sample of conditions {}", luck(chosen.best.sampling_se))
        };
        notes.push(format!(
            "The luck of this simulation adds {}{sample} to the strikes (one standard error); --draws, --points and \
             --conditions shrink it. {} The same worlds and passes in every condition.",
            luck(chosen.best.strikes.simulation_se),
            asked.run_line()
        ));
    }
    let unproven = pack.cube.draws - pack.worlds_proven;
    if unproven > 0 {
        notes.push(format!("In {unproven} worlds the search for the best set was cut short."));
    }
    notes
}

fn luck(se: f64) -> String {
    if se < 0.1 { "under 0.1".to_owned() } else { format!("{se:.1}") }
}

pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
