//! To be written.
/// x
pub struct Assumed;
