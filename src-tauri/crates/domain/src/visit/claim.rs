//! What a remark claims: which of the things said are alarms.
//!
//! An alarm says that something is wrong. Everything else that is said is none, however loudly: a caution, what is
//! assumed, what the visit chose, what is still wanted, a plain statement such as "not proved". The two are kept apart by
//! type: a warning is not made without its claim, and a doubt has one below, so a new one cannot be forgotten. How often
//! honest visits raise an alarm is what `evidence::alarm` shares out.

use serde::{Deserialize, Serialize};

use super::Doubt;

/// What a remark claims.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Claim {
    /// Nothing is said to be wrong.
    Nothing,
    /// The unit is off by more than it may be. True or false of the unit, however good the evidence.
    UnitOff,
    /// Numbers do not fit each other, or what can be: at least one of them is wrong.
    NumbersWrong,
}

impl Claim {
    /// Tells whether it says that something is wrong.
    #[must_use]
    pub fn is_alarm(self) -> bool {
        self != Claim::Nothing
    }
}

impl Doubt {
    /// Returns what it claims.
    #[must_use]
    pub fn claim(self) -> Claim {
        match self {
            // Seen to differ, or too far apart for honest numbers.
            Doubt::SerialDiffers
            | Doubt::DipsDisagree
            | Doubt::ReferencesDisagree
            | Doubt::RiserUnlike
            | Doubt::CurrentDiffers
            | Doubt::ControlRoomDiffers
            | Doubt::OutsideTank
            | Doubt::HeadUnlikely
            | Doubt::CurrentOutOfBand
            | Doubt::NotPutBack
            | Doubt::RiserShort
            | Doubt::SlipNumbers
            | Doubt::SlipOffset => Claim::NumbersWrong,
            Doubt::TrimMissed | Doubt::CheckOutside => Claim::UnitOff,
            // What a person chose or met: told back with what it costs.
            Doubt::RangeDiffers
            | Doubt::VentBlocked
            | Doubt::TapeOverdue
            | Doubt::LevelMoves
            | Doubt::EmptyByReport
            | Doubt::NotBled
            | Doubt::FarApart
            | Doubt::FlowNotKnown
            | Doubt::FlowChanged
            | Doubt::NoEvidence
            | Doubt::NotConfirmed
            | Doubt::SourceTooPoor => Claim::Nothing,
            // What will be, in another state than today's.
            Doubt::OffWhenHot | Doubt::RiserFlows => Claim::Nothing,
        }
    }
}
