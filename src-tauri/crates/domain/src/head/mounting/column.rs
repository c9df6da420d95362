//! Columns of liquid and gas on either side of the sensor.

use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};

/// What a column consists of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Medium {
    /// The liquid whose level is measured, in the vessel; with an interface the heavier one.
    Process,
    /// The same liquid standing in the riser or impulse line, which has a temperature of its own.
    Line,
    /// The lighter liquid above an interface.
    Light,
    /// What fills a wet leg or a capillary.
    Fill,
    /// Gas or vapour over the liquid in a closed vessel.
    Vapour,
    /// Air.
    Air,
}

/// A place where columns meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The sensing point of the transmitter.
    Sensor,
    /// The tank's zero.
    Zero,
    /// The lower seal.
    Tap,
    /// Where the low side meets the vessel: upper tap, upper seal, or the air over an open tank.
    Top,
}

/// Where a column begins or ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum End {
    /// The measured surface, wherever it stands; with an interface the surface between the liquids.
    Surface,
    /// A place at a height above the tank's zero.
    At(Place, Length),
}

impl End {
    /// Returns how high it is when the measured surface stands at a level.
    #[must_use]
    pub fn height(self, level: Length) -> Length {
        match self {
            End::Surface => level,
            End::At(_, height) => height,
        }
    }
}

/// A column, followed from the sensor's end to the far end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// What it consists of.
    pub what: Medium,
    /// Its density, at its own temperature.
    pub density: MassDensity,
    /// The end nearer to the sensor, along the line.
    pub from: End,
    /// The other end. A column whose far end is lower pulls.
    pub to: End,
}

impl Column {
    /// Returns how much higher the far end is.
    #[must_use]
    pub fn rise(&self, level: Length) -> Length {
        self.to.height(level) - self.from.height(level)
    }
}

/// A side of the sensor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The side on which more pressure reads higher.
    High,
    /// The other one.
    Low,
}

/// The columns on either side of a sensor. Both sides end at one and the same place, so what stands beyond it
/// presses on both alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Columns {
    /// High side, from the sensor outwards.
    pub high: Vec<Column>,
    /// Low side, from the sensor outwards.
    pub low: Vec<Column>,
    /// Local gravity.
    pub gravity: Acceleration,
}

impl Columns {
    /// Returns the differential pressure at a level: what the high side's columns press less what the low side's do.
    #[must_use]
    pub fn pressure_at(&self, level: Length) -> Pressure {
        self.pressed_on(Side::High, level) - self.pressed_on(Side::Low, level)
    }

    /// Returns what the columns of one side press on the sensor, beyond the pressure of the place where both sides meet.
    #[must_use]
    pub fn pressed_on(&self, side: Side, level: Length) -> Pressure {
        let columns = self.side(side).iter();
        columns.map(|column| column.density * self.gravity * column.rise(level)).sum()
    }

    /// Returns the standing head: the differential pressure at level zero.
    #[must_use]
    pub fn standing_head(&self) -> Pressure {
        self.pressure_at(Length::default())
    }

    /// Returns what a rise of the level by so much adds.
    #[must_use]
    pub fn added_by(&self, rise: Length) -> Pressure {
        self.each(|sign, column| {
            let ends = f64::from(u8::from(column.to == End::Surface))
                - f64::from(u8::from(column.from == End::Surface));
            column.density * self.gravity * rise * (sign * ends)
        })
    }

    /// Returns the columns with the two sides exchanged.
    #[must_use]
    pub fn swapped(self) -> Columns {
        Columns { high: self.low, low: self.high, gravity: self.gravity }
    }

    /// Returns how much higher a medium stands on the high side than on the low: the length its density works over.
    #[must_use]
    pub fn net_rise(&self, what: Medium, level: Length) -> Length {
        let signed = self.signed().filter(|(_, column)| column.what == what);
        signed.map(|(sign, column)| column.rise(level) * sign).sum()
    }

    /// Returns every column with its sign: 1 on the high side, -1 on the low.
    pub(super) fn signed(&self) -> impl Iterator<Item = (f64, &Column)> {
        self.high.iter().map(|column| (1.0, column)).chain(self.low.iter().map(|column| (-1.0, column)))
    }

    fn each(&self, what: impl Fn(f64, &Column) -> Pressure) -> Pressure {
        self.signed().map(|(sign, column)| what(sign, column)).sum()
    }

    /// Returns the columns of one side.
    #[must_use]
    pub fn side(&self, side: Side) -> &[Column] {
        match side {
            Side::High => &self.high,
            Side::Low => &self.low,
        }
    }
}
