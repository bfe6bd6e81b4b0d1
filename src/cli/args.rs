//! What may be typed.

mod trials;

pub use trials::Trials;

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// How likely a suspended bass is to come up for a twitched minnow bait, why, and how sure one can be.
#[derive(Debug, Parser)]
#[command(name = "callup", version, about, help_expected = true, after_help = AFTER)]
pub struct Cli {
    /// What to ask; nothing runs the embedded example.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Options of every command.
    #[command(flatten)]
    pub shared: Shared,
}

const AFTER: &str = "A SCENARIO is a file, or the name of an embedded one (see `callup odds --list`). Without one \
    the default is used. Results go to standard output, everything else to standard error. Exit status: 0 done, \
    1 failure, 2 input that cannot be used.";

/// Options of every command.
#[derive(Debug, Args)]
pub struct Shared {
    /// Machine output: one JSON document
    #[arg(long, global = true, conflicts_with = "csv")]
    pub json: bool,
    /// Machine output: comma-separated values
    #[arg(long, global = true)]
    pub csv: bool,
    /// Seed of the simulation; the same seed gives the same bits
    #[arg(long, global = true, default_value_t = 1, value_name = "N")]
    pub seed: u64,
    /// Plausible worlds to draw (rounded up to 8 times a power of two); 256 where the command does not say otherwise
    #[arg(long, alias = "draws", global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(8..=65_536))]
    pub worlds: Option<u32>,
    /// Passes to simulate in each world (rounded up to 64 times a power of two); 512 where the command does not say
    /// otherwise
    #[arg(long, alias = "points", global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(64..=65_536))]
    pub passes: Option<u32>,
    /// Override a scenario value in place of the file's, as in `--set water.secchi="2 m"`; repeatable
    #[arg(long, global = true, value_name = "PATH=VALUE")]
    pub set: Vec<String>,
    /// Units to write in
    #[arg(long, global = true, value_enum, default_value_t = Units::Metric)]
    pub units: Units,
    /// One world with every assumption at its default, instead of drawing them
    #[arg(long, global = true)]
    pub fixed: bool,
    /// An assumption file laid over the embedded ones; repeatable
    #[arg(long, global = true, value_name = "FILE")]
    pub model: Vec<PathBuf>,
    /// No colour (as the environment variable NO_COLOR)
    #[arg(long, global = true)]
    pub no_color: bool,
}

/// Units to write in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Metres, millimetres, degrees Celsius.
    Metric,
    /// Feet, inches, degrees Fahrenheit.
    Us,
}

/// What can be asked.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Strikes per 100 passes for every bait in the box, ties as ties, where fish are lost
    Odds(Odds),
    /// One or two conditions, or properties of baits, varied: which bait leads where, and where it cannot be told
    Sweep(Sweep),
    /// Each rule of thumb: does it hold, where does it turn, what does it rest on
    Rules(Rules),
    /// From first light to dark: what to throw when, when to change, what to have tied on
    Day(Day),
    /// The best few baits to carry over several scenarios or a spread of conditions, and what fewer cost
    Pack(Pack),
    /// How deep each bait runs on this tackle, and what tackle reaches a wanted depth
    Depth(Depth),
    /// Light by hour and depth, and how far each finish is seen up, level and down
    Light(Light),
    /// Which unknowns drive the answer, and what finding out would be worth
    Why(Why),
    /// How many casts tell two baits (or two rates) apart, and what a number of casts could at most show
    Casts(Casts),
    /// What a log of casts says about the unknowns, and what it does not
    Learn(Learn),
    /// Measurements published by others, each run in the model as it was run in the world: agreements and misses
    Trials(Trials),
    /// One self-contained HTML page: answer, pictures, what it rests on, sources, cautions
    Report(Report),
    /// The live page: the simulator itself with sliders, in one file that works without a network
    Page(Page),
    /// Every assumption: value, range, unit, grade, source
    Assumptions(Assumptions),
    /// The closed-form checks, worked on this machine
    Selfcheck,
    /// A commented scenario to start from
    New(New),
    /// A completion script for a shell
    Completions(Completions),
    /// The manual page, in roff
    Man,
}

