//! What is signed: the answers, what they were read as, and what followed.

use serde::{Deserialize, Serialize};

use super::{Instrument, Moment, Piece, Spot};
use crate::quantity::Decimal;

/// A number with its unit, as records hold it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Measured {
    /// The number, rounded to 1e-6 of the unit.
    pub value: Decimal,
    /// The unit's symbol (`m`, `Pa`, `mA`, `degC`, `s`, `min`, `kg/m3`, `m/s2`, `m3/s`, a rate of flow as it was asked such as `L/s` or `US gpm`, `Pa/a` a year, `month`, `1`, `%`).
    pub unit: String,
}

/// An answer as typed, with what it was read as.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answered {
    /// Where it stands.
    pub spot: Spot,
    /// As typed or chosen.
    pub text: String,
    /// When, by the phone's clock.
    pub at: Moment,
    /// What it was read as; none for texts and choices.
    pub value: Option<Measured>,
}

macro_rules! results {
    ($($(#[$doc:meta])* $name:ident = $code:literal;)*) => {
        /// A number that was worked out. The codes are frozen: signed records hold them.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum ResultKey { $($(#[$doc])* $name,)* }

        impl ResultKey {
            /// Every result there is.
            pub const ALL: &'static [ResultKey] = &[$(ResultKey::$name,)*];

            /// Returns the number that stands for this result in a signed record.
            #[must_use]
            pub fn code(self) -> u16 { match self { $(ResultKey::$name => $code,)* } }

            /// Returns the result that a signed record's number stands for.
            #[must_use]
            pub fn from_code(code: u16) -> Option<ResultKey> { match code { $($code => Some(ResultKey::$name),)* _ => None } }
        }
    };
}

results! {
    /// Density of the liquid (kg/m3).
    Density = 1;
    /// Density of the air beside it (kg/m3).
    AirDensity = 2;
    /// Local gravity (m/s2).
    Gravity = 3;
    /// Reading the trim starts from (Pa).
    From = 10;
    /// Reading to trim to (Pa).
    To = 11;
    /// The shift (Pa).
    Shift = 12;
    /// Expanded uncertainty of the shift, 95 % (Pa).
    ShiftUncertainty = 13;
    /// Coverage factor.
    Coverage = 14;
    /// Effective degrees of freedom (capped at 1e6).
    DegreesOfFreedom = 15;
    /// The new total offset (Pa); absent when the carried one is unknown.
    NewTotal = 16;
    /// Level by the evidence (m above the tank's zero).
    Level = 17;
    /// Standing head by the evidence or the survey (Pa).
    StandingHead = 18;
    /// Error as found, in level (m).
    ErrorAsFound = 30;
    /// Error as found, % of span.
    PercentAsFound = 31;
    /// Error as left, in level (m).
    ErrorAsLeft = 32;
    /// Error as left, % of span.
    PercentAsLeft = 33;
    /// Expanded uncertainty of the error as left (m).
    ErrorUncertainty = 34;
    /// The tolerance (m).
    Tolerance = 35;
    /// The worst error over the site's year, or today where that is not known (m).
    WorstError = 40;
    /// The level it stands at (m).
    WorstAtLevel = 41;
    /// The liquid's temperature then (degC).
    WorstAtTemperature = 42;
    /// The temperature at which a trim would leave least (degC); absent where it would not leave much less.
    BestTrimTemperature = 43;
    /// The worst that would leave (m).
    BestTrimWorst = 44;
    /// LRV that would leave less (Pa); absent where none is offered.
    CorrectedLrv = 45;
    /// URV that would leave less (Pa).
    CorrectedUrv = 46;
    /// The worst that would leave (m).
    CorrectedWorst = 47;
    /// The error today at 100 % (m).
    ErrorAtFull = 48;
    /// Its expanded uncertainty, 95 % (m).
    ErrorAtFullUncertainty = 49;
    /// Density of what stands over the measured liquid where that is not air: the vessel's gas, or a lighter liquid (kg/m3).
    OverDensity = 50;
    /// Density of the liquid in riser or impulse line where that has a temperature of its own (kg/m3).
    LineDensity = 51;
    /// Density of the fill in leg or capillaries (kg/m3).
    FillDensity = 52;
    /// Standing head by the register's measures in today's state (Pa); where the mounting is more than a riser.
    ExpectedHead = 53;
    /// What the flow in the riser made the display read wrong by as found, negative when low (Pa): what was taken off.
    FlowError = 80;
    /// How far that may be off, half-width (Pa).
    FlowErrorHalfWidth = 81;
    /// The largest flow drawn out that errs within a third of the tolerance (m3/s); absent where any does.
    HarmlessDrawn = 82;
    /// The largest flow filled in that errs within a third of the tolerance (m3/s); absent where any does.
    HarmlessFilled = 83;
    /// What the flow made the display read wrong by as left (Pa), where it was another one than as found.
    FlowErrorLeft = 84;
    /// Five-point check as found, display: zero error (% of span).
    CheckFoundZero = 60;
    /// Five-point check as found, display: span error (% of span).
    CheckFoundSpan = 61;
    /// Five-point check as found, display: hysteresis (% of span).
    CheckFoundHysteresis = 62;
    /// Five-point check as found, display: worst error, signed (% of span).
    CheckFoundWorst = 63;
    /// Five-point check as found, display: verdict: 0 within, 1 within but not surely, 2 outside but not surely, 3 outside, 4 not judged.
    CheckFoundVerdict = 64;
    /// Five-point check as found, loop current: zero error (% of span).
    CheckFoundCurrentZero = 65;
    /// Five-point check as found, loop current: span error (% of span).
    CheckFoundCurrentSpan = 66;
    /// Five-point check as found, loop current: hysteresis (% of span).
    CheckFoundCurrentHysteresis = 67;
    /// Five-point check as found, loop current: worst error, signed (% of span).
    CheckFoundCurrentWorst = 68;
    /// Five-point check as found, loop current: verdict: 0 within, 1 within but not surely, 2 outside but not surely, 3 outside, 4 not judged.
    CheckFoundCurrentVerdict = 69;
    /// Five-point check as left, display: zero error (% of span).
    CheckLeftZero = 70;
    /// Five-point check as left, display: span error (% of span).
    CheckLeftSpan = 71;
    /// Five-point check as left, display: hysteresis (% of span).
    CheckLeftHysteresis = 72;
    /// Five-point check as left, display: worst error, signed (% of span).
    CheckLeftWorst = 73;
    /// Five-point check as left, display: verdict: 0 within, 1 within but not surely, 2 outside but not surely, 3 outside, 4 not judged.
    CheckLeftVerdict = 74;
    /// Five-point check as left, loop current: zero error (% of span).
    CheckLeftCurrentZero = 75;
    /// Five-point check as left, loop current: span error (% of span).
    CheckLeftCurrentSpan = 76;
    /// Five-point check as left, loop current: hysteresis (% of span).
    CheckLeftCurrentHysteresis = 77;
    /// Five-point check as left, loop current: worst error, signed (% of span).
    CheckLeftCurrentWorst = 78;
    /// Five-point check as left, loop current: verdict: 0 within, 1 within but not surely, 2 outside but not surely, 3 outside, 4 not judged.
    CheckLeftCurrentVerdict = 79;
    /// Drift of the standing offset over the visits, today's included (Pa a year).
    DriftPerYear = 55;
    /// Its expanded uncertainty, 95 % (Pa a year).
    DriftUncertainty = 56;
    /// The recommended next interval (months).
    NextInterval = 57;
    /// Standard uncertainty of the new total offset (Pa).
    TotalUncertainty = 58;
    /// Visits that the drift rests on, today's included.
    DriftVisits = 59;
}

/// One result.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ResultLine {
    /// Which.
    pub key: ResultKey,
    /// Its value.
    pub value: Measured,
}

/// Something the tool said: an assumption, a warning, a verdict.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    /// A stable word for it, such as `vent.not_seen`.
    pub code: String,
    /// The sentence shown.
    pub text: String,
}

/// One line of the working.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WorkLine {
    /// What is being worked out.
    pub what: String,
    /// How: the formula with its numbers put in.
    pub how: String,
    /// The value, with unit, as shown.
    pub value: String,
}

/// A finished visit, ready to be signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finished {
    /// The number of the model that worked it out ([`crate::visit::MODEL`]).
    pub model: u32,
    /// The register row as it stood.
    pub instrument: Instrument,
    /// When the visit began.
    pub begun: Moment,
    /// The pieces of evidence.
    pub pieces: Vec<Piece>,
    /// Every answer.
    pub answers: Vec<Answered>,
    /// What was worked out.
    pub results: Vec<ResultLine>,
    /// The verdict.
    pub verdict: Said,
    /// What was assumed.
    pub assumptions: Vec<Said>,
    /// What was warned about.
    pub warnings: Vec<Said>,
    /// The working, line by line.
    pub working: Vec<WorkLine>,
}
