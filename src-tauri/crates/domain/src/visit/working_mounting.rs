//! The working of a mounting: the columns' densities and the standing head they make.

use uom::si::f64::{Length, MassDensity, Pressure};
use uom::si::mass_density::kilogram_per_cubic_meter;

use super::working::line;
use super::{Assessment, Known, Show, WorkLine};
use crate::head::mounting::{Column, Medium, Mounting, Side};
use crate::quantity::{TemperatureScale, print_decimal, print_temperature};

/// Returns a line for each density beside the liquid's and the air's, and one for each side of the sensor; nothing for a
/// line of one temperature under or over an open tank, whose standing head is one product.
pub(super) fn lines(assessment: &Assessment) -> Vec<WorkLine> {
    let conditions = &assessment.conditions;
    if !conditions.is_more_than_a_riser() {
        return Vec::new();
    }
    let installed = &conditions.installed;
    let state = installed.state();
    let at = |temperature| print_temperature(temperature, TemperatureScale::Celsius);
    let density = |medium: Medium, what: &str, how: String| {
        let found = installed.densities().of(medium)?;
        Some(line(what, how, format!("{} kg/m3", kilograms(found, 3))))
    };
    let own_line = conditions.own_line.then(|| density(Medium::Line, "density in the line", at(state.line)));
    let mut lines: Vec<WorkLine> = [
        own_line.flatten(),
        density(Medium::Fill, "density of the fill", at(state.fill)),
        density(Medium::Light, "density of the lighter liquid", at(state.tank)),
        density(Medium::Vapour, "density of the gas over the liquid", at(state.tank)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let show = Show::new(&assessment.known, conditions.gradient);
    for (side, what) in [(Side::High, "high side at level zero"), (Side::Low, "low side at level zero")] {
        let columns = installed.columns().side(side);
        let how: Vec<String> = columns.iter().filter_map(|column| product(&show, column)).collect();
        let how = if how.is_empty() { "no column".to_owned() } else { how.join(" + ") };
        lines.push(line(what, how, show.reading(installed.columns().pressed_on(side, Length::default()))));
    }
    let head = show.reading(installed.standing_head());
    lines.push(line("standing head by the register's measures", "high side - low side", head));
    lines
}

fn product(show: &Show<'_>, column: &Column) -> Option<String> {
    let rise = column.rise(Length::default());
    let name = match column.what {
        Medium::Process => "liquid",
        Medium::Line => "line",
        Medium::Light => "lighter liquid",
        Medium::Fill => "fill",
        Medium::Vapour => "gas",
        Medium::Air => "air",
    };
    (rise != Length::default())
        .then(|| format!("{name} {} x g x ({})", kilograms(column.density, 3), show.length(rise)))
}

fn kilograms(density: MassDensity, places: usize) -> String {
    print_decimal(density.get::<kilogram_per_cubic_meter>(), places)
}

/// What a height measured today was of.
pub(super) fn measured(known: &Known, height: &str) -> String {
    match known.mounted.mounting {
        Mounting::Riser { .. } | Mounting::AboveDatum { .. } => format!("{height} of liquid"),
        Mounting::TwoSeals { .. } => format!("{height} from seal to seal, the rest by the register"),
        _ => format!("{height} from the sensing point to zero, the rest by the register"),
    }
}

/// The standing head with a height measured today.
pub(super) fn head(assessment: &Assessment, height: Length) -> Pressure {
    let (known, conditions) = (&assessment.known, &assessment.conditions);
    let densities = conditions.installed.densities();
    let mounting = known.measured(height);
    mounting.columns(densities, conditions.gravity, known.span).standing_head()
}
