//! What a day holds, in sentences.

use super::small;
use crate::present::answers::Asked;
use crate::present::words;
use crate::scenario::{Clarity, day as calendar};
use crate::statistics::estimate::Estimate;
use crate::study::day::Day;
use crate::study::day::changes::Change;
use crate::study::day::steps::Daylight;
use crate::study::sweep::reading::ENOUGH;

/// Changes of the plan told one by one.
const TOLD: usize = 4;

/// The date with first light and dark, and what is odd about them.
pub(super) fn sun_line(asked: &Asked, day: &Day) -> String {
    let (scenario, times) = (asked.scenario, day.planned.times);
    let said = |what: &str, at: Option<f64>| at.map(|t| format!("{what} {}", calendar::clock(scenario, t)));
    let all: Vec<String> = [
        said("first light", times.civil_dawn_s),
        said("sunrise", times.sunrise_s),
        said("sunset", times.sunset_s),
        said("dark", times.civil_dusk_s),
    ]
    .into_iter()
    .flatten()
    .collect();
    let events = if all.is_empty() { String::new() } else { format!(", {}", all.join(", ")) };
    let odd = match day.planned.daylight {
        Daylight::Ordinary => "",
        Daylight::PastMidnight => "; it gets dark after midnight only",
        Daylight::NoDusk => "; it does not get dark again before midnight, where the plan ends",
        Daylight::NoDawn => "; it is light when the day begins, at midnight",
        Daylight::NeverDark => {
            "; it does not get dark: the plan takes the whole day, from midnight to midnight"
        }
        Daylight::NeverLight => {
            "; first light does not come: the plan takes the whole day, from midnight to midnight, in the dark"
        }
    };
    format!("{} ({}){events}{odd}", scenario.when.date, scenario.place.zone)
}

/// The finding: the plan with one rod, what it draws, what two rods would add.
pub fn headline(day: &Day) -> String {
    let plan = &day.one_rod;
    let e = &plan.strikes;
    let odds = words::range_per_100(e.point, e.low, e.high);
    let told = day.steps.iter().filter(|s| s.told()).count();
    let mut said = format!("With one rod: {}. {} passes end in a strike", course(day), capital(&odds));
    said.push_str(if day.changes.is_empty() { "." } else { ", changes paid for." });
    if day.baits.len() == 1 {
        return said;
    }
    said.push(' ');
    said.push_str(&match (told, day.steps.len()) {
        (0, _) => "At no hour is the best bait told from all the others: what is as good stands in the table, and the \
                   plan is worth little more than your own choice among those."
            .to_owned(),
        (t, n) if t == n => "At every hour the best bait is told from all the others.".to_owned(),
        (t, n) => format!("The best bait is told from all the others at {t} of {n} steps."),
    });
    if let (Some(one), Some(two)) = (day.tied_on.first(), day.tied_on.get(1)) {
        let more = two.plan.mean - one.plan.mean.max(plan.mean);
        said.push_str(&if two.baits.len() == 1 {
            " No hour makes another bait the better one: a second rod adds nothing.".to_owned()
        } else if more < 0.05 {
            " A second rod adds under 0.1 in 100.".to_owned()
        } else {
            format!(" A second rod with the right bait tied on adds {} in 100.", small(more))
        });
    }
    said
}

/// "A all day", "A until 07:00, then B", "A until 07:00, B until 19:30, then A".
pub(super) fn course(day: &Day) -> String {
    let choices = &day.one_rod.choices;
    let name = |s: usize| day.baits[choices[s]].as_str();
    let starts: Vec<usize> = (0..choices.len()).filter(|&s| s == 0 || choices[s] != choices[s - 1]).collect();
    match starts.as_slice() {
        [] => String::new(),
        [only] => format!("{} all day", name(*only)),
        [most @ .., last] => {
            let until: Vec<String> = most
                .iter()
                .zip(&starts[1..])
                .map(|(&s, &next)| format!("{} until {}", name(s), day.steps[next].clock.0))
                .collect();
            format!("{}; then {}", until.join("; "), name(*last))
        }
    }
}