/// `odds`.
#[derive(Debug, Default, Args)]
pub struct Odds {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
    /// List the embedded scenarios and stop
    #[arg(long)]
    pub list: bool,
}

/// `sweep`.
#[derive(Debug, Args)]
#[command(after_help = SWEEP_AFTER)]
pub struct Sweep {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// What to vary, once or twice: `NAME=FROM..TO`, `NAME=FROM..TO:STEPS`, `NAME=a,b,c`, `NAME=all` or `NAME`
    #[arg(long, value_name = "NAME=FROM..TO[:STEPS]", required = true)]
    pub over: Vec<String>,
    /// Only these baits, each by its name or a part that no other has; repeatable
    #[arg(long, value_name = "NAME", num_args = 1..)]
    pub baits: Vec<String>,
    /// A bait to compare the best of the others with: the difference map
    #[arg(long, value_name = "NAME")]
    pub against: Option<String>,
    /// Equal ratios between steps wherever they are possible
    #[arg(long)]
    pub log: bool,
    /// Keep what was worked out in this file, also when stopped with Ctrl-C
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Go on with a sweep kept in this file, to the same bits as without the stop; keeps the rest there too
    #[arg(long, value_name = "FILE")]
    pub resume: Option<PathBuf>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const SWEEP_AFTER: &str = "NAME is a path of the scenario (water.secchi, bait.finish ...) or a plain word: clarity, tint, \
    depth, hour, cloud, wind, temperature, phase, pressure, forage, bait length, finish, rattle, lip, line, cast, pause, \
    rod tip, speed ... A wrong name is answered with the list. Quantities carry units, which one end may leave to the \
    other: --over clarity=0.5..6m:12. Ranges over a factor of eight or more are cut into equal ratios; write :12lin or \
    :12log to settle it. Hours: --over hour=5..20:16. Unless --worlds and --passes are given, one axis takes 128 worlds \
    of 128 passes and two take 64 of 64.";

/// `casts`.
#[derive(Debug, Args)]
#[command(after_help = CASTS_AFTER)]
pub struct Casts {
    /// A bait of the box, by its name or a part that no other has, or a rate: 7%, "7 in 100", 0.07
    pub a: String,
    /// The other bait, or the other rate
    pub b: String,
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// Say what so many casts of each could at most show
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub casts: Option<u32>,
    /// Chance of telling the two apart if they differ so much
    #[arg(long, value_name = "SHARE", default_value_t = 0.8)]
    pub power: f64,
    /// Chance of telling them apart if they are alike
    #[arg(long, value_name = "SHARE", default_value_t = 0.05)]
    pub alpha: f64,
    /// Casts an hour; worked out from cast and speed where there are baits, else 40 (common practice, no source)
    #[arg(long, value_name = "N")]
    pub pace: Option<f64>,
    /// Hours of fishing in a season; else 100 (common practice, no source)
    #[arg(long, value_name = "N")]
    pub hours: Option<f64>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const CASTS_AFTER: &str = "Between two baits the odds are the model's, in passes near such a fish; in casts where the \
    scenario gives a density of fish (--set fish.density=\"30 per ha\"). Two rates are taken as strikes per cast, as you \
    give them, and nothing is simulated.";

/// `rules`.
#[derive(Debug, Args)]
#[command(after_help = RULES_AFTER)]
pub struct Rules {
    /// A rule file of your own; the embedded rules without one
    pub file: Option<PathBuf>,
    /// Only this rule, by its short name; repeatable
    #[arg(long, value_name = "NAME")]
    pub rule: Vec<String>,
    /// Scenario file or embedded name that the rules start from: what they do not name is as there
    #[arg(long, value_name = "SCENARIO")]
    pub scenario: Option<String>,
    /// List the rules and stop
    #[arg(long)]
    pub list: bool,
    /// Print the embedded rule file, explained, to write your own from, and stop
    #[arg(long)]
    pub template: bool,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const RULES_AFTER: &str = "Your own rules: `callup rules --template > my-rules.toml`, keep and change what you like, then \
    `callup rules my-rules.toml`. A value given with --set holds in every rule that does not settle it itself, and a \
    condition on it is dropped: --set fish.pressure=heavy asks about fish that are fished for hard. Unless --worlds and \
    --passes are given, 256 worlds of 64 passes in each of 64 conditions, and more of both for a rule \
    that those leave open.";

/// `why`.
#[derive(Debug, Args)]
#[command(after_help = WHY_AFTER)]
pub struct Why {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// The two baits to compare, each by its name or a part that no other has; the two that strike most if not given
    #[arg(long, value_names = ["BAIT", "BAIT"], num_args = 2)]
    pub baits: Vec<String>,
    /// Write the picture (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const WHY_AFTER: &str = "Unless --worlds and --passes are given, 1024 rows of the design in 8 scrambles, 256 passes at each \
    point. Four times the worlds halve the error of a share. Ctrl-C ends the work with what is known so far.";

/// `day`.
#[derive(Debug, Args)]
#[command(after_help = DAY_AFTER)]
pub struct Day {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// Length of a step, 5min to 4h
    #[arg(long, value_name = "TIME", default_value = "30min", value_parser = duration_s, allow_hyphen_values = true)]
    pub step: f64,
    /// Fishing time lost by tying on another bait
    #[arg(long, value_name = "TIME", default_value = "5min", value_parser = duration_s, allow_hyphen_values = true)]
    pub change: f64,
    /// Casts in an hour; worked out from cast, speed and pause where not given
    #[arg(long, value_name = "N")]
    pub casts: Option<f64>,
    /// Write the picture (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const DAY_AFTER: &str = "Sky and clarity may change over the day: rows [[hour]] in the scenario (see `callup new`), or \
    --set hour.cloud=\"09:00 0.2; 13:00 0.8\", and likewise hour.wind, hour.rain, hour.secchi, hour.turbidity. Unless \
    --worlds and --passes are given, 256 worlds of 256 passes.";

/// "30min", "1.5 h", "90 s" in seconds.
fn duration_s(text: &str) -> Result<f64, String> {
    let at = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, unit) = (text[..at].trim(), text[at..].trim());
    let unit_s = match unit {
        "s" | "sec" => 1.0,
        "min" | "m" => 60.0,
        "h" | "hr" => 3600.0,
        _ => return Err("write a number and s, min or h, as in 30min".into()),
    };
    match number.parse::<f64>() {
        Ok(n) if n.is_finite() && n >= 0.0 => Ok(n * unit_s),
        _ => Err("write a number and s, min or h, as in 30min".into()),
    }
}

/// `depth`.
#[derive(Debug, Args)]
pub struct Depth {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// A depth to reach, as in "3 m": which line, cast or rod tip takes each bait there
    #[arg(long, value_name = "DEPTH")]
    pub to: Option<String>,
    /// Write the picture (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

/// `learn`.
#[derive(Debug, Args)]
#[command(after_help = LEARN_AFTER)]
pub struct Learn {
    /// The log, a table as text (CSV)
    pub log: PathBuf,
    /// Scenario file or embedded name: what the log's columns leave open, and the box whose odds are told
    pub scenario: Option<String>,
    /// Passes near such a fish in one cast where you know them, as in `0.8`, or `0.5..1.5` (nine chances in ten)
    #[arg(long, value_name = "N or FROM..TO")]
    pub passes_per_cast: Option<String>,
    /// Write what was learnt as an assumption file, for --model of every command
    #[arg(long, value_name = "FILE")]
    pub save: Option<PathBuf>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const LEARN_AFTER: &str = "The first line of the log names the columns, in any order: date, bait, casts and strikes must be \
    there; time, and whatever else of the scenario varied, may: by its path (water.secchi) or plain word (clarity, depth, \
    wind ...), with the unit in the heading, \"clarity (m)\", or behind each value. Dates are year-month-day. Names with \
    commas stand in quotes. Lines that begin with # are passed over, other columns are ignored by name. Unless --worlds and \
    --passes are given, 512 to 4096 worlds (fewer for logs with many conditions) of 128 passes are drawn, and as many \
    again where the log points. Exit status 1 where the fit is not to be trusted.";

/// `light`.
#[derive(Debug, Args)]
pub struct Light {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

/// `report`.
#[derive(Debug, Args)]
pub struct Report {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// The HTML file to write; an earlier report is written over, nothing else is
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
}

/// `pack`.
#[derive(Debug, Args)]
#[command(after_help = PACK_AFTER)]
pub struct Pack {
    /// Scenario files or embedded names, each with a weight if it counts more than once: `NAME` or `NAME=WEIGHT`
    pub scenarios: Vec<String>,
    /// Baits to carry
    #[arg(long, value_name = "N", default_value_t = 3)]
    pub carry: usize,
    /// A spread of conditions, repeatable: `NAME=FROM..TO`, `NAME=a,b,c`, `NAME=all` or `NAME`, as in sweep
    #[arg(long, value_name = "NAME=FROM..TO")]
    pub over: Vec<String>,
    /// Weights of the scenarios in their order, instead of NAME=WEIGHT: `2,1,1`
    #[arg(long, value_name = "W,W,...")]
    pub weights: Option<String>,
    /// Conditions drawn from the spread, over all scenarios together
    #[arg(long, value_name = "N", default_value_t = 64, value_parser = clap::value_parser!(u32).range(4..=1024))]
    pub conditions: u32,
    /// Write the picture (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const PACK_AFTER: &str = "Candidates are all baits of all the boxes, each once; what is carried is carried everywhere, and \
    the best of it thrown in each condition. A spread is drawn evenly (scrambled Sobol points), from every scenario given. \
    With one scenario and no --over the spread is clarity from half to twice, fish depth from half to one and a half \
    times, any cloud. Unless --worlds and --passes are given, 256 worlds of 128 passes.";

/// `page`.
#[derive(Debug, Args)]
pub struct Page {
    /// Scenario file or embedded name to begin with
    pub scenario: Option<String>,
    /// File to write
    #[arg(short, long, value_name = "FILE.html")]
    pub output: PathBuf,
    /// A page built with src/web/build.sh, where the program carries none or another is wanted
    #[arg(long, value_name = "FILE")]
    pub from: Option<PathBuf>,
}

/// `assumptions`.
#[derive(Debug, Args)]
#[command(after_help = ASSUMPTIONS_AFTER)]
pub struct Assumptions {
    /// Part of a name, a meaning or a group; one match is shown in full
    pub name: Option<String>,
    /// Only this grade
    #[arg(long, value_enum)]
    pub grade: Option<GradeArg>,
    /// What to find out first: in the order in which knowing it would narrow the odds and better the choice of bait
    /// over the embedded waters, each with the experiment that would settle it
    #[arg(long, conflicts_with_all = ["name", "grade"])]
    pub by_worth: bool,
    /// With --by-worth: all of them, not the first fifteen (--json and --csv always hold all)
    #[arg(long, requires = "by_worth")]
    pub all: bool,
    /// With --by-worth: write the picture (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR", requires = "by_worth")]
    pub plot: Option<PathBuf>,
}

const ASSUMPTIONS_AFTER: &str = "--by-worth works like `callup why` in every embedded water (`callup odds --list`): unless \
    --worlds and --passes are given, 512 rows of the design in 8 scrambles and 128 passes at each point, in each water. \
    --set holds in all of them. It takes under a minute on two cores; Ctrl-C ends it with the waters that are finished.";

/// Grades of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum GradeArg {
    /// Measured on black bass, or a property of water or light.
    Measured,
    /// Follows from measurements of something near.
    Inferred,
    /// What those who do it say, without a source.
    CommonPractice,
    /// An estimate of ours.
    Guess,
}

/// `new`.
#[derive(Debug, Args)]
pub struct New {
    /// File to write; it must not exist yet
    pub file: PathBuf,
}

/// `completions`.
#[derive(Debug, Args)]
pub struct Completions {
    /// Shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn every_word_is_explained() {
        super::Cli::command().debug_assert();
    }
}
