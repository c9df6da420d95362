//! What is taken for granted where a site states nothing better: standard uncertainties of ordinary field work.
//!
//! Common practice, no source, unless a line says otherwise. Each enters the budget as a line of its own, so a
//! reader sees what was assumed and how much it matters.

use uom::si::f64::{
    Length, Pressure, TemperatureCoefficient, TemperatureInterval, ThermodynamicTemperature, Time,
};
use uom::si::length::millimeter;
use uom::si::pressure::gigapascal;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::temperature_interval::kelvin;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::time::second;

/// A riser followed with a tape along the pipe.
pub(super) fn riser_by_tape() -> Length {
    Length::new::<millimeter>(6.0)
}

/// A riser measured with a laser from the transmitter to the bowl.
pub(super) fn riser_by_laser() -> Length {
    Length::new::<millimeter>(4.0)
}

/// A riser taken off a drawing: as built differs from as drawn.
pub(super) fn riser_by_drawing() -> Length {
    Length::new::<millimeter>(25.0)
}

/// A hatch mark, floor or sill as surveyed once and kept in the register.
pub(super) fn mark() -> Length {
    Length::new::<millimeter>(4.0)
}

/// One dip's scatter, where it was not repeated.
pub(super) fn one_dip() -> Length {
    Length::new::<millimeter>(5.0)
}

/// What dips of one still surface scatter, one by one, before any rounding: a person reads a wet line on a hanging tape.
pub(super) fn dips_scatter() -> Length {
    Length::new::<millimeter>(2.0)
}

/// The coarsest a tape is read: who writes `5 ft` has read 5 ft 0 in, and leaves the nought out.
pub(super) fn tape_division() -> Length {
    Length::new::<millimeter>(5.0)
}

/// A tape nobody named.
pub(super) fn unnamed_tape() -> Length {
    Length::new::<millimeter>(4.0)
}

/// The linear expansion of a steel tape: 0.0000065 of its length for a degree Fahrenheit (US Navy, Engineering Aid Basic,
/// chapter 12, taping corrections).
pub(super) fn steel_expansion() -> TemperatureCoefficient {
    TemperatureCoefficient::new::<per_kelvin>(6.5e-6 * 1.8)
}

/// The temperature that lengths are true at unless something else is said: 20 degC, the 68 degF of the same source.
pub(super) fn tape_true_at() -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(20.0)
}

/// Steel's modulus of elasticity (from memory: 190 to 210 GPa).
pub(super) fn steel_modulus() -> Pressure {
    Pressure::new::<gigapascal>(200.0)
}

/// What a tape's expansion may be off by, as a part of it, half-width: carbon and stainless steels spread that far.
pub(super) const TAPE_EXPANSION: f64 = 0.1;

/// What its stretch may be off by, as a part of it, half-width.
pub(super) const TAPE_STRETCH: f64 = 0.1;

/// A tape's own temperature, as told by the air beside it, half-width.
pub(super) fn tape_temperature() -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(3.0)
}

/// How far from the temperature it is true at a tape may well hang, when nobody measured it, half-width.
pub(super) fn tape_unmeasured() -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(20.0)
}

/// How far off plumb a line may well hang, as a part of its length, when nobody looked: a foot in forty.
pub(super) const OFF_PLUMB: f64 = 1.0 / 40.0;

/// How far off plumb a line hangs is judged by eye: within a quarter, so its square within a half, half-width.
pub(super) const SLANT: f64 = 0.5;

/// What moves the uncertainty by more than this part is asked.
pub(super) const WORTH_ASKING: f64 = 0.1;

/// A named tape whose check is overdue counts for so many times its stated uncertainty.
pub(super) const OVERDUE: f64 = 2.0;

/// The last three dips agree within this: 0.01 ft, rounded to the millimetre above it.
pub(super) fn dips_agree() -> Length {
    Length::new::<millimeter>(4.0)
}

/// How far the surface may stand from the sill, half-width, by how the empty tank was seen.
pub(super) fn empty_seen() -> Length {
    Length::new::<millimeter>(5.0)
}

/// As above, told by a steady reading alone.
pub(super) fn empty_by_steady_reading() -> Length {
    Length::new::<millimeter>(20.0)
}

/// As above, on somebody's word.
pub(super) fn empty_by_report() -> Length {
    Length::new::<millimeter>(60.0)
}

/// The most that a film over an overflow's crest is thick.
pub(super) fn overflow_film() -> Length {
    Length::new::<millimeter>(20.0)
}

/// A head over an overflow's crest, held a rule to, half-width.
pub(super) fn overflow_head() -> Length {
    Length::new::<millimeter>(5.0)
}

/// A stub of liquid left on the sensor in a vented check, as measured, half-width.
pub(super) fn vented_left() -> Length {
    Length::new::<millimeter>(10.0)
}

/// The liquid's temperature where only the season is known, half-width.
pub(super) fn season_temperature() -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(5.0)
}

/// The liquid's temperature as measured today, half-width.
pub(super) fn measured_temperature() -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(1.0)
}

/// When a reading or a dip was really taken, against when it was entered, half-width.
pub(super) fn entered() -> Time {
    Time::new::<second>(20.0)
}

/// Readings and dips further apart than this are asked about.
pub(super) fn far_apart() -> Time {
    Time::new::<second>(600.0)
}

/// A rate of the level is followed for so long, and no longer: pumps start and stop.
pub(super) fn followed() -> Time {
    Time::new::<second>(600.0)
}

/// How far a blocked or wet vent may put the zero off, half-width, as a height of water (a change of weather
/// of 10 hPa is 102 mm).
pub(super) fn blocked_vent() -> Length {
    Length::new::<millimeter>(102.0)
}

/// The gas over a closed vessel's liquid, relative standard uncertainty of its density: its pressure and temperature
/// are known to some 5 % together, and in a metre of gas over water that is a fraction of a millimetre.
pub(super) const GAS: f64 = 0.05;

/// Loss where water enters a riser from its tank by a square edge, in velocity heads: the textbook's 0.5 (it stands so in
/// the worked losses that `tests/suite/reference/flow.json` keeps).
pub(super) const SQUARE_ENTRY: f64 = 0.5;

/// Roughness of a riser of steel or lined iron that has been in use, in millimetres.
pub(super) const ROUGHNESS: f64 = 0.15;

/// What a riser as described may be off by against the riser as it is (bore with its scale, roughness, bends), as a part of
/// what its flow does, half-width.
pub(super) const PIPE: f64 = 0.15;

/// The same where its roughness is not stated.
pub(super) const PIPE_ROUGHNESS_UNKNOWN: f64 = 0.3;

/// How far a rate of flow may be off that a meter shows, as a part of it, half-width.
pub(super) const RATE_METERED: f64 = 0.05;

/// The same where it is reckoned from pumps or told from experience.
pub(super) const RATE_ESTIMATED: f64 = 0.3;
