//! One answer, read: its value, how it reads in the other system, what is wrong or doubtful with it.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};

use super::Remark;
use crate::quantity::EntryProblem;

/// What an answer was read as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A reading: pascals as the display means them, with the number as typed.
    Reading {
        /// Pascals as the display means them.
        pressure: Pressure,
        /// The number in the display's unit.
        number: f64,
    },
    /// A current in mA.
    Current(f64),
    /// A plain number.
    Number(f64),
    /// A temperature.
    Temperature(ThermodynamicTemperature),
}

/// An answer as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Entry {
    /// Its value, where it reads without doubt.
    pub value: Option<Value>,
    /// One unit of the last digit written, in SI units of the value.
    pub resolution: f64,
    /// The same in the other system, or the level it means.
    pub echo: String,
    /// What is wrong or doubtful with it.
    pub problem: Option<Remark>,
    /// "Which did you mean?": text to put in place, and how it reads.
    pub which: Vec<(String, String)>,
}

impl Entry {
    /// Returns the entry of something that could not be read.
    pub(super) fn problem<T>(problem: &EntryProblem<T>) -> Entry {
        let which = problem.candidates().iter();
        Entry {
            problem: Some(Remark::refusal(problem.code(), problem.what(), problem.remedy())),
            which: which.map(|way| (way.text.clone(), way.label.clone())).collect(),
            ..Entry::default()
        }
    }

    /// Returns the entry of a value.
    pub(super) fn value(value: Value, resolution: f64, echo: String) -> Entry {
        Entry { value: Some(value), resolution, echo, ..Entry::default() }
    }

    /// Returns the entry with something said about it.
    pub(super) fn with_problem(mut self, remark: Remark) -> Entry {
        self.problem = Some(remark);
        self
    }
}
