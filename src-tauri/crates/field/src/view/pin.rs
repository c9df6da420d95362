//! The PIN of whoever works with the phone: set in peace, asked for when a visit is signed.

use serde::{Deserialize, Serialize};

use super::Message;

/// The screen on which a PIN is set, changed and taken off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PinView {
    /// The name of whoever works with the phone.
    pub technician: String,
    /// True where one is set.
    pub is_set: bool,
    /// Where it stands, in a sentence or two.
    pub says: String,
    /// What a PIN is.
    pub rule: String,
    /// What to do where it is forgotten.
    pub forgotten: String,
    /// What came of the last change, or how long to wait before the next try.
    pub message: Option<Message>,
}

/// Who signs, on the last step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct SigningView {
    /// The name of whoever signs.
    pub technician: String,
    /// How that is confirmed, and what the record will say of it.
    pub says: String,
    /// What is asked of them; none where they set no PIN.
    pub pin: Option<PinAsked>,
}

/// The PIN that is asked for before a visit is signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
pub struct PinAsked {
    /// How long to wait before it can be tried; none where it can be tried now.
    pub wait: Option<Message>,
    /// What it means to sign without it, with the field for the reason.
    pub without: Message,
}

/// How it is confirmed who signs a visit.
#[derive(Clone, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
#[serde(tag = "by", rename_all = "snake_case")]
pub enum Confirming {
    /// By nothing: no PIN is set.
    Nothing,
    /// By the PIN.
    Pin {
        /// As typed or pasted.
        pin: String,
    },
    /// By nothing, though a PIN is set. The reason stands in the visit.
    Without,
}

// By hand, so that no log line can ever hold a PIN.
impl std::fmt::Debug for Confirming {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(match self {
            Confirming::Nothing => "Nothing",
            Confirming::Pin { .. } => "Pin",
            Confirming::Without => "Without",
        })
    }
}