/// How sure the hours of the changes are.
pub(in crate::present) fn changes(asked: &Asked, day: &Day) -> Vec<String> {
    if asked.budget.fixed {
        return Vec::new();
    }
    let mut all: Vec<String> = day.changes.iter().take(TOLD).map(|c| change(asked, day, c)).collect();
    if day.changes.len() > TOLD {
        all.push(format!("The other {} changes are in the machine output.", day.changes.len() - TOLD));
    }
    if day.changes.is_empty() && day.baits.len() > 1 {
        if day.stepwise.choices.windows(2).any(|pair| pair[0] != pair[1]) {
            all.push(
                "The best bait of the hour changes over the day, by less than tying another one on costs."
                    .into(),
            );
        }
        let share = day.changing_worlds;
        let course = if share <= 0.5 * (1.0 - ENOUGH) {
            "the course is sure as far as changing goes"
        } else {
            "whether a change would pay cannot be told: it turns on what nobody knows about fish, not on computing"
        };
        all.push(format!(
            "The plan has no change. A best plan made for one world only would change baits in {}: {course}.",
            words::worlds(share)
        ));
    }
    all
}

fn change(asked: &Asked, day: &Day, c: &Change) -> String {
    let clock = |t: f64| calendar::clock(asked.scenario, t);
    let (from, to) = (day.baits[c.from].as_str(), day.baits[c.to].as_str());
    let tenths = |share: f64| match (10.0 * share).round() as u32 {
        0 if share > 0.0 => "fewer than 1".to_owned(),
        n => n.to_string(),
    };
    let worlds = format!(
        "Of ten plausible worlds about {} make one change pay, {} keep the first throughout, and {} use the second from \
         the beginning",
        tenths(c.pays_in),
        tenths(c.stays_in),
        tenths(c.sooner_in)
    );
    let Some([early, middle, late]) = c.pays_at_s.filter(|_| c.pays_in >= ENOUGH) else {
        return format!(
            "Whether to change from {from} to {to} at about {} cannot be told. {worlds}: it turns on what nobody knows \
             about fish, and more computing will not settle it.",
            clock(c.unix_s)
        );
    };
    let when = if clock(early) == clock(late) {
        format!("at {} in nine of ten of those", clock(middle))
    } else {
        format!(
            "between {} and {} in nine of ten of those, at {} in the middle one",
            clock(early),
            clock(late),
            clock(middle)
        )
    };
    format!("The change from {from} to {to} at {}: {worlds}. It pays {when}.", clock(c.unix_s))
}

/// What the tables do not say by themselves.
pub(in crate::present) fn notes(asked: &Asked, day: &Day) -> Vec<String> {
    let mut notes = vec![held(asked, day)];
    notes.extend(by_the_hour(asked));
    if !day.idle_rows.is_empty() {
        let rows = words::list(&day.idle_rows);
        notes.push(format!(
            "The hourly rows of {rows} lie outside the part of the day planned and act on nothing."
        ));
    }
    let as_good = if asked.budget.fixed {
        "As good: within 1 in 100 of the best."
    } else {
        "Best and plan go by the mean over plausible worlds, since strikes add up over the day; the odds shown are the \
         middle and nine in ten of the worlds. As good: within 1 in 100 of the best, or not behind it in at least six \
         worlds in ten."
    };
    notes.push(format!(
        "{as_good} Fewer: than with every bait at hand on a rod of its own; with several rods changing costs nothing."
    ));
    notes.push(pace(asked, day));
    if !asked.budget.fixed {
        notes.push(format!(
            "Knowing beforehand which of the worlds is the true one would add {} in 100 to the plan with one rod: that is \
             what finding out about fish is worth at most.",
            small(day.knowing_adds.max(0.0))
        ));
        let worst = day.steps.iter().flat_map(|s| &s.strikes).map(|e| e.simulation_se).fold(0.0, f64::max);
        notes.push(format!(
            "The ranges are what nobody knows about fish. The luck of this simulation adds {} to a middle value at most \
             (one standard error); --draws and --points shrink it. {} The same worlds and passes at every hour.",
            if worst < 0.1 { "under 0.1".to_owned() } else { format!("{worst:.1}") },
            asked.run_line()
        ));
    } else {
        notes.push(asked.run_line());
    }
    notes
}

