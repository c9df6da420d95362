//! Slips the numbers give away.

use serde::Serialize;

use super::Message;

/// Something that likely happened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct CauseView {
    /// The slip in a few words.
    pub what: String,
    /// Why it would explain the numbers.
    pub why: String,
    /// How to find out.
    pub tell: String,
}

/// A slip: what was seen, what was expected, what likely happened, and how to tell.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct SlipView {
    /// The code, and the field for the reason for going on.
    pub message: Message,
    /// What was expected, and by what.
    pub expected: String,
    /// What likely happened, likeliest first; may be empty.
    pub causes: Vec<CauseView>,
    /// How to tell these apart.
    pub apart: String,
}
