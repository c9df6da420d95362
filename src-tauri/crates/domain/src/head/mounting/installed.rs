//! A mounting on its vessel in a state: pressures, standing head, LRV and URV.

use uom::si::f64::{Length, Pressure, Ratio};

use super::{Columns, Densities, Medium, Mounting, MountingError, Side, State, Vessel};
use crate::head::Gradient;

/// A mounting in a state.
#[derive(Debug, Clone, PartialEq)]
pub struct Installed {
    mounting: Mounting,
    columns: Columns,
    densities: Densities,
    per_level: Gradient,
    vessel: Vessel,
    state: State,
}

impl Mounting {
    /// Works the mounting out on a vessel in a state.
    ///
    /// # Errors
    ///
    /// [`MountingError`] naming the field that is impossible.
    pub fn install(&self, vessel: &Vessel, state: &State) -> Result<Installed, MountingError> {
        self.check(vessel.span)?;
        let densities = self.densities(vessel, state)?;
        let over = [Medium::Light, Medium::Vapour, Medium::Air];
        let over = over.into_iter().find_map(|medium| densities.of(medium)).unwrap_or_default();
        let per_level = Gradient::new(densities.get(Medium::Process), over, state.gravity)
            .map_err(|source| MountingError::Head { field: "liquid.density", source })?;
        let columns = self.columns(&densities, state.gravity, vessel.span);
        Ok(Installed { mounting: *self, columns, densities, per_level, vessel: *vessel, state: *state })
    }
}

impl Installed {
    /// Returns the mounting.
    #[must_use]
    pub fn mounting(&self) -> &Mounting {
        &self.mounting
    }

    /// Returns the columns on either side.
    #[must_use]
    pub fn columns(&self) -> &Columns {
        &self.columns
    }

    /// Returns the density of each medium.
    #[must_use]
    pub fn densities(&self) -> &Densities {
        &self.densities
    }

    /// Returns the vessel.
    #[must_use]
    pub fn vessel(&self) -> &Vessel {
        &self.vessel
    }

    /// Returns the state it is in.
    #[must_use]
    pub fn state(&self) -> &State {
        &self.state
    }

    /// Returns the standing head `B`: what the columns press at level zero. Negative where the low side presses more.
    #[must_use]
    pub fn standing_head(&self) -> Pressure {
        self.columns.standing_head()
    }

    /// Returns `k`: what a metre of level presses, net of what it takes the place of.
    #[must_use]
    pub fn per_level(&self) -> Gradient {
        self.per_level
    }

    /// Returns the level at 100 %.
    #[must_use]
    pub fn span(&self) -> Length {
        self.vessel.span
    }

    /// Returns what the sensor feels at a level.
    #[must_use]
    pub fn pressure_at(&self, level: Length) -> Pressure {
        self.columns.pressure_at(level)
    }

    /// Returns the level at which the sensor feels a pressure.
    #[must_use]
    pub fn level_at(&self, pressure: Pressure) -> Length {
        self.per_level.length(pressure - self.standing_head())
    }

    /// Returns what the sensor feels at 0 %: the signed LRV of a range that takes the standing head out.
    #[must_use]
    pub fn lrv(&self) -> Pressure {
        self.standing_head()
    }

    /// Returns what the sensor feels at 100 %: the signed URV of such a range.
    #[must_use]
    pub fn urv(&self) -> Pressure {
        self.pressure_at(self.span())
    }

    /// Returns the highest pressure on either side of the sensor at a level: in a closed vessel with the vessel's own, over
    /// an open tank what the sensor feels.
    #[must_use]
    pub fn highest(&self, level: Length) -> Pressure {
        if !self.mounting.is_closed() {
            return self.pressure_at(level);
        }
        let sides = [Side::High, Side::Low].map(|side| self.columns.pressed_on(side, level));
        self.state.gauge + sides[0].max(sides[1])
    }

    /// Returns how far a unit that was set in this state is off when the vessel is in another: what it shows less
    /// the level that is there, at a part of the span. Evidence taken cold is evaluated cold; this is what becomes
    /// of it when the vessel is hot.
    #[must_use]
    pub fn error_when(&self, other: &Installed, part: Ratio) -> Length {
        let level = self.span() * part;
        self.level_at(other.pressure_at(level)) - level
    }
}
