//! What the tool says to the person: assumptions, warnings, refusals, cautions.

use serde::{Deserialize, Serialize};

use super::{Claim, Key, Said, Spot};

/// How grave a remark is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// Good to know, or assumed.
    Note,
    /// Doubtful: goes on, with a reason.
    Warning,
    /// Cannot go on like this.
    Refusal,
    /// Can hurt someone.
    Danger,
}

/// One thing said, and what to do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Remark {
    /// A stable word for it, such as `vent.blocked`.
    pub code: String,
    /// How grave.
    pub grade: Grade,
    /// What it claims: whether it is an alarm.
    pub claim: Claim,
    /// The sentence.
    pub text: String,
    /// What to do next; empty when the sentence says it.
    pub remedy: String,
    /// The number under which a reason for going on is kept (the row of [`Key::WarningReason`]); 0 for none.
    pub reason_row: u32,
}

impl Remark {
    /// Returns something good to know.
    pub fn note(code: &str, text: impl Into<String>) -> Remark {
        Remark::new(Grade::Note, Claim::Nothing, code, text, "")
    }

    /// Returns a warning that takes no reason, with what it claims.
    pub fn warning(claim: Claim, code: &str, text: impl Into<String>, remedy: impl Into<String>) -> Remark {
        Remark::new(Grade::Warning, claim, code, text, remedy)
    }

    /// Returns a warning past which one goes on with a reason.
    pub fn doubt(doubt: Doubt, text: impl Into<String>, remedy: impl Into<String>) -> Remark {
        let said = Remark::new(Grade::Warning, doubt.claim(), doubt.code(), text, remedy);
        Remark { reason_row: doubt.row(), ..said }
    }

    /// Returns something that cannot go on: missing, not settled, not allowed. A number that cannot be is
    /// [`Remark::impossible`].
    pub fn refusal(code: &str, text: impl Into<String>, remedy: impl Into<String>) -> Remark {
        Remark::new(Grade::Refusal, Claim::Nothing, code, text, remedy)
    }

    /// Returns a refusal of numbers that cannot be.
    pub fn impossible(code: &str, text: impl Into<String>, remedy: impl Into<String>) -> Remark {
        Remark::new(Grade::Refusal, Claim::NumbersWrong, code, text, remedy)
    }

    /// Returns a caution.
    pub fn danger(code: &str, text: impl Into<String>, remedy: impl Into<String>) -> Remark {
        Remark::new(Grade::Danger, Claim::Nothing, code, text, remedy)
    }

    fn new(
        grade: Grade,
        claim: Claim,
        code: &str,
        text: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Remark {
        Remark { code: code.into(), grade, claim, text: text.into(), remedy: remedy.into(), reason_row: 0 }
    }

    /// Returns where the reason for going on is given, if one is wanted.
    #[must_use]
    pub fn reason_spot(&self) -> Option<Spot> {
        (self.reason_row > 0).then(|| Spot::row(Key::WarningReason, self.reason_row))
    }

    /// Returns it as records keep it.
    #[must_use]
    pub fn said(&self) -> Said {
        let text =
            if self.remedy.is_empty() { self.text.clone() } else { format!("{} {}", self.text, self.remedy) };
        Said { code: self.code.clone(), text }
    }
}

macro_rules! doubts {
    ($($(#[$doc:meta])* $name:ident = $row:literal, $code:literal;)*) => {
        /// Doubtful input that takes a reason. The rows are frozen: signed records hold the reasons under them.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Doubt { $($(#[$doc])* $name,)* }

        impl Doubt {
            /// Every doubt there is.
            pub const ALL: &'static [Doubt] = &[$(Doubt::$name,)*];

            /// Returns the row its reason is kept under.
            #[must_use]
            pub fn row(self) -> u32 { match self { $(Doubt::$name => $row,)* } }

            /// Returns its stable word.
            #[must_use]
            pub fn code(self) -> &'static str { match self { $(Doubt::$name => $code,)* } }
        }
    };
}

doubts! {
    /// The serial on the plate is not the register's.
    SerialDiffers = 1, "plate.serial_differs";
    /// The range on the plate is not the register's.
    RangeDiffers = 2, "plate.range_differs";
    /// The vent path is blocked or wet.
    VentBlocked = 3, "vent.blocked";
    /// The tape's check is overdue.
    TapeOverdue = 4, "tape.overdue";
    /// The level moves while it is being measured.
    LevelMoves = 5, "level.moves";
    /// The dips do not agree among themselves.
    DipsDisagree = 6, "dips.disagree";
    /// Two references disagree.
    ReferencesDisagree = 7, "references.disagree";
    /// The tank is called empty on somebody's word.
    EmptyByReport = 8, "empty.by_report";
    /// The evidence implied a standing head unlike the register's. Records hold it; said now as [`Doubt::SlipNumbers`].
    RiserUnlike = 9, "riser.unlike_register";
    /// The current and the display tell different levels.
    CurrentDiffers = 10, "current.differs";
    /// The control room sees another level than the loop carries.
    ControlRoomDiffers = 11, "control_room.differs";
    /// The line was not bled.
    NotBled = 12, "line.not_bled";
    /// The reading and the dip lie far apart in time.
    FarApart = 13, "times.far_apart";
    /// What was typed is outside what the tank can hold.
    OutsideTank = 14, "level.outside_tank";
    /// The display after the trim is not what it was to be.
    TrimMissed = 15, "trim.missed";
    /// Where the standing head is taken out does not fit the numbers.
    HeadUnlikely = 16, "head.unlikely";
    /// The current lies outside the measuring band.
    CurrentOutOfBand = 17, "current.out_of_band";
    /// No reference was taken at all.
    NoEvidence = 18, "evidence.none";
    /// Put back, the display is not where it was found.
    NotPutBack = 19, "put_back.differs";
    /// Set in today's state, the unit is off by more than its tolerance when the vessel is at work.
    OffWhenHot = 20, "mounting.off_when_hot";
    /// The five-point check as left is outside tolerance.
    CheckOutside = 25, "five_point.left_outside";
    /// The pressure source is not four times better than the tolerance.
    SourceTooPoor = 26, "five_point.source";
    /// The numbers of the evidence do not fit each other, and a slip would explain it.
    SlipNumbers = 30, "slip.numbers";
    /// The offset on the unit has the wrong sign, stands twice or is missing.
    SlipOffset = 31, "slip.offset";
    /// The flow in the riser makes the display read wrong by more than a third of the tolerance.
    RiserFlows = 32, "riser.flows";
    /// Nobody knows whether water runs in the riser.
    FlowNotKnown = 33, "riser.flow_not_known";
    /// The flow in the riser is another one as left than as found, and nobody can tell what that does.
    FlowChanged = 34, "riser.flow_changed_unknown";
    /// Empty, the tank leaves a riser shorter than the register's.
    RiserShort = 35, "riser.short_when_empty";
    /// Signed without the PIN that the technician set on the phone.
    NotConfirmed = 40, "sign.without_pin";
}
