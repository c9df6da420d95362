//! The columns that press on the sensor, from the inputs they rest on.

use crate::evidence::{Case, Column, Input, Spread};
use crate::visit::conditions::Conditions;
use crate::visit::known::Known;

/// Adds the liquid with its density, gravity and the air beside it, and the display's unit where its definition is
/// not known.
pub(super) fn liquid(case: &mut Case, known: &Known, conditions: &Conditions) -> Column {
    let why = if conditions.measured { "measured today" } else { "season's temperature" };
    let density = Input::density(
        format!("density of the liquid ({why})"),
        conditions.density,
        Spread::Standard(conditions.density_standard),
    );
    let density = case.input(density);
    let gravity = Input::acceleration(
        "local gravity",
        conditions.gravity,
        Spread::Standard(conditions.gravity_standard),
    );
    let gravity = case.input(gravity);
    let air =
        Input::density("air beside the riser", conditions.air, Spread::Standard(conditions.air_standard));
    let air = case.input(air);
    let mut column = Column::new(density, gravity).against(air);
    let scale = known.unit.relative_uncertainty().get::<uom::si::ratio::ratio>();
    if scale > 0.0 {
        let scale = Input::ratio("definition of the display's unit", 1.0, Spread::Standard(scale));
        column = column.shown_by(case.input(scale));
    }
    column
}
