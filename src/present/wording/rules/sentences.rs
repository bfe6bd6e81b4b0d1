//! What is said of a rule, in sentences.

use crate::present::side::Side;
use crate::present::view::View;
use crate::present::wording::capital;
use crate::present::words;
use crate::statistics::estimate::Estimate;
use crate::statistics::prim::Limit;
use crate::statistics::verdict::{Unclear, Verdict};
use crate::study::attribution::{Attribution, Flag};
use crate::study::pace;
use crate::study::rules::answer::Answer;
use crate::study::rules::flip::SELDOM;
use crate::study::rules::{Claim, Condition, Test};

/// A difference smaller than this, strikes in 100 passes, is not told as one.
const NONE: f64 = 0.05;

/// "none", "under 1", "3": a size in strikes per 100.
fn size(x: f64) -> String {
    if x.abs() < NONE { "none".into() } else { words::number_per_100(x.abs()) }
}

/// "none to 2 more", "1 fewer to 3 more": where nine in ten plausible worlds lie, seen from the leader.
fn range(e: &Estimate, sign: f64) -> String {
    let (low, high) = if sign >= 0.0 { (e.low, e.high) } else { (-e.high, -e.low) };
    let end = |x: f64| match x {
        none if none.abs() < NONE => size(x),
        fewer if fewer < 0.0 => format!("{} fewer", size(x)),
        _ => format!("{} more", size(x)),
    };
    match (end(low), end(high)) {
        (l, h) if l == h => l,
        // Both ends on one side: the word for it is said once.
        (_, h) if low >= NONE => format!("{} to {h}", size(low)),
        (l, h) => format!("{l} to {h}"),
    }
}

/// The finding with its numbers: the sentence to quote.
pub fn finding(view: &View, answer: &Answer) -> String {
    let r = &answer.reading;
    let verdict = capital(&r.verdict.words().replace(": ", ", "));
    let said = match (&answer.rule.test, answer.rule.claim) {
        (_, Claim::More) if r.gains.is_some() => gained(answer),
        (Test::Direction { axis, falls, .. }, _) => along(&Side::of(view, axis), *falls, answer),
        (Test::Sides { a, b }, Claim::Same) => format!(
            "{} and {} differ by {} in 100 passes ({}), whichever is ahead; by no more than {} in {}",
            a.name,
            b.name,
            strikes(r.effect.point),
            plain_range(&r.effect),
            words::two_digits(answer.rule.smallest_difference),
            words::worlds(r.holds_share),
        ),
        (Test::Sides { a, b }, Claim::More) => {
            let (leader, other) = if r.effect.point >= 0.0 { (&a.name, &b.name) } else { (&b.name, &a.name) };
            compared(leader, other, answer)
        }
    };
    format!("{verdict}: {said}.{}", by_the_hour(view, answer).unwrap_or_default())
}

/// How the two ends are called.
fn ends(view: &View, answer: &Answer) -> [String; 2] {
    match &answer.rule.test {
        Test::Sides { a, b } => [a.name.clone(), b.name.clone()],
        Test::Direction { axis, falls, .. } => {
            let side = Side::of(view, axis);
            let [first, last] = [0, side.len().saturating_sub(1)];
            let named = |i: usize| format!("a {} of {}", side.name, side.said_step(i));
            if *falls { [named(first), named(last)] } else { [named(last), named(first)] }
        }
    }
}

/// What the sides draw in an hour, where slowness costs casts.
fn by_the_hour(view: &View, answer: &Answer) -> Option<String> {
    let [a, b] =
        answer.reading.per_hour?.map(|h| if h < 0.01 { "under 0.01".into() } else { words::two_digits(h) });
    let [first, second] = ends(view, answer);
    let cast = view.units.length(pace::mean_cast_m(view.prepared));
    let counted = match view.prepared.fish_per_ha {
        Some(_) => "with the density of fish given".to_owned(),
        None => format!("if every cast of {cast} passes one such fish"),
    };
    Some(format!(
        " Judged at equal time, since slowness costs casts: strikes in an hour {a} with {first} against {b} with \
         {second}, {counted}; differences are told in 100 passes at the pace of the scenario."
    ))
}

