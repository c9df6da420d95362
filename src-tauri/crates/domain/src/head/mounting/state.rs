//! What a vessel holds, and the state it is in: cold on the day of the evidence, or hot at work.

use std::collections::BTreeMap;

use uom::si::f64::{Acceleration, Length, MassDensity, MolarMass, Pressure, ThermodynamicTemperature};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::molar_mass::kilogram_per_mole;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

use super::{Medium, Mounting, MountingError};
use crate::head::{HeadError, Liquid, Surroundings};

/// The molar gas constant (SI, exact), J/(mol K).
const GAS_CONSTANT: f64 = 8.314_462_618_153_24;

/// The gas over the liquid of a closed vessel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Vapour {
    /// Its density as stated, taken as it is at any pressure and temperature.
    Density(MassDensity),
    /// An ideal gas of this molar mass at the vessel's pressure and temperature. Near its boiling line real steam
    /// is denser: by some 3 % at 5 bar (from memory), which in a metre of gas over water is below 0.1 mm.
    Ideal(MolarMass),
}

impl Vapour {
    fn density(self, state: &State) -> MassDensity {
        match self {
            Vapour::Density(density) => density,
            Vapour::Ideal(mass) => MassDensity::new::<kilogram_per_cubic_meter>(
                state.absolute().get::<pascal>() * mass.get::<kilogram_per_mole>()
                    / (GAS_CONSTANT * state.tank.get::<kelvin>()),
            ),
        }
    }
}

/// What a vessel holds and how much of it is measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// The liquid; under an interface the heavier one.
    pub process: Liquid,
    /// The gas over it. Only a closed vessel needs it.
    pub vapour: Option<Vapour>,
    /// Level at 100 %, above the tank's zero.
    pub span: Length,
}

/// A state of the vessel and its lines: every column is evaluated at the temperature it has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State {
    /// Local gravity.
    pub gravity: Acceleration,
    /// Density of the air outside.
    pub air: MassDensity,
    /// Pressure of the air outside, absolute.
    pub atmosphere: Pressure,
    /// Pressure in the vessel, above the air's.
    pub gauge: Pressure,
    /// Temperature of the vessel's liquid and gas.
    pub tank: ThermodynamicTemperature,
    /// Temperature of the liquid in the riser or impulse line.
    pub line: ThermodynamicTemperature,
    /// Temperature of the fill in leg or capillaries.
    pub fill: ThermodynamicTemperature,
}

impl State {
    /// Returns a vessel at atmospheric pressure with everything at one temperature.
    #[must_use]
    pub fn at(around: &Surroundings, temperature: ThermodynamicTemperature) -> State {
        State {
            gravity: around.gravity,
            air: around.air,
            atmosphere: around.atmosphere,
            gauge: Pressure::default(),
            tank: temperature,
            line: temperature,
            fill: temperature,
        }
    }

    /// Returns the absolute pressure in the vessel.
    #[must_use]
    pub fn absolute(&self) -> Pressure {
        self.atmosphere + self.gauge
    }
}

/// The density of each medium that a mounting has columns of.
#[derive(Debug, Clone, PartialEq)]
pub struct Densities(BTreeMap<Medium, MassDensity>);

impl Densities {
    /// Returns the density of a medium, where the mounting has one.
    #[must_use]
    pub fn of(&self, medium: Medium) -> Option<MassDensity> {
        self.0.get(&medium).copied()
    }

    pub(super) fn get(&self, medium: Medium) -> MassDensity {
        self.of(medium).unwrap_or_default()
    }
}

impl Mounting {
    /// Works out the density of each medium in a state.
    ///
    /// # Errors
    ///
    /// [`MountingError`] where a density cannot be worked out, is not positive, or stands the wrong way round.
    pub fn densities(&self, vessel: &Vessel, state: &State) -> Result<Densities, MountingError> {
        self.pressures(vessel, state)?;
        let mut found = BTreeMap::new();
        let mut put = |medium, field, density: Result<MassDensity, HeadError>| {
            let density = density.map_err(|source| MountingError::Head { field, source })?;
            found.insert(medium, density);
            Ok(())
        };
        let absolute = state.absolute();
        put(Medium::Process, "liquid", vessel.process.density(state.tank, absolute))?;
        if self.has_line() {
            put(Medium::Line, "line_temperature", vessel.process.density(state.line, absolute))?;
        }
        if let Some(fill) = self.fill() {
            put(Medium::Fill, "fill", fill.density(state.fill, absolute))?;
        }
        if let Some(light) = self.light() {
            put(Medium::Light, "light", light.density(state.tank, absolute))?;
        }
        match vessel.vapour.filter(|_| self.has_vapour()) {
            Some(vapour) => put(Medium::Vapour, "vapour", Ok(vapour.density(state)))?,
            None if !self.is_closed() => put(Medium::Air, "air", Ok(state.air))?,
            None => {}
        }
        let densities = Densities(found);
        densities.check()?;
        Ok(densities)
    }

    fn pressures(&self, vessel: &Vessel, state: &State) -> Result<(), MountingError> {
        let missing = self.has_vapour() && vessel.vapour.is_none();
        wrong(
            missing,
            "vapour",
            "a closed vessel needs the gas over its liquid: a density or a molar mass.",
        )?;
        let vacuum = state.absolute().value.is_nan() || state.absolute() <= Pressure::default();
        wrong(vacuum, "pressure", "no vessel holds less than a full vacuum. Check the working pressure.")?;
        let gravity = state.gravity.value;
        wrong(!gravity.is_finite() || gravity <= 0.0, "gravity", "gravity must be more than zero.")
    }
}

impl Densities {
    fn check(&self) -> Result<(), MountingError> {
        let fields = [
            (Medium::Process, "liquid.density"),
            (Medium::Fill, "fill.density"),
            (Medium::Light, "light.density"),
            (Medium::Vapour, "vapour"),
            (Medium::Air, "air"),
        ];
        for (medium, field) in fields {
            let Some(density) = self.of(medium) else { continue };
            let none = matches!(medium, Medium::Vapour | Medium::Air) && density == MassDensity::default();
            let bad = !density.value.is_finite() || density <= MassDensity::default();
            wrong(bad && !none, field, "a density must be more than zero. Check it.")?;
        }
        let process = self.get(Medium::Process);
        let over = [
            (
                Medium::Light,
                "light.density",
                "the liquid below the interface must be heavier than the one above it. Check both.",
            ),
            (Medium::Vapour, "vapour", "the gas must be lighter than the liquid under it. Check both."),
            (Medium::Air, "liquid.density", "the liquid must be heavier than the air beside it. Check it."),
        ];
        for (medium, field, what) in over {
            wrong(self.of(medium).is_some_and(|density| density >= process), field, what)?;
        }
        let gas = self.get(Medium::Vapour);
        let light = self.of(Medium::Fill).is_some_and(|fill| fill <= gas);
        wrong(light, "fill.density", "the fill must be heavier than the gas over it. Check both.")
    }
}

fn wrong(is: bool, field: &'static str, what: &'static str) -> Result<(), MountingError> {
    if is { Err(MountingError::Density { field, what }) } else { Ok(()) }
}
