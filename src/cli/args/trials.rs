//! What may be typed behind `callup trials`.

use clap::Args;
use std::path::PathBuf;

/// `trials`.
#[derive(Debug, Args)]
#[command(after_help = TRIALS_AFTER)]
pub struct Trials {
    /// Trials by their short names, or files of your own; all embedded ones without any
    #[arg(value_name = "ID|FILE")]
    pub trials: Vec<String>,
    /// List the trials and stop
    #[arg(long)]
    pub list: bool,
    /// Print an embedded trial, to write your own from, and stop
    #[arg(long)]
    pub template: bool,
    /// Write the pictures (PNG and SVG) into this folder
    #[arg(long, value_name = "DIR")]
    pub plot: Option<PathBuf>,
}

const TRIALS_AFTER: &str = "A measurement of your own: `callup trials --template > mine.toml`, change what it says, then \
    `callup trials mine.toml`. Under [world] stands what a scenario could say, under [setup] the rest (light at the eye, \
    target, arena ...), in each [[row]] a condition and the number measured there.";