/// A rule about a gain: how many times the strikes here, and elsewhere.
fn gained(answer: &Answer) -> String {
    let r = &answer.reading;
    let (Some([here, over]), Test::Sides { a, b }) = (&r.gains, &answer.rule.test) else {
        return "the gain here is held against the gain elsewhere".into();
    };
    let times = |e: &Estimate| {
        let [middle, low, high] = [e.point, e.low, e.high].map(words::two_digits);
        format!("{middle} times ({low} to {high})")
    };
    let elsewhere: Vec<String> =
        answer.rule.gain_over.iter().map(|p| format!("{} {}", p.path, p.value)).collect();
    let unit = if r.per_hour.is_some() { "strikes an hour" } else { "strikes" };
    let sign = if r.effect.point >= 0.0 { 1.0 } else { -1.0 };
    format!(
        "where the rule is claimed {} draws {} the {unit} of {}, and {} under {}; that is {} in 100 than the gain there \
         would give ({}), the gain is larger than there in {}, by {} in 100 or more in {}",
        a.name,
        times(here),
        b.name,
        times(over),
        words::list(&elsewhere),
        match size(r.effect.point) {
            s if s == "none" => "no more".to_owned(),
            s if sign > 0.0 => format!("{s} more"),
            s => format!("{s} fewer"),
        },
        range(&r.effect, 1.0),
        words::worlds(r.holds_share),
        words::two_digits(answer.rule.smallest_difference),
        words::worlds(r.matters_share),
    )
}

fn strikes(x: f64) -> String {
    match size(x).as_str() {
        "none" => "next to nothing".into(),
        "under 1" => "under 1 strike".into(),
        n => format!("about {}", counted(n)),
    }
}

/// "1 strike", "3 strikes".
fn counted(n: &str) -> String {
    if n == "1" { "1 strike".into() } else { format!("{n} strikes") }
}

fn plain_range(e: &Estimate) -> String {
    let (low, high) = (size(e.low), size(e.high));
    if low == high { low } else { format!("{low} to {high}") }
}

fn compared(leader: &str, other: &str, answer: &Answer) -> String {
    let r = &answer.reading;
    let sign = if r.effect.point >= 0.0 { 1.0 } else { -1.0 };
    let ahead = if sign > 0.0 { r.holds_share } else { 1.0 - r.holds_share };
    let matters = if sign > 0.0 { r.matters_share } else { r.against_share };
    let (time, per_pass) = if r.per_hour.is_some() {
        (" in the time of 100 passes", "; in 100 passes of its own")
    } else {
        (" in 100 passes", "")
    };
    let more = match r.effect.point.abs() {
        d if d < NONE => format!("{leader} and {other} draw the same"),
        d if d < 0.95 => format!("{leader} draws more than {other}, but by under 1 strike{time}"),
        d => format!("{leader} draws about {} more{time} than {other}", counted(&size(d))),
    };
    let levels = match (r.levels.first(), r.levels.last()) {
        (Some(a), Some(b)) => {
            let (first, second) = if sign > 0.0 { (a, b) } else { (b, a) };
            let comma = if per_pass.is_empty() { "," } else { "" };
            format!("{per_pass}{comma} {} against {}", words::per_100(*first), words::per_100(*second))
        }
        _ => String::new(),
    };
    format!(
        "{more} ({}{levels}); {leader} is ahead in {}, by {} or more in {}",
        range(&r.effect, sign),
        words::worlds(ahead),
        words::two_digits(answer.rule.smallest_difference),
        words::worlds(matters),
    )
}

fn along(side: &Side, falls: bool, answer: &Answer) -> String {
    let r = &answer.reading;
    let (first, last) = (side.said_step(0), side.said_step(side.len().saturating_sub(1)));
    let mut levels: Vec<f64> = r.levels.clone();
    if !falls {
        levels.reverse();
    }
    let (from, to) = (levels.first().copied().unwrap_or(0.0), levels.last().copied().unwrap_or(0.0));
    let way = if (to - from).abs() < NONE {
        "stay the same, at"
    } else if to < from {
        "fall, from"
    } else {
        "rise, from"
    };
    let both_ends = words::number_per_100(from) == words::number_per_100(to);
    let numbers = match both_ends {
        true => format!("{} in 100 passes at both ends", words::per_100(from)),
        false => format!("{} to {} in 100 passes", words::per_100(from), words::number_per_100(to)),
    };
    let claimed = if falls { "fall" } else { "rise" };
    format!(
        "between a {} of {first} and of {last} strikes {} {numbers}; {}from end to end they {claimed} in {}, by {} or \
         more in {}, and at every single step in {}",
        side.name,
        if both_ends { way.replace(", from", " a little:") } else { way.to_owned() },
        if r.per_hour.is_some() { "at equal time, " } else { "" },
        words::worlds(r.holds_share),
        words::two_digits(answer.rule.smallest_difference),
        words::worlds(r.matters_share),
        words::worlds(r.steps_share.unwrap_or(0.0)),
    )
}

