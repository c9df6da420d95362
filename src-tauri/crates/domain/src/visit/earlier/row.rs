//! One earlier visit, as a register row lists it.

use serde::{Deserialize, Serialize};

/// An earlier visit. Texts as people write them, as everywhere in a register row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct Earlier {
    /// The day (`2025-11-20`).
    pub date: String,
    /// The total offset that the day's evidence called for, whether the unit was trimmed to it or not: a pressure
    /// (`-93.52 kPa`), or a height of the liquid (`-9.56 m`); empty when it did not follow.
    #[serde(default)]
    pub offset: String,
    /// The liquid's density that day, with unit; needed beside an offset.
    #[serde(default)]
    pub density: String,
    /// Gravity used that day, in m/s2 (number alone); the site's own when empty.
    #[serde(default)]
    pub gravity: String,
    /// Expanded uncertainty (95 %) of the offset: a pressure or a height; needed beside an offset.
    #[serde(default)]
    pub uncertainty: String,
    /// The total offset that the unit was left with, as `offset` is written; empty when unknown.
    #[serde(default)]
    pub left: String,
    /// The error as found, in level, with its sign; empty when it was not judged.
    #[serde(default)]
    pub error: String,
    /// The tolerance it was judged by; the row's own when empty.
    #[serde(default)]
    pub tolerance: String,
    /// Serial number of the unit; empty when unknown.
    #[serde(default)]
    pub serial: String,
    /// What it rested on most: `known_empty`, `dip`, `drop`, `riser`, `vented`; empty when unknown.
    #[serde(default)]
    pub by: String,
    /// The dip tape used, as its `id` in the row's list.
    #[serde(default)]
    pub tape: String,
    /// True where the transmitter was moved or mounted anew before this visit.
    #[serde(default)]
    pub moved: bool,
}
