//! What the axes of a sweep may be called, and which value of a scenario each stands for.

use super::AxisError;
use crate::scenario::diagnostic::near;
use crate::scenario::{Cast, Clarity, Scenario, Setting, SettingKind};

/// The path of the clock time, the one text that is swept: as hours.
pub(super) const TIME: &str = "when.time";

/// Plain words for what is asked most, besides the paths themselves and their unique last parts.
pub const WORDS: &[(&str, &str)] = &[
    ("clarity", "water.secchi"),
    ("visibility", "water.secchi"),
    ("stain", "water.tint"),
    ("depth", "fish.depth"),
    ("fish depth", "fish.depth"),
    ("fish length", "fish.length"),
    ("season", "fish.phase"),
    ("hour", TIME),
    ("time", TIME),
    ("clouds", "sky.cloud"),
    ("forage", "forage.length"),
    ("forage length", "forage.length"),
    ("prey", "forage.kind"),
    ("bait length", "bait.length"),
    ("bait size", "bait.length"),
    ("rattle", "bait.sound"),
    ("running depth", "bait.runs"),
    ("line", "tackle.diameter"),
    ("line diameter", "tackle.diameter"),
    ("line material", "tackle.line"),
    ("line strength", "tackle.strength"),
];

/// Whether a value can be an axis: numbers, words, and the time of day.
pub fn sweepable(setting: &Setting) -> bool {
    setting.path == TIME || !matches!(setting.kind, SettingKind::Text)
}

/// Lower case, hyphens and underscores as spaces, no space twice.
fn plain(text: &str) -> String {
    let spaced = text.to_lowercase().replace(['_', '-'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn last_part(path: &str) -> String {
    plain(path.rsplit('.').next().unwrap_or(path))
}

/// The value of a scenario that a name stands for: a path, one of [`WORDS`], or the last part of just one path.
///
/// # Errors
/// A name of nothing, of several things, or of a text that cannot be varied.
pub(crate) fn find<'a>(name: &str, settings: &'a [Setting]) -> Result<&'a Setting, AxisError> {
    let asked = plain(name);
    let by_path = |path: &str| settings.iter().find(|s| s.path == path);
    let word = WORDS.iter().find(|(word, _)| *word == asked);
    let found = settings.iter().find(|s| plain(s.path) == asked).or_else(|| by_path(word?.1));
    let found = match found {
        Some(setting) => setting,
        None => {
            let ending: Vec<&Setting> = settings.iter().filter(|s| last_part(s.path) == asked).collect();
            match ending.as_slice() {
                [one] => *one,
                [] => return Err(unknown(name, settings)),
                several => {
                    return Err(AxisError::Ambiguous {
                        name: name.to_owned(),
                        paths: several.iter().map(|s| s.path.to_owned()).collect(),
                    });
                }
            }
        }
    };
    if sweepable(found) { Ok(found) } else { Err(AxisError::NotSweepable { path: found.path.to_owned() }) }
}

fn unknown(name: &str, settings: &[Setting]) -> AxisError {
    let paths: Vec<&str> = settings.iter().filter(|s| sweepable(s)).map(|s| s.path).collect();
    let asked = plain(name);
    let candidates = WORDS.iter().map(|(word, _)| *word).chain(paths.iter().copied());
    let mut alike: Vec<String> = near(&asked, candidates).iter().map(ToString::to_string).collect();
    // A slip in the last part of a path is far from the whole path.
    for path in &paths {
        if alike.len() < 3
            && !near(&asked, [last_part(path).as_str()]).is_empty()
            && !alike.iter().any(|a| a == path)
        {
            alike.push((*path).to_owned());
        }
    }
    AxisError::Unknown {
        name: name.to_owned(),
        near: alike,
        all: paths.iter().map(ToString::to_string).collect(),
    }
}

/// Where a scenario itself stands on a numeric axis, in the unit kept; the time of day in hours. `None` for words,
/// for what the scenario does not hold, and for properties of baits.
pub fn value_in(scenario: &Scenario, path: &str) -> Option<f64> {
    let s = scenario;
    match path {
        "place.latitude" => Some(s.place.latitude_deg),
        "place.longitude" => Some(s.place.longitude_deg),
        TIME => {
            let t = s.when.time;
            Some(f64::from(t.hour()) + f64::from(t.minute()) / 60.0 + f64::from(t.second()) / 3600.0)
        }
        "sky.cloud" => Some(s.sky.cloud),
        "sky.moon" => Some(s.sky.moon),
        "sky.wind" => Some(s.sky.wind_m_s),
        "water.secchi" => match s.water.clarity {
            Clarity::Secchi(depth_m) => Some(depth_m),
            Clarity::Turbidity(_) => None,
        },
        "water.turbidity" => match s.water.clarity {
            Clarity::Turbidity(ntu) => Some(ntu),
            Clarity::Secchi(_) => None,
        },
        "water.temperature" => Some(s.water.temperature_c),
        "water.bottom" => Some(s.water.bottom_m),
        "fish.length" => Some(s.fish.length_m),
        "fish.depth" => Some(s.fish.depth_m),
        "fish.depth_spread" => Some(s.fish.depth_spread_m),
        "fish.density" => s.fish.density_per_ha,
        "fish.reachable" => s.fish.reachable,
        "forage.length" => Some(s.forage.length_m),
        "tackle.diameter" => Some(s.tackle.diameter_m),
        "tackle.cast" => match s.tackle.cast {
            Cast::LineOut(line_out_m) => Some(line_out_m),
            Cast::Launch(_) => None,
        },
        "tackle.launch" => match s.tackle.cast {
            Cast::Launch(speed_m_s) => Some(speed_m_s),
            Cast::LineOut(_) => None,
        },
        "tackle.speed" => Some(s.tackle.speed_m_s),
        "tackle.pause" => Some(s.tackle.pause),
        "tackle.rod_tip" => Some(s.tackle.rod_tip_m),
        _ => None,
    }
}