fn held(asked: &Asked, day: &Day) -> String {
    let dark =
        if day.planned.daylight == Daylight::NeverLight { " The sun stays too low for light." } else { "" };
    let table = if asked.scenario.hours.is_empty() {
        "Only the sun and its light change over this day"
    } else {
        "Only the sun, its light, and what the hourly table says change over this day"
    };
    format!("{table}; all else stays as the scenario says, also the depth and the mood of the fish.{dark}")
}

/// The hourly table in words.
fn by_the_hour(asked: &Asked) -> Option<String> {
    let (scenario, u) = (asked.scenario, asked.units);
    let pairs = scenario.hours.windows(2).map(|pair| {
        let (a, b) = (&pair[0], &pair[1]);
        let mut says = Vec::new();
        if a.sky.cloud != b.sky.cloud {
            says.push(format!("cloud {}", super::cloud_tenths(b.sky.cloud)));
        }
        if a.sky.wind_m_s != b.sky.wind_m_s {
            says.push(format!("wind {}", u.speed(b.sky.wind_m_s)));
        }
        if a.sky.rain != b.sky.rain {
            says.push(format!("rain: {}", b.sky.rain.label()));
        }
        if a.clarity != b.clarity {
            says.push(match b.clarity {
                Clarity::Secchi(depth) => format!("Secchi depth {}", u.length(depth)),
                Clarity::Turbidity(ntu) => format!("{} NTU", words::two_digits(ntu)),
            });
        }
        let what = if says.is_empty() { "as before".to_owned() } else { says.join(", ") };
        format!("from {} {what}", calendar::clock(scenario, b.unix_s))
    });
    let all: Vec<String> = pairs.collect();
    (!all.is_empty()).then(|| format!("By the hour: {}.", all.join("; ")))
}

/// Casts and strikes of the day.
fn pace(asked: &Asked, day: &Day) -> String {
    let casts: f64 = day.steps.iter().map(|s| s.casts).sum();
    let hours = casts / day.casts_per_hour;
    let e = &day.one_rod.strikes;
    let retrieve_s = crate::study::pace::mean_cast_m(asked.setting) / asked.setting.mean_speed_m_s;
    let usual = crate::study::day::usual_pace(asked.setting);
    let between_s = asked.setting.between_casts_s;
    let why = if (usual - day.casts_per_hour).abs() < 1e-9 {
        format!(
            " ({retrieve_s:.0} s for a retrieve on this tackle and {between_s:.0} s between two, common practice; \
             --casts sets it)"
        )
    } else {
        " (as given)".into()
    };
    let over_day = |e: &Estimate, factor: f64| {
        let count = |strikes: f64| words::two_digits(factor * strikes);
        if e.low == e.high {
            return count(e.point);
        }
        format!("{} ({} to {})", count(e.point), count(e.low), count(e.high))
    };
    let strikes = match (day.passes_per_cast, &day.strikes_with_one_rod) {
        (Some(passes), Some(caught)) => format!(
            "With the density of fish given a cast passes {} such fish on average: {} strikes over the day",
            words::two_digits(passes),
            over_day(caught, 1.0)
        ),
        _ => format!(
            "How many pass a fish nobody said (fish.density); if each passed one such fish, the plan would draw {} \
             strikes, {} an hour",
            over_day(e, casts / 100.0),
            words::two_digits(day.casts_per_hour * e.point / 100.0)
        ),
    };
    let changes = match day.changes.len() {
        0 => String::new(),
        n => format!(
            " The {} of the plan cost {} in 100.",
            words::count(n, "change", "changes"),
            small(n as f64 * day.change_cost)
        ),
    };
    format!(
        "{:.0} casts an hour{why}, {} in {hours:.1} hours. {strikes}.{changes}",
        day.casts_per_hour,
        words::two_digits(casts)
    )
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