/// What to do where it cannot be told.
pub fn remedy(answer: &Answer) -> Option<String> {
    match answer.reading.verdict {
        Verdict::CannotTell(Unclear::SimulationNoise) => Some(open(answer)),
        Verdict::CannotTell(Unclear::AssumptionsDisagree) => {
            let strongest = answer.rests_on.carriers.first();
            let what = strongest
                .map_or("what nobody knows about fish".to_owned(), |c| format!("{} ({})", c.name, c.means));
            Some(format!(
                "More computing will not tell: it hangs most on {what}. `callup why` says what finding out is worth."
            ))
        }
        _ => None,
    }
}

/// What to do where only more simulation can tell.
fn open(answer: &Answer) -> String {
    format!(
        "So near nine in ten plausible worlds, or so near no difference, the luck of the simulation leaves the verdict \
         open; more of it may tell: --worlds {} --passes {}.",
        2 * answer.draws,
        4 * answer.points
    )
}

/// Where the rule turns.
pub fn turns(view: &View, answer: &Answer) -> Option<String> {
    let flip = &answer.flip;
    if answer.differences.by_condition.len() < 2 {
        return None;
    }
    let what = match (answer.rule.claim, flip.fails_there) {
        (Claim::More, true) => "turns round",
        (Claim::More, false) => "does point the right way",
        (Claim::Same, true) => "does make a difference",
        (Claim::Same, false) => "makes no difference",
    };
    if flip.share <= 0.0 {
        let never = match (answer.rule.claim, flip.fails_there) {
            (Claim::More, true) => "It turns round nowhere in the conditions claimed.",
            (Claim::More, false) => "It points the right way nowhere in the conditions claimed.",
            (Claim::Same, true) => "It makes a difference nowhere in the conditions claimed.",
            (Claim::Same, false) => "It makes a difference everywhere in the conditions claimed.",
        };
        return Some(never.into());
    }
    if flip.share < SELDOM {
        return Some(format!("It {what} in fewer than 1 in 20 of the conditions tried."));
    }
    let how_often = format!("{} of the conditions tried", in_ten(flip.share));
    if flip.effect_there.abs() < NONE && answer.rule.claim == Claim::More {
        return Some(format!("It {what} in {how_often}, though by next to nothing there."));
    }
    let Some(found) = flip.found.as_ref().filter(|_| flip.is_told()) else {
        let how_much = there(answer);
        return Some(format!("It {what} in {how_often}{how_much}, but nowhere that could be said simply."));
    };
    let parts: Vec<String> =
        found.limits.iter().filter_map(|l| limit(view, &answer.rule.conditions, l)).collect();
    Some(format!(
        "It {what} where {}{}. (That covers {} of the conditions where it does so; of those it covers, {} are right.)",
        words::list(&parts),
        there(answer),
        in_ten(found.coverage),
        in_ten(found.density),
    ))
}

/// "about 3 in 10", "all": of a few dozen conditions no more can be said.
fn in_ten(share: f64) -> String {
    match (10.0 * share).round() as u32 {
        10 if share >= 1.0 => "all".into(),
        10 => "nearly all".into(),
        n => format!("about {} in 10", n.max(1)),
    }
}

/// ", by about 2 in 100 there".
fn there(answer: &Answer) -> String {
    let there = answer.flip.effect_there;
    match answer.rule.claim {
        _ if !there.is_finite() => String::new(),
        Claim::Same => String::new(),
        Claim::More => format!(", by {} in 100 there", words::per_100(there.abs())),
    }
}

