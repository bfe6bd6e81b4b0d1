//! Learning from a log of casts.
pub mod counts;
pub mod matrix;
pub mod sampler;
pub mod surrogate;
