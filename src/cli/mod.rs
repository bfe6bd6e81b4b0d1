//! To be written.
pub mod draw;
mod raster;
