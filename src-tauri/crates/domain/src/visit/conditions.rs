//! What a metre of the liquid presses here and today, and how sure that is.

use std::collections::BTreeMap;

use uom::si::f64::{Acceleration, MassDensity, Pressure, TemperatureInterval, ThermodynamicTemperature};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

use super::known::Known;
use super::{ResultKey, usual};
use crate::head::mounting::{Installed, Medium, Mounting, MountingError, State};
use crate::head::{Gradient, HeadError, Liquid, Surroundings, gravity_uncertainty};

/// What was measured of the vessel's state today; the register stands in for the rest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Today {
    /// The liquid's temperature.
    pub liquid: Option<ThermodynamicTemperature>,
    /// The temperature of riser or impulse line.
    pub line: Option<ThermodynamicTemperature>,
    /// The temperature of leg or capillaries.
    pub fill: Option<ThermodynamicTemperature>,
    /// True where a vessel that works under pressure stands at atmosphere today.
    pub at_rest: bool,
}

/// Density, air and gravity of the day, with standard uncertainties.
#[derive(Debug, Clone, PartialEq)]
pub struct Conditions {
    /// Temperature of the liquid.
    pub temperature: ThermodynamicTemperature,
    /// True when it was measured today; false when it is the season's.
    pub measured: bool,
    /// Density of the liquid.
    pub density: MassDensity,
    /// Its standard uncertainty.
    pub density_standard: MassDensity,
    /// Density of the air beside it.
    pub air: MassDensity,
    /// Its standard uncertainty.
    pub air_standard: MassDensity,
    /// Local gravity.
    pub gravity: Acceleration,
    /// Its standard uncertainty.
    pub gravity_standard: Acceleration,
    /// Pascals a metre of level presses, net of what stands over it: air, the vessel's gas, or a lighter liquid.
    pub gradient: Gradient,
    /// The mounting in today's state.
    pub installed: Installed,
    /// The mounting in the vessel's working state.
    pub at_work: Installed,
    /// Standard uncertainty of each medium's density; of the liquid's, in vessel and line, only what its temperature
    /// leaves open: what is dissolved in it is the same in both (see [`Conditions::strength`]).
    pub standards: BTreeMap<Medium, MassDensity>,
    /// True where riser or impulse line have a temperature of their own.
    pub own_line: bool,
    /// Relative standard uncertainty of the liquid's density by what is dissolved in it.
    pub strength: f64,
}

impl Conditions {
    /// Works out the conditions of the season: what a screen goes by before a visit.
    ///
    /// # Errors
    ///
    /// A [`HeadError`] where the register's temperature lies outside the formulas.
    pub fn of_season(known: &Known) -> Result<Conditions, HeadError> {
        Conditions::today(known, Today::default())
    }

    /// Works out the day's conditions from the register and what was measured.
    pub(super) fn today(known: &Known, today: Today) -> Result<Conditions, HeadError> {
        let temperature = today.liquid.unwrap_or(known.temperature);
        let around = Surroundings::assumed(known.latitude, known.altitude)?;
        let state = state(known, &around, &today);
        let installed = install(known, &state)?;
        let at_work = install(known, &known.at_work(&around))?;
        let density = installed.densities().of(Medium::Process).unwrap_or_default();
        let parts = Parts { known, state, around, today };
        let own_line = known.mounted.mounting.has_line() && (today.line.or(known.mounted.line)).is_some();
        Ok(Conditions {
            temperature,
            measured: today.liquid.is_some(),
            density,
            density_standard: density_standard(
                &known.liquid,
                &around,
                temperature,
                density,
                today.liquid.is_some(),
            ),
            air: around.air,
            air_standard: around.air_uncertainty(),
            gravity: around.gravity,
            gravity_standard: gravity_uncertainty(),
            gradient: installed.per_level(),
            standards: parts.standards(&installed),
            strength: (known.liquid.uncertainty(density) / density).value,
            own_line,
            installed,
            at_work,
        })
    }
}

impl Conditions {
    /// Tells whether the mounting is more than a line of one temperature under or over an open tank.
    pub(super) fn is_more_than_a_riser(&self) -> bool {
        self.own_line
            || !matches!(self.installed.mounting(), Mounting::Riser { .. } | Mounting::AboveDatum { .. })
    }

