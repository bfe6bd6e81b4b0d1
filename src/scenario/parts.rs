//! The two properties of a bait that are chosen from a short list.

use serde::Serialize;

use super::types::labelled;

/// How deep the lip takes a bait.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lip {
    /// A short, steep lip.
    Standard,
    /// A long, flat lip.
    Deep,
}

/// Whether a bait rattles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sound {
    /// Nothing loose inside.
    Silent,
    /// Loose balls inside.
    Rattling,
}

labelled!(Lip { Standard => "standard", Deep => "deep" });
labelled!(Sound { Silent => "silent", Rattling => "rattling" });
