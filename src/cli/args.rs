//! What may be typed.

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
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(8..=65_536))]
    pub draws: Option<u32>,
    /// Passes to simulate in each world (rounded up to 64 times a power of two); 512 where the command does not say
    /// otherwise
    #[arg(long, global = true, value_name = "N", value_parser = clap::value_parser!(u32).range(64..=65_536))]
    pub points: Option<u32>,
    /// Put a scenario value in place of the file's, as in `--set water.secchi="2 m"`; repeatable
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
    /// How deep each bait runs on this tackle, and what tackle reaches a wanted depth
    Depth(Depth),
    /// Light by hour and depth, and how far each finish is seen up, level and down
    Light(Light),
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
    :12log to settle it. Hours: --over hour=5..20:16. Unless --draws and --points are given, one axis takes 128 worlds \
    of 128 passes and two take 64 of 64.";

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
    condition on it is dropped: --set fish.pressure=heavy asks about fish that are fished for hard. Unless --draws and \
    --points are given, 256 worlds of 64 passes in each of 64 conditions, and more of both for a rule \
    that those leave open.";

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

/// `light`.
#[derive(Debug, Args)]
pub struct Light {
    /// Scenario file or embedded name
    pub scenario: Option<String>,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

/// `assumptions`.
#[derive(Debug, Args)]
pub struct Assumptions {
    /// Part of a name, a meaning or a group; one match is shown in full
    pub name: Option<String>,
    /// Only this grade
    #[arg(long, value_enum)]
    pub grade: Option<GradeArg>,
}

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
