//! Units, lengths, temperatures and currents. All of these are definitions: what may differ is the last digits of a
//! double, through a handful of multiplications.

use domain::head::Gradient;
use domain::quantity::{LengthSystem, ReadingUnit, read_length, read_temperature};
use domain::ranging::{Action, Range};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::electric_current::milliampere;
use uom::si::f64::{Acceleration, MassDensity, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

use crate::case::{Case, Compared};

const DIGITS: f64 = 1e-13;

pub(crate) fn reading_units(case: &Case, compared: &mut Compared) {
    let density = MassDensity::new::<kilogram_per_cubic_meter>;
    let gravity = Acceleration::new::<meter_per_second_squared>(case.number("gravity"));
    let liquid = Gradient::new(density(case.number("density")), density(0.0), gravity).unwrap();
    let unit = ReadingUnit::parse(case.text("unit")).unwrap();
    let (value, expected) = (case.number("value"), case.number("pascals"));
    let pressure = unit.pressure(value, liquid);
    compared.near("pressure", pressure.get::<pascal>(), expected, DIGITS * expected.abs());
    let back = unit.reading(Pressure::new::<pascal>(expected), liquid);
    compared.near("reading", back, value, 2.0 * DIGITS * value.abs());
}

pub(crate) fn lengths(case: &Case, compared: &mut Compared) {
    let read = read_length(case.text("text"), LengthSystem::Feet).unwrap();
    let expected = case.number("metres");
    compared.near("length", read.value.get::<meter>(), expected, DIGITS * expected);
}

pub(crate) fn temperatures(case: &Case, compared: &mut Compared) {
    let read = read_temperature(case.text("text"), None).unwrap();
    let expected = case.number("kelvin");
    compared.near("temperature", read.value.get::<kelvin>(), expected, 1e-12 * expected);
}

pub(crate) fn currents(case: &Case, compared: &mut Compared) {
    let pressure = |name| Pressure::new::<pascal>(case.number(name));
    let action = if case.flag("reverse") { Action::Reverse } else { Action::Direct };
    let range = Range::new(pressure("lrv"), pressure("urv"), action).unwrap();
    let current = range.current(pressure("value"));
    // The straight line was fitted by least squares: with ends far from zero that costs it some digits.
    compared.near("current", current.get::<milliampere>(), case.number("milliamperes"), 1e-9);
    let span = case.number("urv") - case.number("lrv");
    compared.near("value", range.value(current).get::<pascal>(), case.number("value"), 1e-11 * span);
}
