//! What is wrong with something typed, and what to do about it.
//!
//! Two grades. *Refused* cannot be read at all. *Doubtful* can be read in more ways than one: it is never
//! guessed, the ways are offered and the person picks one. A picked [`Candidate`] is text again and takes the
//! place of what was typed, so that the record shows what was meant.

use std::fmt;

use thiserror::Error;

/// One way to read a doubtful text.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate<T> {
    /// The text to put in place of what was typed; it reads without doubt.
    pub text: String,
    /// What it means.
    pub value: T,
    /// How it is shown: the text and the same in the other system, where there is one.
    pub label: String,
}

/// Why a text can be read in more ways than one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doubtful {
    /// No unit was written.
    NoUnit,
    /// A comma with three digits behind it: a decimal comma, or thousands.
    Comma,
    /// A number stands behind the feet without a mark of its own.
    NoUnitAfterFeet,
    /// A dash between feet and inches: a separator, or a minus.
    Dash,
    /// A gallon that does not say which one it is.
    Gallon,
}

impl fmt::Display for Doubtful {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Doubtful::NoUnit => "No unit is written.",
            Doubtful::Comma => "The comma can stand for a decimal point or for thousands.",
            Doubtful::NoUnitAfterFeet => "The number behind the feet has no unit.",
            Doubtful::Dash => "The dash can be a separator or a minus.",
            Doubtful::Gallon => "The gallon can be the US one or the imperial one.",
        })
    }
}

/// Why a text cannot be read. The message says what happened; [`EntryError::remedy`] says what to write.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum EntryError {
    /// Nothing but spaces.
    #[error("Nothing is written.")]
    Empty {
        /// What could be written.
        example: &'static str,
    },
    /// Digits and marks that make no number.
    #[error("“{text}” is not a number.")]
    NotANumber {
        /// The part that was not understood.
        text: String,
    },
    /// More digits than any measurement has.
    #[error("“{text}” has too many digits.")]
    TooManyDigits {
        /// The number as written.
        text: String,
    },
    /// The whole makes no sense.
    #[error("“{text}” was not understood.")]
    NotUnderstood {
        /// The text as written.
        text: String,
        /// What could be written.
        example: &'static str,
    },
    /// A unit that is not known here.
    #[error("“{unit}” is not a unit known here.")]
    UnknownUnit {
        /// The unit as written.
        unit: String,
        /// Units that are.
        known: &'static str,
    },
    /// Twelve inches or more behind feet.
    #[error("Twelve or more inches stand behind the feet.")]
    TooManyInches,
    /// A hundred centimetres, or a thousand millimetres, or more behind metres.
    #[error("A whole metre or more stands behind the metres.")]
    TooManyMillimetres,
    /// Inches with a minus behind feet.
    #[error("The inches behind the feet have a minus.")]
    NegativeInches,
    /// Part of a foot or metre, and a smaller unit as well.
    #[error("Part of the larger unit stands together with the smaller unit.")]
    PartAndSmaller,
    /// A fraction that is not below one.
    #[error("“{text}” is not a fraction below one.")]
    BadFraction {
        /// The fraction as written.
        text: String,
    },
    /// Beyond anything that can be meant.
    #[error("“{text}” is beyond anything measured here.")]
    Beyond {
        /// The text as written.
        text: String,
        /// The limits, in words.
        limits: &'static str,
    },
    /// An absolute pressure where a gauge pressure is meant.
    #[error("“{unit}” is an absolute pressure.")]
    Absolute {
        /// The unit as written.
        unit: String,
    },
    /// A length where a pressure is meant.
    #[error("“{unit}” is a length, not a pressure.")]
    LengthForPressure {
        /// The unit as written.
        unit: String,
    },
}