    /// Returns the densities beside the liquid's and the air's, as results name them.
    pub(super) fn other_densities(&self) -> Vec<(ResultKey, MassDensity)> {
        let of = |medium| self.installed.densities().of(medium);
        let over = of(Medium::Vapour).or(of(Medium::Light));
        let line = of(Medium::Line).filter(|_| self.own_line);
        [
            (ResultKey::OverDensity, over),
            (ResultKey::LineDensity, line),
            (ResultKey::FillDensity, of(Medium::Fill)),
        ]
        .into_iter()
        .filter_map(|(key, density)| Some((key, density?)))
        .collect()
    }
}

/// The state of the vessel today.
fn state(known: &Known, around: &Surroundings, today: &Today) -> State {
    let usual = known.at_work(around);
    let tank = today.liquid.unwrap_or(known.temperature);
    State {
        gauge: if today.at_rest { Pressure::default() } else { usual.gauge },
        tank,
        // A line or leg that nobody measured and the register does not speak of is as warm as the tank.
        line: today.line.or(known.mounted.line).unwrap_or(tank),
        fill: today.fill.or(known.mounted.fill).unwrap_or(tank),
        ..usual
    }
}

fn install(known: &Known, state: &State) -> Result<Installed, HeadError> {
    known.mounted.mounting.install(&known.vessel(), state).map_err(|error| match error {
        MountingError::Head { source, .. } => source,
        // The register's row was checked when it was read; what is left is that hot and cold cross.
        _ => HeadError::NoHead,
    })
}

/// What the uncertainties of the densities rest on.
struct Parts<'a> {
    known: &'a Known,
    state: State,
    around: Surroundings,
    today: Today,
}

impl Parts<'_> {
    fn standards(&self, installed: &Installed) -> BTreeMap<Medium, MassDensity> {
        let mounting = installed.mounting();
        let mut found = BTreeMap::new();
        let mut put = |medium, standard: &dyn Fn(MassDensity) -> MassDensity| {
            found.extend(installed.densities().of(medium).map(|density| (medium, standard(density))));
        };
        let (liquid, state) = (self.today.liquid.is_some(), &self.state);
        let by = |liquid: Liquid, at, measured: bool| {
            move |density: MassDensity| density_standard(&liquid, &self.around, at, density, measured)
        };
        let own = |at, measured| {
            move |density| by_temperature(&self.known.liquid, &self.around, at, density, measured)
        };
        put(Medium::Process, &own(state.tank, liquid));
        put(Medium::Line, &own(state.line, self.today.line.is_some()));
        if let Some(fill) = mounting.fill() {
            put(Medium::Fill, &by(fill, state.fill, self.today.fill.is_some()));
        }
        if let Some(light) = mounting.light() {
            put(Medium::Light, &by(light, state.tank, liquid));
        }
        put(Medium::Vapour, &|density| density * usual::GAS);
        put(Medium::Air, &|_| self.around.air_uncertainty());
        found
    }
}

/// Temperature (by how far the density moves over its half-width) and composition, in quadrature.
fn density_standard(
    liquid: &Liquid,
    around: &Surroundings,
    temperature: ThermodynamicTemperature,
    density: MassDensity,
    measured: bool,
) -> MassDensity {
    let moved = by_temperature(liquid, around, temperature, density, measured);
    let composition = liquid.uncertainty(density).get::<kilogram_per_cubic_meter>();
    let both = libm::hypot(moved.get::<kilogram_per_cubic_meter>(), composition);
    MassDensity::new::<kilogram_per_cubic_meter>(both)
}

/// How far the density may be off by its temperature alone.
fn by_temperature(
    liquid: &Liquid,
    around: &Surroundings,
    temperature: ThermodynamicTemperature,
    density: MassDensity,
    measured: bool,
) -> MassDensity {
    let half = if measured { usual::measured_temperature() } else { usual::season_temperature() };
    let moved = |by: TemperatureInterval| {
        let to = ThermodynamicTemperature::new::<kelvin>(temperature.get::<kelvin>() + by.get::<kelvins>());
        // At the edge of the formula's range one side is enough to tell the slope.
        let there = liquid.density(to, around.atmosphere);
        there.map_or(0.0, |there| (there - density).get::<kilogram_per_cubic_meter>().abs())
    };
    MassDensity::new::<kilogram_per_cubic_meter>(moved(half).max(moved(-half)) / libm::sqrt(3.0))
}
