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

/// A height on the installation that a register has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// The tank's zero above the sensing point.
    Riser,
    /// The upper tap, upper seal or top of a leg.
    Top,
    /// The lower seal.
    Tap,
}

/// A height by the register.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByRegister {
    /// Its input.
    pub input: InputId,
    /// Which height.
    pub measure: Measure,
    /// What the register has.
    pub height: Length,
    /// True where it is a height by agreement, which cannot be another.
    pub agreed: bool,
}

/// The standing head that the register's heights and fills make, as one reference of the case.
#[derive(Debug, Clone, PartialEq)]
pub struct Register {
    /// An input of nothing on top of that head: what it would have to be is how far the head is another.
    pub head: InputId,
    /// The heights it rests on.
    pub heights: Vec<ByRegister>,
}

/// A leg on the low side of the sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// True where it holds gas and should hold no liquid; false where it is kept full.
    pub dry: bool,
    /// How high it is.
    pub height: Length,
    /// What a metre of liquid lost from it, or gathered in it, presses.
    pub per_metre: Pressure,
}

/// A pressure that a trouble may add to every reading it is in, from the least to the most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// The least.
    pub least: Pressure,
    /// The most.
    pub most: Pressure,
    /// How common it is here.
    pub weight: f64,
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
    /// Levels that another instrument tells.
    pub others: Vec<InputId>,
    /// What the register's heights and fills make.
    pub register: Option<Register>,
    /// What the columns press at level zero, by the register.
    pub standing: Pressure,
    /// The line of the tank's liquid to the sensor: the zero above the sensing point, negative below it; none where seals or
    /// the liquid itself lead to the sensor.
    pub line: Option<Length>,
    /// How far the tank's liquid stands below the zero, in a line or down to a seal or a probe.
    pub under: Length,
    /// What a metre of level presses on the display.
    pub per_metre: Pressure,
    /// What a metre of the liquid itself presses, less the gas: more than a metre of level where another liquid stands over it.
    pub liquid: Pressure,
    /// A leg on the low side.
    pub leg: Option<Leg>,
    /// True where the line was bled today, and ran clear.
    pub bled: bool,
    /// The density of what fills leg or capillaries.
    pub fill: Option<InputId>,
    /// True where the sensor is vented where it stands: one that could be absolute.
    pub gauge: bool,
    /// True where a probe hangs on its cable.
    pub hangs: bool,
    /// What the weather may have left behind a vent that is shut; none where the low side is no vent.
    pub vent: Option<Reach>,
    /// What flow in the riser may do; none where no flow reaches the sensor.
    pub flow: Option<Reach>,
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

#[cfg(test)]
impl Scene {
    /// A riser under an open tank, of which nothing else is known.
    pub(super) fn riser(height: Length, per_metre: Pressure) -> Scene {
        Scene {
            readings: Vec::new(),
            vented: Vec::new(),
            offset: None,
            tapes: Vec::new(),
            risers: Vec::new(),
            others: Vec::new(),
            register: None,
            standing: per_metre * height.value,
            line: Some(height),
            under: height,
            per_metre,
            liquid: per_metre,
            leg: None,
            bled: true,
            fill: None,
            gauge: true,
            hangs: false,
            vent: None,
            flow: None,
            barometer: Pressure::default(),
            weather: Ratio::default(),
            marks: Vec::new(),
            units: Vec::new(),
            round: Vec::new(),
            other_serial: false,
        }
    }
}