impl EntryError {
    /// Returns what to do next.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            EntryError::Empty { example } | EntryError::NotUnderstood { example, .. } => {
                format!("Write for example {example}.")
            }
            EntryError::NotANumber { .. } => {
                "Write digits with one decimal point or one decimal comma, for example 12.3.".into()
            }
            EntryError::TooManyDigits { .. } => "Write at most 15 digits.".into(),
            EntryError::UnknownUnit { known, .. } => format!("Write one of {known}."),
            EntryError::TooManyInches => "Carry them into the feet: 22 ft 14 in is 23 ft 2 in.".into(),
            EntryError::TooManyMillimetres => "Carry them into the metres, or write metres only.".into(),
            EntryError::NegativeInches => {
                "Put one sign in front of the whole length, for example -22 ft 7 in.".into()
            }
            EntryError::PartAndSmaller => {
                "Write either 22.5 ft or 22 ft 6 in, either 6.88 m or 6 m 88 cm.".into()
            }
            EntryError::BadFraction { .. } => "Write a fraction such as 1/2 or 7/8.".into(),
            EntryError::Beyond { limits, .. } => format!("Check the unit and the digits; {limits}."),
            EntryError::Absolute { .. } => {
                "Take off the pressure of the air and write gauge pressure, for example 30 psi.".into()
            }
            EntryError::LengthForPressure { .. } => {
                "Write a pressure, for example 30 psi, 2.1 bar or 12 ftH2O.".into()
            }
        }
    }

    /// Returns a stable word for it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            EntryError::Empty { .. } => "entry.empty",
            EntryError::NotANumber { .. } => "entry.not_a_number",
            EntryError::TooManyDigits { .. } => "entry.too_many_digits",
            EntryError::NotUnderstood { .. } => "entry.not_understood",
            EntryError::UnknownUnit { .. } => "entry.unknown_unit",
            EntryError::TooManyInches => "entry.too_many_inches",
            EntryError::TooManyMillimetres => "entry.too_many_millimetres",
            EntryError::NegativeInches => "entry.negative_inches",
            EntryError::PartAndSmaller => "entry.part_and_smaller",
            EntryError::BadFraction { .. } => "entry.bad_fraction",
            EntryError::Beyond { .. } => "entry.beyond",
            EntryError::Absolute { .. } => "entry.absolute",
            EntryError::LengthForPressure { .. } => "entry.length_for_pressure",
        }
    }
}

/// Why a text was not taken: it must be asked, or it is refused.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum EntryProblem<T> {
    /// It can be read in more ways than one.
    #[error("{why} Which is meant?")]
    Doubtful {
        /// What makes it doubtful.
        why: Doubtful,
        /// The ways to read it, the likelier first; never empty.
        candidates: Vec<Candidate<T>>,
    },
    /// It cannot be read.
    #[error("{0} {remedy}", remedy = .0.remedy())]
    Refused(#[from] EntryError),
}

impl<T> EntryProblem<T> {
    /// Returns a stable word for it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            EntryProblem::Doubtful { why: Doubtful::Comma, .. } => "entry.doubtful_comma",
            EntryProblem::Doubtful { why: Doubtful::Dash, .. } => "entry.doubtful_dash",
            EntryProblem::Doubtful { why: Doubtful::Gallon, .. } => "entry.which_gallon",
            EntryProblem::Doubtful { .. } => "entry.no_unit",
            EntryProblem::Refused(error) => error.code(),
        }
    }

    /// Returns what happened, in a sentence.
    #[must_use]
    pub fn what(&self) -> String {
        match self {
            EntryProblem::Doubtful { why, .. } => why.to_string(),
            EntryProblem::Refused(error) => error.to_string(),
        }
    }

    /// Returns what to do next, in a sentence.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            EntryProblem::Doubtful { .. } => "Choose what is meant.".into(),
            EntryProblem::Refused(error) => error.remedy(),
        }
    }

    /// Returns the ways to read it; none when it is refused.
    #[must_use]
    pub fn candidates(&self) -> &[Candidate<T>] {
        match self {
            EntryProblem::Doubtful { candidates, .. } => candidates,
            EntryProblem::Refused(_) => &[],
        }
    }
}
