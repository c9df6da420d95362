//! Which number of a case is what: where a slip can be.

use uom::si::f64::{Length, Pressure, Ratio};

use super::super::InputId;
use super::Mark;

/// A display reading under head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// Its input.
    pub input: InputId,
    /// The level its reference tells; none where no reference does.
    pub level: Option<Length>,
    /// True where the tank was known to be empty.
    pub empty: bool,
}

/// Which way a tape was held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TapeWay {
    /// From the floor up to the surface.
    Up,
    /// From the hatch mark down to the surface.
    Down,
}

/// A length off a tape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tape {
    /// Its input.
    pub input: InputId,
    /// Which way it was held.
    pub way: TapeWay,
}

/// The numbers of a case and what surrounds them.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Readings under head, in the order they were taken.
    pub readings: Vec<Shown>,
    /// Readings at atmosphere.
    pub vented: Vec<InputId>,
    /// The offset the unit carries, with true where it comes from a record.
    pub offset: Option<(InputId, bool)>,
    /// Dips and drops.
    pub tapes: Vec<Tape>,
    /// Measured riser heights.
    pub risers: Vec<InputId>,
    /// The register's riser.
    pub register: Option<InputId>,
    /// The riser's height by the register.
    pub riser: Length,
    /// What a metre of the liquid presses on the display.
    pub per_metre: Pressure,
    /// The pressure of the air at the site.
    pub barometer: Pressure,
    /// How much of it the weather may move it by, either side.
    pub weather: Ratio,
    /// Heights on the tank that are known.
    pub marks: Vec<(Mark, Length)>,
    /// Units that the display's is taken for, with pascals of theirs over pascals of the display's.
    pub units: Vec<(&'static str, f64)>,
    /// Round lengths that a tape is misread by here.
    pub round: Vec<Length>,
    /// True where the plate's serial is not the register's.
    pub other_serial: bool,
}
