//! What each input of a mounting moves.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{
    Acceleration, Length, MassDensity, Pressure, TemperatureInterval, ThermodynamicTemperature,
};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

use super::{End, Installed, Medium, Place, State};

/// An input of a mounting.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lever {
    /// The measured level.
    Level,
    /// The tank's zero above the sensing point.
    Riser,
    /// The upper tap, seal or leg.
    Top,
    /// The lower seal.
    Tap,
    /// The density of a medium.
    Density(Medium),
    /// Gravity.
    Gravity,
    /// The vessel's temperature.
    TankTemperature,
    /// The temperature of riser or impulse line.
    LineTemperature,
    /// The temperature of leg or capillaries.
    FillTemperature,
    /// The pressure in the vessel.
    WorkingPressure,
}

/// One unit of an input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Step {
    /// A height.
    Height(Length),
    /// A density.
    Density(MassDensity),
    /// An acceleration.
    Gravity(Acceleration),
    /// A temperature.
    Temperature(TemperatureInterval),
    /// A pressure.
    Pressure(Pressure),
}

/// What one unit more of an input adds to the differential pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sensitivity {
    /// The input.
    pub lever: Lever,
    /// One unit of it.
    pub step: Step,
    /// What that adds, at the level asked about.
    pub adds: Pressure,
}

/// Temperatures move by so much to find the slope of a density, K: far above rounding, and within it every
/// density here is straight to a part in ten thousand.
const WARMER: f64 = 0.05;
/// Pressures likewise, Pa.
const TIGHTER: f64 = 2_000.0;

impl Installed {
    /// Returns what one unit more of each input adds at a level: a metre, a kg/m3, a m/s2, a kelvin, a pascal.
    ///
    /// Heights, densities and gravity enter the columns as they are, so their slopes are exact; temperatures and
    /// the working pressure enter through the densities, whose slopes are taken over a small step.
    #[must_use]
    pub fn sensitivities(&self, level: Length) -> Vec<Sensitivity> {
        let mut found = vec![self.height(Lever::Level, self.columns().added_by(metre()))];
        found.push(self.height(Lever::Riser, -self.of_place(Place::Sensor)));
        found.extend(self.mounting().top().map(|_| self.height(Lever::Top, self.of_place(Place::Top))));
        found.extend(self.mounting().tap().map(|_| self.height(Lever::Tap, self.of_place(Place::Tap))));
        found.extend(self.of_densities(level));
        let unit = Acceleration::new::<meter_per_second_squared>(1.0);
        let adds = self.pressure_at(level) * (unit / self.state().gravity).value;
        found.push(Sensitivity { lever: Lever::Gravity, step: Step::Gravity(unit), adds });
        found.extend(self.of_state(level));
        found
    }

    fn height(&self, lever: Lever, adds: Pressure) -> Sensitivity {
        Sensitivity { lever, step: Step::Height(metre()), adds }
    }

    /// What a metre more of a place's height adds.
    fn of_place(&self, place: Place) -> Pressure {
        let at = |end: End| f64::from(u8::from(matches!(end, End::At(found, _) if found == place)));
        let columns = self.columns().signed();
        let weight = |sign: f64, column: &super::Column| {
            column.density * self.state().gravity * metre() * (sign * (at(column.to) - at(column.from)))
        };
        columns.map(|(sign, column)| weight(sign, column)).sum()
    }

    fn of_densities(&self, level: Length) -> Vec<Sensitivity> {
        let unit = MassDensity::new::<kilogram_per_cubic_meter>(1.0);
        let one = |medium: &Medium| {
            self.densities().of(*medium)?;
            let adds = unit * self.state().gravity * self.columns().net_rise(*medium, level);
            Some(Sensitivity { lever: Lever::Density(*medium), step: Step::Density(unit), adds })
        };
        MEDIA.iter().filter_map(one).collect()
    }

    fn of_state(&self, level: Length) -> Vec<Sensitivity> {
        let kelvin_step = Step::Temperature(TemperatureInterval::new::<kelvins>(1.0));
        let warmed = |lever, warm: fn(&mut State, f64)| Sensitivity {
            lever,
            step: kelvin_step,
            adds: self.slope(level, WARMER, warm),
        };
        let mut found = vec![warmed(Lever::TankTemperature, |state, by| add(&mut state.tank, by))];
        if self.mounting().has_line() {
            found.push(warmed(Lever::LineTemperature, |state, by| add(&mut state.line, by)));
        }
        if self.mounting().fill().is_some() {
            found.push(warmed(Lever::FillTemperature, |state, by| add(&mut state.fill, by)));
        }
        if self.mounting().is_closed() {
            let adds = self.slope(level, TIGHTER, |state, by| state.gauge += Pressure::new::<pascal>(by));
            let step = Step::Pressure(Pressure::new::<pascal>(1.0));
            found.push(Sensitivity { lever: Lever::WorkingPressure, step, adds });
        }
        found
    }

    /// The slope over a small step to either side; at the edge of a formula's range over one side alone.
    fn slope(&self, level: Length, by: f64, nudge: fn(&mut State, f64)) -> Pressure {
        let here = self.pressure_at(level);
        let there = |by: f64| {
            let mut state = *self.state();
            nudge(&mut state, by);
            let densities = self.mounting().densities(self.vessel(), &state).ok()?;
            Some(self.mounting().columns(&densities, state.gravity, self.span()).pressure_at(level))
        };
        match (there(-by), there(by)) {
            (Some(below), Some(above)) => (above - below) / (2.0 * by),
            (None, Some(above)) => (above - here) / by,
            (Some(below), None) => (here - below) / by,
            // Nothing near can be worked out: a slope that is not known must not look like none.
            (None, None) => Pressure::new::<pascal>(f64::NAN),
        }
    }
}

const MEDIA: [Medium; 6] =
    [Medium::Process, Medium::Line, Medium::Light, Medium::Fill, Medium::Vapour, Medium::Air];

fn metre() -> Length {
    Length::new::<meter>(1.0)
}

fn add(temperature: &mut ThermodynamicTemperature, by: f64) {
    *temperature = ThermodynamicTemperature::new::<kelvin>(temperature.get::<kelvin>() + by);
}
