//! What a rule rests on: flags of made-up effects, neutral groups in the simulator, real rules with known answers.

mod common;

#[path = "circularity/flags.rs"]
mod flags;
#[path = "circularity/neutral.rs"]
mod neutral;
#[path = "circularity/rules.rs"]
mod rules;
