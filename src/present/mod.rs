//! Answers as tables, words and pictures. No physics, no chance: what comes in is what is shown.
//!
//! A picture is a [`scene::Scene`], a short list of lines, shapes and texts that knows nothing of who
//! draws it: [`svg`] writes it as SVG anywhere, `cli::draw` as PNG. The functions in [`figures`] turn
//! plain numbers and labels, already in the reader's units, into scenes.
#[cfg(feature = "cli")]
pub mod axes;
pub mod columns;
pub mod document;
pub mod escape;
#[cfg(feature = "cli")]
pub mod figures;
pub mod letters;
pub mod palette;
pub mod report;
pub mod scene;
pub mod side;
pub mod svg;
pub mod table;
pub mod text_width;
pub mod view;
pub mod wording;
pub mod words;
