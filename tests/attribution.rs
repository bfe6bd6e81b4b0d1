//! What a rule rests on: flags of made-up effects, neutral groups in the simulator, real rules with known answers.

mod ablation;
mod flags;
mod rules;
