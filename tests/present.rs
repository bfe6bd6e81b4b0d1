//! Tables, words and pictures.
#[cfg(feature = "cli")]
mod files;
mod book;
mod pictures;
mod samples;
mod text;
