//! Tables, words and pictures.
#[cfg(feature = "cli")]
#[path = "present/files.rs"]
mod files;
#[path = "present/pictures.rs"]
mod pictures;
#[path = "present/samples.rs"]
mod samples;
#[path = "present/text.rs"]
mod text;