/// "Secchi depth is over 2 m", "tint is clay or tea-stained".
fn limit(view: &View, conditions: &[Condition], l: &Limit) -> Option<String> {
    let axis = &conditions.iter().find(|c| c.axis.path == l.name)?.axis;
    let side = Side::of(view, axis);
    if let Some(all) = &side.words {
        let inside: Vec<&str> = all
            .iter()
            .enumerate()
            .filter(|(i, _)| {
                l.low.is_none_or(|low| *i as f64 >= low) && l.high.is_none_or(|high| *i as f64 <= high)
            })
            .map(|(_, w)| w.as_str())
            .collect();
        return Some(format!("{} is {}", side.name, words::either_of(&inside)));
    }
    // The reader's unit by the very conversion of the axis: two values tell the straight line between the units.
    let (kept, shown) = (axis.numbers(), &side.values);
    let (k0, k1) = (*kept.first()?, *kept.last()?);
    let (s0, s1) = (*shown.first()?, *shown.last()?);
    let reader = |x: f64| side.said(s0 + (x - k0) * (s1 - s0) / (k1 - k0));
    let name = &side.name;
    match (l.low, l.high) {
        (Some(low), Some(high)) => Some(format!("{name} is {} to {}", reader(low), reader(high))),
        (Some(low), None) => Some(format!("{name} is over {}", reader(low))),
        (None, Some(high)) => Some(format!("{name} is under {}", reader(high))),
        (None, None) => None,
    }
}

/// The conditions over which it is claimed.
pub fn claimed(view: &View, answer: &Answer) -> String {
    let one = |c: &Condition| {
        let side = Side::of(view, &c.axis);
        match &side.words {
            Some(all) => format!("{} {}", side.name, words::list(all)),
            None => format!("{} {} to {}", side.name, side.said_step(0), side.said_step(side.len() - 1)),
        }
    };
    let conditions: Vec<String> = answer.rule.conditions.iter().map(one).collect();
    let always: Vec<String> = answer
        .rule
        .always
        .iter()
        .map(|p| match p.path.as_str() {
            "box.use" => format!("bait {}", p.value.trim_matches(['[', ']', '"'])),
            path => format!("{path} {}", p.value),
        })
        .collect();
    let varied = if conditions.is_empty() { "one condition".to_owned() } else { conditions.join("; ") };
    format!("Claimed for {varied}. Throughout: {}.", always.join("; "))
}

/// The flag in a cell of a table.
pub fn rests_briefly(c: &Attribution) -> String {
    let flag = match c.flag() {
        Flag::NoDifference => "no difference".to_owned(),
        Flag::Physics => "physics".to_owned(),
        Flag::Mixed => "mixed".to_owned(),
        Flag::Restates(group) => match c.restated() {
            Some(carrier) => format!("restates {}", carrier.name),
            None => format!("restates {}", group.name()),
        },
    };
    let others = c.rests_on_guess().into_iter().filter(|g| c.restated() != Some(g)).count();
    match others {
        0 => flag,
        1 => format!("{flag}, a guess"),
        _ => format!("{flag}, guesses"),
    }
}

/// The box of the sentence on the two sides of a map, in the reader's units; none where no box is told or it has no
/// limit there.
#[cfg(feature = "cli")]
pub(super) fn outline(
    view: &View,
    answer: &Answer,
    map: &crate::study::rules::map::FlipMap,
) -> Option<[(f64, f64); 2]> {
    let found = answer.flip.found.as_ref().filter(|_| answer.flip.is_told())?;
    let on = |c: usize| {
        let axis = &answer.rule.conditions[c].axis;
        let side = Side::of(view, axis);
        let limit = found.limits.iter().find(|l| l.name == axis.path);
        let (kept, shown) = (axis.numbers(), &side.values);
        let straight = |x: f64| match (kept.first(), kept.last(), shown.first(), shown.last()) {
            (Some(k0), Some(k1), Some(s0), Some(s1)) if side.words.is_none() => {
                s0 + (x - k0) * (s1 - s0) / (k1 - k0)
            }
            _ => x,
        };
        // Words stand at whole numbers; a box of words goes round them.
        let half = if side.words.is_some() { 0.5 } else { 0.0 };
        let low = limit.and_then(|l| l.low).map_or(f64::NEG_INFINITY, |v| straight(v) - half);
        let high = limit.and_then(|l| l.high).map_or(f64::INFINITY, |v| straight(v) + half);
        (low, high)
    };
    let ends = map.conditions.map(on);
    ends.iter().any(|e| e.0.is_finite() || e.1.is_finite()).then_some(ends)
}
