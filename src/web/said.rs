//! The odds of two baits in words. The baits are called A and B, as on the page.

use crate::present::escape::terminal_text;
use crate::present::view::View;
use crate::present::words;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::odds::{BaitOdds, Losses, Odds};
use crate::study::sweep::reading::Difference;
use serde_json::{Value, json};

/// What the baits are called, in order.
const CALLED: [&str; 2] = ["A", "B"];

/// All that is said of the odds.
pub fn odds(view: &View, odds: &Odds, apart: Option<Difference>) -> Value {
    let baits: Vec<Value> = odds
        .baits
        .iter()
        .zip(CALLED)
        .map(|(b, called)| {
            json!({
                "name": terminal_text(&b.name),
                "strikes": words::range_per_100(b.strikes.point, b.strikes.low, b.strikes.high),
                "reach": reach(view, b, called),
                "lost": lost(&b.losses, called),
            })
        })
        .collect();
    json!({
        "title": terminal_text(&view.scenario.title),
        "conditions": view.condition_lines().map(|line| terminal_text(&line)),
        "baits": baits,
        "verdict": apart.map(|d| verdict(d, view.budget.fixed)),
        "run": view.run_line(),
        "luck": luck(view, odds),
    })
}

/// Who leads, and whether it can be told; why not, and what would help.
fn verdict(d: Difference, fixed: bool) -> Value {
    let (ahead, behind) = if d.more.point >= 0.0 { ("A", "B") } else { ("B", "A") };
    let mine = if d.more.point >= 0.0 { d.ahead } else { 1.0 - d.ahead };
    let by = words::difference_per_100(
        d.more.point.abs(),
        if d.more.point >= 0.0 { d.more.low } else { -d.more.high },
        if d.more.point >= 0.0 { d.more.high } else { -d.more.low },
    );
    let in_worlds =
        if fixed { "in this one world".to_owned() } else { format!("in {}", words::worlds(mine)) };
    let (short, long) = if d.told {
        (format!("{ahead} leads"), format!("{ahead} draws {by} than {behind}, and is ahead {in_worlds}."))
    } else if d.more.point.abs() < SMALLEST_DIFFERENCE {
        (
            "No difference that matters".to_owned(),
            format!(
                "In the middle of what is plausible, less than 1 strike in 100 lies between them; {ahead} is ahead \
                 {in_worlds}. Take the one you like."
            ),
        )
    } else {
        (
            "Cannot be told".to_owned(),
            format!(
                "{ahead} draws {by} than {behind}, but is ahead only {in_worlds}: it hangs on what nobody knows about \
                 fish. More computing will not settle it; casts on the water might (callup casts)."
            ),
        )
    };
    json!({ "short": short, "long": long, "leader": d.told.then_some(ahead) })
}

/// Where the bait runs, where the fish hangs, and whether it sees that far.
fn reach(view: &View, bait: &BaitOdds, called: &str) -> String {
    let u = view.units;
    let gap_m = view.prepared.fish_depth_m - bait.running_depth_m;
    let runs = u.length(bait.running_depth_m);
    let range_m = if gap_m >= 0.0 { bait.seen_from.up } else { bait.seen_from.down };
    let way = if gap_m >= 0.0 { "above the fish" } else { "below the fish" };
    let far = u.length(range_m);
    let sight = if u.length_value(range_m).0 < words::UNSEEN {
        "the fish cannot make it out".to_owned()
    } else if range_m < gap_m.abs() {
        format!("the fish would see it from {far}, not far enough")
    } else {
        format!("the fish can see it from {far}")
    };
    format!("{called} runs to {runs}, {} {way}; {sight}.", u.length(gap_m.abs()))
}

/// Where most fish are lost, and what would help.
fn lost(l: &Losses, called: &str) -> String {
    let stages = [
        (l.never_noticed, "never notice it: run it nearer, make it seen further, or slow down"),
        (l.stayed_put, "notice it and stay put: it takes less to climb, a slower bait, or keener fish"),
        (l.turned_away, "come and turn away: give less time to look, or more likeness to the prey"),
    ];
    let most = stages.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    most.map_or(String::new(), |(n, what)| format!("With {called}, {n:.0} of 100 fish {what}."))
}

/// The simulation's own error, apart from what nobody knows.
fn luck(view: &View, odds: &Odds) -> String {
    if view.budget.fixed {
        return "One world only: every assumption at its default.".into();
    }
    let worst = odds.baits.iter().map(|b| b.strikes.simulation_se).fold(0.0, f64::max);
    let size = words::luck(worst);
    format!(
        "The ranges are what nobody knows about fish: nine in ten plausible worlds lie within. The luck of this \
         simulation is apart from that: {size} on a middle value (one standard error), less with more computing."
    )
}
