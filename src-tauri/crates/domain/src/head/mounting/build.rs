//! From a mounting's measures to its columns.

use uom::si::f64::{Acceleration, Length};

use super::state::Densities;
use super::{Column, Columns, End, Medium, Mounting, Place};

/// Lays columns from the sensor outwards.
struct Path<'a> {
    densities: &'a Densities,
    at: End,
    columns: Vec<Column>,
}

impl<'a> Path<'a> {
    fn from(densities: &'a Densities, sensor: End) -> Path<'a> {
        Path { densities, at: sensor, columns: Vec::new() }
    }

    fn to(mut self, what: Medium, end: End) -> Path<'a> {
        self.columns.push(Column { what, density: self.densities.get(what), from: self.at, to: end });
        self.at = end;
        self
    }
}

impl Mounting {
    /// Lays the columns of the mounting.
    #[must_use]
    pub fn columns(&self, densities: &Densities, gravity: Acceleration, span: Length) -> Columns {
        let sensor = End::At(Place::Sensor, -self.riser());
        let zero = End::At(Place::Zero, Length::default());
        let tap = End::At(Place::Tap, self.tap().unwrap_or_default());
        // Over an open tank both sides meet in the air; where exactly is the same for both.
        let top = End::At(Place::Top, self.top().unwrap_or(span.max(-self.riser())));
        let path = || Path::from(densities, sensor);
        let (high, low) = match self {
            Mounting::Riser { .. } | Mounting::AboveDatum { .. } => (
                path().to(Medium::Line, zero).to(Medium::Process, End::Surface).to(Medium::Air, top),
                path().to(Medium::Air, top),
            ),
            Mounting::Probe { .. } => {
                (path().to(Medium::Process, End::Surface).to(Medium::Air, top), path().to(Medium::Air, top))
            }
            Mounting::DryLeg { .. } => (
                path().to(Medium::Line, zero).to(Medium::Process, End::Surface).to(Medium::Vapour, top),
                path().to(Medium::Vapour, top),
            ),
            Mounting::WetLeg { .. } => (
                path().to(Medium::Line, zero).to(Medium::Process, End::Surface).to(Medium::Vapour, top),
                path().to(Medium::Fill, top),
            ),
            Mounting::OneSeal { .. } => (
                path().to(Medium::Fill, tap).to(Medium::Process, End::Surface).to(Medium::Air, top),
                path().to(Medium::Air, top),
            ),
            Mounting::TwoSeals { .. } => (
                path().to(Medium::Fill, tap).to(Medium::Process, End::Surface).to(Medium::Vapour, top),
                path().to(Medium::Fill, top),
            ),
            Mounting::Interface { .. } => (
                path().to(Medium::Line, zero).to(Medium::Process, End::Surface).to(Medium::Light, top),
                path().to(Medium::Fill, top),
            ),
        };
        Columns { high: high.columns, low: low.columns, gravity }
    }
}
