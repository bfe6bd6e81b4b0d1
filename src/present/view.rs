//! What every answer is read beside: what it was asked about, in the reader's units.

use super::words;
use crate::engine::Budget;
use crate::models::Models;
use crate::scenario::{Cast, Clarity, Rain, Scenario, day as calendar};
use crate::study::Context;
use crate::units::UnitSystem;
use crate::world::Prepared;
use serde_json::{Value, json};

/// What every answer is asked about: the scenario, set up, and how much was computed.
#[derive(Debug, Clone, Copy)]
pub struct View<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// The scenario, set up.
    pub prepared: &'a Prepared,
    /// Assumptions.
    pub models: &'a Models,
    /// Seed, draws and points.
    pub budget: Budget,
    /// Units to write in.
    pub units: UnitSystem,
    /// Columns of the terminal.
    pub width: usize,
}

/// Version of the machine output: raised when a key changes its meaning or goes.
pub const SCHEMA: u32 = 1;

/// What a careful person says beside any such answer.
pub const CAUTION: &str = "A model, not a promise. Local rules come first (seasons, closed nests, hook limits, live \
    release), and licensed guides know their water. Leave open water before lightning and strong wind; wear a life \
    jacket, most of all over cold water; mind hooks near eyes; a fish brought up from depth may need help to go \
    down again.";

/// The head of every machine-readable document. What was not simulated has no seed, draws and points (null), what
/// is about no one scenario has none.
pub fn head(command: &str, budget: Option<Budget>, scenario: Value) -> serde_json::Map<String, Value> {
    let head = json!({
        "schema": SCHEMA,
        "version": env!("CARGO_PKG_VERSION"),
        "command": command,
        "seed": budget.map(|b| b.seed),
        "draws": budget.map(|b| if b.fixed { 1 } else { b.worlds }),
        "points": budget.map(|b| b.passes),
        "fixed": budget.map(|b| b.fixed),
        "scenario": scenario,
    });
    match head {
        Value::Object(map) => map,
        _ => serde_json::Map::new(),
    }
}

/// A document about no scenario and without simulation, whose answer stands under `key`.
pub fn plain_document(command: &str, key: &str, answer: Vec<Value>) -> Value {
    let mut document = head(command, None, Value::Null);
    document.insert(key.to_owned(), answer.into());
    document.into()
}

impl<'a> View<'a> {
    /// A view of what a study is asked about.
    pub fn of(on: &Context<'a>, units: UnitSystem, width: usize) -> Self {
        let Context { scenario, prepared, models, budget, .. } = *on;
        Self { scenario, prepared, models, budget: budget.as_run(), units, width }
    }

    /// The head of every machine-readable document.
    pub fn document(&self, command: &str) -> serde_json::Map<String, Value> {
        let scenario = serde_json::to_value(self.scenario).unwrap_or(Value::Null);
        head(command, Some(self.budget), scenario)
    }

    /// Title and conditions, a line each.
    pub fn head(&self) -> Vec<String> {
        std::iter::once(self.scenario.title.clone()).chain(self.condition_lines()).collect()
    }

    /// The same with a line of one's own on time and sky, and words of one's own on clarity.
    pub fn head_under(&self, sky: &str, clarity: Option<&str>) -> Vec<String> {
        std::iter::once(self.scenario.title.clone()).chain(self.lines_under(sky, clarity)).collect()
    }

    /// Hour and sky, water, fish, tackle: a line each.
    pub fn condition_lines(&self) -> [String; 4] {
        let (s, u) = (self.scenario, self.units);
        let rain = match s.sky.rain {
            Rain::None => String::new(),
            other => format!(", {}", other.label()),
        };
        let sky = format!(
            "{} {}, sun {:.0}° {}, {} of the sky clouded, wind {}{rain}",
            s.when.date,
            calendar::clock(s, s.when.unix_s),
            self.prepared.sun.elevation_deg.abs(),
            if self.prepared.sun.elevation_deg < 0.0 { "below the horizon" } else { "high" },
            cloud_tenths(s.sky.cloud),
            u.speed(s.sky.wind_m_s),
        );
        self.lines_under(&sky, None)
    }

    fn lines_under(&self, sky: &str, clarity: Option<&str>) -> [String; 4] {
        let (s, u) = (self.scenario, self.units);
        let clarity = match (clarity, s.water.clarity) {
            (Some(own), _) => own.to_owned(),
            (_, Clarity::Secchi(depth)) => format!("Secchi depth {}", u.length(depth)),
            (_, Clarity::Turbidity(ntu)) => format!("{} NTU", words::two_digits(ntu)),
        };
        let water = format!(
            "{} water, {clarity}, {}, {} deep",
            s.water.tint.label(),
            u.temperature(s.water.temperature_c),
            u.length(s.water.bottom_m),
        );
        let phase = crate::world::prepared::PHASE_NAMES[self.prepared.phase];
        let fish = format!(
            "{} of {} at {} (give or take {}), {phase}, {} fishing pressure, eating {} of {}",
            s.fish.species.label(),
            body_length(u, s.fish.length_m),
            u.length(s.fish.depth_m),
            u.length(s.fish.depth_spread_m),
            if s.fish.pressure.label() == "unfished" { "no" } else { s.fish.pressure.label() },
            s.forage.kind,
            body_length(u, s.forage.length_m),
        );
        let tackle = format!(
            "{} {}, {}, {} with {:.0} % pause, rod tip {} up",
            u.short_length(s.tackle.diameter_m),
            s.tackle.line,
            match s.tackle.cast {
                Cast::LineOut(line_out_m) => format!("{} cast", u.length(line_out_m)),
                Cast::Launch(speed_m_s) =>
                    format!("cast at {} and as far as each bait flies", u.speed(speed_m_s)),
            },
            u.speed(s.tackle.speed_m_s),
            100.0 * s.tackle.pause,
            u.length(s.tackle.rod_tip_m),
        );
        [sky.to_owned(), water, fish, tackle]
    }

    /// The run in one line, so that it can be repeated.
    pub fn run_line(&self) -> String {
        run_line(self.budget)
    }

    /// The note under a picture of simulated passes.
    pub fn note(&self) -> String {
        self.note_on(&format!("{} What nobody knows about fish makes the spread.", self.run_line()))
    }

    /// The note under a picture; `how` says in a sentence what was computed.
    pub fn note_on(&self, how: &str) -> String {
        format!("{}. {how} A model, not a promise.", self.scenario.title.trim_end_matches('.'))
    }
}

/// A run in one line, so that it can be repeated.
pub fn run_line(budget: Budget) -> String {
    if budget.fixed {
        return format!(
            "One world, every assumption at its default; {} passes, seed {}.",
            budget.passes, budget.seed
        );
    }
    format!("{} plausible worlds of {} passes each, seed {}.", budget.worlds, budget.passes, budget.seed)
}

/// The length of a fish: centimetres or inches.
fn body_length(units: UnitSystem, metres: f64) -> String {
    match units {
        UnitSystem::Metric => format!("{:.0} cm", 100.0 * metres),
        UnitSystem::Us => units.short_length(metres),
    }
}

pub(in crate::present) fn cloud_tenths(cloud: f64) -> String {
    match (10.0 * cloud).round() as u32 {
        0 => "none".into(),
        10 => "all".into(),
        tenths => format!("{tenths}/10"),
    }
}

/// An estimate per 100 passes as machine output.
pub fn estimate_json(e: &crate::statistics::estimate::Estimate) -> Value {
    json!({ "median": e.point, "low": e.low, "high": e.high, "simulation_se": e.simulation_se })
}
