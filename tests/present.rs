//! Tables, words and pictures.
mod book;
#[cfg(feature = "cli")]
mod files;
mod pictures;
mod samples;
mod text;
