//! Tables, words and pictures.
#[cfg(feature = "cli")]
mod files;
mod pictures;
mod samples;
mod text;
